"""Labels. The published rounding rules and worked labels are in tests/published/test_labels.py."""

import re
from dataclasses import astuple, replace
from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from domain.errors import DomainError
from domain.labels import Label, LabelRules, doubt, rules_for
from domain.quantities import Region

OATS = Label("rolled oats", 40, kcal=150, protein_g=5, fat_g=3, carbohydrate_g=27, fibre_g=4)
CHEESE = Label("cheese", 100, kcal=416, protein_g=25.4, fat_g=34.9, carbohydrate_g=0.1, fibre_g=0)
WHEY = Label("whey", 62, kcal=240, protein_g=48, fat_g=3, carbohydrate_g=6, measure="scoop", measure_count=2)


def suspect_in(label: Label, rules: LabelRules = LabelRules.US) -> str | None:
    found = doubt(label, rules)
    return None if found is None else found.suspect


def test_labels_follow_the_rules_of_where_people_shop() -> None:
    assert rules_for(Region.US) is LabelRules.US
    assert rules_for(Region.UK) is LabelRules.EU
    assert rules_for(Region.METRIC) is LabelRules.EU


def test_a_serving_is_counted_up_to_100_g() -> None:
    per_100g = OATS.per_100g()
    assert (per_100g.kcal, per_100g.protein_g, per_100g.carbohydrate_g, per_100g.fibre_g) == (375, 12.5, 67.5, 10)


@given(grams=st.floats(1, 900))
def test_another_serving_has_the_same_figures_per_100_g(grams: float) -> None:
    label = Label("oats", 100, 370, 13, 7, 60, salt_g=0.1)
    other = label.for_serving(grams)
    assert other.serving_g == pytest.approx(grams)
    assert other.fibre_g is None
    for one, same in zip(astuple(other.per_100g()), astuple(label.per_100g()), strict=True):
        assert same is None or isclose(one, same, rel_tol=1e-9)


def test_what_a_label_does_not_print_is_unknown() -> None:
    assert WHEY.per_100g().fibre_g is None


def test_a_serving_of_no_weight_has_no_figures_per_100_g() -> None:
    with pytest.raises(DomainError):
        replace(OATS, serving_g=0).per_100g()


def test_a_serving_of_two_scoops_says_what_one_weighs() -> None:
    assert WHEY.measure_g == 31
    assert OATS.measure_g is None


@pytest.mark.parametrize(("label", "rules"), ((OATS, LabelRules.US), (CHEESE, LabelRules.EU), (WHEY, LabelRules.US)))
def test_labels_that_add_up_raise_no_doubt(label: Label, rules: LabelRules) -> None:
    assert doubt(label, rules) is None


@pytest.mark.parametrize(
    ("slip", "suspect"),
    (
        ({"kcal": 250}, "energy"),
        ({"kcal": 510}, "energy"),
        ({"kcal": 1500}, "energy"),
        ({"kcal": 630}, "energy"),
        ({"fat_g": 30}, "fat"),
        ({"fat_g": 0.3}, "fat"),
        ({"carbohydrate_g": 72}, "carbohydrate"),
        ({"carbohydrate_g": 2.7}, "carbohydrate"),
        ({"protein_g": 50}, "protein"),
    ),
)
def test_the_figure_that_a_slip_of_the_hand_explains_is_the_suspect(slip: dict[str, float], suspect: str) -> None:
    assert suspect_in(replace(OATS, **slip)) == suspect  # type: ignore[arg-type]


def test_energy_in_kilojoules_is_recognised() -> None:
    found = doubt(replace(CHEESE, kcal=1741), LabelRules.EU)
    assert found is not None
    assert found.suspect == "energy"
    assert "kJ" in found.sentence


def test_a_doubt_names_the_energies_that_would_fit() -> None:
    found = doubt(replace(OATS, kcal=250), LabelRules.US)
    assert found is not None
    assert re.search(r"131 to 161 kcal, not to 250", found.sentence)
    for kcal in range(round(found.energy_low), round(found.energy_high), 5):
        assert doubt(replace(OATS, kcal=kcal), LabelRules.US) is None


