"""Floods: what some people send in masses does not delay the others."""

from __future__ import annotations

import statistics
import time

import pytest

from .conftest import Run
from .crowd import Human
from .loopback import Loopback

LIST = "\n".join(f"{grams} g cooked rice" for grams in range(100, 130))


def replies_to(server: Loopback, people: list[Human]) -> int:
    return sum(len(server.sent[human.id]) for human in people)


@pytest.mark.parametrize(
    ("people", "messages", "text"),
    ((5, 40, LIST), (20, 20, LIST), (20, 40, "1/2/3/4/5/6/7/8")),
    ids=("5 people's lists", "20 people's lists", "20 people's numbers"),
)
def test_nobody_waits_behind_a_flood(
    bot: Run, server: Loopback, mira: Human, people: int, messages: int, text: str
) -> None:
    mira.asks("hello")
    flood = [Human(server, 2000 + number, f"Flooder {number}") for number in range(people)]
    for human in flood:
        human.asks("hello")
    for _ in range(messages):
        for human in flood:
            human.says(text)
    between = []
    for number in range(5):
        before = replies_to(server, flood)
        assert f"{100 + number} g" in mira.asks(f"{100 + number} g banana").text
        between.append(replies_to(server, flood) - before)
        time.sleep(0.8)
    assert replies_to(server, flood) < people * messages, "the flood was over before the bystander was"
    # Counted in replies, since seconds depend on the machine: at rest the median wait is 0.05 to 0.1 s. A turn that is
    # under way is finished first, which brings one reply to each of the others; a message that came in between adds
    # few. Whoever waited for the flood would see all of its messages. The first comes while the flood pours in.
    assert statistics.median(between) <= 1.25 * people
    assert between[0] <= 3 * people
