"""A food: which row, which piece, which measure."""

from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from domain.foods import Food, FoodRow, State
from domain.nutrients import Nutrients
from domain.quantities import Region

# Exact volumes in mL: NIST Handbook 44, appendix C; the metric cup of 250 mL and spoon of 15 mL.
US_CUP_ML, US_TBSP_ML, US_FLOZ_ML, IMPERIAL_PINT_ML = 236.5882365, 14.78676478125, 29.5735295625, 568.26125


def row(
    state: State,
    kcal: float = 100,
    method: str = "",
    pieces: dict[str, float] | None = None,
    measures: dict[str, float] | None = None,
) -> FoodRow:
    return FoodRow("food", state, method, "00000", Nutrients(kcal, 1, 1, 1), 0, "", pieces or {}, measures or {})


def food(*rows: FoodRow) -> Food:
    return Food("food", "group", (), False, rows)


RAW = row(State.RAW, 120)
GRILLED = row(State.COOKED, 165, "grilled")
BRAISED = row(State.COOKED, 151, "braised")
CHICKEN = food(RAW, GRILLED, BRAISED)


class TestRow:
    def test_the_first_row_is_the_usual_one(self) -> None:
        assert CHICKEN.row() is RAW

    def test_the_method_picks_among_several(self) -> None:
        assert CHICKEN.row(State.COOKED, "braised") is BRAISED

    def test_the_first_cooked_row_stands_for_every_other_method(self) -> None:
        assert CHICKEN.row(State.COOKED) is GRILLED
        assert CHICKEN.row(State.COOKED, "steamed") is GRILLED

    def test_a_method_alone_finds_its_row_or_none(self) -> None:
        assert CHICKEN.row(method="braised") is BRAISED
        assert CHICKEN.row(method="steamed") is None

    def test_a_state_the_table_lacks_has_no_row(self) -> None:
        assert CHICKEN.row(State.AS_SOLD) is None


class TestState:
    @pytest.mark.parametrize(
        ("raw_kcal", "cooked_kcal", "asked"),
        (
            (365, 130, True),
            (130, 365, True),
            (100, 81, False),
            (80, 100, False),
            (79.9, 100, True),
            (0, 0, False),
        ),
    )
    def test_asked_for_when_energy_differs_by_over_a_fifth_of_the_larger(
        self, raw_kcal: float, cooked_kcal: float, asked: bool
    ) -> None:
        assert food(row(State.RAW, raw_kcal), row(State.COOKED, cooked_kcal)).needs_state() is asked

    def test_the_default_cooked_row_decides(self) -> None:
        assert not food(row(State.RAW, 100), row(State.COOKED, 100), row(State.COOKED, 300, "fried")).needs_state()

    def test_not_asked_of_a_food_with_one_state(self) -> None:
        assert not food(row(State.AS_SOLD)).needs_state()
        assert not food(row(State.COOKED, 10), row(State.AS_SOLD, 100)).needs_state()


