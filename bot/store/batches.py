"""Batches of a kitchen: their ingredients, and what happened to them since."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from sqlalchemy import ColumnElement, Connection, bindparam, case, exists, func, insert, select, update

from bot.store.books import Books, record_change
from bot.store.columns import nutrient_values
from bot.store.schema import MAX_INTEGER, NUTRIENTS, batch, batch_event, batch_ingredient, kitchen, weigh_in
from bot.store.statements import Prepared
from domain.batches import Batch, Boxes, Ingredient
from domain.foods import State
from domain.nutrients import Nutrients
from domain.weighins import Evidence

_KITCHENS = (batch.c.kitchen_id == bindparam("of_kitchen")) & batch.c.undone_by.is_(None)
_ID = select(batch.c.id).where(_KITCHENS, batch.c.number == bindparam("of_number"))
_HEADS = select(batch.c.id, batch.c.number, batch.c.name, batch.c.closed).where(_KITCHENS).order_by(batch.c.number)
_INGREDIENTS = select(
    batch_ingredient.c.batch_id,
    batch_ingredient.c.food,
    batch_ingredient.c.state,
    batch_ingredient.c.raw_g,
    batch_ingredient.c.food_group,
    batch_ingredient.c.method,
    *(batch_ingredient.c[name] for name in NUTRIENTS),
).order_by(batch_ingredient.c.batch_id, batch_ingredient.c.position)
_EVENTS = (
    select(
        batch_event.c.batch_id, batch_event.c.kind, batch_event.c.grams, batch_event.c.count, batch_event.c.after_row
    )
    .where(batch_event.c.undone_by.is_(None))
    .order_by(batch_event.c.id)
)
_later = weigh_in.alias("later")
_boxed = weigh_in.alias("boxed")
# The first row of a weigh-in decides to which boxing it belongs: changing it does not move it to another.
_BOXED_SINCE = (
    select(func.min(_boxed.c.id))
    .where(
        _boxed.c.person_id == weigh_in.c.person_id,
        _boxed.c.number == weigh_in.c.number,
        _boxed.c.batch_id == weigh_in.c.batch_id,
        _boxed.c.evidence == Evidence.BOXED.value,
    )
    .scalar_subquery()
)
_PORTIONS = select(
    weigh_in.c.batch_id,
    weigh_in.c.edible_g,
    case((weigh_in.c.evidence == Evidence.BOXED.value, _BOXED_SINCE)),
).where(weigh_in.c.kind != "removed", ~exists().where(_later.c.replaces == weigh_in.c.id))
_NEXT_NUMBER = (
    update(kitchen)
    .where(kitchen.c.id == bindparam("of_kitchen"))
    .values(batches=kitchen.c.batches + 1)
    .returning(kitchen.c.batches)
)
_ADD = insert(batch).returning(batch.c.id)
_ADD_INGREDIENT = insert(batch_ingredient)
_ADD_EVENT = insert(batch_event).returning(batch_event.c.id)
_NEWEST_ROW = select(func.coalesce(func.max(weigh_in.c.id), 0))
_SET = update(batch).where(batch.c.id == bindparam("of_batch"))
_OPENING = select(batch.c.number, batch.c.name).where(
    batch.c.id == bindparam("of_batch"), batch.c.kitchen_id == bindparam("of_kitchen")
)
_EVENT = (
    select(batch.c.number, batch_event.c.kind, batch_event.c.grams)
    .join(batch_event, batch_event.c.batch_id == batch.c.id)
    .where(batch_event.c.id == bindparam("of_event"), batch.c.kitchen_id == bindparam("of_kitchen"))
)
_UNDO_EVENT = update(batch_event).where(batch_event.c.id == bindparam("of_event")).returning(batch_event.c.batch_id)
_NEWEST_CLOSING = (
    select(batch_event.c.kind)
    .where(
        batch_event.c.batch_id == bindparam("of_batch"),
        batch_event.c.kind.in_(("closed", "reopened")),
        batch_event.c.undone_by.is_(None),
    )
    .order_by(batch_event.c.id.desc())
    .limit(1)
)


class _Reading:
    """The four statements that read any number of a kitchen's batches; `which` selects them."""

    def __init__(self, which: ColumnElement[bool]) -> None:
        ids = select(batch.c.id).where(_KITCHENS, which)
        self.heads = Prepared(_HEADS.where(which))
        self.ingredients = Prepared(_INGREDIENTS.where(batch_ingredient.c.batch_id.in_(ids)))
        self.events = Prepared(_EVENTS.where(batch_event.c.batch_id.in_(ids)))
        self.portions = Prepared(_PORTIONS.where(weigh_in.c.batch_id.in_(ids)))


