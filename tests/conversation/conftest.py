"""People to talk with, on a database of the test's own."""

from collections.abc import Callable, Iterator
from itertools import count

import pytest

from .chat import Chat, Door, open_door

Meet = Callable[..., Chat]
"""Makes somebody new; the settings are those of a `person` step."""


@pytest.fixture
def door(request: pytest.FixtureRequest, database_kind: str) -> Iterator[Door]:
    url = "sqlite://" if database_kind == "sqlite" else request.getfixturevalue("server_database")
    with open_door(url) as opened:
        yield opened


@pytest.fixture
def meet(door: Door) -> Meet:
    numbers = count(1)

    def made(**settings: str) -> Chat:
        number = next(numbers)
        return Chat(door, "me" if number == 1 else f"person {number}", **settings)

    return made


@pytest.fixture
def chat(meet: Meet) -> Chat:
    return meet()
