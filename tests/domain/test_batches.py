"""Batches: the raw basis is exact, the shares add up to the whole, and what is left is never less than nothing."""

from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from domain.batch_steps import Added, Draw, Poured, Reduced, Taken
from domain.batches import (
    MAX_BATCH_G,
    OVER_DRAW_SLACK_G,
    Batch,
    Ingredient,
    NotCooked,
    drained_overstatement,
    yield_doubt,
)
from domain.foods import FoodRow, State
from domain.nutrients import Nutrients

BEEF_80_20 = Nutrients(kcal=254, protein_g=17.17, fat_g=20, carbohydrate_g=0, fibre_g=0)
RICE = Nutrients(kcal=365, protein_g=7.13, fat_g=0.66, carbohydrate_g=79.95, fibre_g=1.3)


def ingredient(
    food: str, raw_g: float, per_100g: Nutrients, group: str = "", *, state: State = State.RAW
) -> Ingredient:
    return Ingredient(food, state, raw_g, per_100g.for_grams(raw_g), group, "")


def beef(raw_g: float, cooked_g: float | None = None) -> Batch:
    return Batch.opened(1, "mince", (ingredient("ground beef 80/20", raw_g, BEEF_80_20, "meat"),), cooked_g)


def rice(raw_g: float, cooked_g: float | None = None) -> Batch:
    return Batch.opened(2, "rice", (ingredient("white rice", raw_g, RICE, "grains"),), cooked_g)


grams = st.floats(min_value=1, max_value=MAX_BATCH_G)
figures = st.floats(min_value=0, max_value=900)
per_100g = st.builds(
    Nutrients, figures, figures, figures, figures, fibre_g=st.none() | figures, sodium_mg=st.none() | figures
)
ingredients = st.builds(ingredient, st.sampled_from(("beans", "beef", "oil")), grams, per_100g)


def cooked(parts: list[Ingredient], cooked_g: float, fat_off_g: float, taken_g: float, reduced_g: float) -> Batch:
    """A batch in use; portions of nothing are none."""
    batch = Batch.opened(1, "chilli", parts, cooked_g)
    return batch.then(Poured(fat_off_g), Taken((1, 1), Draw(taken_g)), Reduced(Draw(reduced_g)))


cooked_batches = st.builds(
    cooked,
    st.lists(ingredients, min_size=1, max_size=6),
    cooked_g=grams,
    fat_off_g=st.floats(min_value=0, max_value=500),
    taken_g=st.floats(min_value=0, max_value=2 * MAX_BATCH_G),
    reduced_g=st.floats(min_value=0, max_value=2 * MAX_BATCH_G),
)


def with_rice(batch: Batch, raw_g: float) -> Batch:
    return batch.then(Added(9, rice(raw_g).ingredients[0]))


def undrained(batch: Batch) -> Batch:
    return Batch(1, batch.name, tuple(step for step in batch.steps if not isinstance(step, Poured)))


def taken(batch: Batch, grams: float) -> Batch:
    return batch.then(Taken((1, 1), Draw(grams)))


def test_raw_weight_is_what_went_in() -> None:
    assert with_rice(beef(800), 200).raw_g == 1000


def test_yield_is_cooked_to_raw_and_the_raw_factor_raw_to_cooked() -> None:
    batch = beef(800, 560)
    assert isclose(batch.yield_, 0.7)
    assert isclose(batch.raw_factor, 800 / 560)


@given(cooked_batches, grams)
def test_the_raw_basis_is_exact(batch: Batch, portion_g: float) -> None:
    assert batch.cooked_g is not None
    assert isclose(batch.share(portion_g).basis_g, portion_g * batch.raw_g / batch.cooked_g, rel_tol=1e-14)


@given(cooked_batches)
def test_the_whole_batch_counts_as_all_that_went_in(batch: Batch) -> None:
    assert batch.cooked_g is not None
    whole = undrained(batch).share(batch.cooked_g)
    assert isclose(whole.basis_g, batch.raw_g, rel_tol=1e-12)
    energy = sum(part.nutrients.kcal for part in batch.ingredients if part.nutrients is not None)
    assert isclose(whole.nutrients.kcal, energy, rel_tol=1e-12, abs_tol=1e-9)


@given(cooked_batches, st.lists(st.integers(min_value=1, max_value=100), min_size=1, max_size=12))
def test_shares_add_up_to_the_whole(batch: Batch, parts: list[int]) -> None:
    assert batch.cooked_g is not None
    shares = [batch.share(batch.cooked_g * part / sum(parts)) for part in parts]
    whole = batch.share(batch.cooked_g)
    assert isclose(sum(share.basis_g for share in shares), whole.basis_g, rel_tol=1e-9)
    for field in ("kcal", "protein_g", "fat_g", "carbohydrate_g"):
        added = sum(getattr(share.nutrients, field) for share in shares)
        assert isclose(added, getattr(whole.nutrients, field), rel_tol=1e-9, abs_tol=1e-9)


@given(cooked_batches, grams)
def test_a_share_never_holds_less_than_nothing(batch: Batch, portion_g: float) -> None:
    nutrients = batch.share(portion_g).nutrients
    assert min(nutrients.kcal, nutrients.protein_g, nutrients.fat_g, nutrients.carbohydrate_g) >= 0