_OPEN = _Reading(~batch.c.closed)
_OF_NUMBER = _Reading(batch.c.number == bindparam("of_number"))


def open_batch(books: Books, name: str, ingredients: Sequence[Ingredient]) -> int:
    """The number of the new batch: the kitchen's next, which is never given twice."""
    number: int = books.conn.execute(_NEXT_NUMBER, {"of_kitchen": books.person.kitchen_id}).scalar_one()
    row = {
        "kitchen_id": books.person.kitchen_id,
        "number": number,
        "name": name,
        "opened_at": books.at,
        "closed": False,
        "inbound_id": books.inbound_id,
    }
    batch_id: int = books.conn.execute(_ADD, row).scalar_one()
    if ingredients:
        rows = [_ingredient_values(batch_id, position, item) for position, item in enumerate(ingredients)]
        books.conn.execute(_ADD_INGREDIENT, rows)
    record_change(books, "batch_opened", batch_id)
    return number


def cook(books: Books, number: int, grams: float) -> None:
    """Records the cooked weight; the latest one counts. LookupError when there is no such batch, here and below."""
    _add_event(books, number, "cooked", grams=grams)


def drain(books: Books, number: int, grams: float) -> None:
    """Records fat that was poured off; several amounts add up."""
    _add_event(books, number, "drained", grams=grams)


def box(books: Books, number: int, count: int, box_g: float) -> None:
    """Records that what is left is in `count` boxes of `box_g` grams; the latest boxing counts."""
    after_row = books.conn.execute(_NEWEST_ROW).scalar_one()
    _add_event(books, number, "boxed", grams=box_g, count=count, after_row=after_row)


def reduce(books: Books, number: int, grams: float, why: str, boxes: int = 0) -> None:
    """Records grams (and boxes) that left the batch and count for nobody's day; several amounts add up."""
    _add_event(books, number, "reduced", grams=grams, why=why, count=boxes or None)


def close(books: Books, number: int, left_g: float, how: str) -> None:
    """Closes the batch; `left_g` is what nobody logged, `how` is `finished` or `discarded`."""
    batch_id = _add_event(books, number, "closed", grams=left_g, why=how)
    books.conn.execute(_SET, {"of_batch": batch_id, "closed": True})


def reopen(books: Books, number: int, *, noted: bool = True) -> None:
    """Reopens a closed batch; not `noted` in the journal when an undo causes it, which is not itself undone."""
    batch_id = _add_event(books, number, "reopened", noted=noted)
    books.conn.execute(_SET, {"of_batch": batch_id, "closed": False})


def open_batches(books: Books) -> list[Batch]:
    """The kitchen's open batches by number, in four statements however many there are."""
    return _read(books.conn, _OPEN, {"of_kitchen": books.person.kitchen_id})


def get(books: Books, number: int) -> Batch | None:
    """The kitchen's batch of that number, open or closed, or None."""
    if not 0 < number <= MAX_INTEGER:
        return None
    values = {"of_kitchen": books.person.kitchen_id, "of_number": number}
    return next(iter(_read(books.conn, _OF_NUMBER, values)), None)


def opening(books: Books, batch_id: int) -> tuple[int, str]:
    """Number and name of the kitchen's batch in that row, also when it is undone."""
    values = {"of_batch": batch_id, "of_kitchen": books.person.kitchen_id}
    number, name = books.conn.execute(_OPENING, values).one()
    return number, name


def event(books: Books, event_id: int) -> tuple[int, str, float | None]:
    """Batch number, kind and grams of the kitchen's batch event in that row, also when it is undone."""
    values = {"of_event": event_id, "of_kitchen": books.person.kitchen_id}
    number, kind, grams = books.conn.execute(_EVENT, values).one()
    return number, kind, grams


def undo_opening(books: Books, batch_id: int) -> None:
    """Takes a batch out of the kitchen; its number is not given again."""
    books.conn.execute(_SET, {"of_batch": batch_id, "undone_by": books.inbound_id})


