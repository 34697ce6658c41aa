"""What a message changed of a batch."""

from __future__ import annotations

import msgspec

from bot.events import Event
from bot.kinds import BatchStep, Ending


class IngredientPart(msgspec.Struct, frozen=True, kw_only=True):
    """One ingredient of a batch."""

    food: str
    raw_g: float


class BatchOpened(Event, tag="batch_opened", frozen=True):
    """A new batch with its ingredients."""

    batch: int
    name: str
    raw_g: float
    ingredients: tuple[IngredientPart, ...]


class BatchCooked(Event, tag="batch_cooked", frozen=True):
    """A batch's cooked weight; `yield_` is cooked/raw, `raw_factor` is raw/cooked."""

    batch: int
    cooked_g: float | None
    yield_: float | None = msgspec.field(name="yield")
    raw_factor: float | None


class BatchChanged(Event, tag="batch_changed", frozen=True):
    """A batch with other ingredients, or another name, than before."""

    batch: int
    name: str
    raw_g: float
    ingredients: tuple[IngredientPart, ...]


class BatchPieces(Event, tag="batch_pieces", frozen=True):
    """A batch in pieces of equal weight; `piece_g` is None until the weight is known, `piece` the singular word."""

    batch: int
    pieces: float
    piece_g: float | None
    piece: str


class BatchDrained(Event, tag="batch_drained", frozen=True):
    """Fat poured off a batch."""

    batch: int
    fat_g: float


class BatchBoxed(Event, tag="batch_boxed", frozen=True):
    """Boxes of equal weight that were filled from a batch; boxes of other weights are events of their own."""

    batch: int
    boxes: int
    box_g: float


class BatchMoved(Event, tag="batch_moved", frozen=True):
    """Boxes of a batch, or what is loose of it (`boxes` is None), that went to another place."""

    batch: int
    boxes: int | None
    to: str


class BatchReduced(Event, tag="batch_reduced", frozen=True):
    """What left a batch without being on anybody's day; grams below zero came back of that."""

    batch: int
    grams: float
    why: str


class BatchClosed(Event, tag="batch_closed", frozen=True):
    """A batch that came to its end, with what was left of it."""

    batch: int
    left_g: float
    how: Ending


class BatchUndone(Event, tag="batch_undone", frozen=True):
    """A step of a batch that was taken back."""

    batch: int
    what: BatchStep
