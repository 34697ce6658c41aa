"""Dishes that no table at hand holds, computed from the table's own rows by the weight-yield method.

The nutrients of all ingredients, divided by the weight of the dish: the raw weights times the yield. Nothing is taken
off for what heat destroys. The proportions are this project's own typical ones (FAO/INFOODS guidelines call the method
"mixed recipe, ingredients summed"), so that each result is marked as a dish, with a wide range.
"""

import csv
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from domain.reference.checking import Line
from domain.reference.published import TRACES, Published

RECIPES_CSV = Path(__file__).with_name("sources") / "recipes.csv"

_SUMMED = (
    *("energy_kcal", "protein_g", "fat_g", "carbohydrate_g", "fibre_g", "sugars_g", "saturated_fat_g", "sodium_mg"),
    "alcohol_g",
    *TRACES,
)


@dataclass(frozen=True, slots=True)
class Ingredient:
    """So many grams of a food of the curated files, in a state or in its usual one."""

    food: str
    state: str
    grams: float


@dataclass(frozen=True, slots=True)
class Recipe:
    """What goes into a dish, and the share of that weight which is left when it is cooked."""

    name: str
    ingredients: tuple[Ingredient, ...]
    yield_share: float


def read_recipes(path: Path = RECIPES_CSV) -> Iterator[Recipe]:
    """All recipes; an ingredient reads `food=grams` or `food:state=grams`."""
    with path.open(encoding="utf-8", newline="") as file:
        for record in csv.DictReader(file):
            parts = tuple(_ingredient(part) for part in record["ingredients"].split(";"))
            yield Recipe(record["recipe"], parts, float(record["yield_pct"]) / 100)


def compute(
    recipes: Sequence[Recipe], foods: Mapping[str, Sequence[Line]], rows: Mapping[str, Published]
) -> tuple[dict[str, Published], list[str]]:
    """The dishes as published rows named `recipe …`, and as sentences what could not be computed."""
    found: dict[str, Published] = {}
    wrong = []
    waiting = list(recipes)
    while waiting:
        later = []
        for recipe in waiting:
            parts = [_row(part, foods, {**rows, **found}) for part in recipe.ingredients]
            if all(part is not None for part in parts):
                found[f"recipe {recipe.name}"] = _dish(recipe, [part for part in parts if part is not None])
            else:
                later.append(recipe)
        if len(later) == len(waiting):
            for recipe in later:
                lacking = [part.food for part in recipe.ingredients if _row(part, foods, {**rows, **found}) is None]
                wrong.append(f"recipe {recipe.name}: no row for {', '.join(lacking)}")
            break
        waiting = later
    return found, wrong


def _ingredient(text: str) -> Ingredient:
    name, _, grams = text.rpartition("=")
    food, _, state = name.partition(":")
    return Ingredient(food, state, float(grams))


def _row(part: Ingredient, foods: Mapping[str, Sequence[Line]], rows: Mapping[str, Published]) -> Published | None:
    for line in foods.get(part.food, ()):
        if part.state in ("", line.cells["state"]):
            return rows.get(line.cells["source"])
    return None


def _dish(recipe: Recipe, parts: Sequence[Published]) -> Published:
    grams = [ingredient.grams for ingredient in recipe.ingredients]
    weight = sum(grams) * recipe.yield_share
    cells = {"description": recipe.name}
    for name in _SUMMED:
        values = [part.cells.get(name, "") for part in parts]
        known = all(values)
        total = sum(float(value) * one / 100 for value, one in zip(values, grams, strict=True)) if known else 0.0
        cells[name] = f"{round(100 * total / weight, 2):g}" if known else ""
    return Published(cells, table="recipe")
