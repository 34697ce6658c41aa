"""The honest range of a day's energy."""

import math
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from domain import reference, uncertainty
from domain.foods import State
from domain.nutrients import Nutrients
from domain.uncertainty import give_or_take, relative, scale_g
from domain.weighins import Evidence, WeighIn


def item(grams=100.0, kcal=100.0, evidence=Evidence.WEIGHED, state=State.RAW, food="rice", edible=None, batch=None):
    return WeighIn(
        food=food,
        state=state,
        as_weighed_g=grams,
        edible_g=grams if edible is None else edible,
        basis_g=grams if edible is None else edible,
        basis=state,
        evidence=evidence,
        nutrients=None if kcal is None else Nutrients(kcal, 0, 0, 0),
        batch=batch,
    )


@pytest.mark.parametrize(("grams", "limit"), ((5, 1), (500, 1), (501, 2), (2000, 2), (2001, 3), (5000, 3)))
def test_scale_limits_are_those_of_a_class_iii_scale_in_service(grams, limit):
    # OIML R 76, e = 1 g: 0.5, 1 and 1.5 e at first verification up to 500, 2,000 and 10,000 e; twice that in service
    assert scale_g(grams) == pytest.approx(limit / math.sqrt(3))


def test_five_grams_of_oil_are_off_by_more_than_three_hundred_of_rice():
    oil, rice = item(grams=5, kcal=44), item(grams=300, kcal=390)
    assert relative(oil) > 0.1
    assert relative(rice) < 0.005


def test_counted_pieces_spread_as_the_tables_sizes_do():
    spreads = [
        (row.pieces["large"] - row.pieces["small"]) / row.pieces["medium"]
        for food in reference.load().foods.values()
        for row in food.rows
        if {"small", "medium", "large"} <= row.pieces.keys()
    ]
    assert len(spreads) > 50
    assert statistics.median(spreads) / 2 / math.sqrt(3) == pytest.approx(uncertainty.COUNTED, abs=0.005)


def test_evidence_ranks_as_the_rules_say():
    order = (Evidence.WEIGHED, Evidence.OWN_MEASURE, Evidence.LABEL_MEASURE, Evidence.DENSITY, Evidence.COUNTED)
    sizes = [relative(item(grams=200, evidence=evidence)) for evidence in order]
    assert sizes == sorted(sizes)
    assert len(set(sizes)) == len(sizes)


def test_refuse_counts_more_the_more_is_thrown_away():
    apple = item(grams=200, edible=180, evidence=Evidence.REFUSE_TABLE)
    melon = item(grams=200, edible=102, evidence=Evidence.REFUSE_TABLE)
    assert relative(melon) > relative(apple) > relative(item(grams=200))


def test_a_portion_of_a_weighed_batch_has_no_unknown_yield():
    bought = item(grams=220, state=State.COOKED)
    portion = item(grams=220, state=State.COOKED, batch=1)
    assert relative(portion) == relative(item(grams=220))
    assert relative(bought) > 5 * relative(portion)


def test_one_cup_used_twice_adds_up_and_two_cups_do_not():
    cup = item(kcal=300, evidence=Evidence.DENSITY, food="oats")
    other = item(kcal=300, evidence=Evidence.DENSITY, food="flour")
    once = give_or_take([cup]).amounts_kcal
    assert give_or_take([cup, cup]).amounts_kcal == pytest.approx(2 * once)
    assert give_or_take([cup, other]).amounts_kcal == pytest.approx(math.sqrt(2) * once)


def test_weighing_the_same_food_twice_is_two_readings():
    once = give_or_take([item()]).amounts_kcal
    assert give_or_take([item(), item()]).amounts_kcal == pytest.approx(math.sqrt(2) * once)


def test_weight_only_adds_nothing():
    assert give_or_take([item(kcal=None)]).kcal == 0
    assert give_or_take([]).kcal == 0


EVIDENCE = st.sampled_from(list(Evidence))
ITEMS = st.lists(st.builds(item, st.floats(1, 5000), st.floats(0, 5000), EVIDENCE, st.sampled_from(list(State))))


@given(ITEMS, ITEMS)
def test_more_food_is_never_less_uncertain_and_never_more_than_the_sum(some, more):
    both = give_or_take(some + more).kcal
    assert both >= give_or_take(some).kcal - 1e-9
    assert both <= give_or_take(some).kcal + give_or_take(more).kcal + 1e-6
