"""Weigh-ins: added, superseded and removed by later rows, never updated and never deleted.

A weigh-in's rows form a chain: each row but the first replaces exactly one other. The row that nothing replaces is the
current one, unless it says that the weigh-in was removed.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from sqlalchemy import Select, bindparam, exists, func, insert, select

from bot.kinds import VersionKind
from bot.store.batch_reading import OF_AN_INCOMPLETE_POT, box_numbers, numbers_written
from bot.store.books import Books, record_change
from bot.store.columns import nutrient_values, nutrients_from, open_values
from bot.store.schema import MAX_INTEGER, NUTRIENTS, batch, person, weigh_in
from bot.store.statements import Prepared
from domain.foods import State
from domain.weighins import Evidence, OpenFigures, WeighIn


@dataclass(frozen=True, slots=True)
class StoredWeighIn:
    """A weigh-in as it stands in somebody's records, or stood there once.

    `number` is the person's own, from 1, and stays through changes; `row_id` is that of this version. `eaten_at` is in
    UTC, `day` on the person's calendar, `said` what the conversation kept about the words. For a portion, `batch_row`
    is its batch and `batch_kitchen` whose that is: the person may be in another kitchen by now.
    """

    row_id: int
    person_id: int
    number: int
    weigh_in: WeighIn
    eaten_at: datetime
    day: date
    meal: str | None
    said: bytes
    inbound_id: int
    batch_row: int | None = None
    batch_kitchen: int | None = None
    at_least: bool = False
    """Whether its pot has an ingredient without figures, as read from the records."""


_STORED = select(
    weigh_in.c.id,
    weigh_in.c.person_id,
    weigh_in.c.number,
    weigh_in.c.food,
    weigh_in.c.state,
    weigh_in.c.as_weighed_g,
    weigh_in.c.edible_g,
    weigh_in.c.basis_g,
    weigh_in.c.basis,
    weigh_in.c.evidence,
    batch.c.number,
    weigh_in.c.eaten_at,
    weigh_in.c.day,
    weigh_in.c.meal,
    weigh_in.c.said,
    weigh_in.c.inbound_id,
    weigh_in.c.batch_id,
    batch.c.kitchen_id,
    weigh_in.c.boxes,
    weigh_in.c.pieces,
    weigh_in.c.open_about,
    weigh_in.c.kcal_low,
    weigh_in.c.kcal_high,
    OF_AN_INCOMPLETE_POT,
    *(weigh_in.c[name] for name in NUTRIENTS),
).outerjoin(batch, batch.c.id == weigh_in.c.batch_id)
_later = weigh_in.alias("later")
_STANDS = weigh_in.c.kind != VersionKind.REMOVED.value
_CURRENT = _STANDS & ~exists().where(_later.c.replaces == weigh_in.c.id)
_MINE = weigh_in.c.person_id == bindparam("of_person")
_IN_ORDER = (weigh_in.c.eaten_at, weigh_in.c.number)

_VERSION = _STORED.where(weigh_in.c.id == bindparam("of_row"))
_was_there = weigh_in.alias("was_there")
_REPLACED = _STORED.where(
    weigh_in.c.id == select(_was_there.c.replaces).where(_was_there.c.id == bindparam("of_row")).scalar_subquery()
)
_HEAD = (
    _STORED.add_columns(weigh_in.c.kind)
    .where(_MINE, weigh_in.c.number == bindparam("of_number"))
    .order_by(weigh_in.c.id.desc())
    .limit(1)
)
_HIGHEST = _STORED.where(_MINE, _CURRENT).order_by(weigh_in.c.number.desc()).limit(1)
_LATEST = Prepared(_HIGHEST)
_LATEST_OF_FOOD = _HIGHEST.where(weigh_in.c.food == bindparam("of_food"), weigh_in.c.day == bindparam("of_day"))
_BETWEEN = _STORED.where(
    _MINE, _CURRENT, weigh_in.c.day >= bindparam("first_day"), weigh_in.c.day <= bindparam("last_day")
).order_by(*_IN_ORDER)
_caused = weigh_in.alias("caused")
_FROM_MESSAGE = _STORED.where(
    _MINE,
    _CURRENT,
    weigh_in.c.number.in_(
        select(_caused.c.number).where(
            _caused.c.inbound_id == bindparam("of_inbound"), _caused.c.person_id == bindparam("of_person")
        )
    ),
).order_by(weigh_in.c.number)
_PORTIONS = _STORED.where(
    _CURRENT, batch.c.kitchen_id == bindparam("of_kitchen"), batch.c.number == bindparam("of_number")
).order_by(*_IN_ORDER, weigh_in.c.id)
_COUNT = select(func.count()).select_from(weigh_in).where(_MINE, _CURRENT)
_KITCHEN_OF = select(person.c.kitchen_id).where(person.c.id == bindparam("of_person"))

_batch_id = (
    select(batch.c.id)
    .where(batch.c.kitchen_id == bindparam("of_kitchen"), batch.c.number == bindparam("of_batch"))
    .scalar_subquery()
)
_earlier = weigh_in.alias("earlier")
_next_number = (
    select(func.coalesce(func.max(_earlier.c.number), 0) + 1)
    .where(_earlier.c.person_id == bindparam("of_person"))
    .scalar_subquery()
)
_RETURNING = (weigh_in.c.id, weigh_in.c.number, weigh_in.c.batch_id)
_ADD = Prepared(insert(weigh_in).values(number=_next_number, batch_id=_batch_id).returning(*_RETURNING))
_REPLACE = insert(weigh_in).returning(weigh_in.c.id, weigh_in.c.number)
_BATCH_ROW = select(_batch_id)


def add(books: Books, weigh_in: WeighIn, eaten_at: datetime, day: date, meal: str | None, said: bytes) -> StoredWeighIn:
    """The new weigh-in, with the person's next number. LookupError when the kitchen has no such batch."""
    person_id = books.person.id
    values = _values(books, person_id, VersionKind.RECORDED, weigh_in, eaten_at, day, meal, said)
    values |= {"of_person": person_id, "of_kitchen": books.person.kitchen_id, "of_batch": weigh_in.batch}
    row_id, number, batch_row = _ADD.one(books.conn, values)
    _check_batch(weigh_in, batch_row)
    record_change(books, "weigh_in", row_id)
    kitchen = books.person.kitchen_id if batch_row is not None else None
    return StoredWeighIn(
        row_id, person_id, number, weigh_in, eaten_at, day, meal, said, books.inbound_id, batch_row, kitchen
    )


