"""How long food keeps, by what it is and where it lies: one published time for each kind, never one for all.

USDA: "Refrigerator & Freezer Storage Chart" (FDA, March 2018, ucm109315) and the FSIS "Cold Storage Chart", which agree
where both name a food; for the refrigerator at 4 °C (40 °F) or below. Freezing at -18 °C (0 °F) keeps food safe
indefinitely; the freezer's times are for quality only, says the same chart. UK: NHS "How to store food and leftovers"
and the Food Standards Agency's advice that courses repeat. Where those say nothing of a kind, the USDA's time is given
and named as such. All of them are guidance: the local food authority decides.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from typing import Final

from domain.batch_steps import Ingredient, Place
from domain.quantities import Region

_DAYS_IN_A_MONTH: Final = 30


class Kind(StrEnum):
    """Kinds of food that are said to keep differently."""

    RAW_POULTRY = "raw poultry"
    RAW_MINCE = "raw mince"
    RAW_MEAT = "raw meat"
    RAW_FISH = "raw fish"
    COOKED_MEAT = "cooked meat or poultry"
    COOKED_FISH = "cooked fish"
    SOUP = "soup or stew"
    RICE = "cooked rice"
    GRAVY = "gravy or broth"
    HARD_BOILED_EGGS = "hard-boiled eggs"
    EGG_DISH = "egg dish"
    SALAD = "egg, chicken, tuna or pasta salad"
    OPENED_TIN = "opened tin"
    OPENED_ACID_TIN = "opened tin of tomatoes, fruit or pickles"
    LEFTOVERS = "leftovers"


@dataclass(frozen=True, slots=True)
class Keeps:
    """From how many to how many days food keeps, and who says so. `for_quality`: it is safe for longer."""

    kind: Kind
    place: Place
    low_days: int
    high_days: int
    source: str
    for_quality: bool = False

    def in_words(self) -> str:
        """The time as it is said: "3 to 4 days", "2 to 3 months"."""
        months = self.low_days % _DAYS_IN_A_MONTH == 0 and self.high_days % _DAYS_IN_A_MONTH == 0
        low, high = (days // _DAYS_IN_A_MONTH if months else days for days in (self.low_days, self.high_days))
        unit = "month" if months else "day"
        if low == high:
            return f"{low} {unit}{'' if low == 1 else 's'}"
        return f"{low} to {high} {unit}s"

    def past(self, since: date, today: date) -> bool:
        """Whether the shorter of the two times is over."""
        return (today - since).days > self.low_days

    def ask_on(self, since: date) -> date:
        """The first day on which to ask whether it is still good."""
        return since + timedelta(days=self.low_days + 1)


_CHART = "USDA FSIS storage chart"
_TINS = "USDA FSIS, Shelf-Stable Food Safety"
_FOODKEEPER = "USDA FoodKeeper"
_NHS = "NHS, How to store food and leftovers"
_FSA = "UK Food Standards Agency advice"

# (refrigerator days, freezer months or None, source). Read in copies of the chart (docslib.org 10255062, studylib.net
# 26136208, valleyhealthmill.com) unless a line says otherwise.
_USDA: Final[Mapping[Kind, tuple[tuple[int, int], tuple[int, int] | None, str]]] = {
    Kind.RAW_POULTRY: ((1, 2), (9, 12), _CHART),  # parts 9 months, whole 1 year
    Kind.RAW_MINCE: ((1, 2), (3, 4), _CHART),
    Kind.RAW_MEAT: ((3, 5), (4, 12), _CHART),  # steaks 6-12, chops 4-6, roasts 4-12
    Kind.RAW_FISH: ((1, 2), (2, 6), _CHART),  # fatty 2-3, lean 6; read in an appliance manual that cites FSIS
    Kind.COOKED_MEAT: ((3, 4), (2, 6), _CHART),  # meat dishes 2-3, poultry 4-6 (nia.nih.gov: 2-6)
    Kind.COOKED_FISH: ((3, 4), (4, 6), _CHART),  # from memory
    Kind.SOUP: ((3, 4), (2, 3), _CHART),
    Kind.RICE: ((3, 4), (3, 4), _CHART),  # as leftovers, nia.nih.gov
    Kind.GRAVY: ((1, 2), (2, 3), _CHART),
    Kind.HARD_BOILED_EGGS: ((7, 7), None, _CHART),
    Kind.EGG_DISH: ((3, 4), (2, 3), _CHART),  # from memory
    Kind.SALAD: ((3, 4), None, _CHART),  # nia.nih.gov; the chart of 2018 has 3-5
    Kind.OPENED_TIN: ((3, 4), (2, 2), _TINS),  # from memory
    Kind.OPENED_ACID_TIN: ((5, 7), (2, 2), _TINS),  # from memory
    Kind.LEFTOVERS: ((3, 4), (3, 4), _CHART),  # nia.nih.gov, Illinois Extension
}
# Refrigerator days where the UK's advice differs. Two days: healthwell.eani.org.uk (NHS text), livehealthily.com; rice
# one day: getskillonline.com. All read.
_UK: Final[Mapping[Kind, tuple[int, str]]] = {
    Kind.COOKED_MEAT: (2, _NHS),
    Kind.COOKED_FISH: (2, _NHS),
    Kind.SOUP: (2, _NHS),
    Kind.EGG_DISH: (2, _NHS),
    Kind.SALAD: (2, _NHS),
    Kind.LEFTOVERS: (2, _NHS),
    Kind.HARD_BOILED_EGGS: (2, _NHS),
    Kind.RICE: (1, _FSA),
}

_MEAT: Final = frozenset({"meat", "poultry", "sausages"})
_GROUND: Final = frozenset({"ground", "mince", "minced"})
_WATERY: Final = frozenset({"water", "stock", "broth"})
_EGGS: Final = frozenset({"egg", "eggs"})
_MOSTLY: Final = 0.5


def keeps(kind: Kind, place: Place, region: Region) -> Keeps | None:
    """How long food of that kind keeps there; None where it should not be frozen."""
    (low, high), months, source = _USDA[kind]
    if place is Place.FREEZER:
        if months is None:
            return None
        return Keeps(kind, place, months[0] * _DAYS_IN_A_MONTH, months[1] * _DAYS_IN_A_MONTH, source, for_quality=True)
    if region is Region.UK and kind in _UK:
        days, source = _UK[kind]
        return Keeps(kind, place, days, days, source)
    return Keeps(kind, place, low, high, source)


def kind_of_batch(ingredients: Iterable[Ingredient], cooked: bool) -> Kind:
    """The kind of food that a batch is, by what it holds most of; raw while it is not cooked.

    What holds any fish or rice keeps no longer than that; a batch with much water in it is a soup or stew.
    """
    ingredients = tuple(ingredients)
    groups = {ingredient.group for ingredient in ingredients}
    if not cooked:
        if "fish" in groups:
            return Kind.RAW_FISH
        if "poultry" in groups:
            return Kind.RAW_POULTRY
        if groups & _MEAT:
            minced = any(_GROUND & set(ingredient.food.lower().split()) for ingredient in ingredients)
            return Kind.RAW_MINCE if minced else Kind.RAW_MEAT
    if any(ingredient.group == "grains" and ingredient.food.lower().endswith("rice") for ingredient in ingredients):
        return Kind.RICE
    if "fish" in groups:
        return Kind.COOKED_FISH
    if _part(ingredients, _WATERY) >= _MOSTLY:
        return Kind.SOUP
    if _part(ingredients, _EGGS) >= _MOSTLY:
        return Kind.EGG_DISH if len(ingredients) > 1 else Kind.HARD_BOILED_EGGS
    return Kind.COOKED_MEAT if groups & _MEAT else Kind.LEFTOVERS


def _part(ingredients: Iterable[Ingredient], called: frozenset[str]) -> float:
    """Which part (0 to 1) of the weight goes by one of these words."""
    weights = [(i.raw_g, bool(called & set(i.food.lower().split()))) for i in ingredients]
    whole_g = sum(grams for grams, _ in weights)
    return sum(grams for grams, fits in weights if fits) / whole_g if whole_g > 0 else 0.0
