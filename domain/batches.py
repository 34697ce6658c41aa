"""A batch: what went in raw, what it weighed cooked, what was poured off, boxed and taken, and what is left.

The yield is cooked / raw and the raw factor raw / cooked, kept exact. A portion is the share portion / cooked weight
of everything that went in (the recipe calculation of EuroFIR and INFOODS: the weight yield applies to the whole
recipe), less the fat that was poured off at 9 kcal/g.
"""

from dataclasses import dataclass, replace
from typing import Final, Self

from domain.errors import DomainError
from domain.foods import FoodRow, State
from domain.nutrients import Nutrients, total
from domain.yields import YIELD_BAND, published_yield

MAX_WEIGH_IN_G: Final = 5_000.0
MAX_BATCH_G: Final = 25_000.0

OVER_DRAW_SLACK_G: Final = 5.0
"""A scale and a spoon between them lose a few grams: so much over is no mistake, and so little left is nothing."""

_LOSES_WEIGHT: Final = frozenset({"meat", "poultry", "fish"})


class NotCooked(DomainError):
    """The batch has no cooked weight yet."""


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One food of a batch; `nutrients` are those of all its `raw_g` grams."""

    food: str
    state: State
    raw_g: float
    nutrients: Nutrients
    group: str
    method: str


@dataclass(frozen=True, slots=True)
class Boxes:
    """`count` boxes of `box_g` grams, of which `taken` have left the batch."""

    count: int
    box_g: float
    taken: int


@dataclass(frozen=True, slots=True)
class Share:
    """A portion's grams on the raw basis, and its nutrients."""

    basis_g: float
    nutrients: Nutrients


@dataclass(frozen=True, slots=True)
class Batch:
    """Food cooked at once and eaten over days.

    `taken_g` is what stands on anybody's day, `reduced_g` what left the batch otherwise, `fat_off_g` the fat that was
    poured off and so is no part of the cooked weight.
    """

    number: int
    name: str
    ingredients: tuple[Ingredient, ...]
    cooked_g: float | None = None
    fat_off_g: float = 0
    taken_g: float = 0
    reduced_g: float = 0
    boxes: Boxes | None = None
    closed: bool = False

    @property
    def raw_g(self) -> float:
        """Grams of everything that went in."""
        return sum(ingredient.raw_g for ingredient in self.ingredients)

    @property
    def yield_(self) -> float:
        """Cooked / raw. Raises NotCooked without a cooked weight."""
        return self._cooked_g() / self.raw_g

    @property
    def raw_factor(self) -> float:
        """Raw / cooked: what a portion is multiplied by to be counted raw. Raises NotCooked without a cooked weight."""
        return self.raw_g / self._cooked_g()

    @property
    def left_g(self) -> float:
        """Grams still in the batch, never below zero. Raises NotCooked without a cooked weight."""
        return max(0.0, self._cooked_g() - self.taken_g - self.reduced_g)

    @property
    def box_g(self) -> float | None:
        """Grams in one box; None when the batch was not boxed."""
        return None if self.boxes is None else self.boxes.box_g

    @property
    def boxes_left(self) -> int:
        """How many boxes nobody has taken; 0 when the batch was not boxed."""
        return 0 if self.boxes is None else max(0, self.boxes.count - self.boxes.taken)

    @property
    def sole_food(self) -> Ingredient | None:
        """An ingredient that stands for all of them when the batch is of one food in one state, else None."""
        kinds = {(ingredient.food, ingredient.state) for ingredient in self.ingredients}
        return self.ingredients[0] if len(kinds) == 1 else None

    def share(self, grams: float) -> Share:
        """What `grams` of the cooked batch count as; a nutrient that one ingredient does not know is unknown.

        Raises NotCooked without a cooked weight.
        """
        cooked_g = self._cooked_g()
        everything = total(ingredient.nutrients for ingredient in self.ingredients).certain()
        stays = everything.without_fat(self.fat_off_g)
        return Share(basis_g=grams * self.raw_factor, nutrients=stays.times(grams / cooked_g))

    def over_draw_g(self, grams: float) -> float:
        """By how many grams more is taken than there was, with a portion of `grams`; 0 when there was enough."""
        return max(0.0, self.taken_g + self.reduced_g + grams - self._cooked_g())

    def closes_after(self, grams: float) -> bool:
        """Whether a portion of `grams` leaves so little (5 g or less) that the batch is finished."""
        return self.left_g - grams <= OVER_DRAW_SLACK_G

    def less(self, grams: float, boxed: bool = False) -> Self:
        """The batch after a portion of `grams`, taken out as boxes or not."""
        boxes = self.boxes
        if boxes is not None and boxed:
            boxes = replace(boxes, taken=boxes.taken + round(grams / boxes.box_g))
        return replace(self, taken_g=self.taken_g + grams, boxes=boxes)

    def split(self, count: int) -> float:
        """Grams in each of `count` equal boxes of what is left.

        Raises DomainError for less than one box, or when nothing is left; NotCooked without a cooked weight.
        """
        if count < 1:
            raise DomainError("A batch is split into one box or more.")
        if self.left_g <= 0:
            raise DomainError(f"Nothing is left of {self.name} to put into boxes.")
        return self.left_g / count

    def _cooked_g(self) -> float:
        if self.cooked_g is None:
            raise NotCooked(f"The cooked weight of {self.name} is not known yet.")
        return self.cooked_g


@dataclass(frozen=True, slots=True)
class YieldDoubt:
    """A cooked weight that does not look right, beside the published yield (cooked / raw) and its source."""

    published: float
    source: str
    sentence: str


def yield_doubt(batch: Batch, cooked_g: float) -> YieldDoubt | None:
    """What is odd about `cooked_g` for a batch of one food; None when nothing is, or nothing is published.

    Odd: meat, poultry or fish that came out heavier than it went in; anything outside half to one and a half times
    the published yield, when it went in raw. The band is wide because honest sources differ by 15 points for one
    cut. A batch of several foods may hold water or stock, so that it has no yield to compare with.
    """
    food = batch.sole_food
    if food is None:
        return None
    published = published_yield(food.food, food.group)
    if published is None:
        return None
    found = cooked_g / batch.raw_g
    weights = f"{cooked_g:.0f} g cooked from {batch.raw_g:.0f} g raw"
    usual = f"{published.yield_:.0%} of the raw weight is usual for {food.food}"
    if food.group in _LOSES_WEIGHT and cooked_g > batch.raw_g:
        return YieldDoubt(published.yield_, published.source, f"{weights} is a gain; {usual}.")
    low, high = YIELD_BAND
    if food.state is not State.RAW or low * published.yield_ <= found <= high * published.yield_:
        return None
    return YieldDoubt(published.yield_, published.source, f"{weights} is {found:.0%}; {usual}.")


def drained_overstatement(batch: Batch, cooked_row: FoodRow) -> float | None:
    """How far the batch's energy per 100 g cooked lies above the table's cooked entry, as a share of the latter.

    0.5 means half as much again, as when fat was drained away and not taken off. None for a batch of several foods,
    without a cooked weight, or when the entry has no energy.
    """
    if batch.sole_food is None or batch.cooked_g is None or cooked_row.per_100g.kcal <= 0:
        return None
    return batch.share(100).nutrients.kcal / cooked_row.per_100g.kcal - 1
