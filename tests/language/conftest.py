"""`heard` is what comes of a message by somebody new; everybody here shares one run, on a store in memory."""

from collections.abc import Callable, Iterator
from itertools import count

import pytest

from tests.conversation.chat import Chat, Door, Said, open_door

Hear = Callable[..., Said]


@pytest.fixture(scope="package")
def door() -> Iterator[Door]:
    with open_door() as opened:
        yield opened


@pytest.fixture(scope="package")
def _numbers() -> Iterator[int]:
    return count(1)


@pytest.fixture
def heard(door: Door, _numbers: Iterator[int]) -> Hear:
    """Sends messages as one new person (region, timezone and moment may be given); gives back what the last brings."""

    def hear(*texts: str, at: str | None = None, **settings: str) -> Said:
        person = Chat(door, f"person {next(_numbers)}", **settings)
        return [person.say(text, at=at) for text in texts][-1]

    return hear