def change(
    books: Books, old: StoredWeighIn, weigh_in: WeighIn, eaten_at: datetime, day: date, meal: str | None, said: bytes
) -> StoredWeighIn:
    """The weigh-in as it stands now, under its old number; a portion is one of a batch of the kitchen.

    `old` is its current version, the person's own or a portion of somebody of the same kitchen (PermissionError
    otherwise).
    """
    batch_row = None
    if weigh_in.batch is not None:
        meant = {"of_kitchen": books.person.kitchen_id, "of_batch": weigh_in.batch}
        batch_row = books.conn.execute(_BATCH_ROW, meant).scalar()
        _check_batch(weigh_in, batch_row)
    kitchen = books.person.kitchen_id if batch_row is not None else None
    wanted = replace(
        old,
        weigh_in=weigh_in,
        eaten_at=eaten_at,
        day=day,
        meal=meal,
        said=said,
        batch_row=batch_row,
        batch_kitchen=kitchen,
    )
    new = supersede(books, VersionKind.CHANGED, old, wanted)
    record_change(books, "weigh_in_changed", new.row_id)
    return new


def remove(books: Books, old: StoredWeighIn) -> None:
    """Removes a weigh-in; its rows stay, and its number is not reused."""
    gone = supersede(books, VersionKind.REMOVED, old, old)
    record_change(books, "weigh_in_removed", gone.row_id)


