"""Densities that come out of the table's cups and spoons against the FAO/INFOODS Density Database, version 2.0 (2012).

The FAO values were read from a copy of that database (github.com/xkstein/FoodConversion, density_database.js), not from
its own sheet.
"""

import pytest

from domain.quantities import Region
from domain.reference import load

FOODS = load().foods

FAO_G_PER_ML = {
    "water": 0.998,
    "whole milk": 1.03,
    "2% milk": 1.034,
    "skim milk": 1.033,
    "buttermilk": 1.022,
    "evaporated milk": 1.07,
    "heavy cream": 0.984,
    "light cream": 1.012,
    "sour cream": 1.005,
    "plain yogurt": 1.031,
    "orange juice": 1.038,
    "apple juice": 1.04,
    "grape juice": 1.06,
    "cranberry juice cocktail": 1.05,
    "cola": 1.04,
    "tonic water": 1.02,
    "beer": 1.01,
    "light beer": 1.0,
    "red wine": 0.99,
    "white wine": 0.99,
    "spirits 40%": 0.939,
    "coffee": 1.0,
    "black tea": 1.0,
    "maple syrup": 1.32,
    "light corn syrup": 1.4,
    "olive oil": 0.918,
    "corn oil": 0.922,
    "peanut oil": 0.914,
    "coconut oil": 0.924,
    "vegetable oil": 0.927,
    "palm oil": 0.915,
    "mayonnaise": 0.91,
    "vanilla ice cream": 0.56,
    "jam": 1.333,
}

FAO_LOOKS_WRONG = {
    "soy milk": (1.08, "denser than any other milk, the sweetened ones included"),
    "sunflower oil": (0.96, "4 % above every other oil"),
    "butter": (0.911, "that of butter fat: butter is a sixth water"),
    "soy sauce": (1.12, "4 % above the published spoon"),
}


def density(name: str) -> float:
    food = FOODS[name]
    value = food.grams_per_ml(food.rows[0])
    assert value is not None
    return value


@pytest.mark.parametrize("name", tuple(FAO_G_PER_ML))
def test_the_tables_density_is_the_published_one(name: str) -> None:
    assert density(name) == pytest.approx(FAO_G_PER_ML[name], rel=0.035)


@pytest.mark.parametrize("name", tuple(FAO_LOOKS_WRONG))
def test_where_the_two_sources_differ_by_more(name: str) -> None:
    assert density(name) != pytest.approx(FAO_LOOKS_WRONG[name][0], rel=0.035)


def test_twelve_fluid_ounces_of_orange_juice() -> None:
    # SR28 09206: 31.0 g a US fluid ounce.
    juice = FOODS["orange juice"]
    weight = juice.measure_g(juice.rows[0], "floz", Region.US)
    assert weight is not None
    assert 12 * weight == pytest.approx(372.0)
