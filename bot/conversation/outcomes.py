"""Questions as values: what is asked, what each choice would mean, and what is still waiting to be meant."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import msgspec

from bot.kinds import About, Why
from bot.language import meanings
from bot.language.meanings import Item, Meaning
from bot.store.questions import StoredQuestion

_KINDS: dict[str, type] = {kind.__name__: kind for kind in meanings.Meaning.__args__}


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer: its words, and what the message means once it is chosen (None: nothing is recorded)."""

    words: str
    meaning: Meaning | None


@dataclass(frozen=True, slots=True)
class Ask:
    """A question about a pending meaning. `about` says which kind of free answer it takes."""

    about: About
    text: str
    pending: Meaning
    choices: tuple[Choice, ...] = ()


@dataclass(frozen=True, slots=True)
class Refuse:
    """Nothing is recorded and nothing waits; the text says why."""

    text: str
    why: Why = Why.IMPOSSIBLE
    says_so: bool = False
    """Whether the text itself tells that nothing is recorded; otherwise the reply adds it."""


@dataclass(frozen=True, slots=True)
class Then:
    """What the dispatcher handles next, in order."""

    meanings: tuple[Meaning, ...]


Outcome = Item | Ask | Refuse | Then | None
"""What handling a meaning leaves to do: an item to record, a question, a refusal, further meanings, or nothing."""


NOT_OF_THE_RECORD: Final = frozenset({About.REMINDER_TIME, About.TIMEZONE, About.ERASE})


def of_the_record(waiting: Sequence[StoredQuestion]) -> list[StoredQuestion]:
    """The questions that something of the record waits for, unlike a setting, which has its default meanwhile."""
    return [question for question in waiting if question.about not in NOT_OF_THE_RECORD]


class _Kept(msgspec.Struct):
    kind: str
    value: msgspec.Raw


class _Subject(msgspec.Struct):
    pending: _Kept
    choices: list[_Kept | None]


def encode(ask: Ask) -> bytes:
    """The question's subject as stored JSON."""
    kept = [None if c.meaning is None else _keep(c.meaning) for c in ask.choices]
    return msgspec.json.encode(_Subject(_keep(ask.pending), kept))


def decode(subject: bytes) -> tuple[Meaning, list[Meaning | None]]:
    """(what is pending, what each choice means) of a stored subject."""
    read = msgspec.json.decode(subject, type=_Subject)
    return _restored(read.pending), [None if c is None else _restored(c) for c in read.choices]


def encode_meaning(meaning: Meaning) -> str:
    """A meaning as stored JSON."""
    return msgspec.json.encode(_keep(meaning)).decode()


def decode_meaning(encoded: str) -> Meaning:
    """The meaning of stored JSON."""
    return _restored(msgspec.json.decode(encoded, type=_Kept))


def _keep(meaning: Meaning) -> _Kept:
    return _Kept(type(meaning).__name__, msgspec.Raw(msgspec.json.encode(meaning)))


def _restored(kept: _Kept) -> Meaning:
    found: Meaning = msgspec.json.decode(kept.value, type=_KINDS[kept.kind])
    return found
