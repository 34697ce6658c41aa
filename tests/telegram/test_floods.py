"""Floods: what some people send in masses does not delay the others."""

from __future__ import annotations

import statistics
import time

import pytest

from .conftest import Run
from .crowd import Human
from .loopback import Loopback

LIST = "\n".join(f"{grams} g cooked rice" for grams in range(100, 130))


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
    waits = []
    for number in range(5):
        began = time.monotonic()
        assert f"{100 + number} g" in mira.asks(f"{100 + number} g banana").text
        waits.append(time.monotonic() - began)
        time.sleep(0.8)
    replies = sum(len(server.sent[human.id]) for human in flood)
    assert replies < people * messages, "the flood was over before the bystander was"
    # Measured at rest: a median of 0.05 to 0.1 s and 0.3 s for the first, which comes while the flood pours in.
    assert statistics.median(waits) < 0.4
    assert max(waits) < 3
