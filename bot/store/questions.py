"""Questions that wait for an answer, so that an incomplete weigh-in is not lost."""

import json
import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Select, bindparam, insert, select, update

from bot.kinds import About, QuestionState
from bot.store.books import Books
from bot.store.columns import is_just
from bot.store.schema import question


@dataclass(frozen=True, slots=True)
class StoredQuestion:
    """One question to one person.

    `ref` can't be guessed; `subject` is what the conversation needs to go on; `inbound_id` is the message that is
    being asked about, `shown_by` the one whose reply ended with it, if that is the person's newest. A skipped question
    waits unseen: it can still be answered.
    """

    id: int
    ref: str
    about: About
    text: str
    choices: tuple[str, ...]
    subject: bytes
    inbound_id: int
    asked_at: datetime
    shown_by: int | None = None
    skipped: bool = False


_QUESTION = select(
    question.c.id,
    question.c.ref,
    question.c.about,
    question.c.text,
    question.c.choices,
    question.c.subject,
    question.c.inbound_id,
    question.c.asked_at,
    question.c.shown_by,
    question.c.skipped,
).where(question.c.person_id == bindparam("of_person"))
AFFAIRS = frozenset(
    {About.COACHING, About.END_COACHING, About.CLIENT, About.CLIENT_TARGET, About.WHICH_COACH, About.SHARED}
    | {About.KITCHEN_JOIN, About.KITCHEN_LEAVE, About.KITCHEN_ROOM, About.PART, About.COVER}
)
"""What questions are about that concern the person and somebody else, and that no coach may see or answer."""
_WITH_SKIPPED = _QUESTION.where(is_just(question.c.state, QuestionState.WAITING)).order_by(question.c.id)
_WAITING = _WITH_SKIPPED.where(question.c.skipped.is_not(True))
_WAITING_FOR_OTHERS = _WAITING.where(question.c.about.not_in(AFFAIRS))
_FROM_MESSAGE = _WITH_SKIPPED.where(question.c.inbound_id == bindparam("of_inbound"))
_BY_REF = _QUESTION.add_columns(question.c.state).where(question.c.ref == bindparam("of_ref"))
_IS_OPEN = select(question.c.id).where(
    question.c.ref == bindparam("of_ref"),
    is_just(question.c.state, QuestionState.WAITING),
    question.c.skipped.is_not(True),
)
_OWNER = select(question.c.person_id).where(question.c.ref == bindparam("of_ref"))
_STATE = select(question.c.state).where(
    question.c.id == bindparam("of_id"), question.c.person_id == bindparam("of_person")
)
_ASK = insert(question).returning(question.c.id)
_ONE = update(question).where(question.c.id == bindparam("of_id"), question.c.person_id == bindparam("of_person"))
_HIDE = update(question).where(question.c.person_id == bindparam("of_person"), question.c.shown_by.is_not(None))
_LAPSE = update(question).where(
    question.c.person_id == bindparam("of_person"),
    is_just(question.c.state, QuestionState.WAITING),
    question.c.asked_at < bindparam("before"),
    question.c.about.not_in(AFFAIRS),
)


def ask(books: Books, about: About, text: str, choices: Sequence[str], subject: bytes) -> StoredQuestion:
    """The new question, waiting, with a reference of 128 random bits."""
    ref = secrets.token_urlsafe(16)
    row = {
        "person_id": books.person.id,
        "ref": ref,
        "about": about,
        "text": text,
        "choices": json.dumps(list(choices)),
        "subject": subject,
        "inbound_id": books.inbound_id,
        "asked_at": books.at,
        "state": QuestionState.WAITING,
    }
    question_id: int = books.conn.execute(_ASK, row).scalar_one()
    return StoredQuestion(question_id, ref, about, text, tuple(choices), subject, books.inbound_id, books.at)


def waiting(books: Books) -> list[StoredQuestion]:
    """The person's open questions, oldest first."""
    return _found(books, _WAITING_FOR_OTHERS if books.foreign else _WAITING)


def answerable(books: Books) -> list[StoredQuestion]:
    """The person's open questions and those that they skipped, oldest first."""
    return _found(books, _WITH_SKIPPED)


def shown(books: Books, question_id: int | None) -> None:
    """Notes which question the reply to this message ends with; None for none."""
    books.conn.execute(_HIDE, {"of_person": books.person.id, "shown_by": None})
    if question_id is not None:
        values = {"of_id": question_id, "of_person": books.person.id, "shown_by": books.inbound_id}
        books.conn.execute(_ONE, values)


def skip(books: Books, question_id: int) -> None:
    """Puts a question out of sight; it can still be answered."""
    books.conn.execute(_ONE, {"of_id": question_id, "of_person": books.person.id, "skipped": True})


def lapse(books: Books, before: datetime) -> None:
    """Skips the questions about the person's own record that were asked before that moment."""
    books.conn.execute(_LAPSE, {"of_person": books.person.id, "before": before, "skipped": True})


def by_ref(books: Books, ref: str) -> tuple[StoredQuestion, QuestionState] | None:
    """The person's question of that reference with its state, or None.

    Somebody else's question is None as well.
    """
    row = books.conn.execute(_BY_REF, {"of_person": books.person.id, "of_ref": ref}).one_or_none()
    return None if row is None else (_from_row(row[:-1]), QuestionState(row[-1]))


def owner(conn: Connection, ref: str) -> int | None:
    """The id of the person whose question that is, or None when there is no such question."""
    return conn.execute(_OWNER, {"of_ref": ref}).scalar()


def is_open(conn: Connection, ref: str) -> bool:
    """Whether the question of that reference waits, and was not skipped."""
    return conn.execute(_IS_OPEN, {"of_ref": ref}).scalar() is not None


def was_answered(books: Books, question_id: int) -> bool:
    """Whether the person's question has been answered, and was not dropped."""
    values = {"of_person": books.person.id, "of_id": question_id}
    return books.conn.execute(_STATE, values).scalar() == QuestionState.ANSWERED


def answered(books: Books, question_id: int) -> None:
    """Marks the question as answered."""
    _set_state(books, question_id, QuestionState.ANSWERED)


def dropped(books: Books, question_id: int) -> None:
    """Marks the question as dropped: it needs no answer any more."""
    _set_state(books, question_id, QuestionState.DROPPED)


def drop_from_message(books: Books, inbound_id: int) -> list[StoredQuestion]:
    """Drops what is still being asked about a message; gives the questions that were dropped."""
    values = {"of_person": books.person.id, "of_inbound": inbound_id}
    found = [_from_row(row) for row in books.conn.execute(_FROM_MESSAGE, values)]
    for each in found:
        dropped(books, each.id)
    return found


def _set_state(books: Books, question_id: int, state: QuestionState) -> None:
    books.conn.execute(_ONE, {"of_id": question_id, "of_person": books.person.id, "state": state})


def _found(books: Books, statement: Select[*tuple[Any, ...]]) -> list[StoredQuestion]:
    return [_from_row(row) for row in books.conn.execute(statement, {"of_person": books.person.id})]


def _from_row(row: Sequence[Any]) -> StoredQuestion:
    question_id, ref, about, text, choices, subject, inbound_id, asked_at, shown_by, skipped = row
    return StoredQuestion(
        question_id,
        ref,
        About(about),
        text,
        tuple(json.loads(choices)),
        subject,
        inbound_id,
        asked_at,
        shown_by,
        bool(skipped),
    )