@pytest.mark.parametrize("field", ("kcal", "protein_g", "fat_g", "carbohydrate_g", "fibre_g"))
def test_no_figure_is_less_than_zero(field: str) -> None:
    assert doubt(replace(OATS, **{field: -1}), LabelRules.US) is not None  # type: ignore[arg-type]


def test_a_serving_of_no_weight_is_doubted() -> None:
    assert suspect_in(replace(OATS, serving_g=0)) == "serving"


def test_the_parts_cannot_weigh_more_than_the_serving() -> None:
    heavy = Label("bar", 30, kcal=210, protein_g=10, fat_g=10, carbohydrate_g=20)
    found = doubt(heavy, LabelRules.US)
    assert found is not None
    assert "weigh more than the serving of 30 g" in found.sentence


def test_rounding_may_lift_the_parts_a_little_over_the_serving() -> None:
    assert doubt(Label("sugar", 4, kcal=15, protein_g=0, fat_g=0, carbohydrate_g=4), LabelRules.US) is None
    assert doubt(Label("oil", 14, kcal=130, protein_g=0, fat_g=14, carbohydrate_g=0), LabelRules.US) is None


def test_nothing_holds_more_energy_than_fat() -> None:
    assert suspect_in(Label("oil", 100, kcal=1000, protein_g=0, fat_g=100, carbohydrate_g=0), LabelRules.EU) == "energy"


def test_fibre_counts_beside_the_carbohydrate_in_the_eu_and_within_it_in_the_us() -> None:
    bran = Label("bran", 100, kcal=290, protein_g=16, fat_g=4, carbohydrate_g=26, fibre_g=43)
    assert doubt(bran, LabelRules.EU) is None
    assert suspect_in(bran, LabelRules.US) is not None


def test_alcohol_counts_seven() -> None:
    beer = Label("beer", 330, kcal=142, protein_g=1.6, fat_g=0, carbohydrate_g=10.6)
    assert doubt(beer, LabelRules.EU) is not None
    assert doubt(replace(beer, alcohol_g=13), LabelRules.EU) is None


def test_polyols_count_anything_from_nothing_to_four() -> None:
    sweet = Label("mints", 10, kcal=24, protein_g=0, fat_g=0, carbohydrate_g=9.8, fibre_g=0)
    assert doubt(sweet, LabelRules.EU) is not None
    assert doubt(replace(sweet, polyols_g=9.8), LabelRules.EU) is None
    assert doubt(replace(sweet, polyols_g=9.8, kcal=0), LabelRules.EU) is None


def test_fibre_that_is_not_printed_may_still_be_there() -> None:
    rye = Label("rye bread", 100, kcal=225, protein_g=6, fat_g=1.2, carbohydrate_g=44)
    assert doubt(rye, LabelRules.EU) is None
    assert doubt(replace(rye, fibre_g=0), LabelRules.EU) is not None


@given(
    serving_g=st.integers(min_value=20, max_value=200),
    parts=st.tuples(*[st.floats(min_value=0, max_value=0.3)] * 3),
    rules=st.sampled_from(LabelRules),
)
def test_a_label_typed_with_all_its_digits_is_never_doubted(
    serving_g: int, parts: tuple[float, float, float], rules: LabelRules
) -> None:
    protein, fat, carbohydrate = (round(part * serving_g, 2) for part in parts)
    kcal = round(4 * protein + 9 * fat + 4 * carbohydrate, 2)
    honest = Label("anything", serving_g, kcal, protein, fat, carbohydrate, fibre_g=0)
    assert doubt(honest, rules) is None


@given(st.floats(min_value=1, max_value=500), st.floats(min_value=0, max_value=900))
def test_per_100_g_and_back_is_the_serving_again(serving_g: float, kcal: float) -> None:
    label = Label("anything", serving_g, kcal, protein_g=0, fat_g=0, carbohydrate_g=0)
    assert isclose(label.per_100g().for_grams(serving_g).kcal, kcal, rel_tol=1e-12, abs_tol=1e-12)
