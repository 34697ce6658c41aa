"""Batches of a kitchen: what went in, and what happened to them since."""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from sqlalchemy import bindparam, func, insert, select, update

from bot.kinds import BatchStep
from bot.store.batch_reading import FROM_START, KITCHENS, Reading, boxes_written, filled_boxes, numbers_written
from bot.store.books import Books, record_change
from bot.store.columns import nutrient_values
from bot.store.schema import MAX_INTEGER, batch, batch_event, batch_ingredient, kitchen, weigh_in
from bot.store.statements import Prepared
from domain.batch_steps import Draw, Ingredient, Place
from domain.batches import Batch

Columns = Mapping[str, float | str | None]

_ID = select(batch.c.id).where(KITCHENS, batch.c.number == bindparam("of_number"))
_NEXT_NUMBER = (
    update(kitchen)
    .where(kitchen.c.id == bindparam("of_kitchen"))
    .values(batches=kitchen.c.batches + 1)
    .returning(kitchen.c.batches)
)
_ADD = insert(batch).returning(batch.c.id)
_ADD_INGREDIENT = insert(batch_ingredient)
_NEWEST_ROW = select(func.coalesce(func.max(weigh_in.c.id), 0)).scalar_subquery()
_ADD_EVENT = insert(batch_event).values(after_row=_NEWEST_ROW).returning(batch_event.c.id)
_NO_COLUMNS: Columns = dict.fromkeys(("grams", "count", "why", "line", "pieces", "boxes", "was"))
_NEXT_POSITION = select(func.coalesce(func.max(batch_ingredient.c.position) + 1, 0)).where(
    batch_ingredient.c.batch_id == bindparam("of_batch")
)
_SET = update(batch).where(batch.c.id == bindparam("of_batch"))
_OPENING = select(batch.c.number, batch.c.name).where(
    batch.c.id == bindparam("of_batch"), batch.c.kitchen_id == bindparam("of_kitchen")
)
_EVENT = (
    select(batch.c.number, batch_event.c.kind, batch_event.c.grams)
    .join(batch_event, batch_event.c.batch_id == batch.c.id)
    .where(batch_event.c.id == bindparam("of_event"), batch.c.kitchen_id == bindparam("of_kitchen"))
)
_UNDO_EVENT = (
    update(batch_event)
    .where(batch_event.c.id == bindparam("of_event"))
    .returning(batch_event.c.batch_id, batch_event.c.kind)
)
_NAME = select(batch.c.name).where(KITCHENS, batch.c.number == bindparam("of_number"))
_RENAMED = (batch_event.c.batch_id == bindparam("of_batch")) & (batch_event.c.kind == "renamed")
_NEWEST_NAME = (
    select(batch_event.c.why)
    .where(_RENAMED, batch_event.c.undone_by.is_(None))
    .order_by(batch_event.c.id.desc())
    .limit(1)
)
_FIRST_NAME = select(batch_event.c.was).where(_RENAMED).order_by(batch_event.c.id).limit(1)
_BOXES = (
    select(batch_event.c.boxes, batch_event.c.count)
    .join(batch, batch.c.id == batch_event.c.batch_id)
    .where(KITCHENS, batch.c.number == bindparam("of_number"), batch_event.c.kind.in_(("boxed", "repacked")))
    .order_by(batch_event.c.id)
)
_AT_OPENING = (
    select(batch_ingredient.c.position)
    .where(batch_ingredient.c.batch_id == bindparam("of_batch"), ~batch_ingredient.c.added)
    .limit(1)
)
_NEWEST_CLOSING = (
    select(batch_event.c.kind, batch_event.c.inbound_id)
    .where(
        batch_event.c.batch_id == bindparam("of_batch"),
        batch_event.c.kind.in_(("closed", "reopened")),
        batch_event.c.undone_by.is_(None),
    )
    .order_by(batch_event.c.id.desc())
    .limit(1)
)


_NAMES = Prepared(
    select(batch.c.number, batch.c.name).where(KITCHENS).order_by(batch.c.number.desc()).limit(bindparam("at_most"))
)
_OPEN = Reading(~batch.c.closed)
_OF_NUMBER = Reading(batch.c.number == bindparam("of_number"))


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


