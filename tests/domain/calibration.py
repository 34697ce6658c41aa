"""How often the truth lies inside what is shown as "give or take" and as the interval of an energy balance.

Simulated days and stretches whose truth is known; `python -m tests.domain.calibration` writes docs/calibration.md.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

from domain import table_errors, uncertainty
from domain.energy_balance import energy_balance
from domain.foods import State
from domain.nutrients import Nutrients
from domain.uncertainty import give_or_take
from domain.weighins import Evidence, WeighIn
from tests.pages import write

PAGE = Path(__file__).parents[2] / "docs" / "calibration.md"
DAYS, STRETCHES = 4_000, 4_000
TABLE_ERRORS = (0.05, 0.10)
ALIKE = (0.0, 0.3, 0.5)
LENGTHS = (14, 21, 28, 56)
FIRST = date(2026, 3, 2)
WATER_KG = 0.7
"""The standard deviation of a day's body weight about its trend."""

Part = tuple[str, float, float, Evidence, State]
"""Food, grams as weighed, kcal, how the amount was come by, and in which state."""
W, R, C, D = Evidence.WEIGHED, Evidence.REFUSE_TABLE, Evidence.COUNTED, Evidence.DENSITY
STEADY: tuple[Part, ...] = (
    ("oats", 60, 227, W, State.RAW), ("whole milk", 210, 128, W, State.AS_SOLD), ("pasta", 90, 334, W, State.RAW),
    ("olive oil", 12, 106, W, State.AS_SOLD), ("cheddar cheese", 35, 141, W, State.AS_SOLD),
    ("white bread", 62, 165, W, State.AS_SOLD), ("almonds", 25, 145, W, State.AS_SOLD),
    ("plain yogurt", 170, 104, W, State.AS_SOLD),
)  # fmt: skip
BY_SCALE: tuple[Part, ...] = (
    *STEADY, ("chicken breast", 160, 192, W, State.RAW), ("potato", 240, 185, W, State.RAW),
    ("broccoli", 150, 51, W, State.RAW), ("apple", 180, 88, R, State.RAW),
)  # fmt: skip
MEATS: tuple[Part, ...] = (
    ("chicken breast", 180, 216, W, State.RAW), ("chicken thigh skinless", 150, 182, W, State.RAW),
    ("cod", 170, 139, W, State.RAW), ("pork chop", 160, 202, W, State.RAW), ("ground turkey", 150, 222, W, State.RAW),
)  # fmt: skip
MIXED: tuple[Part, ...] = (
    ("oats", 55, 208, D, State.RAW), ("whole milk", 206, 126, D, State.AS_SOLD), ("egg", 102, 146, C, State.RAW),
    ("banana", 118, 105, C, State.RAW), ("white rice", 260, 338, W, State.COOKED),
    ("lasagna", 240, 400, W, State.AS_SOLD), ("chicken breast", 140, 231, W, State.COOKED),
    ("butter", 15, 108, W, State.AS_SOLD), ("a bar by its label", 60, 220, W, State.AS_SOLD),
    ("orange", 190, 66, R, State.RAW), ("chocolate chip cookie", 48, 230, C, State.AS_SOLD),
)  # fmt: skip
DAYS_OF = {"steady foods": STEADY, "meat and fish": MEATS, "by the scale": BY_SCALE, "mixed": MIXED}


def _item(part: Part) -> WeighIn:
    food, grams, kcal, evidence, state = part
    edible = 0.9 * grams if evidence is R else grams
    return WeighIn(
        food=food, state=state, as_weighed_g=grams, edible_g=edible, basis_g=edible, basis=state, evidence=evidence,
        nutrients=Nutrients(kcal, 0, 0, 0),
    )  # fmt: skip


