"""Messages with known answers: read from a file, sent, and judged. The format is in the README beside this."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from enum import StrEnum
from pathlib import Path
from typing import Any

from tests.conversation.chat import MONDAY_NOON, NOT_ON_RECORD, Door, Event, Said

HERE = Path(__file__).parent
FILES = sorted(HERE.glob("corpus_*.jsonl"))

SHARE_OFF = 0.003
DENSITY_SHARE_OFF = 0.04  # published densities of one food differ by that much
WEIGHT_OFF = 0.06
RATIO_OFF = 0.006


class Outcome(StrEnum):
    """How a case ended; the last two are silent errors."""

    RIGHT = "right"
    ASKED = "asked, where a record was expected"
    OTHER = "no record, and no such answer as was expected"
    GUESSED = "recorded, where a question or a refusal was expected"
    WRONG = "recorded something else"


SILENT = (Outcome.GUESSED, Outcome.WRONG)


@dataclass(frozen=True)
class Case:
    """A message, what was said before it, and the lists of events any one of which is right."""

    name: str
    say: str
    expected: tuple[tuple[Event, ...], ...]
    at: datetime
    person: dict[str, str] = field(default_factory=dict)
    given: tuple[dict[str, Any], ...] = ()
    edit: int | None = None


@dataclass(frozen=True)
class Heard:
    """A case with what came of it."""

    case: Case
    said: Said
    outcome: Outcome

    def __str__(self) -> str:
        return (
            f"{self.case.name} [{self.outcome}] {self.case.say!r}\n"
            f"    expected {' or '.join(str(list(choice)) for choice in self.case.expected)}\n"
            f"    got      {list(self.said.events)}\n"
            f"    said     {self.said.text[:300]!r}"
        )


def read(path: Path) -> list[Case]:
    """The cases of a file, in order."""
    lines = path.read_text(encoding="utf-8").split("\n")
    return [_case(path.stem, json.loads(line)) for line in lines if line.strip()]


def _case(source: str, row: dict[str, Any]) -> Case:
    return Case(
        name=f"{source} {row['id']}",
        say=row["say"],
        expected=tuple(tuple(choice) for choice in row.get("expect_any") or [row["expect"]]),
        at=datetime.fromisoformat(row.get("at", MONDAY_NOON)),
        person=row.get("person", {}),
        given=tuple({"say": given} if isinstance(given, str) else given for given in row.get("given", [])),
        edit=row.get("edit"),
    )


def run(door: Door, cases: Iterable[Case]) -> list[Heard]:
    """Sends every case, each as a person of its own whose given messages come a minute apart before it."""
    heard = []
    for case in cases:
        door.step(person=case.name, **case.person)
        first = case.at - timedelta(minutes=len(case.given))
        for minute, given in enumerate(case.given):
            door.step(**{"at": (first + timedelta(minutes=minute)).isoformat(), "who": case.name, **given})
        edit = {} if case.edit is None else {"edit": case.edit}
        said = door.step(say=case.say, who=case.name, at=case.at.isoformat(), **edit)
        heard.append(Heard(case, said, judge(case, said.events)))
    return heard


def judge(case: Case, events: Sequence[Event]) -> Outcome:
    """How the case ended, given the events that its last message brought about."""
    if any(_fulfilled(choice, events) for choice in case.expected):
        return Outcome.RIGHT
    on_record = any(_on_record(event) for event in events)
    record_expected = any(_on_record(event) for choice in case.expected for event in choice)
    if not record_expected:
        return Outcome.GUESSED if on_record else Outcome.OTHER
    told = [event for event in events if event["type"] != "question"]
    right_beside_a_question = any(_fulfilled(choice, told) for choice in case.expected)
    return Outcome.ASKED if not on_record or right_beside_a_question else Outcome.WRONG


def _on_record(event: Event) -> bool:
    return event["type"] not in NOT_ON_RECORD


def _fulfilled(expected: Sequence[Event], events: Sequence[Event]) -> bool:
    """Whether every expected event happened, and nothing else was recorded or, beside records, asked."""
    left = _unmatched(list(expected), list(events), _alike)
    if left is None:
        return False
    drawn_on = {event.get("batch") for event in events if event["type"] in ("weigh_in", "weigh_in_changed")}
    for event in left:
        emptied = event["type"] == "batch_closed" and event["batch"] in drawn_on
        if (_on_record(event) and not emptied) or (expected and event["type"] == "question"):
            return False
    return True


def _unmatched(wanted: list[Event], had: list[Event], alike: Callable[[Event, Event], bool]) -> list[Event] | None:
    """What is left of `had` when each wanted one was given one that is alike; None when that can't be done."""
    if not wanted:
        return had
    for index, event in enumerate(had):
        if alike(wanted[0], event):
            left = _unmatched(wanted[1:], had[:index] + had[index + 1 :], alike)
            if left is not None:
                return left
    return None


def _alike(wanted: Event, event: Event) -> bool:
    return wanted["type"] == event["type"] and _fields_alike(wanted, event)


def _fields_alike(wanted: Event, event: Event) -> bool:
    share = DENSITY_SHARE_OFF if wanted.get("evidence") == "density" else SHARE_OFF
    return all(_field_alike(key, value, event, share) for key, value in wanted.items())


def _field_alike(key: str, wanted: Any, event: Event, share: float) -> bool:
    if key == "food_not":
        return not any(word.lower() in str(event.get("food")).lower() for word in wanted)
    had = event.get(key)
    if key == "ingredients":
        return isinstance(had, list) and _unmatched(list(wanted), had, _fields_alike) == []
    if isinstance(wanted, list):
        return isinstance(had, str) and all(word.lower() in had.lower() for word in wanted)
    if isinstance(wanted, (int, float)) and not isinstance(wanted, bool):
        least = WEIGHT_OFF if key == "grams" or key.endswith(("_g", "kg")) else RATIO_OFF
        return isinstance(had, (int, float)) and abs(had - wanted) <= max(least, share * abs(wanted))
    return bool(had == wanted)


def summary(heard: Sequence[Heard]) -> str:
    """The misses one by one, and how many cases ended in which way."""
    counts = Counter(one.outcome for one in heard)
    misses = [str(one) for one in heard if one.outcome is not Outcome.RIGHT]
    tally = ", ".join(f"{count} {outcome}" for outcome, count in counts.most_common())
    return "\n".join([*misses, f"{len(heard)} messages: {tally}"])