@given(cooked_batches, grams)
def test_pouring_fat_off_lowers_a_portion_and_never_its_raw_basis(batch: Batch, portion_g: float) -> None:
    full = undrained(batch).share(portion_g)
    drained = batch.share(portion_g)
    assert drained.basis_g == full.basis_g
    assert drained.nutrients.kcal <= full.nutrients.kcal
    assert drained.nutrients.protein_g == full.nutrients.protein_g


def test_a_share_of_an_unknown_is_unknown() -> None:
    sauce = ingredient("sauce", 300, Nutrients(50, 1, 1, 9))
    batch = Batch.opened(1, "rice", (*rice(300).ingredients, sauce), 1000)
    assert rice(300, 780).share(100).nutrients.fibre_g is not None
    assert batch.share(100).nutrients.fibre_g is None


@given(cooked_batches)
def test_what_is_left_is_never_less_than_nothing(batch: Batch) -> None:
    assert batch.cooked_g is not None
    assert isclose(batch.left_g, max(0, batch.cooked_g - batch.taken_g - batch.reduced_g), abs_tol=1e-6)


def test_what_left_the_batch_is_no_longer_in_it() -> None:
    assert taken(beef(800, 560), 200).then(Reduced(Draw(60))).left_g == 300


def test_a_portion_of_what_is_left_draws_over_by_nothing() -> None:
    batch = taken(beef(800, 560), 260)
    assert batch.over_draw_g(300) == 0
    assert batch.over_draw_g(304) == 4
    assert batch.over_draw_g(600) == 300


def test_a_batch_is_finished_when_five_grams_or_less_are_left() -> None:
    batch = taken(beef(800, 560), 260)
    assert not batch.closes_after(294.9)
    assert batch.closes_after(295)
    assert batch.closes_after(300)
    assert batch.closes_after(300 + OVER_DRAW_SLACK_G)


def test_without_a_cooked_weight_nothing_can_be_said_of_a_portion() -> None:
    batch = beef(800)
    for asked in (
        lambda: batch.share(100),
        lambda: batch.left_g,
        lambda: batch.yield_,
        lambda: batch.raw_factor,
        lambda: batch.over_draw_g(100),
        lambda: batch.closes_after(100),
        lambda: batch.loose_g,
    ):
        with pytest.raises(NotCooked, match="mince"):
            asked()


def test_meat_that_came_out_heavier_is_doubted() -> None:
    found = yield_doubt(beef(800), 801)
    assert found is not None
    assert found.source
    assert "801 g cooked from 800 g raw" in found.sentence


@pytest.mark.parametrize("group", ("meat", "poultry", "fish"))
def test_no_roast_gains_weight_even_when_it_went_in_cooked(group: str) -> None:
    leftover = ingredient("leftover roast", 500, BEEF_80_20, group, state=State.COOKED)
    assert yield_doubt(Batch.opened(1, "roast", (leftover,)), 510) is not None
    assert yield_doubt(Batch.opened(1, "roast", (leftover,)), 100) is None


@pytest.mark.parametrize(
    ("batch", "believed", "doubted"),
    (
        (beef(1000), (330, 650, 970), (320, 200, 60)),
        (rice(300), (400, 780, 1190), (300, 390, 1200, 3000)),
    ),
)
def test_a_yield_far_from_the_published_one_is_doubted(
    batch: Batch, believed: tuple[float, ...], doubted: tuple[float, ...]
) -> None:
    assert [yield_doubt(batch, cooked_g) for cooked_g in believed] == [None] * len(believed)
    assert all(yield_doubt(batch, cooked_g) for cooked_g in doubted)


def test_a_batch_of_several_foods_may_hold_stock_and_is_believed() -> None:
    chilli = with_rice(beef(800), 100)
    assert yield_doubt(chilli, 2500) is None
    assert yield_doubt(chilli, 90) is None


def test_two_lots_of_one_food_are_one_food() -> None:
    twice = Batch.opened(1, "mince", beef(500).ingredients + beef(300).ingredients)
    assert yield_doubt(twice, 900) is not None
    assert yield_doubt(twice, 560) is None


def test_a_food_without_a_published_yield_is_believed() -> None:
    granola = Batch.opened(1, "granola", (ingredient("granola", 500, RICE, "home made"),))
    assert yield_doubt(granola, 50) is None
    assert yield_doubt(granola, 5000) is None


COOKED_BEEF = FoodRow(
    "ground beef 80/20", State.COOKED, "fried", "23575", Nutrients(272, 27, 17.36, 0), 0.0, "", {}, {}
)


def test_a_drained_batch_that_is_counted_raw_is_overstated() -> None:
    overstated = drained_overstatement(beef(800, 560), COOKED_BEEF)
    assert overstated is not None
    assert isclose(overstated, 254 / 0.7 / 272 - 1)


def test_there_is_no_overstatement_to_tell_of_without_a_weight_or_with_other_foods() -> None:
    assert drained_overstatement(beef(800), COOKED_BEEF) is None
    mixed = Batch.opened(1, "mince", beef(800).ingredients + rice(100).ingredients, 560)
    assert drained_overstatement(mixed, COOKED_BEEF) is None


def test_the_slack_is_given_once_and_not_for_each_portion() -> None:
    overdrawn = taken(beef(1000, 700), 704)
    assert overdrawn.left_g == 0
    assert overdrawn.over_draw_g(3) == pytest.approx(7)
    assert overdrawn.over_draw_g(1) == pytest.approx(OVER_DRAW_SLACK_G)
