"""People who talk to the program through its JSON door, and what they are answered."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import count
from typing import Any

from bot.app import APOLOGY, open_tarebook
from bot.channels.converse import Converse

MONDAY_NOON = "2026-03-02T12:00:00+00:00"

Event = dict[str, Any]

# What a message may bring about although nothing was put on record.
NOT_ON_RECORD = frozenset(
    {"question", "weigh_in_open", "refused", "answer", "help", "not_understood", "sheet", "listing", "caution"}
    | {"habit_saved"}
)


@dataclass(frozen=True)
class Said:
    """What one step brought about: the words of all replies, the last reply's choices, the events."""

    text: str
    choices: tuple[str, ...]
    events: tuple[Event, ...]
    others: tuple[tuple[str, str], ...] = ()
    """What others were told because of it: to whom, and the words."""

    @property
    def kinds(self) -> list[str]:
        return [event["type"] for event in self.events]

    @property
    def records(self) -> list[Event]:
        """The events that put something on record."""
        return [event for event in self.events if event["type"] not in NOT_ON_RECORD]

    def all(self, kind: str) -> list[Event]:
        return [event for event in self.events if event["type"] == kind]

    def one(self, kind: str) -> Event:
        """The only event of that kind."""
        found = self.all(kind)
        assert len(found) == 1, f"expected one {kind}: {self}"
        return found[0]

    def recorded(self) -> Event:
        """The weigh-in that is all that was put on record, with nothing asked or refused beside it."""
        assert [event["type"] for event in self.records] == ["weigh_in"], self
        assert not {"question", "refused", "not_understood"} & set(self.kinds), self
        return self.records[0]

    def changed(self) -> Event:
        """The change that is all that was put on record."""
        assert [event["type"] for event in self.records] == ["weigh_in_changed"], self
        return self.records[0]

    def asked(self, about: str = "") -> Event:
        """The question that is all that came of it: nothing is on record. With words: they are in what it says."""
        assert not self.records, self
        assert about.lower() in self.text.lower(), self
        return self.one("question")

    def asked_state(self) -> None:
        """Asks, and only that, in which state it was weighed."""
        self.asked()
        assert "cooked" in self.choices, self
        assert {"dry", "raw"} & set(self.choices), self

    def refused(self, *words: str) -> str:
        """The sentence of a refusal that is all that came of it; it holds the words given."""
        assert not self.records, self
        assert "question" not in self.kinds, self
        assert "refused" in self.kinds, self
        assert all(word.lower() in self.text.lower() for word in words), self
        return self.text

    def nothing(self, *words: str) -> str:
        """The words of an answer that neither put anything on record nor asks; it holds the words given."""
        assert not self.records, self
        assert "question" not in self.kinds, self
        assert all(word.lower() in self.text.lower() for word in words), self
        return self.text


class Door:
    """The JSON door of one run, for any number of people."""

    def __init__(self, converse: Converse) -> None:
        self._converse = converse
        self._steps = count(1)

    def step(self, **keys: object) -> Said:
        """Carries out one step; an answer without words, or an error, fails the test."""
        out = self._converse.step(next(self._steps), json.dumps(keys).encode())
        answer = json.loads(out)
        assert "error" not in answer, f"{keys}: {answer['error']}"
        replies = answer["replies"]
        mine = [reply for reply in replies if reply["to"] == keys.get("who", reply["to"])]
        others = tuple((reply["to"], reply["text"]) for reply in replies if reply not in mine)
        text = "\n".join(reply["text"] for reply in mine)
        if "person" not in keys and "advance_to" not in keys:
            assert text.strip(), f"{keys} was answered with nothing"
            assert APOLOGY not in text, f"{keys} could not be handled"
            assert others or {reply["to"] for reply in replies} == {keys["who"]}, answer
        choices = tuple(mine[-1]["choices"]) if mine else ()
        assert len(choices) <= 4, choices
        assert all(0 < len(choice) <= 24 for choice in choices), choices
        return Said(text, choices, tuple(answer["events"]), others)

    def error(self, **keys: object) -> str:
        """Carries out a step that can't be; gives back what is said of that."""
        answer = json.loads(self._converse.step(next(self._steps), json.dumps(keys).encode()))
        assert set(answer) == {"step", "error"}, answer
        return str(answer["error"])


class Chat:
    """One person. Their clock goes on by a minute a message unless a moment is said."""

    def __init__(self, door: Door, who: str = "me", **settings: str) -> None:
        self.door = door
        self.who = who
        self.heard: list[Said] = []
        if settings:
            door.step(person=who, **settings)

    def say(self, text: str, at: str | None = None, ref: int | None = None) -> Said:
        return self._step(say=text, at=at, ref=ref)

    def press(self, choice: int | str, at: str | None = None) -> Said:
        """Presses a choice of the last question shown: its number, or the only one with that word in it."""
        if isinstance(choice, str):
            shown = next(said.choices for said in reversed(self.heard) if said.choices)
            hits = [number for number, words in enumerate(shown, start=1) if choice in words]
            assert len(hits) == 1, f"{choice!r} among {shown}"
            choice = hits[0]
        return self._step(press=choice, at=at)

    def edit(self, ref: int, text: str, at: str | None = None) -> Said:
        return self._step(edit=ref, say=text, at=at)

    def given(self, *texts: str) -> None:
        """Says what has to be on record before; each is understood and asks nothing."""
        for text in texts:
            said = self.say(text)
            assert said.records, f"{text!r}: {said}"
            assert "question" not in said.kinds, f"{text!r}: {said}"

    def events(self, *kinds: str) -> list[Event]:
        """Every event of this person so far, or those of the kinds given."""
        return [event for said in self.heard for event in said.events if not kinds or event["type"] in kinds]

    def day(self) -> Event:
        """Today's sheet."""
        return self.say("today").one("sheet")

    def weigh_ins_today(self) -> int:
        """How many weigh-ins stand on today's record."""
        said = self.say("show my log")
        listed = said.one("listing")
        assert listed["of"] == "weigh_ins", listed
        return int(listed["count"])

    def left(self, batch: int) -> str:
        """The words that say what is left of a batch."""
        return self.say(f"how much is left of batch {batch}?").text

    def _step(self, **keys: object) -> Said:
        said = self.door.step(who=self.who, **{key: value for key, value in keys.items() if value is not None})
        self.heard.append(said)
        return said


@contextmanager
def open_door(url: str = "sqlite://") -> Iterator[Door]:
    """A run on the database at a URL; in memory unless one is given."""
    with open_tarebook(url) as tarebook:
        yield Door(Converse(tarebook))
