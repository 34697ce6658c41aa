"""Reading the USDA SR28 table and the household measures inside it."""

import csv
import gzip
import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

_MEASURE = re.compile(r"([\d.]+) (.+) = ([\d.]+) g")
_UNIT = re.compile(r"(cup|tbsp|tablespoon|tsp|teaspoon|fl oz)s?\b[ ,]*(.*)", re.IGNORECASE)
_SERVING = re.compile(r"serving \(?(?:(\d+)/(\d+)|(\d+)) ([^)]*)\)?")
_UNIT_NAMES = {
    "cup": "cup",
    "tbsp": "tbsp",
    "tablespoon": "tbsp",
    "tsp": "tsp",
    "teaspoon": "tsp",
    "fl oz": "floz",
}
_SAYS_NOTHING = re.compile(r"\(?(8 fl oz|4 fl oz|1 NLEA serving|1 serving|1/8 cup)?\)?")


@dataclass(frozen=True, slots=True)
class HouseholdMeasure:
    """One published household weight: `amount` of `what` weighs `grams`."""

    amount: float
    what: str
    grams: float


@dataclass(frozen=True, slots=True)
class Published:
    """One SR28 row: its cells as printed, and its household measures."""

    cells: Mapping[str, str]
    measures: tuple[HouseholdMeasure, ...]

    @property
    def description(self) -> str:
        """The source's own name for the food."""
        return self.cells["description"]


def read_published(path: Path) -> dict[str, Published]:
    """All rows of the SR28 table (gzip, tab separated, first line names the columns) by NDB number."""
    with gzip.open(path, "rt", encoding="utf-8", newline="") as file:
        return {
            cells["ndb_no"]: Published(cells, tuple(_household(cells["household_measures"])))
            for cells in csv.DictReader(file, delimiter="\t")
        }


def kitchen_measures(published: Published) -> dict[str, float]:
    """Grams of one US cup, tbsp, tsp and floz, where the row gives that measure without doubt.

    Without doubt is one reading, or the single unqualified one: "1 cup" beside "1 cup, mashed". Of several
    unqualified readings the one of the largest amount counts, its weight being the least rounded.
    """
    readings: dict[str, list[tuple[float, str, float]]] = defaultdict(list)
    for measure in published.measures:
        reading = _reading(measure)
        if reading is not None:
            unit, amount, qualifier = reading
            readings[unit].append((amount, qualifier, measure.grams / amount))
    taken = {}
    for unit in ("cup", "tbsp", "tsp", "floz"):
        plain = [found for found in readings[unit] if not found[1]] or readings[unit]
        if len(plain) == 1 or (plain and not plain[0][1]):
            taken[unit] = round(max(plain)[2], 3)
    return taken


def _household(text: str) -> Iterator[HouseholdMeasure]:
    for part in filter(None, text.split("; ")):
        found = _MEASURE.fullmatch(part)
        if found is None:
            raise ValueError(f"not a household measure: {part!r}")
        yield HouseholdMeasure(float(found[1]), found[2], float(found[3]))


def _reading(measure: HouseholdMeasure) -> tuple[str, float, str] | None:
    """The measure as unit, amount of it, and what else is said of it ("" when nothing is)."""
    amount, what = measure.amount, measure.what
    serving = _SERVING.fullmatch(what)
    if serving is not None:
        amount *= float(serving[3]) if serving[3] else float(serving[1]) / float(serving[2])
        what = serving[4]
    found = _UNIT.fullmatch(what)
    if found is None or not amount:
        return None
    qualifier = "" if _SAYS_NOTHING.fullmatch(found[2]) else found[2]
    return _UNIT_NAMES[found[1].lower()], amount, qualifier
