"""Dishes computed from their ingredients."""

from pathlib import Path

import pytest

from domain.reference import load
from domain.reference.checking import Line
from domain.reference.published import Published
from domain.reference.recipes import Ingredient, Recipe, compute, read_recipes

FOODS = {
    "rice": [Line("grains", {"food": "rice", "state": "raw", "source": "1"})],
    "oil": [Line("fats", {"food": "oil", "state": "as_sold", "source": "2"})],
    "egg": [
        Line("dairy", {"food": "egg", "state": "raw", "source": "3"}),
        Line("dairy", {"food": "egg", "state": "cooked", "source": "4"}),
    ],
    "fried rice": [Line("meals", {"food": "fried rice", "state": "as_sold", "source": "recipe fried rice"})],
}
ROWS = {
    "1": Published({"energy_kcal": "360", "protein_g": "7", "fibre_g": "1.5"}, table="SR28"),
    "2": Published({"energy_kcal": "900", "protein_g": "0", "fibre_g": ""}, table="SR28"),
    "3": Published({"energy_kcal": "143", "protein_g": "12", "fibre_g": "0"}, table="SR28"),
    "4": Published({"energy_kcal": "155", "protein_g": "13", "fibre_g": "0"}, table="SR28"),
}
FRIED_RICE = Recipe("fried rice", (Ingredient("rice", "", 100), Ingredient("egg", "cooked", 50)), 2.0)


def test_the_sum_of_the_ingredients_over_the_cooked_weight() -> None:
    found, wrong = compute([FRIED_RICE], FOODS, ROWS)
    assert wrong == []
    # (360 + 155 / 2) kcal in 150 g × 2.
    assert float(found["recipe fried rice"].cells["energy_kcal"]) == pytest.approx(437.5 / 3, abs=0.01)
    assert found["recipe fried rice"].table == "recipe"


def test_a_figure_that_one_ingredient_lacks_is_not_known() -> None:
    found, _ = compute([Recipe("rice in oil", (Ingredient("rice", "", 90), Ingredient("oil", "", 10)), 1)], FOODS, ROWS)
    cells = found["recipe rice in oil"].cells
    assert float(cells["energy_kcal"]) == pytest.approx(414)
    assert cells["fibre_g"] == ""


def test_a_dish_may_be_an_ingredient_whichever_stands_first() -> None:
    plate = Recipe("plate", (Ingredient("fried rice", "", 50), Ingredient("oil", "", 50)), 1)
    found, wrong = compute([plate, FRIED_RICE], FOODS, ROWS)
    assert wrong == []
    # Of fried rice to two figures, as the table holds it.
    assert float(found["recipe plate"].cells["energy_kcal"]) == pytest.approx((145.83 + 900) / 2, abs=0.01)


def test_it_names_what_is_lacking() -> None:
    found, wrong = compute([Recipe("stew", (Ingredient("mammoth", "", 100),), 1)], FOODS, ROWS)
    assert found == {}
    assert wrong == ["recipe stew: no row for mammoth"]


def test_a_state_that_no_row_has_is_lacking() -> None:
    _, wrong = compute([Recipe("paella", (Ingredient("rice", "cooked", 100),), 1)], FOODS, ROWS)
    assert wrong == ["recipe paella: no row for rice"]


def test_reading(tmp_path: Path) -> None:
    path = tmp_path / "recipes.csv"
    path.write_text("recipe,yield_pct,ingredients\nfried rice,200,rice=100;egg:cooked=50\n", encoding="utf-8")
    assert list(read_recipes(path)) == [FRIED_RICE]


class TestTheRecipesOfTheTable:
    RECIPES = tuple(read_recipes())

    def test_each_is_a_dish_of_the_table(self) -> None:
        rows = [row for food in load().foods.values() for row in food.rows if row.source.startswith("recipe ")]
        assert {f"recipe {recipe.name}" for recipe in self.RECIPES} == {row.source for row in rows}
        # Poha is a dish when cooked; dry, its usual row, it is flattened rice.
        assert {row.food for row in rows if not load().foods[row.food].dish} == {"poha"}

    def test_nothing_is_made_of_water_alone_and_no_yield_is_absurd(self) -> None:
        # What is fried or roasted loses up to half; what is boiled dry takes up to three times its weight.
        assert [recipe.name for recipe in self.RECIPES if not 0.4 <= recipe.yield_share <= 3.2] == []
        assert [recipe.name for recipe in self.RECIPES if len(recipe.ingredients) < 2] == []
