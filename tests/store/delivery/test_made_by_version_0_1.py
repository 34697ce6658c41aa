"""A database that version 0.1 wrote opens as before: its inbox rows are read, and those that wait are handled."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from bot.app import APOLOGY, Tarebook, open_tarebook
from bot.channels.telegram import CHANNEL
from bot.events import as_json
from bot.store.delivery import inbox
from bot.store.delivery.inbox import Content, Edit, Erased, NoWords, Press, Request, Say

DUMP = Path(__file__).parent / "made_by" / "version_0_1.sql"
QUESTION = "rVFyjdkQ2wdGR8e0UBk3jQ"
TARGET = (
    '{"kind":"TargetFrom","value":{"coach":2,"kcal":2100.0,"protein_g":null,"fat_g":null,"carbohydrate_g":null,'
    '"day":null}}'
)
PHOTO = "I can't make anything of photos. Please type what the scale says, for example: 180 g cooked rice"


@pytest.fixture
def tarebook(tmp_path: Path) -> Iterator[Tarebook]:
    path = tmp_path / "tarebook.db"
    with closing(sqlite3.connect(path)) as made:
        made.executescript(DUMP.read_text(encoding="utf-8"))
    with open_tarebook(f"sqlite:///{path}") as opened:
        yield opened


@pytest.mark.parametrize(
    ("row_id", "content"),
    (
        (1, Say(text="180 g cooked rice", welcomes=True)),
        (2, Say(text="/start", welcomes=True, invite=1)),
        (5, Request(what=TARGET)),
        (8, Edit(text="210 g cooked rice", edits="1003:15")),
        (9, Press(ref=QUESTION, choice=1, message="1003:17", shown="Dry or cooked?", place="1003")),
        (10, NoWords(answer=PHOTO)),
        (
            11,
            Say(
                text="how much is left of batch 1?",
                shared=True,
                place="-5005",
                answers="-5005:18",
                refers="-5005:3",
            ),
        ),
        (12, Say(text="half a \ud83c grapefruit", welcomes=True)),
        (13, Erased()),
    ),
    ids=lambda value: type(value).__name__ if not isinstance(value, int) else str(value),
)
def test_its_rows_are_read(tarebook: Tarebook, row_id: int, content: Content) -> None:
    with tarebook.transaction() as conn:
        row = inbox.get(conn, row_id)
    assert row is not None
    assert row.content == content


def test_its_waiting_rows_are_handled(tarebook: Tarebook) -> None:
    turns = tarebook.catch_up(CHANNEL)
    replies = [reply.text for turn in turns for reply in turn.replies]
    assert len(turns) == 6
    assert APOLOGY not in replies
    printed = [as_json(event) for turn in turns for event in turn.events]
    events = [(event["type"], event.get("food")) for event in printed]
    assert ("target_set", None) in events, "the request of the coach"
    assert ("weigh_in_changed", "white rice") in events, "the edit"
    assert ("weigh_in", "white rice") in events, "the pressed answer to the waiting question"
    assert PHOTO in replies
    with tarebook.transaction() as conn:
        assert inbox.count(conn, CHANNEL) == 0
