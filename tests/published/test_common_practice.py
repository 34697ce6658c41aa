"""What people who weigh their food take for granted. Common practice: there is no source to name."""

from math import isclose

import pytest

from domain.batches import Batch, Ingredient
from domain.edible import without_waste
from domain.foods import State
from domain.labels import Label
from domain.nutrients import Nutrients
from domain.quantities import Region, grams, millilitres
from domain.reference import load


def batch_of(raw_g: float, cooked_g: float) -> Batch:
    chicken = Nutrients(kcal=120, protein_g=22.5, fat_g=2.62, carbohydrate_g=0)
    part = Ingredient("chicken breast", State.RAW, raw_g, chicken.for_grams(raw_g), "poultry", "")
    return Batch.opened(1, "chicken", (part,), cooked_g=cooked_g)


def test_800_g_raw_that_weigh_700_g_cooked_have_the_factor_8_sevenths() -> None:
    assert isclose(batch_of(800, 700).raw_factor, 1.142857142857143, rel_tol=1e-15)


def test_300_g_of_it_count_as_342_857_g_raw_for_the_factor_is_never_rounded() -> None:
    counted_g = batch_of(800, 700).share(300).basis_g
    assert isclose(counted_g, 342.857142857, abs_tol=1e-6)
    factor_rounded_first = 300 * round(800 / 700, 2)
    assert isclose(factor_rounded_first, 342)
    assert counted_g != pytest.approx(factor_rounded_first, abs=0.5)


def test_220_g_of_1250_g_raw_that_weigh_905_g_cooked_count_as_303_867_g() -> None:
    assert isclose(batch_of(1250, 905).share(220).basis_g, 303.867403, abs_tol=1e-6)


def test_an_apple_of_240_g_with_a_core_of_26_g_counts_as_214_g() -> None:
    assert without_waste(240, 26) == 214


def test_half_a_cup_of_oats_that_weighs_50_g_is_a_quarter_more_than_its_label_says() -> None:
    label = Label("oats", 40, 150, protein_g=5, fat_g=3, carbohydrate_g=27, measure="cup", measure_count=0.5)
    assert label.measure_g is not None
    labelled_g = 0.5 * label.measure_g
    assert labelled_g == 40
    per_100g = label.per_100g()
    assert isclose(per_100g.for_grams(50).kcal / per_100g.for_grams(labelled_g).kcal, 1.25)


def test_12_fluid_ounces_of_orange_juice_are_not_12_ounces() -> None:
    juice = load().foods["orange juice"]
    row = juice.row()
    assert row is not None
    a_fluid_ounce_g = juice.measure_g(row, "floz", Region.US)
    assert a_fluid_ounce_g is not None
    # SR28 09206: 31.0 g a fluid ounce. FAO/INFOODS density 1.038 g/mL (both read) comes to 368.37 g.
    assert isclose(12 * a_fluid_ounce_g, 372, abs_tol=0.01)
    assert isclose(12 * a_fluid_ounce_g, 1.038 * millilitres(12, "floz", Region.US), rel_tol=0.01)
    assert 12 * a_fluid_ounce_g > 1.09 * grams(12, "oz")
