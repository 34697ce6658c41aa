"""People who say things at moments of their own, and a schedule that is looked at."""

import json
from collections.abc import Iterator

import pytest

from bot.app import Tarebook, open_tarebook
from bot.channels.converse import Converse


class Talk:
    """Steps of `tarebook converse` on one database."""

    def __init__(self, tarebook: Tarebook) -> None:
        self.tarebook = tarebook
        self._converse = Converse(tarebook)
        self._steps = 0

    def step(self, **step: object) -> dict:
        self._steps += 1
        answer = json.loads(self._converse.step(self._steps, json.dumps(step).encode()))
        assert "error" not in answer, answer
        return answer

    def say(self, text: str, at: str | None = None, who: str = "me") -> dict:
        return self.step(say=text, who=who, **({} if at is None else {"at": f"{at}+00:00"}))

    def advance(self, to: str) -> list[dict]:
        return self.step(advance_to=f"{to}+00:00")["replies"]


@pytest.fixture
def talk() -> Iterator[Talk]:
    with open_tarebook("sqlite://") as tarebook:
        yield Talk(tarebook)