def add(books: Books, number: int, ingredients: Sequence[Ingredient], *, from_start: bool = False) -> tuple[int, ...]:
    """Records that these went into the pot; returns their lines. LookupError when there is no such batch, as below.

    `from_start`: they were in it all the time and are only told now.
    """
    why: Columns = {"why": FROM_START} if from_start else {}
    return tuple(_add_event(books, number, BatchStep.ADDED, why, entry=item).entry for item in ingredients)


def correct(books: Books, number: int, line: int, ingredient: Ingredient) -> None:
    """Records that what went in as that line was really this, from the start."""
    _add_event(books, number, BatchStep.CORRECTED, {"line": line}, entry=ingredient)


def remove(books: Books, number: int, line: int) -> None:
    """Records that what was told as that line never went in."""
    _add_event(books, number, BatchStep.REMOVED, {"line": line})


def cook(books: Books, number: int, grams: float) -> None:
    """Records the cooked weight, or puts the latest weight of the pot right."""
    _add_event(books, number, BatchStep.COOKED, {"grams": grams})


def weigh(books: Books, number: int, grams: float) -> None:
    """Records what the pot holds now; portions taken before keep their figures."""
    _add_event(books, number, BatchStep.WEIGHED, {"grams": grams})


def drain(books: Books, number: int, grams: float, *, fat: bool = True) -> None:
    """Records fat, or other liquid, that was poured off; several add up."""
    _add_event(books, number, BatchStep.DRAINED if fat else BatchStep.POURED, {"grams": grams})


def take_refuse_out(books: Books, number: int, grams: float, line: int | None = None) -> None:
    """Records bones or the like that are out of the pot; with a line, out of that ingredient too."""
    _add_event(books, number, BatchStep.REFUSE, {"grams": grams, "line": line})


def count_out(books: Books, number: int, pieces: float, word: str) -> None:
    """Records that what is in the pot makes so many equal pieces; `word` is the singular for one."""
    _add_event(books, number, BatchStep.COUNTED, {"pieces": pieces, "why": word})


def box(
    books: Books, number: int, grams: Sequence[float | None], place: Place | None = None, *, anew: bool = False
) -> tuple[int, ...]:
    """Records boxes filled with so many grams each, None for equal shares of what is loose. Returns their numbers.

    With `anew` all boxes there were had been emptied first.
    """
    first = _boxes_so_far(books, number) + 1
    filled = [(first + i, of_it) for i, of_it in enumerate(grams)]
    _add_event(
        books, number, BatchStep.REPACKED if anew else BatchStep.BOXED, {"boxes": boxes_written(filled)}, place=place
    )
    return tuple(box_number for box_number, _ in filled)


def move(books: Books, number: int, boxes: Sequence[int] | None, place: Place) -> None:
    """Records that boxes, or what is loose (None), went to another place."""
    _add_event(
        books, number, BatchStep.MOVED, {"boxes": None if boxes is None else numbers_written(boxes)}, place=place
    )


def reduce(books: Books, number: int, draw: Draw, why: str) -> None:
    """Records what left the batch without being on anybody's day; several add up."""
    _add_event(books, number, BatchStep.REDUCED, {"why": why, **draw_values(draw)})


def draw_values(draw: Draw) -> Columns:
    """The columns of what left a batch; `count` says that so many boxes were whole."""
    return {
        "grams": draw.grams,
        "count": (len(draw.boxes) if draw.whole and draw.boxes else draw.box_count) or None,
        "boxes": numbers_written(draw.boxes) or None,
        "pieces": draw.pieces,
    }


def rename(books: Books, number: int, name: str) -> None:
    """Gives the batch another name."""
    was = books.conn.execute(_NAME, {"of_kitchen": books.person.kitchen_id, "of_number": number}).scalar()
    batch_id = _add_event(books, number, BatchStep.RENAMED, {"why": name, "was": was}).batch_id
    books.conn.execute(_SET, {"of_batch": batch_id, "name": name})


def close(books: Books, number: int, left_g: float, how: str) -> None:
    """Closes the batch; `left_g` is what nobody logged, `how` is `finished` or `discarded`."""
    batch_id = _add_event(books, number, BatchStep.CLOSED, {"grams": left_g, "why": how}).batch_id
    books.conn.execute(_SET, {"of_batch": batch_id, "closed": True})


def reopen(books: Books, number: int, *, noted: bool = True) -> None:
    """Reopens a closed batch; not `noted` in the journal when an undo causes it, which is not itself undone."""
    batch_id = _add_event(books, number, BatchStep.REOPENED, noted=noted).batch_id
    books.conn.execute(_SET, {"of_batch": batch_id, "closed": False})


