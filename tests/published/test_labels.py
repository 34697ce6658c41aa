"""Labels against the rounding rules and energy factors they are printed by.

US: 21 CFR 101.9(c) as tabled in FDA's Food Labeling Guide, appendix H (read); fibre at 0 to 4 kcal/g, 101.9(c)(1)(i)
(memory). EU: Regulation (EU) 1169/2011, annex XIV (read), and the rounding table of the Commission's guidance on
tolerances, December 2012 (read). The rules are written out here a second time, forwards, as a maker applies them; the
program works backwards from what is printed.
"""

from dataclasses import replace
from math import floor, isclose

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from domain import nutrients
from domain.labels import Label, LabelRules, doubt


def nearest(value: float, step: float) -> float:
    return round(floor(value / step + 0.5) * step, 6)


def us_energy(kcal: float) -> float:
    if kcal < 5:
        return 0
    return nearest(kcal, 5) if kcal <= 50 else nearest(kcal, 10)


def us_fat(grams: float) -> float:
    if grams < 0.5:
        return 0
    return nearest(grams, 0.5) if grams < 5 else nearest(grams, 1)


def us_grams(grams: float) -> float:
    return 0 if grams < 0.5 else nearest(grams, 1)


def eu_grams(grams: float) -> float:
    if grams <= 0.5:
        return 0
    return nearest(grams, 0.1) if grams < 10 else nearest(grams, 1)


@pytest.mark.parametrize(
    ("factor", "published"),
    (
        (nutrients.PROTEIN_KCAL_PER_G, 4),
        (nutrients.FAT_KCAL_PER_G, 9),
        (nutrients.CARBOHYDRATE_KCAL_PER_G, 4),
        (nutrients.ALCOHOL_KCAL_PER_G, 7),
        (nutrients.FIBRE_KCAL_PER_G, 2),
        (nutrients.POLYOLS_KCAL_PER_G, 2.4),
    ),
)
def test_energy_factors_are_those_of_the_regulation(factor: float, published: float) -> None:
    assert factor == published, "Regulation (EU) 1169/2011, annex XIV (read)"


per_serving = st.floats(min_value=0, max_value=30)


@given(per_serving, per_serving, per_serving, st.floats(0, 1), st.floats(0, 4))
@example(2.2, 6.47, 1.49, 0, 4)
@example(0.5, 0.5, 0.5, 1, 0)
def test_no_label_that_is_printed_by_the_us_rules_is_doubted(
    fat: float, carbohydrate: float, protein: float, fibrous: float, fibre_factor: float
) -> None:
    fibre = fibrous * carbohydrate
    counted = fibre_factor if us_grams(fibre) else 4
    kcal = 9 * fat + 4 * (carbohydrate - fibre) + 4 * protein + counted * fibre
    printed = Label(
        "anything", 100, us_energy(kcal), us_grams(protein), us_fat(fat), us_grams(carbohydrate), us_grams(fibre)
    )
    assert doubt(printed, LabelRules.US) is None


@given(per_serving, per_serving, per_serving, st.floats(0, 10))
@example(0.5, 0.5, 0.5, 0.5)
def test_no_label_that_is_printed_by_the_eu_rules_is_doubted(
    fat: float, carbohydrate: float, protein: float, fibre: float
) -> None:
    kcal = 9 * fat + 4 * carbohydrate + 4 * protein + 2 * fibre
    printed = Label(
        "anything", 100, nearest(kcal, 1), eu_grams(protein), eu_grams(fat), eu_grams(carbohydrate), eu_grams(fibre)
    )
    assert doubt(printed, LabelRules.EU) is None


def reach_of(rules: LabelRules, **printed: float) -> tuple[float, float]:
    """The energies that a label can come to: told with the doubt about one that prints far too much."""
    figures = {"fat_g": 0.0, "carbohydrate_g": 0.0, "protein_g": 0.0, "fibre_g": 0.0} | printed
    found = doubt(Label("anything", 100, 899, **figures), rules)  # type: ignore[arg-type]
    assert found is not None
    return found.energy_low, found.energy_high


@pytest.mark.parametrize(
    ("printed", "least", "most"),
    ((0, 0, 0.5), (0.5, 0.5, 0.75), (3, 2.75, 3.25), (4.5, 4.25, 4.75), (5, 4.75, 5.5), (16, 15.5, 16.5)),
)
def test_what_a_printed_us_fat_can_be(printed: float, least: float, most: float) -> None:
    """FDA Food Labeling Guide, appendix H (read): below 0.5 is 0, below 5 the nearest 0.5, from 5 the nearest 1."""
    unprinted_protein_and_carbohydrate = 4 * 0.5 + 4 * 0.5
    low, high = reach_of(LabelRules.US, fat_g=printed)
    assert isclose(low, 9 * least, abs_tol=1e-9)
    assert isclose(high - unprinted_protein_and_carbohydrate, 9 * most)


