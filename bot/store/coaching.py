"""Who coaches whom: from the client's yes until either side ends it, or until the last day of a cover.

The only way from a coach to a client's records: a client's books are opened for a coach here alone, and only while
the coaching stands.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy import BindParameter, ColumnElement, bindparam, insert, or_, select, update

from bot.store import facts, people
from bot.store.books import Books
from bot.store.schema import coaching, person

WITHHELD = "withheld from "
"""Begins the name of the setting in which a client keeps their choice of parts for a coach, whose id follows."""
SHARED = frozenset({"body_weight", "energy", "protein", "comments"})
"""The parts of a consent that belong to it unless the client leaves them out."""
ASKED = frozenset({"cautions", "export"})
"""The parts that belong to it only once the client has given them."""
_GIVEN = "+"
"""Before a part in the setting that was given."""


@dataclass(frozen=True, slots=True)
class Coaching:
    """One coach and one client, since when, and what the coach calls the client. `coach` is the coach's own name.

    A cover ends by itself at the moment `until`, and is for the coach `covers_id`, whose name is `covers`.
    """

    id: int
    coach_id: int
    client_id: int
    called: str
    agreed_at: datetime
    coach: str
    until: datetime | None = None
    covers_id: int | None = None
    covers: str | None = None

    @property
    def by(self) -> str:
        """The coach with the role they have, as the client is told: 'Ines, your coach'."""
        return f"{self.coach}, {'your coach' if self.covers is None else f'covering for {self.covers}'}"


_covered = person.alias("covered")


def stands(now: BindParameter[datetime]) -> ColumnElement[bool]:
    """Whether a row of `coaching` stands at that moment."""
    return coaching.c.ended_at.is_(None) & or_(coaching.c.until.is_(None), coaching.c.until > now)


_STANDING = (
    select(
        coaching.c.id,
        coaching.c.coach_id,
        coaching.c.client_id,
        coaching.c.called,
        coaching.c.agreed_at,
        person.c.name,
        coaching.c.until,
        coaching.c.covers_id,
        _covered.c.name,
    )
    .join(person, person.c.id == coaching.c.coach_id)
    .outerjoin(_covered, _covered.c.id == coaching.c.covers_id)
    .where(stands(bindparam("now")))
)
_CLIENTS = _STANDING.where(coaching.c.coach_id == bindparam("of_person")).order_by(coaching.c.called, coaching.c.id)
_COACHES = _STANDING.where(coaching.c.client_id == bindparam("of_person")).order_by(coaching.c.id)
_BETWEEN = _STANDING.where(coaching.c.coach_id == bindparam("of_coach"), coaching.c.client_id == bindparam("of_client"))
_COVERS = _STANDING.where(coaching.c.covers_id == bindparam("of_person")).order_by(coaching.c.id)
_ENDED = (
    select(coaching.c.coach_id, person.c.name)
    .join(person, person.c.id == coaching.c.coach_id)
    .where(coaching.c.client_id == bindparam("of_person"), coaching.c.ended_at.is_not(None))
)
_LEFT = (
    select(coaching.c.coach_id, person.c.name, coaching.c.called)
    .join(person, person.c.id == coaching.c.coach_id)
    .where(coaching.c.client_id == bindparam("of_person"), coaching.c.ended_by == bindparam("of_person"))
    .where(coaching.c.covers_id.is_(None))
    .order_by(coaching.c.ended_at.desc(), coaching.c.id.desc())
)
_BEGIN = insert(coaching)
_END = (
    update(coaching)
    .where(or_(coaching.c.id == bindparam("of_id"), coaching.c.id.in_(bindparam("covers", expanding=True))))
    .where(coaching.c.ended_at.is_(None))
    .values(ended_at=bindparam("now"), ended_by=bindparam("by"))
)
_OVER = (
    update(coaching)
    .where(
        coaching.c.coach_id == bindparam("of_coach"),
        coaching.c.client_id == bindparam("of_client"),
        coaching.c.ended_at.is_(None),
        coaching.c.until <= bindparam("now"),
    )
    .values(ended_at=coaching.c.until)
)


def clients(books: Books) -> list[Coaching]:
    """The person's clients, by what they call them."""
    return _all(books, _CLIENTS, of_person=books.person.id)


