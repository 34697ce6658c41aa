"""Numbers that mean something only together, and numbers that mean nothing beside an amount: none is dropped."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.conversation.chat import Chat, Door

from .conftest import Hear

OZ_G = 28.349523125  # NIST Handbook 44, appendix C: exact
few = settings(max_examples=60, deadline=None, derandomize=True)


@pytest.fixture(scope="module")
def people(door: Door) -> Iterator[Chat]:
    return (Chat(door, f"weigher {number}") for number in count(1))


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        # pieces of one weight
        ("3 eggs 60 g each", 180),
        ("3 eggs, each 60 g", 180),
        ("60 g each, 3 eggs", 180),
        ("3 chapatis 38 g each", 114),
        ("2 bananas 118 g apiece", 236),
        ("2 slices of white bread at 40 g each", 80),
        ("four fried eggs two ounces each", 8 * OZ_G),
        ("2 50 g chicken patties", 100),
        # before and after
        ("nonfat greek yogurt before 412 after 385", 27),
        ("nonfat greek yogurt 412 before, 385 after", 27),
        ("peanut butter: the jar was 412, now 389", 23),
        ("cooked rice came to 865 from 1120", 255),
        ("cooked rice from 1120 to 865", 255),
        ("scale said 1120 before and 865 after, so 255 g cooked rice", 255),
        # with and without the vessel
        ("plate 780 with food, plate alone 420, roast beef", 360),
        ("roast beef, plate 780 g with food, plate is 420 g", 360),
        ("432 cooked rice with the bowl, bowl is 132", 300),
        ("bowl alone 250, cooked rice with bowl 432", 182),
        ("bowl 250, cooked rice 432", 182),
        # shares
        ("30 % of 400 g cooked rice", 120),
        ("3/4 of 400 g cooked rice", 300),
    ),
)
def test_numbers_that_belong_together_are_one_weight(heard: Hear, said: str, grams: float) -> None:
    event = heard(said).recorded()
    assert event["edible_g"] == pytest.approx(grams, abs=0.01)


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        # NIST Handbook 44, appendix C: US cup 236.5882365 mL, tablespoon 14.78676478125 mL. Whole milk weighs 244 g a
        # cup: USDA SR28, 01077.
        ("1 cup plus 2 tbsp whole milk", 244 * (1 + 2 / 16)),
        ("1 cup and 2 tbsp whole milk", 244 * (1 + 2 / 16)),
        ("1/2 cup + 1/4 cup whole milk", 244 * 0.75),
        ("4 x 30 ml whole milk", 244 * 120 / 236.5882365),
    ),
)
def test_volumes_of_different_units_add_up(heard: Hear, said: str, grams: float) -> None:
    assert heard(said).recorded()["as_weighed_g"] == pytest.approx(grams, rel=0.005)


@pytest.mark.parametrize("lead", ("bowl 250, ", "the bowl was 250, then ", "empty bowl 250 g: "))
def test_numbers_that_grow_behind_a_vessel_are_totals_on_the_scale(heard: Hear, lead: str) -> None:
    said = heard(f"{lead}nonfat greek yogurt 430, blueberries 512")
    assert [(event["food"], event["as_weighed_g"]) for event in said.records] == [
        ("greek yogurt nonfat", 180),
        ("blueberries", 82),
    ]


def test_a_known_vessel_stands_for_the_first_total(heard: Hear) -> None:
    said = heard("tare blue bowl 250", "blue bowl, nonfat greek yogurt 430, blueberries 512")
    assert [event["as_weighed_g"] for event in said.records] == [180, 82]


def test_a_total_that_hardly_grows_may_be_a_weight_by_itself(heard: Hear) -> None:
    said = heard("bowl 250, nonfat greek yogurt 430, blueberries 435")
    assert [event["as_weighed_g"] for event in said.records] == [180]
    assert list(said.choices) == ["5 g", "435 g"]


def test_a_list_that_grows_by_chance_is_no_total(heard: Hear) -> None:
    said = heard("180 g cooked rice, 262 g cooked pasta, 300 g raw potatoes")
    assert [event["as_weighed_g"] for event in said.records] == [180, 262, 300]


@pytest.mark.parametrize(
    "said", ("200 g cooked rice before the gym, 30 g almonds after", "200 g cooked rice before, 30 g almonds after")
)
def test_before_and_after_something_else_are_no_weights_of_one_vessel(heard: Hear, said: str) -> None:
    assert [event["as_weighed_g"] for event in heard(said).records] == [200, 30]


def test_milk_in_each_cup_is_as_many_times_the_milk(heard: Hear) -> None:
    said = heard("8 cups of tea with 30 ml whole milk each")
    milk = next(event for event in said.records if event["food"] == "whole milk")
    assert milk["as_weighed_g"] == pytest.approx(244 * 240 / 236.5882365, rel=0.005)  # USDA SR28, 01077


@pytest.mark.parametrize("said", ("rice 60 dry = 165 ckd", "rice 60 dry, 165 cooked", "165 cooked from 60 dry rice"))
def test_raw_and_cooked_weight_of_one_food_are_one_weigh_in(heard: Hear, said: str) -> None:
    event = heard(said).recorded()
    assert (event["as_weighed_g"], event["state"]) == (60, "raw")


@pytest.mark.parametrize(
    "said",
    (
        "130 or 140 grams of cheddar",
        "2 or 3 eggs",
        "10² g apple",
        "egg w 240",
        "rice cooked 432 in the karahi",
        "432 cooked rice in karahi",
        "nonfat greek yogurt 60 g each",
        "6 meatballs at 30 g",
        "two fifty gram chicken patties",
        "cheddar was 40 g, now 35 g",
        "cooked rice to hundred grams",
        "cooked rice 200 g for 2",
    ),
)
def test_what_has_two_readings_or_none_is_asked_about(heard: Hear, said: str) -> None:
    answer = heard(said)
    assert not answer.records
    answer.asked()


@pytest.mark.parametrize("share", ("3/12 of batch 1", "3 of 12 of batch 1", "25 % of the stew", "a sixth of the stew"))
def test_a_share_of_a_batch_is_never_grams(heard: Hear, share: str) -> None:
    answer = heard("batch stew: 2 kg raw beef chuck", "batch 1 cooked 1400 g", share)
    assert all(event["as_weighed_g"] > 200 for event in answer.records)
    assert answer.records or answer.choices


ORDERS = ("{g} g cheddar {k}", "cheddar {g} g, {k}", "{k} {g} g cheddar", "cheddar {k}, {g} g", "{g} g cheddar and {k}")


@few
@given(grams=st.integers(20, 900), stray=st.integers(2, 2000), order=st.sampled_from(ORDERS))
def test_a_number_beside_an_amount_is_never_dropped(people: Iterator[Chat], grams: int, stray: int, order: str) -> None:
    said = next(people).say(order.format(g=grams, k=stray))
    assert not said.records or abs(grams - stray) <= 0.02 * grams, said.text