class TestPiece:
    def test_no_size_is_the_plain_piece(self) -> None:
        egg = row(State.RAW, pieces={"": 50, "medium": 44})
        assert food(egg).piece(egg) == 50

    def test_without_a_plain_piece_the_medium_one(self) -> None:
        apple = row(State.RAW, pieces={"small": 149, "medium": 182, "large": 223})
        assert food(apple).piece(apple) == 182

    def test_without_a_medium_one_the_only_size_there_is(self) -> None:
        plum = row(State.RAW, pieces={"large": 66})
        assert food(plum).piece(plum) == 66

    def test_two_sizes_without_a_middle_are_not_guessed_between(self) -> None:
        roll = row(State.AS_SOLD, pieces={"small": 28, "large": 60})
        assert food(roll).piece(roll) is None

    def test_a_noun_takes_its_medium_when_no_size_is_said(self) -> None:
        bread = row(State.AS_SOLD, pieces={"small slice": 29, "medium slice": 59, "large slice": 88})
        assert food(bread).piece(bread, "slice") == 59
        assert food(bread).piece(bread, "large slice") == 88

    def test_a_size_is_not_swapped_for_another(self) -> None:
        apple = row(State.RAW, pieces={"": 182})
        assert food(apple).piece(apple, "small") is None

    def test_a_noun_is_not_swapped_for_the_plain_piece(self) -> None:
        bread = row(State.AS_SOLD, pieces={"": 100})
        assert food(bread).piece(bread, "slice") is None

    def test_a_row_without_the_piece_takes_it_from_the_other_rows(self) -> None:
        raw = row(State.RAW, pieces={"": 50, "large": 56})
        boiled = row(State.COOKED, pieces={"large": 52})
        assert food(raw, boiled).piece(boiled) == 50
        assert food(raw, boiled).piece(boiled, "large") == 52

    def test_the_regions_own_piece_goes_first(self) -> None:
        egg = row(State.RAW, pieces={"medium": 44, "large": 50, "@US": 50, "@UK": 51, "large@UK": 60})
        assert food(egg).piece(egg, "", Region.US) == 50
        assert food(egg).piece(egg, "", Region.UK) == 51
        assert food(egg).piece(egg, "large", Region.UK) == 60
        assert food(egg).piece(egg, "large", Region.US) == 50
        assert food(egg).piece(egg, "", Region.METRIC) == 44
        assert food(egg).piece(egg) == 44

    def test_the_regions_own_piece_may_stand_in_another_row(self) -> None:
        raw = row(State.RAW, pieces={"rasher@UK": 38})
        fried = row(State.COOKED, pieces={"slice": 8})
        assert food(raw, fried).piece(fried, "rasher", Region.UK) == 38
        assert food(raw, fried).piece(fried, "rasher", Region.US) is None

    @pytest.mark.parametrize(
        ("group", "counted"), (("sausages", State.COOKED), ("meat", State.COOKED), ("vegetables", State.RAW))
    )
    def test_what_is_eaten_cooked_is_counted_cooked(self, group: str, counted: State) -> None:
        rows = (row(State.RAW, 400), row(State.COOKED, 500))
        assert Food("food", group, (), False, rows).counted_row().state is counted

    def test_what_has_no_cooked_row_is_counted_as_it_is(self) -> None:
        assert Food("food", "sausages", (), False, (row(State.AS_SOLD),)).counted_row().state is State.AS_SOLD

    @pytest.mark.parametrize(
        ("pieces", "countable"), (({"": 50}, True), ({"large": 50}, True), ({"slice": 30}, False), ({}, False))
    )
    def test_countable_when_a_bare_number_of_it_has_a_meaning(self, pieces: dict[str, float], countable: bool) -> None:
        assert food(row(State.RAW, pieces=pieces)).countable is countable


class TestMeasure:
    def test_density_comes_from_the_cup_first(self) -> None:
        milk = row(State.AS_SOLD, measures={"tsp": 5, "cup": 244})
        density = food(milk).grams_per_ml(milk)
        assert density is not None
        assert isclose(density, 244 / US_CUP_ML)

    def test_no_measure_no_density(self) -> None:
        assert food(RAW).grams_per_ml(RAW) is None
        assert food(RAW).measure_g(RAW, "cup", Region.US) is None

    def test_the_named_measure_beats_one_derived_from_another(self) -> None:
        ketchup = row(State.AS_SOLD, measures={"cup": 240, "tbsp": 17})
        assert food(ketchup).measure_g(ketchup, "tbsp", Region.US) == 17

    @pytest.mark.parametrize(
        ("unit", "region", "ml"),
        (
            ("cup", Region.US, US_CUP_ML),
            ("cup", Region.METRIC, 250),
            ("tbsp", Region.UK, 15),
            ("floz", Region.US, US_FLOZ_ML),
            ("pint", Region.UK, IMPERIAL_PINT_ML),
            ("cl", Region.METRIC, 10),
            ("l", Region.US, 1000),
        ),
    )
    def test_a_measure_follows_the_region(self, unit: str, region: Region, ml: float) -> None:
        water = row(State.AS_SOLD, measures={"cup": US_CUP_ML})
        weight = food(water).measure_g(water, unit, region)
        assert weight is not None
        assert isclose(weight, ml)

    @given(st.floats(min_value=1, max_value=30))
    def test_a_named_spoon_scales_with_the_regions_spoon(self, tbsp_g: float) -> None:
        honey = row(State.AS_SOLD, measures={"tbsp": tbsp_g})
        weight = food(honey).measure_g(honey, "tbsp", Region.UK)
        assert weight is not None
        assert isclose(weight, tbsp_g * 15 / US_TBSP_ML)

    def test_a_cup_of_dry_rice_says_nothing_of_a_cup_of_cooked(self) -> None:
        dry, boiled = row(State.RAW, measures={"cup": 185}), row(State.COOKED)
        assert food(dry, boiled).measure_g(boiled, "cup", Region.US) is None

    def test_a_row_takes_measures_from_another_of_its_own_state(self) -> None:
        boiled, fried = row(State.COOKED, method="boiled", measures={"cup": 158}), row(State.COOKED, method="fried")
        assert food(boiled, fried).measure_g(fried, "cup", Region.US) == 158

    def test_a_weight_or_a_glass_is_no_measure(self) -> None:
        milk = row(State.AS_SOLD, measures={"cup": 244})
        assert food(milk).measure_g(milk, "g", Region.US) is None
        assert food(milk).measure_g(milk, "glass", Region.US) is None
