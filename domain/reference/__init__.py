"""The food table: figures of USDA SR28 (public domain), names and pieces curated here. See README.md beside this."""

import csv
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import groupby
from operator import itemgetter
from pathlib import Path
from types import MappingProxyType

from domain.foods import Food, FoodRow, Kinds, State
from domain.nutrients import Nutrients

FOODS_CSV = Path(__file__).with_name("foods.csv")
KINDS_CSV = Path(__file__).with_name("kinds.csv")

_EMPTY: Mapping[str, float] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class FoodTable:
    """All reference foods.

    `names` leads from every lower-case name and alias to the food's name; `kinds` holds the generic words.
    """

    foods: Mapping[str, Food]
    names: Mapping[str, str]
    kinds: Mapping[str, Kinds]


@cache
def load() -> FoodTable:
    """The built-in food table, read once."""
    foods = {food.name: food for food in _foods()}
    names = {alias: food.name for food in foods.values() for alias in (food.name, *food.aliases)}
    kinds = {kinds.word: kinds for kinds in _kinds()}
    return FoodTable(MappingProxyType(foods), MappingProxyType(names), MappingProxyType(kinds))


def read_amounts(text: str) -> Mapping[str, float]:
    """Grams by key from `key=grams;key=grams`; the key `each` is the plain piece and becomes ""."""
    if not text:
        return _EMPTY
    amounts: dict[str, float] = {}
    for part in text.split(";"):
        key, _, grams = part.rpartition("=")
        key = key.strip()
        amounts["" if key == "each" else key] = float(grams)
    return MappingProxyType(amounts)


def _foods() -> Iterator[Food]:
    for _, records in groupby(_records(FOODS_CSV), key=itemgetter("food")):
        yield _food(list(records))


def _records(path: Path) -> Iterator[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        lines = csv.reader(file)
        columns = next(lines)
        # csv.DictReader takes twice as long, and every start of the program waits for this.
        for cells in lines:
            yield dict(zip(columns, cells, strict=True))


def _food(records: list[dict[str, str]]) -> Food:
    first = records[0]
    return Food(
        name=first["food"],
        group=first["group"],
        aliases=_words(first["aliases"]),
        drunk=first["drunk"] == "yes",
        rows=tuple(_row(record) for record in records),
        note="; ".join(record["note"] for record in records if record["note"]),
    )


def _row(record: dict[str, str]) -> FoodRow:
    return FoodRow(
        food=record["food"],
        state=State(record["state"]),
        method=record["method"],
        ndb=record["ndb"],
        per_100g=Nutrients(
            kcal=float(record["kcal"]),
            protein_g=float(record["protein_g"]),
            fat_g=float(record["fat_g"]),
            carbohydrate_g=float(record["carbohydrate_g"]),
            fibre_g=_known(record["fibre_g"]),
            sugars_g=_known(record["sugars_g"]),
            saturated_fat_g=_known(record["saturated_fat_g"]),
            sodium_mg=_known(record["sodium_mg"]),
            alcohol_g=_known(record["alcohol_g"]),
        ),
        refuse=float(record["refuse_pct"]) / 100,
        refuse_part=record["refuse_part"],
        pieces=read_amounts(record["pieces"]),
        measures=read_amounts(record["measures"]),
    )


def _kinds() -> Iterator[Kinds]:
    for record in _records(KINDS_CSV):
        yield Kinds(record["word"], record["default"] or None, _words(record["kinds"]))


def _words(text: str) -> tuple[str, ...]:
    return tuple(text.split("|")) if text else ()


def _known(text: str) -> float | None:
    return float(text) if text else None
