"""Stored questions: what is pending and what each choice means as JSON, their order, and which of them lapse."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import msgspec

from bot.conversation.outcomes import Ask
from bot.kinds import About
from bot.language import meanings
from bot.language.meanings import Meaning
from bot.language.told import Item
from bot.store import questions
from bot.store.books import Books
from bot.store.questions import StoredQuestion

_KINDS: dict[str, type] = {kind.__name__: kind for kind in meanings.Meaning.__args__}
"""The tag in stored JSON of each class; a class that is renamed must still be found under its old tag."""
NOT_OF_THE_RECORD: Final = frozenset(
    {
        About.REMINDER_TIME,
        About.TIMEZONE,
        About.ERASE,
        About.STANDING_CAUTION,
        About.WHICH_QUESTION,
        About.TO_MANY,
        About.PART,
        About.COVER,
        About.CHANGE,
        About.BOX_COUNT,
    }
)
"""Questions about what has a default meanwhile or stands as it is, and about what an answer is for."""
IRREVOCABLE: Final = frozenset(
    {About.ERASE, About.END_COACHING, About.KITCHEN_LEAVE, About.KITCHEN_ROOM, About.TO_MANY}
)
"""Questions whose confirmation can't be undone."""
PASSING: Final = IRREVOCABLE | {About.WHICH_QUESTION, About.CHANGE, About.BOX_COUNT}
"""Questions that only the next message can answer."""


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


def of_the_record(waiting: Sequence[StoredQuestion]) -> list[StoredQuestion]:
    """The questions that hold back a record."""
    return [question for question in waiting if question.about not in NOT_OF_THE_RECORD]


def in_order(waiting: Sequence[StoredQuestion]) -> list[StoredQuestion]:
    """The waiting questions of the newest message first, each message's in the order asked."""
    newest = sorted({q.inbound_id for q in waiting}, reverse=True)
    return [q for inbound in newest for q in waiting if q.inbound_id == inbound]


def about_weigh_in(waiting: Sequence[StoredQuestion], number: int) -> list[StoredQuestion]:
    """The questions about the person's weigh-in of that number."""
    return [question for question in waiting if weigh_in_of(question) == number]


def weigh_in_of(question: StoredQuestion) -> int | None:
    """The number of the weigh-in that a question is about, or None."""
    pending, _ = decode(question.subject)
    return pending.changes if isinstance(pending, Item) else None


def drop_passing(waiting: Sequence[StoredQuestion], books: Books) -> None:
    """Drops the questions that only the next message could answer, so that a later yes can't."""
    for question in waiting:
        if question.about in PASSING:
            questions.dropped(books, question.id)
