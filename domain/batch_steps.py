"""What can happen to a batch, step by step. A batch is the ordered list of these; `domain.pots` works out the rest.

Nothing is changed in place: what was told wrong is put right by a later step.
"""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from domain.foods import State
from domain.nutrients import Nutrients


class Place(StrEnum):
    """Where food is kept."""

    FRIDGE = "fridge"
    FREEZER = "freezer"


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One food of a batch; `nutrients` are those of all its `raw_g` grams, None while they are not known.

    An unknown food has the person's own words as `food`.
    """

    food: str
    state: State
    raw_g: float
    nutrients: Nutrients | None
    group: str
    method: str


@dataclass(frozen=True, slots=True)
class Added:
    """An ingredient went into the pot; `line` is its number in this batch, never given twice."""

    line: int
    ingredient: Ingredient


@dataclass(frozen=True, slots=True)
class Corrected:
    """What went in as `line` was really this, from the start."""

    line: int
    ingredient: Ingredient


@dataclass(frozen=True, slots=True)
class Removed:
    """What was told as `line` never went in."""

    line: int


@dataclass(frozen=True, slots=True)
class Weighed:
    """The weight (g) of what is in the pot, without the pot.

    The first one is the cooked weight. A later one puts the latest one right, unless it was weighed `anew`: then it is
    what the pot holds now.
    """

    grams: float
    anew: bool = False
    at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Poured:
    """Fat, or other liquid without energy, poured off and weighed (g). It is no part of the cooked weight."""

    grams: float
    fat: bool = True


@dataclass(frozen=True, slots=True)
class RefuseOut:
    """Bones, shells or the like (g) that were in the weight of the pot and are out of it now.

    With `line`, that ingredient was counted with them too. Where its refuse was taken off before, there is none.
    """

    grams: float
    line: int | None = None


@dataclass(frozen=True, slots=True)
class Draw:
    """Food that left the pot: its grams, and the boxes or pieces it came as.

    `whole`: exactly those boxes or pieces left, so that the grams follow from theirs. A box that is not eaten whole is
    open, and its rest is loose. `box_count` is for boxes that are known by their number only.
    """

    grams: float
    boxes: tuple[int, ...] = ()
    pieces: float | None = None
    whole: bool = False
    box_count: int = 0


@dataclass(frozen=True, slots=True)
class Taken:
    """A portion on somebody's day; `portion` is (person, number of the weigh-in)."""

    portion: tuple[int, int]
    draw: Draw


@dataclass(frozen=True, slots=True)
class Reduced:
    """What left the batch without being on anybody's day; grams below zero came back of that."""

    draw: Draw
    why: str = ""


@dataclass(frozen=True, slots=True)
class CountedOut:
    """What is in the pot makes so many pieces of equal weight; `word` is the singular for one."""

    pieces: float
    word: str


@dataclass(frozen=True, slots=True)
class Boxed:
    """Boxes were filled from what was loose: (number in this batch, grams) of each.

    Grams of None: all that was loose was split equally. `anew`: the boxes there were had been emptied first. Without a
    place they stay where the food was.
    """

    boxes: tuple[tuple[int, float | None], ...]
    place: Place | None = None
    anew: bool = False
    at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Moved:
    """Boxes (None: what is loose) went to another place."""

    boxes: tuple[int, ...] | None
    place: Place
    at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Renamed:
    """The batch got this name."""

    name: str


@dataclass(frozen=True, slots=True)
class Closed:
    """The batch is finished or thrown out."""


@dataclass(frozen=True, slots=True)
class Reopened:
    """The batch is open again."""


Step = (
    Added
    | Corrected
    | Removed
    | Weighed
    | Poured
    | RefuseOut
    | Taken
    | Reduced
    | CountedOut
    | Boxed
    | Moved
    | Renamed
    | Closed
    | Reopened
)
