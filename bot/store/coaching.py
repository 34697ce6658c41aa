"""Who coaches whom: from the client's yes until either side ends it.

The only way from a coach to a client's records: a client's books are opened for a coach here alone, and only while
the coaching stands.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy import bindparam, insert, select, update

from bot.store import facts, people
from bot.store.books import Books
from bot.store.schema import coaching, person

WITHHELD = "withheld from "
"""Begins the name of the setting in which a client keeps the parts withheld from a coach, whose id follows."""


@dataclass(frozen=True, slots=True)
class Coaching:
    """One coach and one client, since when, and what the coach calls the client. `coach` is the coach's own name."""

    id: int
    coach_id: int
    client_id: int
    called: str
    agreed_at: datetime
    coach: str


_STANDING = (
    select(
        coaching.c.id,
        coaching.c.coach_id,
        coaching.c.client_id,
        coaching.c.called,
        coaching.c.agreed_at,
        person.c.name,
    )
    .join(person, person.c.id == coaching.c.coach_id)
    .where(coaching.c.ended_at.is_(None))
)
_CLIENTS = _STANDING.where(coaching.c.coach_id == bindparam("of_person")).order_by(coaching.c.called, coaching.c.id)
_COACHES = _STANDING.where(coaching.c.client_id == bindparam("of_person")).order_by(coaching.c.id)
_BETWEEN = _STANDING.where(coaching.c.coach_id == bindparam("of_coach"), coaching.c.client_id == bindparam("of_client"))
_BEGIN = insert(coaching)
_END = (
    update(coaching)
    .where(coaching.c.id == bindparam("of_id"), coaching.c.ended_at.is_(None))
    .values(ended_at=bindparam("now"), ended_by=bindparam("by"))
)


def clients(books: Books) -> list[Coaching]:
    """The person's clients, by what they call them."""
    return _all(books, _CLIENTS, of_person=books.person.id)


def coaches(books: Books) -> list[Coaching]:
    """The person's coaches, the longest-standing first."""
    return _all(books, _COACHES, of_person=books.person.id)


def coach(books: Books, coach_id: int) -> Coaching | None:
    """The coaching of this person by that coach, or None when there is none that stands."""
    return next(iter(_all(books, _BETWEEN, of_coach=coach_id, of_client=books.person.id)), None)


def books_of_client(books: Books, client_id: int) -> Books | None:
    """A client's books for the coach whose books these are; None unless the client's consent stands.

    They are for reading: no message of the client's own stands behind them, so that nothing can be written.
    """
    found = _all(books, _BETWEEN, of_coach=books.person.id, of_client=client_id)
    client = people.by_id(books.conn, client_id) if found else None
    if client is None:
        return None
    theirs = Books(conn=books.conn, person=client, inbound_id=0, at=books.at, foreign=True)
    return replace(theirs, withheld=withheld_from(theirs, books.person.id))


def withheld_from(books: Books, coach_id: int) -> frozenset[str]:
    """The parts of the consent that the person has left out for that coach: `body_weight`, `energy`, `comments`."""
    return frozenset(facts.settings(books).get(f"{WITHHELD}{coach_id}", "").split())


def withhold(books: Books, coach_id: int, parts: frozenset[str]) -> None:
    """Sets the parts that the person leaves out for that coach."""
    facts.save_setting(books, f"{WITHHELD}{coach_id}", " ".join(sorted(parts)))


def begin(books: Books, coach_id: int, called: str) -> None:
    """The person, whose yes this message is, is guided by that coach from now on."""
    row = {"coach_id": coach_id, "client_id": books.person.id, "called": called, "agreed_at": books.at}
    books.conn.execute(_BEGIN, row)


def end(books: Books, which: Coaching) -> None:
    """Ends a coaching; the person has to be one of its two sides (PermissionError otherwise)."""
    if books.person.id not in (which.coach_id, which.client_id):
        raise PermissionError("somebody else's coaching")
    books.conn.execute(_END, {"of_id": which.id, "now": books.at, "by": books.person.id})


def names_taken(books: Books, coach_id: int) -> set[str]:
    """What that coach calls their clients, in lower case."""
    return {each.called.casefold() for each in _all(books, _CLIENTS, of_person=coach_id)}


def _all(books: Books, statement: Any, **values: object) -> list[Coaching]:
    rows: Sequence[Any] = books.conn.execute(statement, values).all()
    return [Coaching(*row) for row in rows]