def supersede(books: Books, kind: VersionKind, old: StoredWeighIn, wanted: StoredWeighIn) -> StoredWeighIn:
    """The row that replaces `old` and says what `wanted` says, of the very same batch.

    It adds no journal entry: what an undo writes is not itself undone.
    """
    _check_kitchen(books, old.person_id)
    values = _values(books, old.person_id, kind, wanted.weigh_in, wanted.eaten_at, wanted.day, wanted.meal, wanted.said)
    values |= {"number": old.number, "replaces": old.row_id, "batch_id": wanted.batch_row}
    row_id, number = books.conn.execute(_REPLACE, values).one()
    return replace(wanted, row_id=row_id, person_id=old.person_id, number=number, inbound_id=books.inbound_id)


def get(books: Books, number: int) -> StoredWeighIn | None:
    """The person's weigh-in of that number, or None when there is none or it was removed."""
    newest = newest_row(books, books.person.id, number)
    return None if newest is None or newest[1] is VersionKind.REMOVED else newest[0]


def latest(books: Books) -> StoredWeighIn | None:
    """The weigh-in that the message refers to, otherwise the person's with the highest number, or None."""
    if books.refers_to is not None:
        caused = from_message(books, books.refers_to)
        if caused:
            return caused[-1]
    row = _LATEST.one_or_none(books.conn, {"of_person": books.person.id})
    return None if row is None else _from_row(row)


def latest_of_food(books: Books, food: str, day: date) -> StoredWeighIn | None:
    """The day's weigh-in of that food (or batch name) with the highest number, or None."""
    return _one(books, _LATEST_OF_FOOD, {"of_person": books.person.id, "of_food": food, "of_day": day})


def on_day(books: Books, day: date) -> list[StoredWeighIn]:
    """The day's weigh-ins in the order they were eaten."""
    return between(books, day, day)


def between(books: Books, first_day: date, last_day: date) -> list[StoredWeighIn]:
    """The weigh-ins of some days, both ends included, in the order they were eaten."""
    return _all(books, _BETWEEN, {"of_person": books.person.id, "first_day": first_day, "last_day": last_day})


def from_message(books: Books, inbound_id: int) -> list[StoredWeighIn]:
    """The person's current weigh-ins of which any version was caused by that message, by number."""
    return _all(books, _FROM_MESSAGE, {"of_person": books.person.id, "of_inbound": inbound_id})


def portions(books: Books, batch_number: int) -> list[StoredWeighIn]:
    """What everybody has taken from a batch of the kitchen, in the order it was eaten."""
    if not 0 < batch_number <= MAX_INTEGER:
        return []
    return _all(books, _PORTIONS, {"of_kitchen": books.person.kitchen_id, "of_number": batch_number})


def count(books: Books) -> int:
    """How many weigh-ins the person has."""
    return books.conn.execute(_COUNT, {"of_person": books.person.id}).scalar_one()


def version(books: Books, row_id: int) -> StoredWeighIn | None:
    """One version of a weigh-in of somebody of the kitchen, current or not, or None."""
    return _of_kitchen(books, _one(books, _VERSION, {"of_row": row_id}))


def replaced_by(books: Books, row_id: int) -> StoredWeighIn | None:
    """The version that the row `row_id` replaced, or None when it was the first."""
    return _of_kitchen(books, _one(books, _REPLACED, {"of_row": row_id}))


def has_left(books: Books, stored: StoredWeighIn) -> bool:
    """Whether it is a portion of a batch of another kitchen than the person's: they were in that one once."""
    return stored.batch_kitchen not in (None, books.person.kitchen_id)


def is_out_of_reach(books: Books, row_id: int) -> bool:
    """Whether that version is of somebody who is not in the person's kitchen any more."""
    stored = _one(books, _VERSION, {"of_row": row_id})
    return stored is not None and not (stored.person_id == books.person.id or _shares_kitchen(books, stored.person_id))


