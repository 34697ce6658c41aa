"""Bare check values of rules that the trade takes for granted, one for each rule. There is no source to name.

The factors behind them are compared with their sources in test_units.py.
"""

from math import isclose

from domain.batches import Batch, Ingredient
from domain.edible import net, without_waste
from domain.foods import State
from domain.labels import Label
from domain.nutrients import Nutrients
from domain.quantities import Region, grams, millilitres


def test_the_raw_factor_is_raw_over_cooked_and_never_rounded() -> None:
    nothing = Nutrients(kcal=0, protein_g=0, fat_g=0, carbohydrate_g=0)
    batch = Batch.opened(1, "a batch", (Ingredient("a food", State.RAW, 800, nothing, "", ""),), cooked_g=700)
    assert isclose(batch.raw_factor, 8 / 7, rel_tol=1e-15)
    assert isclose(batch.share(300).basis_g, 342.857142857, abs_tol=1e-6)
    assert isclose(300 * round(batch.raw_factor, 2), 342)  # what a factor rounded first would give


def test_waste_is_subtracted_from_the_whole() -> None:
    assert without_waste(240, 26) == 214


def test_the_tare_is_subtracted_from_the_gross() -> None:
    assert net(655, 210) == 445


def test_a_label_counts_by_weight_and_not_by_measure() -> None:
    label = Label("a food", 40, 150, protein_g=5, fat_g=3, carbohydrate_g=27, measure="cup", measure_count=0.5)
    assert label.measure_g == 80
    assert isclose(label.per_100g().for_grams(50).kcal, 1.25 * 150)


def test_a_fluid_ounce_is_no_ounce() -> None:
    assert isclose(millilitres(12, "floz", Region.US), 354.88, abs_tol=0.005)
    assert isclose(grams(12, "oz"), 340.19, abs_tol=0.005)
