"""Masses stand as they are told; volumes and pieces count only with a source, and say that they were not weighed."""

import pytest

from domain.quantities import UNITS, Region, UnitKind, grams, millilitres

from .conftest import Hear

# NIST Handbook 44, appendix C: exact
OUNCE_G = 28.349523125
POUND_G = 453.59237
US_CUP_ML, US_FL_OZ_ML, US_PINT_ML = 236.5882365, 29.5735295625, 473.176473
UK_PINT_ML, UK_FL_OZ_ML = 568.26125, 28.4130625
# USDA SR28, household weights by NDB number: 01077 whole milk, 04053 olive oil, 19296 honey, 20045 cooked rice
MILK_CUP_G, OIL_TBSP_G, OIL_TSP_G, HONEY_TBSP_G, RICE_CUP_G = 244, 13.5, 4.5, 21, 158
DENSITY_OFF = 0.04  # published densities of one food differ by that much


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        *((f"200 {unit} cheddar", 200) for unit in ("g", "gr", "gm", "gms", "gram", "grams", "grammes", "G")),
        *((f"2 {unit} cooked rice", 2000) for unit in ("kg", "KG", "kgs", "kilo", "kilos", "kilogram", "kilograms")),
        *((f"5000 {unit} cheddar", 5) for unit in ("mg", "milligrams")),
        *((f"3 {unit} cheddar", 3 * OUNCE_G) for unit in ("oz", "oz.", "ounce", "ounces", "OZ")),
        *((f"2 {unit} potatoes raw", 2 * POUND_G) for unit in ("lb", "lbs", "pounds", "LB")),
        ("1 lb 4 oz raw potatoes", POUND_G + 4 * OUNCE_G),
        ("1lb 4oz raw potatoes", POUND_G + 4 * OUNCE_G),
        ("1 lb and 4 oz raw potatoes", POUND_G + 4 * OUNCE_G),
        ("half a pound of raw potatoes", POUND_G / 2),
        ("1/4 lb cheddar", POUND_G / 4),
        ("200gr cheddar", 200),
        ("3oz cheddar", 3 * OUNCE_G),
    ),
)
def test_a_mass_is_recorded_as_it_stands(heard: Hear, said: str, grams: float) -> None:
    recorded = heard(said).recorded()
    assert recorded["as_weighed_g"] == pytest.approx(grams, abs=0.006)
    assert recorded["evidence"] == "weighed"


@pytest.mark.parametrize(("symbol", "name"), [(unit.symbol, name) for unit in UNITS.values() for name in unit.names])
def test_every_name_in_the_table_of_units_is_understood(heard: Hear, symbol: str, name: str) -> None:
    """A mass is recorded as it stands; a volume of milk in the ratio of its factor to that of a cup."""
    mass = UNITS[symbol].kind is UnitKind.MASS
    one = grams(1, symbol) if mass else MILK_CUP_G * millilitres(1, symbol, Region.US) / US_CUP_ML
    amount = next(10.0**n for n in range(-2, 7) if 10.0**n * one >= 10)  # of an edible size
    food = "cheddar" if mass else "whole milk"
    recorded = heard(f"{amount:g} {name} {food}").recorded()
    assert recorded["as_weighed_g"] == pytest.approx(amount * one, abs=0.006 if mass else DENSITY_OFF * amount * one)


@pytest.mark.parametrize(
    ("said", "region", "grams"),
    (
        ("1 cup whole milk", "US", MILK_CUP_G),
        ("1 cup whole milk", "metric", MILK_CUP_G * 250 / US_CUP_ML),
        ("100 ml whole milk", "US", MILK_CUP_G * 100 / US_CUP_ML),
        ("10 cl whole milk", "metric", MILK_CUP_G * 100 / US_CUP_ML),
        ("1 dl whole milk", "metric", MILK_CUP_G * 100 / US_CUP_ML),
        ("0.5 l whole milk", "metric", MILK_CUP_G * 500 / US_CUP_ML),
        ("1 pint whole milk", "US", MILK_CUP_G * US_PINT_ML / US_CUP_ML),
        ("1 pint whole milk", "UK", MILK_CUP_G * UK_PINT_ML / US_CUP_ML),
        ("8 fl oz whole milk", "US", MILK_CUP_G * 8 * US_FL_OZ_ML / US_CUP_ML),
        ("8 fl oz whole milk", "UK", MILK_CUP_G * 8 * UK_FL_OZ_ML / US_CUP_ML),
        ("8 floz whole milk", "US", MILK_CUP_G * 8 * US_FL_OZ_ML / US_CUP_ML),
        ("8 fluid ounces of whole milk", "US", MILK_CUP_G * 8 * US_FL_OZ_ML / US_CUP_ML),
        ("1 cup cooked rice", "US", RICE_CUP_G),
        ("half a cup of cooked rice", "US", RICE_CUP_G / 2),
        ("1 1/2 cups cooked rice", "US", RICE_CUP_G * 1.5),
        ("2 tbsp olive oil", "US", 2 * OIL_TBSP_G),
        ("2 tablespoons of olive oil", "US", 2 * OIL_TBSP_G),
        ("1 tbs olive oil", "US", OIL_TBSP_G),
        ("1 Tbsp olive oil", "US", OIL_TBSP_G),
        ("1 T olive oil", "US", OIL_TBSP_G),
        ("1 t olive oil", "US", OIL_TSP_G),
        ("1 tsp olive oil", "US", OIL_TSP_G),
        ("3 teaspoons olive oil", "US", 3 * OIL_TSP_G),
        ("1 tbsp honey", "US", HONEY_TBSP_G),
    ),
)
def test_a_volume_takes_the_tables_density_and_says_it_was_not_weighed(
    heard: Hear, said: str, region: str, grams: float
) -> None:
    answer = heard(said, region=region)
    recorded = answer.recorded()
    assert recorded["as_weighed_g"] == pytest.approx(grams, rel=DENSITY_OFF)
    assert recorded["evidence"] == "density"
    assert "not weighed" in answer.text