def newest_row(books: Books, person_id: int, number: int) -> tuple[StoredWeighIn, VersionKind] | None:
    """The last row of one weigh-in of a person with that row's kind, also when it was removed, or None."""
    if not 0 < number <= MAX_INTEGER:
        return None
    row = books.conn.execute(_HEAD, {"of_person": person_id, "of_number": number}).one_or_none()
    return None if row is None else (_from_row(row[:-1]), VersionKind(row[-1]))


def _values(
    books: Books,
    person_id: int,
    kind: VersionKind,
    weigh_in: WeighIn,
    eaten_at: datetime,
    day: date,
    meal: str | None,
    said: bytes,
) -> dict[str, Any]:
    return {
        "person_id": person_id,
        "kind": kind.value,
        "food": weigh_in.food,
        "state": weigh_in.state.value,
        "as_weighed_g": weigh_in.as_weighed_g,
        "edible_g": weigh_in.edible_g,
        "basis_g": weigh_in.basis_g,
        "basis": weigh_in.basis.value,
        "evidence": weigh_in.evidence.value,
        "boxes": numbers_written(weigh_in.boxes) or None,
        "pieces": weigh_in.pieces,
        "eaten_at": eaten_at,
        "day": day,
        "meal": meal,
        "said": said,
        "inbound_id": books.inbound_id,
        **nutrient_values(weigh_in.nutrients),
        **open_values(weigh_in.open),
    }


def _check_batch(weigh_in: WeighIn, batch_id: int | None) -> None:
    if weigh_in.batch is not None and batch_id is None:
        raise LookupError(f"the kitchen has no batch {weigh_in.batch}")


def _check_kitchen(books: Books, person_id: int) -> None:
    if person_id != books.person.id and not _shares_kitchen(books, person_id):
        raise PermissionError("a weigh-in of another kitchen")


def _shares_kitchen(books: Books, person_id: int) -> bool:
    return books.conn.execute(_KITCHEN_OF, {"of_person": person_id}).scalar() == books.person.kitchen_id


def _of_kitchen(books: Books, stored: StoredWeighIn | None) -> StoredWeighIn | None:
    if stored is not None:
        _check_kitchen(books, stored.person_id)
    return stored


def _one(books: Books, statement: Select[*tuple[Any, ...]], values: Mapping[str, Any]) -> StoredWeighIn | None:
    row = books.conn.execute(statement, values).one_or_none()
    return None if row is None else _from_row(row)


def _all(books: Books, statement: Select[*tuple[Any, ...]], values: Mapping[str, Any]) -> list[StoredWeighIn]:
    return [_from_row(row) for row in books.conn.execute(statement, values)]


def _from_row(row: Sequence[Any]) -> StoredWeighIn:
    (
        row_id,
        person_id,
        number,
        food,
        state,
        as_weighed_g,
        edible_g,
        basis_g,
        basis,
        evidence,
        batch_number,
        eaten_at,
        day,
        meal,
        said,
        inbound_id,
        batch_row,
        batch_kitchen,
        boxes,
        pieces,
        open_about,
        kcal_low,
        kcal_high,
        at_least,
        *nutrients,
    ) = row
    stored = WeighIn(
        food=food,
        state=State(state),
        as_weighed_g=as_weighed_g,
        edible_g=edible_g,
        basis_g=basis_g,
        basis=State(basis),
        evidence=Evidence(evidence),
        nutrients=nutrients_from(nutrients),
        batch=batch_number,
        boxes=box_numbers(boxes),
        pieces=pieces,
        open=None if open_about is None else OpenFigures(open_about, kcal_low, kcal_high),
    )
    return StoredWeighIn(
        row_id,
        person_id,
        number,
        stored,
        eaten_at,
        day,
        meal,
        said,
        inbound_id,
        batch_row,
        batch_kitchen,
        bool(at_least),
    )
