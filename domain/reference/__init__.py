"""The food table: published figures, with names and pieces curated here. See README.md beside this.

The file is split into lines once, and its names into an index. A food is put together from its lines when it is first
asked for: a start pays for the names alone, and a process for the foods that its people eat.
"""

import csv
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from sys import intern
from types import MappingProxyType

from domain.foods import Food, FoodRow, Kinds, State
from domain.nutrients import Nutrients, Traces

FOODS_CSV = Path(__file__).with_name("foods.csv")
KINDS_CSV = Path(__file__).with_name("kinds.csv")

_EMPTY: Mapping[str, float] = MappingProxyType({})


class Foods(Mapping[str, Food]):
    """Foods by name, in the order of the file, each put together when it is first asked for."""

    def __init__(self, columns: Sequence[str], lines: Mapping[str, Sequence[str]]) -> None:
        self._columns = columns
        self._lines = lines
        self._made: dict[str, Food] = {}

    def __getitem__(self, name: str) -> Food:
        food = self._made.get(name)
        if food is None:
            records = [
                dict(zip(self._columns, cells, strict=True))
                for cells in csv.reader(self._lines[name])  # KeyError: no such food
            ]
            food = self._made[name] = _food(records)
        return food

    def __contains__(self, name: object) -> bool:
        return name in self._lines

    def __iter__(self) -> Iterator[str]:
        return iter(self._lines)

    def __len__(self) -> int:
        return len(self._lines)


@dataclass(frozen=True, slots=True)
class FoodTable:
    """All reference foods.

    `names` leads from every lower-case name and alias to the food's name; `kinds` holds the generic words; `groups` has
    the group of each food without putting the food together.
    """

    foods: Mapping[str, Food]
    names: Mapping[str, str]
    kinds: Mapping[str, Kinds]
    groups: Mapping[str, str]


@cache
def load() -> FoodTable:
    """The built-in food table, read once."""
    header, *lines = FOODS_CSV.read_text(encoding="utf-8").splitlines()
    by_food: dict[str, list[str]] = {}
    names: dict[str, str] = {}
    groups: dict[str, str] = {}
    for line in lines:
        # None of these is ever quoted: names are plain kitchen words.
        food, aliases, group, _ = line.split(",", 3)
        if food in by_food:
            by_food[food].append(line)
            continue
        by_food[food] = [line]
        names[food] = food
        groups[food] = intern(group)
        if aliases:
            names.update(dict.fromkeys(aliases.split("|"), food))
    kinds = {kinds.word: kinds for kinds in _kinds()}
    foods = Foods(header.split(","), by_food)
    return FoodTable(foods, MappingProxyType(names), MappingProxyType(kinds), MappingProxyType(groups))


def read_amounts(text: str) -> Mapping[str, float]:
    """Grams by key from `key=grams;key=grams`; the key `each` is the plain piece and becomes ""."""
    if not text:
        return _EMPTY
    amounts: dict[str, float] = {}
    for part in text.split(";"):
        key, _, grams = part.rpartition("=")
        amounts[piece_key(key.strip())] = float(grams)
    return MappingProxyType(amounts)


def piece_key(text: str) -> str:
    """The key of a piece as the curated files write it: `each` is the plain one, "", also for a region (`each@uk`)."""
    noun, at, region = text.partition("@")
    return ("" if noun == "each" else noun) + at + region


def _food(records: list[dict[str, str]]) -> Food:
    first = records[0]
    return Food(
        name=first["food"],
        group=first["group"],
        aliases=_words(first["aliases"]),
        drunk=first["drunk"] == "yes",
        rows=tuple(_row(record) for record in records),
        note="; ".join(record["note"] for record in records if record["note"]),
        dish=first["dish"] == "yes",
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
        source=" ".join(filter(None, (record["table"], record["ndb"], record["source"]))),
        traces=Traces(
            potassium_mg=_known(record["potassium_mg"]),
            calcium_mg=_known(record["calcium_mg"]),
            iron_mg=_known(record["iron_mg"]),
            cholesterol_mg=_known(record["cholesterol_mg"]),
        ),
    )


def _kinds() -> Iterator[Kinds]:
    with KINDS_CSV.open(encoding="utf-8", newline="") as file:
        lines = csv.reader(file)
        next(lines)
        for word, default, kinds, _ in lines:
            defaults = [food.partition("@") for food in _words(default)]
            regional = {region: food for food, _, region in defaults if region}
            yield Kinds(word, next((food for food, _, region in defaults if not region), None), _words(kinds), regional)


def _words(text: str) -> tuple[str, ...]:
    return tuple(text.split("|")) if text else ()


def _known(text: str) -> float | None:
    return float(text) if text else None
