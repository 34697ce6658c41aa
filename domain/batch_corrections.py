"""What a batch's steps say once every correction is taken back to the step that it corrects."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from domain.batch_steps import Added, Corrected, Ingredient, Poured, RefuseOut, Removed, Step, Weighed


@dataclass(slots=True)
class Weighing:
    """A weight as it was put right since; fat and liquid were gone before it, refuse was still in it."""

    grams: float
    refuse_g: float = 0.0
    poured_g: float = 0.0
    fat_g: float = 0.0
    added_since: set[int] = field(default_factory=set)

    def join(self, step: Poured | RefuseOut) -> None:
        """Takes in what had happened to the pot before it was weighed, or was still in it."""
        if isinstance(step, RefuseOut):
            self.refuse_g += step.grams
            return
        self.poured_g += step.grams
        self.fat_g += step.grams if step.fat else 0.0


@dataclass(slots=True)
class Told:
    """What the steps say once every correction is taken back to the step that it corrects."""

    ingredients: dict[int, Ingredient] = field(default_factory=dict)
    weighings: dict[int, Weighing] = field(default_factory=dict)
    taken_back: set[int] = field(default_factory=set)
    """Steps that are part of an earlier one by now."""


def read_back(steps: Sequence[Step]) -> Told:
    """What the steps say once each correction is made where it belongs.

    Fat, liquid and refuse belong to the latest weighing, unless something was added to the pot since.
    """
    told = Told()
    latest: Weighing | None = None
    for at, step in enumerate(steps):
        match step:
            case Added(line, ingredient):
                told.ingredients[line] = ingredient
            case Corrected(line, ingredient) if line in told.ingredients:
                told.ingredients[line] = ingredient
            case Removed(line):
                told.ingredients.pop(line, None)
            case Weighed(grams, anew) if latest is None or anew:
                latest = told.weighings[at] = Weighing(grams)
            case Weighed(grams) if latest is not None:
                # A weight that is told after the bones were out is one without them.
                latest.grams, latest.refuse_g = grams, 0.0
            case Poured() | RefuseOut() if latest is not None and not latest.added_since:
                latest.join(step)
                told.taken_back.add(at)
            case RefuseOut(_, line) if latest is not None and line in latest.added_since:
                # It was weighed with the ingredient, and never with the pot.
                told.taken_back.add(at)
        if latest is not None and isinstance(step, Added):
            latest.added_since.add(step.line)
        elif latest is not None and isinstance(step, Removed):
            latest.added_since.discard(step.line)
    _take_refuse_off(told.ingredients, steps)
    return told


def _take_refuse_off(ingredients: dict[int, Ingredient], steps: Iterable[Step]) -> None:
    for step in steps:
        if isinstance(step, RefuseOut) and step.line in ingredients:
            ingredients[step.line] = less(ingredients[step.line], step.grams)


def less(ingredient: Ingredient, grams: float) -> Ingredient:
    """The ingredient with `grams` less of it, never below zero; its nutrients go down alike."""
    stays = max(0.0, 1 - grams / ingredient.raw_g) if ingredient.raw_g > 0 else 1.0
    nutrients = None if ingredient.nutrients is None else ingredient.nutrients.times(stays)
    return replace(ingredient, raw_g=ingredient.raw_g * stays, nutrients=nutrients)