def was_empty(books: Books, number: int) -> bool:
    """Whether nothing was told of what goes into the batch when it was opened."""
    return books.conn.execute(_AT_OPENING, {"of_batch": _batch_id(books, number)}).first() is None


def closed_since(books: Books, number: int, inbound_id: int) -> bool:
    """Whether the batch is closed, and a later message than that one closed it."""
    newest = books.conn.execute(_NEWEST_CLOSING, {"of_batch": _batch_id(books, number)}).one_or_none()
    return newest is not None and newest.kind == "closed" and newest.inbound_id > inbound_id


def open_batches(books: Books) -> list[Batch]:
    """The kitchen's open batches by number, in four statements however many there are."""
    return _OPEN.read(books.conn, {"of_kitchen": books.person.kitchen_id})


def get(books: Books, number: int) -> Batch | None:
    """The kitchen's batch of that number, open or closed, or None."""
    if not 0 < number <= MAX_INTEGER:
        return None
    values = {"of_kitchen": books.person.kitchen_id, "of_number": number}
    return next(iter(_OF_NUMBER.read(books.conn, values)), None)


def names(books: Books, at_most: int) -> list[tuple[int, str]]:
    """Number and name of the kitchen's latest batches, open and closed, the newest first."""
    values = {"of_kitchen": books.person.kitchen_id, "at_most": at_most}
    return [(number, name) for number, name in _NAMES.all(books.conn, values)]


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
    undone = books.conn.execute(_UNDO_EVENT, {"of_event": event_id, "undone_by": books.inbound_id}).one()
    values = {"of_batch": undone.batch_id}
    newest = books.conn.execute(_NEWEST_CLOSING, values).one_or_none()
    books.conn.execute(_SET, values | {"closed": newest is not None and newest.kind == "closed"})
    if undone.kind == "renamed":
        name = books.conn.execute(_NEWEST_NAME, values).scalar() or books.conn.execute(_FIRST_NAME, values).scalar()
        books.conn.execute(_SET, values | {"name": name})


class _Written(NamedTuple):
    """The batch of an event that was written, and the ingredient's position that came with it."""

    batch_id: int
    entry: int


def _add_event(
    books: Books,
    number: int,
    kind: BatchStep,
    columns: Columns = _NO_COLUMNS,
    *,
    entry: Ingredient | None = None,
    place: Place | None = None,
    noted: bool = True,
) -> _Written:
    batch_id = _batch_id(books, number)
    position = -1
    if entry is not None:
        position = books.conn.execute(_NEXT_POSITION, {"of_batch": batch_id}).scalar_one()
        books.conn.execute(_ADD_INGREDIENT, _ingredient_values(batch_id, position, entry, added=True))
    row = {
        **_NO_COLUMNS,
        **columns,
        "batch_id": batch_id,
        "kind": kind.value,
        "entry": None if entry is None else position,
        "place": None if place is None else place.value,
        "person_id": books.person.id,
        "inbound_id": books.inbound_id,
        "at": books.at,
    }
    event_id = books.conn.execute(_ADD_EVENT, row).scalar_one()
    if noted:
        record_change(books, "batch_event", event_id)
    return _Written(batch_id, position)


def _boxes_so_far(books: Books, number: int) -> int:
    """The highest number that a box of the batch has, or once had; boxes of earlier versions are numbered on."""
    values = {"of_kitchen": books.person.kitchen_id, "of_number": number}
    so_far = 0
    for boxes, count in books.conn.execute(_BOXES, values):
        if boxes is None:
            so_far += count or 0
        else:
            so_far = max([so_far, *(box_number for box_number, _ in filled_boxes(boxes))])
    return so_far


def _ingredient_values(batch_id: int, position: int, item: Ingredient, *, added: bool = False) -> dict[str, Any]:
    return {
        "batch_id": batch_id,
        "position": position,
        "food": item.food,
        "state": item.state.value,
        "food_group": item.group,
        "method": item.method,
        "raw_g": item.raw_g,
        "added": added,
        **nutrient_values(item.nutrients),
    }


def _batch_id(books: Books, number: int) -> int:
    found: int | None = None
    if 0 < number <= MAX_INTEGER:
        values = {"of_kitchen": books.person.kitchen_id, "of_number": number}
        found = books.conn.execute(_ID, values).scalar()
    if found is None:
        raise LookupError(f"the kitchen has no batch {number}")
    return found
