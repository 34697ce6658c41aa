"""Nutrient vectors: scaling, pouring fat off, and sums that say what they do not know."""

from math import isclose

from hypothesis import given
from hypothesis import strategies as st

from domain.nutrients import OPTIONAL_FIELDS, Nutrients, Traces, total

EGG = Nutrients(kcal=143, protein_g=12.56, fat_g=9.51, carbohydrate_g=0.72, fibre_g=0, saturated_fat_g=3.126)
LABELLED = Nutrients(kcal=100, protein_g=5, fat_g=2, carbohydrate_g=15)

grams = st.floats(min_value=0, max_value=2000)
maybe_grams = st.none() | grams
vectors = st.builds(
    Nutrients,
    kcal=st.floats(min_value=0, max_value=9000),
    protein_g=grams,
    fat_g=grams,
    carbohydrate_g=grams,
    fibre_g=maybe_grams,
    sugars_g=maybe_grams,
    saturated_fat_g=maybe_grams,
    sodium_mg=maybe_grams,
    alcohol_g=maybe_grams,
)


def test_figures_per_100_g_are_scaled_to_the_grams_eaten() -> None:
    fifty = EGG.for_grams(50)
    assert isclose(fifty.kcal, 71.5)
    assert isclose(fifty.protein_g, 6.28)
    assert fifty.saturated_fat_g is not None
    assert isclose(fifty.saturated_fat_g, 1.563)


def test_what_is_unknown_stays_unknown_however_it_is_scaled() -> None:
    assert LABELLED.for_grams(250).fibre_g is None
    assert LABELLED.times(0).sodium_mg is None


def test_traces_are_scaled_too_and_the_unknown_ones_stay_unknown() -> None:
    held = Traces(potassium_mg=138, cholesterol_mg=372).for_grams(50)
    assert held == Traces(potassium_mg=69, cholesterol_mg=186)
    assert held.iron_mg is None


@given(vectors, st.floats(min_value=0, max_value=100))
def test_scaling_changes_every_known_field_alike(vector: Nutrients, factor: float) -> None:
    scaled = vector.times(factor)
    for field in ("kcal", "protein_g", "fat_g", "carbohydrate_g", *OPTIONAL_FIELDS):
        before, after = getattr(vector, field), getattr(scaled, field)
        assert (after is None) if before is None else isclose(after, before * factor, rel_tol=1e-12)


def test_fat_that_is_poured_off_takes_nine_kilocalories_a_gram_with_it() -> None:
    stays = Nutrients(kcal=1000, protein_g=80, fat_g=70, carbohydrate_g=5).without_fat(20)
    assert (stays.kcal, stays.fat_g) == (820, 50)
    assert (stays.protein_g, stays.carbohydrate_g) == (80, 5)


def test_the_fat_that_stays_is_as_saturated_as_before() -> None:
    stays = Nutrients(kcal=900, protein_g=0, fat_g=100, carbohydrate_g=0, saturated_fat_g=40).without_fat(25)
    assert stays.saturated_fat_g == 30


def test_no_more_fat_leaves_than_there_is() -> None:
    stays = Nutrients(kcal=200, protein_g=25, fat_g=10, carbohydrate_g=2).without_fat(60)
    assert (stays.kcal, stays.fat_g) == (110, 0)


@given(vectors, grams)
def test_pouring_off_never_leaves_less_than_nothing(vector: Nutrients, poured_g: float) -> None:
    stays = vector.without_fat(poured_g)
    assert 0 <= stays.kcal <= vector.kcal
    assert 0 <= stays.fat_g <= vector.fat_g
    assert stays.saturated_fat_g is None or stays.saturated_fat_g >= 0


def test_a_sum_over_an_unknown_says_at_least() -> None:
    summed = total([EGG, LABELLED, Nutrients(10, 1, 0, 1, fibre_g=2)])
    assert summed.nutrients.kcal == 253
    assert summed.nutrients.fibre_g == 2
    assert "fibre_g" in summed.incomplete


def test_what_is_known_of_every_part_is_complete() -> None:
    summed = total([Nutrients(10, 1, 0, 1, fibre_g=2), Nutrients(10, 1, 0, 1, fibre_g=0)])
    assert summed.nutrients.fibre_g == 2
    assert "fibre_g" not in summed.incomplete


def test_what_no_part_knows_is_not_zero() -> None:
    summed = total([LABELLED, LABELLED])
    assert summed.nutrients.fibre_g is None
    assert summed.incomplete == frozenset(OPTIONAL_FIELDS)


def test_nothing_sums_to_zero_and_lacks_nothing() -> None:
    summed = total([])
    assert summed.nutrients == Nutrients(0, 0, 0, 0, 0, 0, 0, 0, 0)
    assert not summed.incomplete


def test_a_certain_sum_forgets_what_it_only_half_knows() -> None:
    certain = total([EGG, LABELLED]).certain()
    assert certain.kcal == 243
    assert certain.fibre_g is None


@given(st.lists(vectors, max_size=6))
def test_a_sum_misses_exactly_the_fields_that_some_part_misses(parts: list[Nutrients]) -> None:
    summed = total(iter(parts))
    assert isclose(summed.nutrients.kcal, sum(part.kcal for part in parts), abs_tol=1e-9)
    for field in OPTIONAL_FIELDS:
        missing = any(getattr(part, field) is None for part in parts)
        assert (field in summed.incomplete) == missing
        assert (getattr(summed.certain(), field) is None) == missing