@pytest.mark.parametrize(
    ("one", "other", "region", "ratio"),
    (
        ("1 tbsp olive oil", "1 tsp olive oil", "US", 3),
        ("1 tbsp olive oil", "1 tsp olive oil", "metric", 3),
        ("1 pint whole milk", "1 cup whole milk", "US", 2),
        ("1 l whole milk", "1 pint whole milk", "UK", 1000 / UK_PINT_ML),
    ),
)
def test_measures_of_one_region_agree_with_each_other(
    heard: Hear, one: str, other: str, region: str, ratio: float
) -> None:
    first, second = (heard(said, region=region).recorded()["as_weighed_g"] for said in (one, other))
    assert first / second == pytest.approx(ratio, rel=DENSITY_OFF)


@pytest.mark.parametrize(
    "said",
    (
        "a glass of whole milk",
        "1 mug of milk",
        "a bowl of cooked rice",
        "a plate of cooked pasta",
        "a handful of almonds",
        "1 spoon of honey",
        "2 spoonfuls of honey",
        "1 scoop of whey",
        "1 ladle of cooked lentils",
    ),
)
def test_a_vessel_without_a_size_has_no_volume_so_the_weight_is_asked_for(heard: Hear, said: str) -> None:
    heard(said).asked("how many grams")


@pytest.mark.parametrize(
    "drink",
    (
        "milk",
        "oat milk",
        "unsweetened almond milk",
        "orange juice",
        "olive oil",
        "chicken broth",
        "tomato soup",
        "white vinegar",
        "soy sauce",
        "cola",
        "beer",
        "red wine",
        "coffee",
        "water",
    ),
)
def test_ounces_of_what_pours_ask_weight_or_volume(heard: Hear, drink: str) -> None:
    asked = heard(f"12 oz {drink}")
    asked.asked()
    assert any("fl oz" in choice or "volume" in choice for choice in asked.choices) or "which" in asked.text.lower()


@pytest.mark.parametrize(
    "food", ("plain yogurt", "honey", "cream cheese", "vanilla ice cream", "cheddar", "peanut butter")
)
def test_ounces_of_what_is_spooned_or_cut_are_a_mass(heard: Hear, food: str) -> None:
    recorded = heard(f"6 oz {food}").recorded()
    assert recorded["as_weighed_g"] == pytest.approx(6 * OUNCE_G, abs=0.006)
    assert recorded["evidence"] == "weighed"


@pytest.mark.parametrize(
    ("answer", "grams", "evidence"),
    (
        ("by weight", 12 * OUNCE_G, "weighed"),
        ("1", 12 * OUNCE_G, "weighed"),
        ("volume", MILK_CUP_G * 12 * US_FL_OZ_ML / US_CUP_ML, "density"),
    ),
)
def test_the_answer_to_weight_or_volume_counts(heard: Hear, answer: str, grams: float, evidence: str) -> None:
    recorded = heard("12 oz whole milk", answer).recorded()
    assert recorded["as_weighed_g"] == pytest.approx(grams, rel=DENSITY_OFF if evidence == "density" else 1e-4)
    assert recorded["evidence"] == evidence


def test_fluid_ounces_are_always_a_volume_and_are_never_asked_about(heard: Hear) -> None:
    assert heard("12 fl oz orange juice").recorded()["evidence"] == "density"


def test_the_labels_measure_counts_with_the_labels_grams_in_every_region(heard: Hear) -> None:
    label = "label oat drink: serving 1 cup (240 g), 120 kcal, protein 3, fat 5, carbs 16"
    for region in ("US", "UK", "metric"):
        recorded = heard(label, "1 cup oat drink", region=region).recorded()
        assert (recorded["as_weighed_g"], recorded["evidence"]) == (240, "label_measure")


def test_ones_own_measure_comes_before_the_tables_density(heard: Hear) -> None:
    recorded = heard("my tablespoon of honey is 25 g", "2 tbsp honey").recorded()
    assert (recorded["as_weighed_g"], recorded["evidence"]) == (50, "own_measure")


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("2 scoops whey 62 g", 62),
        ("1 banana 118g", 118),
        ("a glass of whole milk, 210 g", 210),
        ("1 cup cooked rice 171 g", 171),
    ),
)
def test_a_mass_beside_another_measure_wins(heard: Hear, said: str, grams: float) -> None:
    recorded = heard(said).recorded()
    assert (recorded["as_weighed_g"], recorded["evidence"]) == (grams, "weighed")


@pytest.mark.parametrize(
    ("said", "grams"),
    (("200 g cooked rice 201 g", 200), ("cheddar 100 g (3.5 oz)", 100), ("7 oz (198 g) cheddar", 7 * OUNCE_G)),
)
def test_two_masses_that_agree_are_the_first(heard: Hear, said: str, grams: float) -> None:
    assert heard(said).recorded()["as_weighed_g"] == pytest.approx(grams, abs=0.006)


@pytest.mark.parametrize("said", ("cheddar 100 g (5 oz)", "200 g cooked rice 250 g"))
def test_two_masses_that_disagree_are_asked_about(heard: Hear, said: str) -> None:
    heard(said).asked()