def undo_event(books: Books, event_id: int) -> None:
    """Undoes a batch event, so that the batch's other events apply again."""
    batch_id = books.conn.execute(_UNDO_EVENT, {"of_event": event_id, "undone_by": books.inbound_id}).scalar_one()
    newest = books.conn.execute(_NEWEST_CLOSING, {"of_batch": batch_id}).scalar()
    books.conn.execute(_SET, {"of_batch": batch_id, "closed": newest == "closed"})


def _read(conn: Connection, reading: _Reading, values: Mapping[str, Any]) -> list[Batch]:
    heads = reading.heads.all(conn, values)
    if not heads:
        return []
    ingredients = _by_batch(reading.ingredients.all(conn, values))
    events = _by_batch(reading.events.all(conn, values))
    portions = _by_batch(reading.portions.all(conn, values))
    return [
        _batch(number, name, closed, ingredients[batch_id], events[batch_id], portions[batch_id])
        for batch_id, number, name, closed in heads
    ]


def _by_batch(rows: Iterable[Sequence[Any]]) -> defaultdict[int, list[Any]]:
    found: defaultdict[int, list[Any]] = defaultdict(list)
    for batch_id, *columns in rows:
        found[batch_id].append(columns)
    return found


def _batch(
    number: int, name: str, closed: bool, ingredients: Iterable[Any], events: Iterable[Any], portions: Sequence[Any]
) -> Batch:
    cooked_g: float | None = None
    fat_off_g = reduced_g = 0.0
    boxes: Boxes | None = None
    for kind, grams, count, after_row in events:
        if kind == "cooked":
            cooked_g = grams
        elif kind == "drained":
            fat_off_g += grams
        elif kind == "reduced":
            reduced_g += grams
            if boxes is not None and count:
                boxes = replace(boxes, taken=boxes.taken + count)
        elif kind == "boxed":
            boxes = Boxes(count, grams, _boxes_taken(portions, grams, after_row))
    return Batch(
        number=number,
        name=name,
        ingredients=tuple(_ingredient(columns) for columns in ingredients),
        cooked_g=cooked_g,
        fat_off_g=fat_off_g,
        taken_g=sum(edible_g for edible_g, _ in portions),
        reduced_g=reduced_g,
        boxes=boxes,
        closed=closed,
    )


def _boxes_taken(portions: Iterable[Any], box_g: float, after_row: int) -> int:
    since_then = (edible_g for edible_g, boxed_since in portions if boxed_since is not None and boxed_since > after_row)
    return sum(round(edible_g / box_g) for edible_g in since_then)


def _ingredient(columns: Sequence[Any]) -> Ingredient:
    food, state, raw_g, group, method, *nutrients = columns
    return Ingredient(food, State(state), raw_g, Nutrients(*nutrients), group, method)


def _ingredient_values(batch_id: int, position: int, item: Ingredient) -> dict[str, Any]:
    return {
        "batch_id": batch_id,
        "position": position,
        "food": item.food,
        "state": item.state.value,
        "food_group": item.group,
        "method": item.method,
        "raw_g": item.raw_g,
        **nutrient_values(item.nutrients),
    }


def _add_event(
    books: Books,
    number: int,
    kind: str,
    grams: float | None = None,
    count: int | None = None,
    why: str | None = None,
    after_row: int | None = None,
    noted: bool = True,
) -> int:
    batch_id = _batch_id(books, number)
    row = {
        "batch_id": batch_id,
        "kind": kind,
        "grams": grams,
        "count": count,
        "why": why,
        "after_row": after_row,
        "person_id": books.person.id,
        "inbound_id": books.inbound_id,
        "at": books.at,
    }
    event_id = books.conn.execute(_ADD_EVENT, row).scalar_one()
    if noted:
        record_change(books, "batch_event", event_id)
    return batch_id


def _batch_id(books: Books, number: int) -> int:
    found: int | None = None
    if 0 < number <= MAX_INTEGER:
        values = {"of_kitchen": books.person.kitchen_id, "of_number": number}
        found = books.conn.execute(_ID, values).scalar()
    if found is None:
        raise LookupError(f"the kitchen has no batch {number}")
    return found
