"""How much people mean by a piece, a glass, a mug or a tin: the usual weight, its spread, and where both are from.

`portions.csv` is reviewed by hand. The build puts the weights that are there to count with among the pieces of the
food. A glass, a mug or a scoop has no size of its own unless the law gives it one: its weight is there to be offered,
and only here. Spreads and sources are read when they are first asked for.
"""

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

PORTIONS_CSV = Path(__file__).with_name("portions.csv")


@dataclass(frozen=True, slots=True)
class Portion:
    """The edible grams of one piece as it usually is, at the small end and at the large one; `piece` may name a region.

    `counts`: a number of them is a weight. Otherwise it is one to ask about.
    """

    food: str
    piece: str
    counts: bool
    grams: float
    low_g: float
    high_g: float
    source: str


@cache
def portions() -> Mapping[tuple[str, str], Portion]:
    """All portions by food and piece, as the file writes the piece (`each`, `slice`, `glass@UK`)."""
    with PORTIONS_CSV.open(encoding="utf-8", newline="") as file:
        lines = csv.reader(file)
        next(lines)
        found = (
            Portion(food, piece, use == "count", float(grams), float(low), float(high), source)
            for food, piece, use, grams, low, high, source in lines
        )
        return {(portion.food, portion.piece): portion for portion in found}


def portion(food: str, piece: str = "", region: str = "") -> Portion | None:
    """What is known of one piece of a food; the region's own goes first. None when no spread is on file."""
    plain = piece or "each"
    return portions().get((food, f"{plain}@{region}")) or portions().get((food, plain))
