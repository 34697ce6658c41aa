"""When the kitchen's batches were cooked: decides how long they keep, and what was cooked last."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import bindparam, func, select

from bot.store.books import Books
from bot.store.schema import batch, batch_event, inbound, weigh_in
from bot.store.statements import Prepared


@dataclass(frozen=True, slots=True)
class Cooked:
    """A batch with the moment (UTC) at which its first cooked weight was told."""

    id: int
    number: int
    name: str
    at: datetime
    closed: bool


_COOKED = (
    select(
        batch.c.id,
        batch.c.number,
        batch.c.name,
        func.min(batch_event.c.at, type_=batch_event.c.at.type),
        batch.c.closed,
    )
    .join(batch_event, batch_event.c.batch_id == batch.c.id)
    .where(
        batch.c.kitchen_id == bindparam("of_kitchen"),
        batch.c.undone_by.is_(None),
        batch_event.c.kind == "cooked",
        batch_event.c.undone_by.is_(None),
    )
    .group_by(batch.c.id, batch.c.number, batch.c.name, batch.c.closed)
)
# With a literal FALSE, so that the index on the open ones is used.
_OPEN = _COOKED.where(~batch.c.closed).order_by(batch.c.number)
_LATEST = _COOKED.order_by(batch.c.number.desc()).limit(bindparam("at_most"))


_LAST_IN = func.coalesce(
    select(func.max(batch_event.c.at, type_=batch_event.c.at.type))
    .where(batch_event.c.batch_id == batch.c.id, batch_event.c.kind == "added", batch_event.c.undone_by.is_(None))
    .scalar_subquery(),
    batch.c.opened_at,
    type_=batch_event.c.at.type,
)
_FILLING = Prepared(
    select(batch.c.number, _LAST_IN).where(
        batch.c.kitchen_id == bindparam("of_kitchen"), ~batch.c.closed, batch.c.undone_by.is_(None)
    )
)

_OPEN_HERE = (batch.c.kitchen_id == bindparam("of_kitchen"), ~batch.c.closed, batch.c.undone_by.is_(None))
_STEPS_TOLD = Prepared(
    select(batch.c.number, func.max(batch_event.c.at, type_=batch_event.c.at.type))
    .join(batch_event, batch_event.c.batch_id == batch.c.id)
    .where(*_OPEN_HERE, batch_event.c.person_id == bindparam("of_person"), batch_event.c.undone_by.is_(None))
    .group_by(batch.c.number)
)
_PORTIONS_TOLD = Prepared(
    select(batch.c.number, func.max(inbound.c.said_at, type_=inbound.c.said_at.type))
    .join(weigh_in, weigh_in.c.batch_id == batch.c.id)
    .join(inbound, weigh_in.c.inbound_id == inbound.c.id)
    .where(*_OPEN_HERE, weigh_in.c.person_id == bindparam("of_person"))
    .group_by(batch.c.number)
)


def last_told(books: Books) -> dict[int, datetime]:
    """When the person last told something of each of the kitchen's open batches, a portion too (UTC), by number."""
    values = {"of_kitchen": books.person.kitchen_id, "of_person": books.person.id}
    found: dict[int, datetime] = {}
    for statement in (_STEPS_TOLD, _PORTIONS_TOLD):
        for number, at in statement.all(books.conn, values):
            found[number] = max(at, found.get(number, at))
    return found


def last_in(books: Books) -> dict[int, datetime]:
    """When something last went into each of the kitchen's open batches (UTC), by number."""
    rows = _FILLING.all(books.conn, {"of_kitchen": books.person.kitchen_id})
    return {row[0]: row[1] for row in rows}


def cooked_and_open(books: Books) -> list[Cooked]:
    """The open batches that have a cooked weight, by number."""
    return [Cooked(*row) for row in books.conn.execute(_OPEN, {"of_kitchen": books.person.kitchen_id})]


def cooked_latest(books: Books, at_most: int) -> list[Cooked]:
    """The batches cooked last, open or not, the newest first."""
    values = {"of_kitchen": books.person.kitchen_id, "at_most": at_most}
    return [Cooked(*row) for row in books.conn.execute(_LATEST, values)]
