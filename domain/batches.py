"""A batch: what went in raw, what it weighed cooked, what was poured off, boxed and taken, and what is left.

The yield is cooked / raw and the raw factor raw / cooked, kept exact. A portion is the share portion / weight of what
the pot held when it was taken (the recipe calculation of EuroFIR and INFOODS: the weight yield applies to the whole
recipe), less the fat that was poured off at 9 kcal/g.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final, Self

from domain.batch_steps import Added, Draw, Removed, Step, Taken, Weighed
from domain.batch_steps import Ingredient as Ingredient
from domain.errors import DomainError
from domain.foods import FoodRow, State
from domain.nutrients import Nutrients, total
from domain.pots import OVER_DRAW_SLACK_G as OVER_DRAW_SLACK_G
from domain.pots import Box, Filling, Pot, pot_after
from domain.yields import YIELD_BAND, published_yield

MAX_WEIGH_IN_G: Final = 5_000.0
MAX_BATCH_G: Final = 25_000.0

MOST_KCAL_PER_G: Final = 9.02
"""No food holds more energy: lard (SR28 04002), 902 kcal per 100 g."""

_LOSES_WEIGHT: Final = frozenset({"meat", "poultry", "fish"})


class NotCooked(DomainError):
    """The batch has no cooked weight yet."""


class EmptyBatch(DomainError):
    """Nothing would be left of what went in."""


class TakenAlready(DomainError):
    """More was taken from the batch than there would have been."""


class MoreFatThanWentIn(DomainError):
    """More fat was poured off than can be in the pot; `fat_g` is the most."""

    def __init__(self, message: str, fat_g: float) -> None:
        super().__init__(message)
        self.fat_g = fat_g


@dataclass(frozen=True, slots=True)
class Share:
    """A portion's grams on the raw basis, and its nutrients.

    `open_g` of the raw grams have no figures yet: the nutrients are at least what they say.
    """

    basis_g: float
    nutrients: Nutrients
    open_g: float = 0.0

    @property
    def complete(self) -> bool:
        """Whether the figures are those of all of it."""
        return self.open_g <= 0

    @property
    def most_kcal(self) -> float:
        """The energy if all that has no figures were fat."""
        return self.nutrients.kcal + MOST_KCAL_PER_G * self.open_g


@dataclass(frozen=True)
class Batch:
    """Food cooked at once and eaten over days: its steps, and everything that follows from them."""

    number: int
    name: str
    steps: tuple[Step, ...]

    @classmethod
    def opened(cls, number: int, name: str, ingredients: Iterable[Ingredient], cooked_g: float | None = None) -> Self:
        """A batch of these ingredients, with its cooked weight where it is known."""
        lines = [Added(line, ingredient) for line, ingredient in enumerate(ingredients)]
        return cls(number, name, (*lines, *([] if cooked_g is None else [Weighed(cooked_g)])))

    def then(self, *steps: Step) -> Self:
        """The batch after these steps too."""
        return replace(self, steps=(*self.steps, *steps))

    def without(self, portion: tuple[int, int]) -> Self:
        """The batch as if that portion had never been taken."""
        kept = (step for step in self.steps if not (isinstance(step, Taken) and step.portion == portion))
        return replace(self, steps=tuple(kept))

    def drawing(self, portion: tuple[int, int], draw: Draw) -> Self:
        """The batch with that portion taken differently, at its own place among the steps."""
        return replace(
            self,
            steps=tuple(
                replace(step, draw=draw) if isinstance(step, Taken) and step.portion == portion else step
                for step in self.steps
            ),
        )

    @cached_property
    def pot(self) -> Pot:
        """What follows from the steps."""
        return pot_after(self.steps)

    @property
    def lines(self) -> Mapping[int, Ingredient]:
        """The ingredients that went in, by the number of their line; corrections are in them."""
        return self.pot.ingredients

    @property
    def ingredients(self) -> tuple[Ingredient, ...]:
        """What went in, in order."""
        return tuple(self.lines.values())

    @property
    def raw_g(self) -> float:
        """Grams of everything that went in."""
        return sum(ingredient.raw_g for ingredient in self.ingredients)

    @property
    def cooked_g(self) -> float | None:
        """Grams it weighed cooked: all that was taken out of it, and what is left."""
        if self.pot.now.mass_g is None:
            return None
        return sum((filling.mass_g or 0.0) - filling.moved_g for filling in self.pot.fillings)

    @property
    def fat_off_g(self) -> float:
        """Grams of fat poured off."""
        return self.pot.fat_off_g

    @property
    def taken_g(self) -> float:
        """Grams that stand on anybody's day."""
        return self.pot.taken_g

    @property
    def reduced_g(self) -> float:
        """Grams that left the batch otherwise."""
        return self.pot.reduced_g

    @property
    def closed(self) -> bool:
        """Whether it is finished or thrown out."""
        return self.pot.closed

    @property
    def yield_(self) -> float:
        """Cooked / raw of what the pot holds. Raises NotCooked without a cooked weight."""
        return self._mass_g() / self._raw_in(self.pot.now)

    @property
    def raw_factor(self) -> float:
        """Raw / cooked: what a portion is multiplied by to be counted raw. Raises NotCooked without a cooked weight."""
        return self._raw_in(self.pot.now) / self._mass_g()

    @property
    def left_g(self) -> float:
        """Grams still in the batch, never below zero. Raises NotCooked without a cooked weight."""
        self._mass_g()
        return sum(filling.left_g for filling in self.pot.fillings)

    @property
    def boxes(self) -> tuple[Box, ...]:
        """The boxes that are still there, by number."""
        return self.pot.boxes

    @property
    def loose_g(self) -> float:
        """Grams that are in no box. Raises NotCooked without a cooked weight."""
        self._mass_g()
        return self.pot.loose_g

    @property
    def boxes_packed(self) -> int:
        """How many boxes were filled, also those that are gone."""
        return self.pot.boxes_packed

    @property
    def piece_g(self) -> float | None:
        """Grams of one piece; None when it was not counted out, or not weighed yet."""
        return self.pot.piece_g

    @property
    def pieces_left(self) -> float | None:
        """How many pieces are left and in no box, which need not be whole; None without a weight of one."""
        return self.loose_g / self.piece_g if self.piece_g else None

    @property
    def sole_food(self) -> Ingredient | None:
        """An ingredient that stands for all of them when the batch is of one food in one state, else None."""
        kinds = {(ingredient.food, ingredient.state) for ingredient in self.ingredients}
        return self.ingredients[0] if len(kinds) == 1 else None

    @property
    def unknown(self) -> Mapping[int, Ingredient]:
        """The ingredients whose figures are not known, by line."""
        return {line: ingredient for line, ingredient in self.lines.items() if ingredient.nutrients is None}

    def contents(self) -> dict[int, float]:
        """Raw grams of each ingredient, by line, in what is left now; of all that went in before it is cooked."""
        inside = dict.fromkeys(self.lines, 0.0)
        for filling in self.pot.fillings:
            left = 1.0 if not filling.mass_g else filling.left_g / filling.mass_g
            for line, part in filling.parts.items():
                inside[line] += self.lines[line].raw_g * part * left
        return inside

    def share(self, grams: float) -> Share:
        """What `grams` from the pot as it is now count as; a nutrient that one ingredient does not know is unknown.

        Raises NotCooked without a cooked weight.
        """
        self._mass_g()
        return self._share(self.pot.now, grams)

    def portion(self, portion: tuple[int, int]) -> tuple[float, Share] | None:
        """(grams, what they count as) of a portion that was taken; None when there is none.

        Raises NotCooked without a cooked weight.
        """
        found = self.pot.portions.get(portion)
        if found is None:
            return None
        self._mass_g()
        shares = [self._share(self.pot.fillings[filling], grams) for filling, grams in found.sources]
        return found.grams, shares[0] if len(shares) == 1 else _together(shares)

    def over_draw_g(self, grams: float) -> float:
        """By how many grams more is taken than there was, with a portion of `grams`; 0 when there was enough."""
        return max(0.0, self.over_drawn_g + grams - self.left_g)

    @property
    def over_drawn_g(self) -> float:
        """By how many grams more was taken than there was."""
        return sum(filling.over_drawn_g for filling in self.pot.fillings)

    def closes_after(self, grams: float) -> bool:
        """Whether a portion of `grams` leaves so little (5 g or less) that the batch is finished."""
        return self.left_g - grams <= OVER_DRAW_SLACK_G

    def check(self, *steps: Step) -> None:
        """Raises TakenAlready when after these steps more would have left the batch than there was, by over 5 g."""
        after = self.then(*steps)
        over_g = after.over_drawn_g
        if over_g > max(OVER_DRAW_SLACK_G, self.over_drawn_g) or after.pot.missing_g > self.pot.missing_g:
            raise TakenAlready(f"More was taken out of {self.name} than it would have held.")

    def check_pour(self, grams: float) -> None:
        """Raises MoreFatThanWentIn when `grams` of fat are more than can be in the pot.

        An ingredient without figures may be all fat.
        """
        now = self.pot.now
        there_g = sum(part * _fat_at_most(self.lines[line]) for line, part in now.parts.items()) - now.fat_off_g
        if grams > there_g:
            raise MoreFatThanWentIn(
                f"{grams:.0f} g is more fat than went into {self.name}: there are {max(0.0, there_g):.0f} g in it.",
                max(0.0, there_g),
            )

    def check_refuse(self, grams: float, line: int | None = None) -> None:
        """Raises DomainError unless so much bone or shell (g) can have been in the pot, and in that ingredient."""
        most_g = self.pot.loose_g if self.pot.now.mass_g is not None else self.raw_g
        if line is not None:
            most_g = min(most_g, self.lines[line].raw_g)
        if not 0 < grams < most_g:
            raise DomainError(f"{grams:.0f} g can't be taken out of {most_g:.0f} g.")

    def check_removal(self, lines: Iterable[int]) -> None:
        """Raises EmptyBatch when nothing would be left of what went in."""
        if not self.then(*(Removed(line) for line in lines)).raw_g > 0:
            raise EmptyBatch(f"Then nothing would be left of {self.name}.")

    def _share(self, filling: Filling, grams: float) -> Share:
        mass_g = filling.mass_g
        if mass_g is None or mass_g <= 0:
            raise EmptyBatch(f"Nothing is left of {self.name}.")
        known = [
            nutrients.times(part)
            for line, part in filling.parts.items()
            if (nutrients := self.lines[line].nutrients) is not None
        ]
        open_g = sum(part * self.lines[line].raw_g for line, part in filling.parts.items() if line in self.unknown)
        summed = total(known).certain()
        if open_g > 0:
            summed = Nutrients(summed.kcal, summed.protein_g, summed.fat_g, summed.carbohydrate_g)
        of_it = grams / mass_g
        return Share(
            basis_g=grams * (self._raw_in(filling) / mass_g),
            nutrients=summed.without_fat(filling.fat_off_g).times(of_it),
            open_g=open_g * of_it,
        )

    def _raw_in(self, filling: Filling) -> float:
        return sum(part * self.lines[line].raw_g for line, part in filling.parts.items())

    def _mass_g(self) -> float:
        mass_g = self.pot.now.mass_g
        if mass_g is None:
            raise NotCooked(f"The cooked weight of {self.name} is not known yet.")
        return mass_g


def _together(shares: Sequence[Share]) -> Share:
    nutrients = total(share.nutrients for share in shares).certain()
    return Share(sum(share.basis_g for share in shares), nutrients, sum(share.open_g for share in shares))


def _fat_at_most(ingredient: Ingredient) -> float:
    return ingredient.raw_g if ingredient.nutrients is None else ingredient.nutrients.fat_g


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
    if batch.sole_food is None or batch.cooked_g is None or batch.unknown or cooked_row.per_100g.kcal <= 0:
        return None
    return batch.share(100).nutrients.kcal / cooked_row.per_100g.kcal - 1
