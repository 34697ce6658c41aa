"""What holds next to no energy in any usual amount, so that no amount is asked for: black coffee, tea, water, a pinch
of a spice.
"""

from __future__ import annotations

from bot.conversation.known import KnownFood
from bot.conversation.records.measuring import MOST_COUNTED, Measured
from bot.language.told import Amount
from domain.foods import FoodRow
from domain.quantities import Region
from domain.weighins import Evidence

MOST_KCAL = 5.0
"""Energy of a usual helping under which nobody is asked how much it was."""
PINCHES = 16
"""Pinches in a teaspoon (measuring spoons sold as 'pinch' hold 1/16 of one; from memory)."""
SPICES = "spices"
SOME = Amount(kind="loose", value=1.0)
"""An amount that was not told."""


def is_trifle(entry: KnownFood) -> bool:
    """Whether a cup of the drink, or a pinch of the spice, holds less than 5 kcal."""
    row = entry.food.row()
    if row is None or entry.label is not None:
        return False
    return entry.food.group == SPICES or (entry.food.drunk and _cup(entry, row, Region.US) * row.per_100g.kcal < 500)


def usual(amount: Amount, entry: KnownFood, row: FoodRow, region: Region) -> Measured | None:
    """The usual helping of a trifle in grams, as often as was told; None for any other food, or another amount."""
    if not is_trifle(entry):
        return None
    spice = entry.food.group == SPICES
    if amount.kind == "bare" and (spice or amount.value > MOST_COUNTED):
        return None
    if amount.kind not in ("loose", "count", "measure", "bare"):
        return None
    times = amount.value if amount.kind != "loose" and not spice else 1.0
    grams = times * (_pinch(entry, row, region) if spice else _cup(entry, row, region))
    what = "a pinch" if spice else "a cup" if times == 1 else f"{times:g} cups"
    return Measured(grams, Evidence.COUNTED, what, edible=True)


def _cup(entry: KnownFood, row: FoodRow, region: Region) -> float:
    return entry.food.measure_g(row, "cup", region) or 0.0


def _pinch(entry: KnownFood, row: FoodRow, region: Region) -> float:
    return (entry.food.measure_g(row, "tsp", region) or 0.0) / PINCHES