def _true_share(item: WeighIn, chance: random.Random) -> float:
    """What was really eaten as a share of what is on record, from the same sources as `domain.uncertainty`."""
    share = 1.0
    if item.evidence in (W, R):
        limit = uncertainty.scale_g(item.as_weighed_g) * math.sqrt(3)
        share += chance.uniform(-limit, limit) / item.as_weighed_g
    if item.evidence is R:
        share += chance.gauss(0, uncertainty.REFUSE) * item.as_weighed_g / item.edible_g
    if item.evidence is C:
        share *= 1 + chance.uniform(-0.34, 0.34)
    if item.evidence is D:
        share *= (1 + chance.gauss(0, uncertainty.FILLING)) * (1 + chance.uniform(-0.12, 0.12))
    if item.state is State.COOKED and item.evidence is not C:
        share *= 1 + chance.uniform(-0.1, 0.1)
    return share


def days_inside(parts: tuple[Part, ...], table_error: float | None, seed: int = 1) -> float:
    """The share of days whose true energy lies within what is shown.

    Each food is off its row by `table_error`, or where that is None by what its kind is off by.
    """
    chance = random.Random(f"{seed} {table_error} {len(parts)}")
    items = [_item(part) for part in parts]
    shown = give_or_take(items).kcal
    inside = 0
    for _ in range(DAYS):
        off = 0.0
        for item in items:
            assert item.nutrients is not None
            spread = table_errors.table_error(item) if table_error is None else table_error
            true = _true_share(item, chance) * (1 + chance.gauss(0, spread))
            off += item.nutrients.kcal * (true - 1)
        inside += abs(off) <= shown
    return inside / DAYS


def amounts_inside(parts: tuple[Part, ...], seed: int = 1) -> float:
    """The share of days within what amounts alone are said to be off by, where the tables are right."""
    chance = random.Random(f"{seed} amounts {len(parts)}")
    items = [_item(part) for part in parts]
    shown = give_or_take(items).amounts_kcal
    offs = (sum(i.nutrients.kcal * (_true_share(i, chance) - 1) for i in items if i.nutrients) for _ in range(DAYS))
    return sum(abs(off) <= shown for off in offs) / DAYS


def stretches_inside(length: int, alike: float, seed: int = 1) -> float:
    """The share of stretches whose true energy lies in the interval; a day's weight resembles the day before's."""
    chance = random.Random(f"{seed} {length} {alike}")
    inside = 0
    for _ in range(STRETCHES):
        water = chance.gauss(0, 1)
        kg, kcal = {}, {}
        for n in range(length):
            day = FIRST + timedelta(days=n)
            kg[day] = 80 - 0.05 * n + WATER_KG * water
            kcal[day] = 2000.0
            water = alike * water + math.sqrt(1 - alike**2) * chance.gauss(0, 1)
        found = energy_balance(kcal, kg)
        assert found is not None
        inside += abs(found.spent_kcal - (2000 + 0.05 * 7700)) <= found.spent_error_kcal
    return inside / STRETCHES


def _rows(names: list[str], columns: tuple[float, ...], figure: Callable[[int, float], float]) -> list[str]:
    return [
        f"| {name} | {' | '.join(f'{figure(n, column):.1%}' for column in columns)} |" for n, name in enumerate(names)
    ]


def days_table() -> str:
    """Days inside, by how they were measured and by table error."""
    heads = ["amounts alone", "tables off as their kind", *(f"every food off by {e:.0%}" for e in TABLE_ERRORS)]
    head = f"| day | give or take | {' | '.join(heads)} |"
    rows = []
    for name, parts in DAYS_OF.items():
        shown = give_or_take([_item(part) for part in parts]).kcal / sum(part[2] for part in parts)
        figures = [amounts_inside(parts), *(days_inside(parts, error) for error in (None, *TABLE_ERRORS))]
        rows.append(f"| {name} | {shown:.0%} | {' | '.join(f'{figure:.1%}' for figure in figures)} |")
    return "\n".join((head, "|---" * (len(heads) + 2) + "|", *rows))


def stretches_table() -> str:
    """Stretches inside, by their length and by autocorrelation."""
    head = f"| days | {' | '.join(f'autocorrelation {each}' for each in ALIKE)} |"
    rows = _rows([str(n) for n in LENGTHS], ALIKE, lambda n, alike: stretches_inside(LENGTHS[n], alike))
    return "\n".join((head, "|---" * (len(ALIKE) + 1) + "|", *rows))


if __name__ == "__main__":
    write(PAGE, "days", days_table())
    write(PAGE, "stretches", stretches_table())
