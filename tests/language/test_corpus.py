"""How many of the messages with known answers are understood: never fewer than before."""

import os
import sys
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from tests.conversation.chat import MONDAY_NOON, Door

from . import corpus
from .corpus import SILENT, Case, Heard, Outcome

MISSES = 43
SILENT_ERRORS = 9
"""How many messages of the files may be missed, and how many of them silently. Lower both when they fall."""
LEAST_RIGHT = 0.98
MOST_SILENT = 0.004
"""Shares that are required of another corpus."""
NOON = datetime.fromisoformat(MONDAY_NOON)
ANOTHER = os.environ.get("TAREBOOK_CORPUS", "")

RICE = {"type": "weigh_in", "food": ["rice"], "as_weighed_g": 180, "state": "cooked"}


@pytest.fixture(scope="module")
def heard(door: Door) -> list[Heard]:
    return corpus.run(door, [case for path in corpus.FILES for case in corpus.read(path)])


def share(heard: list[Heard], *outcomes: Outcome) -> float:
    return sum(one.outcome in outcomes for one in heard) / len(heard)


def test_no_more_messages_are_missed_than_before(heard: list[Heard]) -> None:
    sys.stdout.write(corpus.summary(heard))
    missed = [one for one in heard if one.outcome is not Outcome.RIGHT]
    assert len(missed) <= MISSES, "\n".join(map(str, missed))


def test_no_more_is_recorded_wrong_in_silence_than_before(heard: list[Heard]) -> None:
    silent = [one for one in heard if one.outcome in SILENT]
    assert len(silent) <= SILENT_ERRORS, "\n".join(map(str, silent))


@pytest.mark.skipif(not ANOTHER, reason="TAREBOOK_CORPUS names no other file")
def test_another_corpus_is_understood_as_well(door: Door) -> None:
    heard = corpus.run(door, corpus.read(Path(ANOTHER)))
    sys.stdout.write(corpus.summary(heard))
    assert share(heard, Outcome.RIGHT) >= LEAST_RIGHT
    assert share(heard, *SILENT) <= MOST_SILENT


def test_every_file_has_cases_with_names_of_their_own() -> None:
    assert len(corpus.FILES) >= 4
    names = [case.name for path in corpus.FILES for case in corpus.read(path)]
    assert len(names) == len(set(names)) >= 900


def event(**fields: Any) -> dict[str, Any]:
    return {"food": "white rice", "as_weighed_g": 180.0, "state": "cooked", "batch": None, **fields}


@pytest.mark.parametrize(
    ("expected", "events", "outcome"),
    (
        ([RICE], [event(type="weigh_in")], Outcome.RIGHT),
        ([RICE], [event(type="weigh_in"), {"type": "caution"}], Outcome.RIGHT),
        ([RICE], [event(type="weigh_in", as_weighed_g=180.5)], Outcome.RIGHT),
        ([RICE], [event(type="weigh_in", as_weighed_g=181)], Outcome.WRONG),
        ([RICE], [event(type="weigh_in", food="pasta")], Outcome.WRONG),
        ([RICE], [event(type="weigh_in", state="raw")], Outcome.WRONG),
        ([RICE], [event(type="weigh_in"), event(type="weigh_in")], Outcome.WRONG),
        ([RICE, RICE], [event(type="weigh_in")], Outcome.WRONG),
        ([RICE], [{"type": "question"}], Outcome.ASKED),
        ([RICE], [event(type="weigh_in"), {"type": "question"}], Outcome.ASKED),
        ([RICE], [{"type": "refused"}], Outcome.ASKED),
        ([{"type": "question"}], [{"type": "question"}], Outcome.RIGHT),
        ([{"type": "question"}], [event(type="weigh_in")], Outcome.GUESSED),
        ([{"type": "question"}], [{"type": "refused"}], Outcome.OTHER),
        ([], [event(type="weigh_in")], Outcome.GUESSED),
        ([], [{"type": "answer"}], Outcome.RIGHT),
        ([{**RICE, "food_not": ["white"]}], [event(type="weigh_in")], Outcome.WRONG),
        ([{**RICE, "meal": None}], [event(type="weigh_in", meal="lunch")], Outcome.WRONG),
        (
            [{**RICE, "evidence": "density"}],
            [event(type="weigh_in", evidence="density", as_weighed_g=186)],
            Outcome.RIGHT,
        ),
        ([RICE], [event(type="weigh_in", batch=2), {"type": "batch_closed", "batch": 2}], Outcome.RIGHT),
        ([RICE], [event(type="weigh_in", batch=2), {"type": "batch_closed", "batch": 3}], Outcome.WRONG),
    ),
)
def test_the_judge_tells_the_outcomes_apart(expected: list[Any], events: list[Any], outcome: Outcome) -> None:
    case = Case("judged", "", (tuple(expected),), at=NOON)
    assert corpus.judge(case, events) is outcome


def test_expected_events_are_paired_so_that_all_find_theirs() -> None:
    loose, strict = {"type": "weigh_in"}, RICE
    events = [event(type="weigh_in"), event(type="weigh_in", food="pasta")]
    case = Case("judged", "", ((loose, strict),), at=NOON)
    assert corpus.judge(case, events) is Outcome.RIGHT


def test_ingredients_are_compared_in_any_order() -> None:
    wanted = {"type": "batch_opened", "ingredients": [{"food": ["tomato"], "raw_g": 400}, {"food": ["beef"]}]}
    beef, tomatoes = {"food": "ground beef 80/20", "raw_g": 800}, {"food": "canned tomatoes", "raw_g": 400}
    case = Case("judged", "", ((wanted,),), at=NOON)
    opened = {"type": "batch_opened", "batch": 1}
    assert corpus.judge(case, [{**opened, "ingredients": [beef, tomatoes]}]) is Outcome.RIGHT
    assert corpus.judge(case, [{**opened, "ingredients": [beef]}]) is Outcome.WRONG
    assert corpus.judge(case, [{**opened, "ingredients": [beef, tomatoes, beef]}]) is Outcome.WRONG