def coaches(books: Books) -> list[Coaching]:
    """The person's coaches, the longest-standing first."""
    return _all(books, _COACHES, of_person=books.person.id)


def coaches_before(books: Books) -> list[str]:
    """The names of those who guided the person and do not any more."""
    now = {each.coach_id for each in coaches(books)}
    rows = books.conn.execute(_ENDED, {"of_person": books.person.id}).all()
    return sorted({name for coach_id, name in rows if coach_id not in now})


@dataclass(frozen=True, slots=True)
class Left:
    """A coaching that the client has ended: by whom it was, and what the coach called the client."""

    coach_id: int
    coach: str
    called: str


def left_by_client(books: Books) -> list[Left]:
    """The coaches whom the person has taken their consent from and who guide them no more, the latest first."""
    now = {each.coach_id for each in coaches(books)}
    rows = [Left(*row) for row in books.conn.execute(_LEFT, {"of_person": books.person.id}).all()]
    return list({each.coach_id: each for each in reversed(rows) if each.coach_id not in now}.values())[::-1]


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
    return replace(theirs, withheld=withheld_from(theirs, found[0]))


def withheld_from(books: Books, which: Coaching) -> frozenset[str]:
    """The parts of the consent (`SHARED`, `ASKED`) that the person leaves out for a coach.

    Whoever covers for another coach gets nothing that the other does not get.
    """
    told = facts.settings(books)
    chosen = _chosen(told, which.coach_id)
    base = chosen if which.covers_id is None else _chosen(told, which.covers_id)
    given = {part for part in ASKED if _GIVEN + part in base}
    return frozenset({part for part in chosen | base if not part.startswith(_GIVEN)} | (ASKED - given))


def choose(books: Books, coach_id: int, part: str, given: bool) -> None:
    """Gives a part to that coach or leaves it out; energy goes and comes with protein, which may be had alone."""
    parts = {each for each in _chosen(facts.settings(books), coach_id) if each.removeprefix(_GIVEN) != part}
    if not given:
        parts |= {part, "energy"} if part == "protein" else {part}
    elif part in ASKED:
        parts.add(_GIVEN + part)
    elif part == "energy":
        parts.discard("protein")
    facts.save_setting(books, f"{WITHHELD}{coach_id}", " ".join(sorted(parts)))


def _chosen(settings: Mapping[str, str], coach_id: int) -> frozenset[str]:
    return frozenset(settings.get(f"{WITHHELD}{coach_id}", "").split())


def begin(
    books: Books, coach_id: int, called: str, until: datetime | None = None, covers_id: int | None = None
) -> None:
    """The person, whose yes this message is, is guided by that coach from now on; what was asked for is asked anew."""
    books.conn.execute(_OVER, {"of_coach": coach_id, "of_client": books.person.id, "now": books.at})
    before = _chosen(facts.settings(books), coach_id)
    kept = {part for part in before if not part.startswith(_GIVEN)}
    if kept != before:
        facts.save_setting(books, f"{WITHHELD}{coach_id}", " ".join(sorted(kept)))
    row = {"coach_id": coach_id, "client_id": books.person.id, "called": called, "agreed_at": books.at}
    books.conn.execute(_BEGIN, row | {"until": until, "covers_id": covers_id})


def end(books: Books, which: Coaching) -> list[Coaching]:
    """Ends a coaching with the covers for it, which are returned; PermissionError unless it concerns the person."""
    if books.person.id not in (which.coach_id, which.client_id, which.covers_id):
        raise PermissionError("somebody else's coaching")
    covers = [each for each in _all(books, _COVERS, of_person=which.coach_id) if each.client_id == which.client_id]
    ids = [each.id for each in covers]
    books.conn.execute(_END, {"of_id": which.id, "covers": ids, "now": books.at, "by": books.person.id})
    return covers


def covers(books: Books) -> list[Coaching]:
    """The covers for this coach by colleagues."""
    return _all(books, _COVERS, of_person=books.person.id)


def names_taken(books: Books, coach_id: int) -> set[str]:
    """What that coach calls their clients, in lower case."""
    return {each.called.casefold() for each in _all(books, _CLIENTS, of_person=coach_id)}


def _all(books: Books, statement: Any, **values: object) -> list[Coaching]:
    rows: Sequence[Any] = books.conn.execute(statement, values | {"now": books.at}).all()
    return [Coaching(*row) for row in rows]
