"""Batches as they come out of the tables: what went in, what happened to it, and the portions, in one order."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields
from datetime import datetime
from typing import Any, assert_never

from sqlalchemy import ColumnElement, Connection, and_, bindparam, case, exists, func, or_, select

from bot.kinds import BatchStep, VersionKind
from bot.store.columns import NUTRIENTS, nutrients_from
from bot.store.schema import batch, batch_event, batch_ingredient, weigh_in
from bot.store.statements import Prepared
from domain.batch_steps import (
    Added,
    Boxed,
    Closed,
    Corrected,
    CountedOut,
    Draw,
    Ingredient,
    Moved,
    Place,
    Poured,
    Reduced,
    RefuseOut,
    Removed,
    Renamed,
    Reopened,
    Step,
    Taken,
    Weighed,
)
from domain.batches import Batch
from domain.foods import State
from domain.weighins import Evidence

KITCHENS = (batch.c.kitchen_id == bindparam("of_kitchen")) & batch.c.undone_by.is_(None)
"""The batches of a kitchen that were not taken back."""

FROM_START = "from the start"
"""Why an ingredient was added: it was in the pot before anything else happened, and was told late."""

_HEADS = select(batch.c.id, batch.c.number, batch.c.name).where(KITCHENS).order_by(batch.c.number)


@dataclass(frozen=True, slots=True)
class _Entry:
    """A row of ingredients."""

    batch_id: int
    position: int
    added: bool
    food: str
    state: str
    raw_g: float
    food_group: str
    method: str


@dataclass(frozen=True, slots=True)
class _Event:
    """A row of events."""

    batch_id: int
    id: int
    kind: str
    grams: float
    count: int | None
    why: str
    after_row: int | None
    line: int
    entry: int
    pieces: float | None
    boxes: str | None
    place: str | None
    at: datetime


@dataclass(frozen=True, slots=True)
class _Portion:
    """A weigh-in from a batch; `since` is the row since which it is a portion, or a box, of that batch."""

    batch_id: int
    person_id: int
    number: int
    edible_g: float
    evidence: str
    boxes: str | None
    pieces: float | None
    since: int


_ENTRY, _EVENT, _PORTION = ([column.name for column in fields(row)] for row in (_Entry, _Event, _Portion))
_INGREDIENTS = select(
    *(batch_ingredient.c[name] for name in (*_ENTRY, *NUTRIENTS)),
).order_by(batch_ingredient.c.batch_id, batch_ingredient.c.position)
_EVENTS = (
    select(*(batch_event.c[name] for name in _EVENT))
    .where(batch_event.c.undone_by.is_(None))
    .order_by(batch_event.c.id)
)
_later = weigh_in.alias("later")
_earlier = weigh_in.alias("earlier")
_SAME_BATCH = (
    (_earlier.c.person_id == weigh_in.c.person_id)
    & (_earlier.c.number == weigh_in.c.number)
    & (_earlier.c.batch_id == weigh_in.c.batch_id)
)
_SINCE = select(func.min(_earlier.c.id)).where(_SAME_BATCH).scalar_subquery()
_BOXED_SINCE = (
    select(func.min(_earlier.c.id)).where(_SAME_BATCH, _earlier.c.evidence == Evidence.BOXED.value).scalar_subquery()
)
_PORTIONS = select(
    *(weigh_in.c[name] for name in _PORTION[:-1]),
    # A change of a portion keeps its place among the steps.
    case((weigh_in.c.evidence == Evidence.BOXED.value, _BOXED_SINCE), else_=_SINCE).label("since"),
).where(weigh_in.c.kind != VersionKind.REMOVED.value, ~exists().where(_later.c.replaces == weigh_in.c.id))
_gone = batch_event.alias("gone")
_came = batch_event.alias("came")
_line = batch_ingredient.c.position

OF_AN_INCOMPLETE_POT: ColumnElement[bool] = and_(
    weigh_in.c.batch_id.is_not(None),
    exists().where(
        batch_ingredient.c.batch_id == weigh_in.c.batch_id,
        batch_ingredient.c.kcal.is_(None),
        or_(
            ~batch_ingredient.c.added,
            exists().where(
                _came.c.batch_id == batch_ingredient.c.batch_id, _came.c.entry == _line, _came.c.undone_by.is_(None)
            ),
        ),
        ~exists().where(
            _gone.c.batch_id == batch_ingredient.c.batch_id,
            _gone.c.line == _line,
            or_(_gone.c.kind == BatchStep.CORRECTED.value, _gone.c.kind == BatchStep.REMOVED.value),
            _gone.c.undone_by.is_(None),
        ),
    ),
)
"""Whether a weigh-in is a portion of a pot with an ingredient whose figures are not known: it counts as 'at least'."""


class Reading:
    """The four statements that read some batches of a kitchen, however many there are: `which` they are."""

    def __init__(self, which: ColumnElement[bool]) -> None:
        ids = select(batch.c.id).where(KITCHENS, which)
        self._heads = Prepared(_HEADS.where(which))
        self._ingredients = Prepared(_INGREDIENTS.where(batch_ingredient.c.batch_id.in_(ids)))
        self._events = Prepared(_EVENTS.where(batch_event.c.batch_id.in_(ids)))
        self._portions = Prepared(_PORTIONS.where(weigh_in.c.batch_id.in_(ids)))

    def read(self, conn: Connection, values: Mapping[str, Any]) -> list[Batch]:
        """The batches, by number."""
        heads = self._heads.all(conn, values)
        if not heads:
            return []
        ingredients, events, portions = _rows(), _rows(), _rows()
        for row in self._ingredients.all(conn, values):
            ingredients[row[0]].append(row)
        for row in self._events.all(conn, values):
            events[row[0]].append(_Event(*row))
        for row in self._portions.all(conn, values):
            portions[row[0]].append(_Portion(*row))
        return [
            Batch(number, name, tuple(_steps(ingredients[batch_id], events[batch_id], portions[batch_id])))
            for batch_id, number, name in heads
        ]


def _rows() -> defaultdict[int, list[Any]]:
    return defaultdict(list)


def _steps(ingredients: Iterable[Any], events: Iterable[_Event], portions: Iterable[_Portion]) -> Iterator[Step]:
    entries: dict[int, Ingredient] = {}
    for row in ingredients:
        entry = _Entry(*row[: len(_ENTRY)])
        entries[entry.position] = _ingredient(entry, row[len(_ENTRY) :])
        if not entry.added:
            yield Added(entry.position, entries[entry.position])
    filled = _Filled()
    events = list(events)
    yield from (_happened(row, entries, filled) for row in events if _from_start(row))
    for row in _in_order(events, portions):
        if isinstance(row, _Event) and _from_start(row):
            continue
        if isinstance(row, _Event):
            yield _happened(row, entries, filled)
        else:
            yield Taken((row.person_id, row.number), _portion_draw(row, filled))


def _from_start(row: _Event) -> bool:
    return row.kind == BatchStep.ADDED and row.why == FROM_START


def _in_order(events: Iterable[_Event], portions: Iterable[_Portion]) -> list[_Event | _Portion]:
    """Events and portions as they came; an event follows the portions that were on record when it was told."""
    placed: list[tuple[tuple[int, int, int], _Event | _Portion]] = []
    after = 0
    for event in events:
        # Without a place of its own it comes right after the event before it.
        place = after if event.after_row is None else event.after_row
        after = max(after, place)
        placed.append(((place, 1, event.id), event))
    placed += [((portion.since, 0, 0), portion) for portion in portions]
    return [row for _, row in sorted(placed, key=lambda each: each[0])]


class _Filled:
    """What boxes there have been: those of earlier versions are known by their weight and count only."""

    def __init__(self) -> None:
        self.newest = 0
        self.grams: float | None = None

    def boxes(self, row: _Event) -> tuple[tuple[int, float | None], ...]:
        """(number, grams) of each box that an event fills."""
        if row.boxes is None:
            boxes: list[tuple[int, float | None]] = [(self.newest + i + 1, row.grams) for i in range(row.count or 0)]
        else:
            boxes = filled_boxes(row.boxes)
        self.newest = max((number for number, _ in boxes), default=self.newest)
        self.grams = boxes[0][1] if boxes else None
        return tuple(boxes)

    def count(self, grams: float) -> int:
        """How many boxes that weight is."""
        return round(grams / self.grams) if self.grams else 0


def _happened(row: _Event, entries: Mapping[int, Ingredient], filled: _Filled) -> Step:  # noqa: C901  one case a step
    kind = BatchStep(row.kind)
    match kind:
        case BatchStep.ADDED:
            return Added(row.entry, entries[row.entry])
        case BatchStep.CORRECTED:
            return Corrected(row.line, entries[row.entry])
        case BatchStep.REMOVED:
            return Removed(row.line)
        case BatchStep.REFUSE:
            return RefuseOut(row.grams, row.line)
        case BatchStep.DRAINED | BatchStep.POURED:
            return Poured(row.grams, fat=kind is BatchStep.DRAINED)
        case BatchStep.COOKED | BatchStep.WEIGHED:
            return Weighed(row.grams, anew=kind is BatchStep.WEIGHED, at=row.at)
        case BatchStep.REDUCED:
            return Reduced(_reduced_draw(row), row.why or "")
        case BatchStep.COUNTED:
            return CountedOut(row.pieces or 0.0, row.why)
        case BatchStep.BOXED | BatchStep.REPACKED:
            anew = kind is BatchStep.REPACKED or row.boxes is None
            return Boxed(filled.boxes(row), None if row.place is None else Place(row.place), anew, row.at)
        case BatchStep.MOVED:
            boxes = None if row.boxes is None else box_numbers(row.boxes)
            return Moved(boxes, Place(row.place or "fridge"), row.at)
        case BatchStep.RENAMED:
            return Renamed(row.why)
        case BatchStep.CLOSED:
            return Closed()
        case BatchStep.REOPENED:
            return Reopened()
        case BatchStep.OPENING | BatchStep.CHANGE:
            raise ValueError(f"a batch has an event {kind.value!r}, which is never stored")
        case _:
            assert_never(kind)


def _reduced_draw(row: _Event) -> Draw:
    boxes = box_numbers(row.boxes)
    if not boxes and row.pieces is None:
        return Draw(row.grams, box_count=row.count or 0)
    return Draw(row.grams, boxes, row.pieces, whole=row.pieces is not None or row.count is not None)


def _portion_draw(row: _Portion, filled: _Filled) -> Draw:
    boxes = box_numbers(row.boxes)
    boxed = row.evidence == Evidence.BOXED.value
    if boxed and not boxes:
        return Draw(row.edible_g, box_count=filled.count(row.edible_g))
    return Draw(row.edible_g, boxes, row.pieces, whole=boxed or row.evidence == Evidence.COUNTED.value)


def _ingredient(row: _Entry, nutrients: Sequence[float | None]) -> Ingredient:
    known = nutrients_from(nutrients)
    return Ingredient(row.food, State(row.state), row.raw_g, known, row.food_group, row.method)


def box_numbers(written: str | None) -> tuple[int, ...]:
    """The boxes whose numbers stand in a column, such as "2,3". ValueError when it is not that."""
    return tuple(int(number) for number in written.split(",")) if written else ()


def filled_boxes(written: str) -> list[tuple[int, float | None]]:
    """(number, grams) of the boxes in a column, such as "2=280.0,3="; None: an equal share. ValueError otherwise."""
    pairs = [box.split("=") for box in written.split(",")]
    return [(int(number), float(grams) if grams else None) for number, grams in pairs]


def numbers_written(numbers: Iterable[int]) -> str:
    """Numbers of boxes as `box_numbers` reads them."""
    return ",".join(map(str, numbers))


def boxes_written(boxes: Iterable[tuple[int, float | None]]) -> str:
    """Boxes that are filled, as `filled_boxes` reads them; no digit of their grams is lost."""
    return ",".join(f"{number}={'' if grams is None else repr(float(grams))}" for number, grams in boxes)
