"""Questions that an earlier version has stored can still be answered.

`waiting_questions.sql` is a database of version 0.1.0, dumped with `sqlite3`'s `.dump`: each person in it has one
question that waits.
"""

import json
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import msgspec
import pytest

from bot.app import open_tarebook
from bot.channels.converse import Converse
from bot.conversation.questions.stored import decode_meaning

DUMP = Path(__file__).with_name("waiting_questions.sql")

ANSWERS: dict[str, tuple[str, dict[str, Any]]] = {
    "state": ("cooked", {"type": "weigh_in", "food": "white rice", "state": "cooked", "edible_g": 180}),
    "amount": ("150 g", {"type": "weigh_in", "food": "white rice", "edible_g": 150}),
    "kind": ("weight only", {"type": "weigh_in", "edible_g": 200, "kcal": None}),
    "cook": ("900 g", {"type": "weigh_in", "batch": 1, "edible_g": 300, "basis_g": 400}),
    "over": ("800 g, all of it", {"type": "weigh_in", "batch": 1, "edible_g": 800}),
    "correct": ("yes, 780 g", {"type": "batch_cooked", "batch": 1, "cooked_g": 780}),
    "tare": ("130 g", {"type": "weigh_in", "as_weighed_g": 500}),
    "unit": ("pounds", {"type": "body_weight", "kg": 82.55}),
    "drink": ("by volume (fl oz)", {"type": "weigh_in", "food": "whole milk", "evidence": "density"}),
    "share": ("220 g", {"type": "weigh_in", "edible_g": 220}),
    "ingredient": ("50 g", {"type": "batch_opened", "name": "porridge", "raw_g": 350}),
    "label": ("yes, as printed", {"type": "label_saved", "food": "crisps", "kcal": 3000}),
    "serving": ("45 g", {"type": "label_saved", "food": "muesli", "serving_g": 45}),
    "target": ("none of these", {"type": "question", "about": "target_sex"}),
    "low": ("yes, keep it", {"type": "target_set", "kcal": 900}),
    "reminder": ("20:15", {"type": "reminder_set", "what": "evening", "time": "20:15"}),
    "erase": ("yes, erase it all", {"type": "erased"}),
    "which": ("#1 white rice", {"type": "weigh_in_changed", "was": 1, "edible_g": 250}),
    "bare": ("food, 82.4 g", {"type": "question", "about": "food"}),
    "client": ("yes, show my sheets", {"type": "coaching_agreed", "coach": "coach", "client": "Ana"}),
    "guest": ("yes, share it", {"type": "kitchen_joined", "members": 2}),
}


@pytest.fixture
def old_database(tmp_path: Path) -> Path:
    path = tmp_path / "old.db"
    with closing(sqlite3.connect(path)) as database:
        database.executescript(DUMP.read_text())
    return path


def test_every_stored_question_takes_its_answer(old_database: Path) -> None:
    got = {}
    with open_tarebook(f"sqlite:///{old_database}") as tarebook:
        converse = Converse(tarebook)
        for number, (who, (said, _)) in enumerate(ANSWERS.items(), start=1):
            step = {"say": said, "who": who, "at": "2026-03-02T15:00:00+00:00"}
            got[who] = json.loads(converse.step(number, json.dumps(step).encode()))["events"]
    for who, (_, expected) in ANSWERS.items():
        assert any(expected.items() <= event.items() for event in got[who]), (who, got[who])


def test_the_old_database_holds_the_questions_that_are_answered(old_database: Path) -> None:
    with closing(sqlite3.connect(old_database)) as database:
        waiting = database.execute(
            "SELECT person.name, count(*) FROM question JOIN person ON person.id = question.person_id"
            " WHERE question.state = 'waiting' GROUP BY person.name"
        ).fetchall()
    assert dict(waiting) == dict.fromkeys(ANSWERS, 1)


TAGS = """
Item OpenBatch CookBatch PourOff SplitBatch ReduceBatch CloseBatch SaveTare SaveMeasure SaveLabel SaveHabit
BodyWeight SetTarget ComputeTarget SetReminder AskReminderTime Snooze LocalTime SetSetting Export Privacy Erase Undo
Change Delete Waste Again Sheet Trend Listing Left WhatIf Bare Answer NotMine Chatter Help Unclear Invite Consent
EndCoaching Ended WhoSees Roster HowIs ClientSheet ShowDigest TargetFor TargetFrom Object Share LabelFrom
MeasureFrom Tell NoteFrom ReplyTo AskReweigh Reweigh WhoseKitchen InviteToKitchen UseCode Invited JoinKitchen
LeaveKitchen OpenRoom CloseRoom GoOnWith
"""


def test_every_tag_that_stored_questions_have_is_still_known() -> None:
    """Version 0.1.0 stored the pending meaning under the name of its class."""
    with pytest.raises(msgspec.ValidationError):
        decode_meaning('{"kind": "Item", "value": {}}')  # known, but an item has a text
    for tag in TAGS.split():
        with pytest.raises(msgspec.ValidationError):
            decode_meaning(f'{{"kind": "{tag}", "value": 0}}')
    with pytest.raises(KeyError):
        decode_meaning('{"kind": "NoSuchMeaning", "value": 0}')
