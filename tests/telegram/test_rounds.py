"""The rounds of `tarebook serve`: how many pass until it is somebody's turn, and what they ask of a database server."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime

import pytest
from sqlalchemy import Engine, event

from bot.access import Policy
from bot.app import Tarebook, open_tarebook
from bot.channels.telegram import intake
from bot.channels.telegram.intake import ReadAndTake, Reader, keep, take_turn
from bot.channels.telegram.reading import Me

from .loopback import BOT_ID, USERNAME

READER = Reader(Me(BOT_ID, USERNAME), Policy("open", frozenset()))
BATCH = 100
"""Updates that one request brings at the most (core.telegram.org/bots/api#getupdates)."""

LONG = 60.0
"""Seconds in which a round reaches everybody, however busy the machine is."""

MOST_STATEMENTS = 45.0
"""A weigh-in takes so many, the bookkeeping around it included: each is a round trip to a server."""

MOST_COMMITS = 1.5
"""One for its records, reply and 'done' together; storing and reading are shared with other messages."""


def arrive(tarebook: Tarebook, first: int, said: Sequence[tuple[int, str]]) -> None:
    """Stores messages of people, as (who, text), under numbers from `first` on."""
    bodies = []
    for number, (who, text) in enumerate(said, first):
        person = {"id": who, "first_name": f"Person {who}"}
        message = {
            "message_id": number,
            "from": person | {"is_bot": False},
            "chat": person | {"type": "private"},
            "date": 1_772_452_800,
            "text": text,
        }
        bodies.append(json.dumps({"update_id": number, "message": message}))
    for start in range(0, len(bodies), BATCH):
        keep(tarebook, str(BOT_ID), bodies[start : start + BATCH], datetime.now(UTC))


def handled(tarebook: Tarebook, who: int) -> int:
    """How many of this person's messages are handled."""
    with tarebook.transaction() as conn:
        of_them = f"SELECT count(*) FROM inbound WHERE person_key = '{who}' AND state = 'done'"
        return int(conn.exec_driver_sql(of_them).scalar_one())


@contextmanager
def asked() -> Iterator[Counter[str]]:
    """How many statements databases execute meanwhile, and how many commits."""
    counts: Counter[str] = Counter()

    def statement(*_: object) -> None:
        counts["statements"] += 1

    def commit(*_: object) -> None:
        counts["commits"] += 1

    event.listen(Engine, "before_cursor_execute", statement)
    event.listen(Engine, "commit", commit)
    try:
        yield counts
    finally:
        event.remove(Engine, "before_cursor_execute", statement)
        event.remove(Engine, "commit", commit)


def test_nobody_waits_until_anothers_flood_has_been_read() -> None:
    flood, bystander = 1, 2
    with open_tarebook("sqlite://") as tarebook:
        arrive(tarebook, 1, [*[(flood, "hello")] * 300, (bystander, "180 g cooked rice")])
        take = ReadAndTake(READER, 24)
        while not handled(tarebook, bystander):
            take_turn(tarebook, take)
        # In each round it is everybody's turn once: so many rounds passed until the bystander's message was read.
        assert handled(tarebook, flood) <= 3


def test_a_message_asks_little_of_a_server(monkeypatch: pytest.MonkeyPatch, server_database: str) -> None:
    monkeypatch.setattr(intake, "BUDGET_S", LONG)
    people, messages = range(1, 21), ("180 g cooked rice", "2 eggs", "banana 118 g peeled", "100 g from the chilli")
    opening = ("batch chilli: 12000 g raw chicken breast, 8000 g raw potatoes", "the chilli weighs 15000 g cooked")
    with open_tarebook(server_database) as tarebook:
        take = ReadAndTake(READER, 24)
        for number, text in enumerate((*opening, *messages)):
            arrive(tarebook, 1 + number * len(people), [(who, text) for who in people])
            while take_turn(tarebook, take).handled:
                continue
        said = [(who, text) for text in messages for who in people]
        with asked() as counts:
            arrive(tarebook, 1_000, said)
            while take_turn(tarebook, take).handled:
                continue
        assert sum(handled(tarebook, who) for who in people) == len(people) * (len(opening) + 2 * len(messages))
    assert counts["statements"] / len(said) <= MOST_STATEMENTS
    assert counts["commits"] / len(said) <= MOST_COMMITS


@pytest.mark.parametrize("people", (2, 24))
def test_everybody_has_a_turn_in_each_round(monkeypatch: pytest.MonkeyPatch, people: int) -> None:
    monkeypatch.setattr(intake, "BUDGET_S", LONG)
    with open_tarebook("sqlite://") as tarebook:
        arrive(tarebook, 1, [(who, "hello") for _ in range(3) for who in range(1, people + 1)])
        take = ReadAndTake(READER, 24)
        for turn in (1, 2, 3):
            assert take_turn(tarebook, take).handled == people
            assert [handled(tarebook, who) for who in range(1, people + 1)] == [turn] * people