@pytest.mark.parametrize(("printed", "least", "most"), ((0, 0, 0.5), (1, 0.5, 1.5), (27, 26.5, 27.5)))
@pytest.mark.parametrize("figure", ("carbohydrate_g", "protein_g"))
def test_what_a_printed_us_carbohydrate_or_protein_can_be(
    figure: str, printed: float, least: float, most: float
) -> None:
    """FDA Food Labeling Guide, appendix H (read): below 0.5 is 0, then the nearest 1."""
    unprinted_fat_and_the_other = 9 * 0.5 + 4 * 0.5
    low, high = reach_of(LabelRules.US, **{figure: printed})
    assert isclose(low, 4 * least, abs_tol=1e-9)
    assert isclose(high - unprinted_fat_and_the_other, 4 * most)


@pytest.mark.parametrize(
    ("printed", "least", "most"), ((0, 0, 0.5), (7, 6.95, 7.05), (9.9, 9.85, 9.95), (60, 59.5, 60.5))
)
def test_what_a_printed_eu_carbohydrate_can_be(printed: float, least: float, most: float) -> None:
    """Commission guidance, December 2012 (read): to 0.5 g is 0, below 10 g the nearest 0.1, from 10 g the nearest 1."""
    unprinted_fat_protein_and_fibre = 9 * 0.5 + 4 * 0.5 + 2 * 0.5
    low, high = reach_of(LabelRules.EU, carbohydrate_g=printed)
    assert isclose(low, 4 * least, abs_tol=1e-9)
    assert isclose(high - unprinted_fat_protein_and_fibre, 4 * most)


US_A = Label("oats", 40, 150, protein_g=5, fat_g=3, carbohydrate_g=27, fibre_g=4)
US_B = Label("peanut butter", 32, 190, protein_g=7, fat_g=16, carbohydrate_g=7, fibre_g=2)
US_C = Label("cracker", 28, 110, protein_g=1, fat_g=0.5, carbohydrate_g=24, fibre_g=0)
EU_D = Label("muesli", 100, 366, protein_g=11, fat_g=7.0, carbohydrate_g=60, fibre_g=9.0)


@pytest.mark.parametrize(
    ("label", "rules", "low", "high"),
    (
        # By hand, US A: 9 x 2.75 + 4 x 26.5 + 4 x 4.5 - 4 x 4.5 (fibre at 0) and 9 x 3.25 + 4 x 27.5 + 4 x 5.5.
        (US_A, LabelRules.US, 130.75, 161.25),
        (US_B, LabelRules.US, 181.50, 208.50),
        (US_C, LabelRules.US, 100.50, 110.75),
        (EU_D, LabelRules.EU, 360.45, 369.55),
    ),
)
def test_the_energy_that_worked_labels_can_come_to(label: Label, rules: LabelRules, low: float, high: float) -> None:
    found = doubt(replace(label, kcal=5 * label.serving_g + 300), rules)
    assert found is not None
    assert isclose(found.energy_low, low)
    assert isclose(found.energy_high, high)


@pytest.mark.parametrize(
    ("label", "rules", "step", "fitting"),
    (
        (US_A, LabelRules.US, 10, {130, 140, 150, 160}),
        (US_B, LabelRules.US, 10, {180, 190, 200, 210}),
        (US_C, LabelRules.US, 10, {100, 110}),
        (EU_D, LabelRules.EU, 1, set(range(360, 371))),
    ),
)
def test_the_printed_energies_that_fit_worked_labels(
    label: Label, rules: LabelRules, step: int, fitting: set[int]
) -> None:
    most = round(9 * label.serving_g)
    assert {kcal for kcal in range(60, most, step) if doubt(replace(label, kcal=kcal), rules) is None} == fitting


def test_one_digit_mistyped_cannot_be_reached() -> None:
    found = doubt(replace(US_A, kcal=250), LabelRules.US)
    assert found is not None
    assert found.suspect == "energy"


def test_a_legal_label_that_does_not_add_up_is_believed() -> None:
    """Exact 51.64 kcal, 2.2 g fat, 6.47 g carbohydrate, 1.49 g protein print 50, 2, 6, 1: 46 (read at otmenu.com)."""
    assert (us_energy(51.64), us_fat(2.2), us_grams(6.47), us_grams(1.49)) == (50, 2, 6, 1)
    assert doubt(Label("sauce", 30, 50, protein_g=1, fat_g=2, carbohydrate_g=6), LabelRules.US) is None
