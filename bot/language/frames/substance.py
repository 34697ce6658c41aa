"""What a list of foods shows by itself: whether it is cooked in a pot, as more goes in than one person eats."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.intents.ingredients import hardly_eaten_so
from bot.language.pack import pack
from bot.language.told import Item
from domain import reference
from domain.foods import Food, State
from domain.quantities import VOLUME_UNITS, Region, millilitres

LEAST_FOODS = 3
FEW, HEAPS_OF_FEW = 2, 2.1
"""Foods, and heaps of the raw one among them, that are a pot as well: a kilogram of raw thighs and some oil."""
LEAST_G = 650.0
"""What goes in, at least."""
HEAPS_G = {
    "fats": 80.0, "condiments": 150.0, "grains": 250.0, "pulses": 300.0, "meat": 400.0, "poultry": 400.0, "fish": 400.0,
    "sausages": 400.0, "vegetables": 600.0,
}  # fmt: skip
"""Grams of one food, by its group, that hardly anybody eats at once as it stands in the list (common practice)."""
NEVER_HEAPED = frozenset({"fruit", "drinks"})
"""Groups of what is bought and eaten, or drunk, in any amount."""
BUTTER_G = 100.0
HALF = 0.5
"""The part of a heap that is enough where water and seasonings were weighed with it."""
LEAST_BROTH_G = 300.0
MOST_COUNTED = 12
"""Up to this a number by itself counts pieces."""
MOST_AROMATIC_G = 40.0
"""Up to this a vegetable that needs cooking seasons: garlic, ginger."""


def is_for_a_pot(told: Sequence[Item]) -> bool:
    """Whether these foods go into a pot, whatever is said around them.

    There is a heap of one food that nobody eats at once; or half of one that is raw or dry, with water and
    seasonings or several others.
    """
    weighed = [item for item in told if grams_of_item(item)]
    foods = len({item.name.text for item in weighed if item.name is not None})
    if foods < FEW:
        return False
    total = sum(map(grams_of_item, weighed))
    cooked = sum(grams_of_item(item) for item in weighed if item.state is State.COOKED)
    if total < LEAST_G or cooked > HALF * total:
        return False
    if foods < LEAST_FOODS:
        return not cooked and any(_is_raw(item) and _heaps(item) >= HEAPS_OF_FEW for item in weighed)
    heaps = [_heaps(item) for item in weighed if item.state is not State.COOKED]
    if not cooked and any(heap >= 1.0 for heap in heaps):
        return True
    least = 1.0 if cooked else HALF
    raw = any(_heaps(item) >= least and _is_raw(item) for item in weighed)
    broth = sum(grams_of_item(item) for item in weighed if _is_broth(item))
    return raw and broth >= LEAST_BROTH_G and (len(weighed) > LEAST_FOODS or any(map(_seasons, weighed)))


def is_heaped(item: Item) -> bool:
    """Whether it is raw, dry or as sold, and more of one food than hardly anybody eats at once."""
    return item.state is not State.COOKED and _heaps(item) >= 1.0


def grams_of_item(item: Item) -> float:
    """The weight of an item; of a volume, that of as much water, and of many a number by itself."""
    amount = item.amount
    if amount is None:
        return 0.0
    if amount.grams is not None:
        return amount.grams
    if amount.unit in VOLUME_UNITS:
        return millilitres(amount.value, amount.unit, Region.METRIC)
    return amount.value if amount.kind == "bare" and amount.value > MOST_COUNTED else 0.0


def _heaps(item: Item) -> float:
    """How many times as much of one food it is as hardly anybody eats at once."""
    return max((grams_of_item(item) / _heap_of(food) for food in _foods(item)), default=0.0)


def _heap_of(food: Food) -> float:
    if food.name in pack()["spread_on_bread"]:
        return BUTTER_G
    return float("inf") if food.group in NEVER_HEAPED else HEAPS_G.get(food.group, LEAST_G)


def _is_raw(item: Item) -> bool:
    return item.state is State.RAW or hardly_eaten_so(item)


def _is_broth(item: Item) -> bool:
    """Whether it is what things are boiled in: water, stock, or something else that pours."""
    return any(food.drunk for food in _foods(item))


def _seasons(item: Item) -> bool:
    small = hardly_eaten_so(item) and grams_of_item(item) <= MOST_AROMATIC_G
    return small or any(food.group == "spices" or (food.group == "fats" and food.drunk) for food in _foods(item))


def _foods(item: Item) -> list[Food]:
    """The foods that an item may be: those named, or the usual one of a kind."""
    table, name = reference.load(), item.name
    if name is None:
        return []
    kinds = table.kinds.get(name.kinds) if name.kinds else None
    return [table.foods[food] for food in (*name.foods, *(kinds.kinds[:1] if kinds else ())) if food in table.foods]
