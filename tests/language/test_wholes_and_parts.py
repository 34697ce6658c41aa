"""What the scale shows step by step, whose part of a whole it was, and what a story tells in one clause."""

from __future__ import annotations

import pytest

from .conftest import Hear


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("breakfast bowl 300 oats 345 yog 500 blueberries 560. yog is nonfat greek, oats dry", [45, 155, 60]),
        ("empty bowl is 210 then with the nonfat greek yogurt it's 390 and with the raspberries it's 450", [180, 60]),
        ("bowl zeroed: dry oats 50, 2% milk to 230, blueberries to 290", [50, 180, 60]),
        ("peanut butter jar 540 -> 518", [22]),
        ("white bread 80, peanut butter jar 518 -> 500", [80, 18]),
        ("the jar of honey was 380 and after I'd helped myself it was 365", [15]),
        ("the tub of hummus weighed 240 this morning and it's down to 195 now", [45]),
    ),
)
def test_the_scale_is_read_step_by_step(heard: Hear, said: str, grams: list[float]) -> None:
    assert [event["as_weighed_g"] for event in heard(said).all("weigh_in")] == pytest.approx(grams)


def test_a_full_and_an_empty_container(heard: Hear) -> None:
    said = heard("the full container is 900 and the container by itself is 250 and what's in it is cooked brown rice")
    assert said.recorded()["as_weighed_g"] == 650


@pytest.mark.parametrize(
    ("said", "food", "grams"),
    (
        ("boiled spaghetti came to 900 g, the kids took 600 of that so 300 g for me", "pasta", 300),
        ("the lasagne was 900 in all, the lads had 600 so I had 300", "lasagna", 300),
        ("half a scone, the whole scone being 80 grams", "scone", 40),
        ("half of a 250 g block of feta", "feta", 125),
        ("1/2 of 240 g mango, my sister got the rest", "mango", 120),
        ("quiche lorraine, I cut it and my slice weighed 165 grams", "quiche lorraine", 165),
        ("the banana bread was 800 whole, I cut it and had 90 g of it", "banana bread", 90),
    ),
)
def test_a_stated_part_is_the_writers(heard: Hear, said: str, food: str, grams: float) -> None:
    event = heard(said).recorded()
    assert event["as_weighed_g"] == pytest.approx(grams)
    assert food.split()[0] in event["food"]


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("I had 90 g grapes and a slice of cheddar of 30 g", [90, 30]),
        ("my slice of cheesecake 80 g and 20 g raspberries", [80, 20]),
    ),
)
def test_parts_of_different_foods_stay_apart(heard: Hear, said: str, grams: list[float]) -> None:
    assert [event["as_weighed_g"] for event in heard(said).all("weigh_in")] == pytest.approx(grams)


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("The neighbour called in while I cooked, but once he was gone it was 160 g of green grapes", 160),
        ("I'd a quarter of a kilo of cherries, stoned, all to myself in the garden", 250),
        ("I had 50 g of walnuts, no hold on, I've my other glasses on now and it's 30 g, 30 g of walnuts", 30),
        ("I weighed the cheddar twice and both times it came to 34 g, so 34 g it is", 34),
        ("It's 85 g of brie, and I shared it with nobody", 85),
    ),
)
def test_a_story_is_read_for_its_one_weigh_in(heard: Hear, said: str, grams: float) -> None:
    assert heard(said).recorded()["as_weighed_g"] == pytest.approx(grams)


@pytest.mark.parametrize(
    "said",
    (
        "I wish I had 180 g cooked rice",
        "tomorrow I'll make a casserole, 600 g chicken thigh",
        "my brother rang and he had 200 g of rice",
        "if it was 200 g of rice I would have cried",
    ),
)
def test_a_story_of_plans_and_others_records_nothing(heard: Hear, said: str) -> None:
    assert not heard(said).records
