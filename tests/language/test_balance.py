"""Several weights of one food: which of them is eaten follows from what each is of, in whatever words that is said."""

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
    return (Chat(door, f"balancer {number}") for number in count(1))


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        # a container that was read twice
        ("tahini jar 366>341", 25),
        (
            "lemon curd jar, which I never open without weighing, stood at 402 g when I began and 379 when I got up",
            23,
        ),
        ("tub of hummus 240 g going in, 118 g coming out", 122),
        ("carton of whole milk was 640 g, after my pour it's 455 g", 185),
        ("the bottle of olive oil, which was at 512 g, has come down to 498 g", 14),
        ("of parmesan the wedge was 214 g, and after me it is 189 g", 25),
        ("took the 2% milk bottle out at 905 g, put it back at 690 g", 215),
        ("put the double cream carton on the scale, 512, poured, 466", 46),
        ("whey tub: 908 to 877 g", 31),
        ("before pancakes the maple syrup bottle was 633 g, after pancakes 608 g", 25),
        # what was eaten of a container or of all that was there
        ("opened a 450 g tub of nonfat greek yogurt and ate 180 g", 180),
        ("500 g punnet of strawberries, 160 g eaten", 160),
        # a part that was thrown away
        ("one banana, 178 g with its skin, the skin on its own 61 g", 117),
        (
            "grilled pork chop with the bone still in it came to 214 g, the bone on its own afterwards being 46 g",
            168,
        ),
        ("pear 188 g, and when I was done with it there remained a core of 21 g", 167),
        ("white bread 80 g, save for the crusts, which I did not eat and which weigh 19 g", 61),
        ("toast 70 g but cut the crusts off, crusts 22 g", 48),
        # what was left or lost of it
        ("boiled potatoes: served 220 g, sent back 65 g", 155),
        ("baked sweet potato 7 oz but 2 oz of it landed on the floor", 5 * OZ_G),
        ("cooked spaghetti 410 g, couldn't finish, 125 g in the bin", 285),
        ("gave myself 180 g mashed potato, scraped 40 g off for the hens", 140),
        # a result that agrees
        ("apple 176 g, core 15 g, call it 161 g eaten", 161),
        ("peach was 160, the pit 12, that makes 148", 148),
        # a vessel
        ("cooked rice and bowl 530 g, bowl 290 g", 240),
        ("the pudding basin weighs 640 g by itself, and with stewed rhubarb in it, 815", 175),
        ("soup bowl filled: 640 g. Soup bowl licked clean: 395 g. Tomato soup.", 245),
        ("the saucer is 140 g; saucer and carrot cake 262 g", 122),
        # meant, and done
        ("my intention was 30 g of almonds. The fact is 22 g.", 22),
        ("planned 40 g of cashews, ended up with 55", 55),
        ("expected: 30 g peanuts. actual: 42 g peanuts. status: eaten, all 42", 42),
        ("in place of the planned 200 g I ate 120 g of cooked spaghetti", 120),
        # a share of a whole whose weight is told behind it
        ("two thirds of the rice pudding, which I had weighed at 240 g", 160),
        # counts beside weights
        ("crumpets, two, weighin 108 g", 108),
        ("rye bread 2 slc 76 g", 76),
    ),
)
def test_the_weight_that_was_eaten_is_recorded(heard: Hear, said: str, grams: float) -> None:
    event = heard(said).recorded()
    assert event["edible_g"] == pytest.approx(grams, abs=0.01)


@pytest.mark.parametrize(
    ("said", "food", "pieces"),
    (
        ("boiled egg x 2", "egg", 2),
        ("fried egg 2 for me", "egg", 2),
        ("fish sticks: 4 of them at 28 g", "fish sticks", 4),
    ),
)
def test_a_number_beside_a_food_of_pieces_counts_them(heard: Hear, said: str, food: str, pieces: int) -> None:
    event = heard(said).recorded()
    assert event["food"] == food
    assert 20 <= event["edible_g"] / pieces <= 60  # an egg or a fish stick: USDA SR28, 01123 and 15027


def test_a_count_in_a_list_of_counts_is_no_weight(heard: Hear) -> None:
    apple, almonds = heard("1 medium apple and 14 almonds").all("weigh_in")
    # USDA SR28: 09003, a medium apple 182 g; 12061, 23 almonds are an ounce
    assert (apple["edible_g"], almonds["edible_g"]) == (pytest.approx(182), pytest.approx(14 * OZ_G / 23, rel=0.05))


@pytest.mark.parametrize(
    "said",
    ("600 g watermelon, Mia had 250", "410 g boiled potatoes. Tuva had 150", "honey 200 g and Oskar ate 38"),
)
def test_what_somebody_with_a_name_had_is_not_the_writers(heard: Hear, said: str) -> None:
    told = heard(said)
    theirs = said.split()[-1]
    assert theirs in told.text
    assert all(event["as_weighed_g"] != float(theirs) for event in told.all("weigh_in"))


@pytest.mark.parametrize("said", ("500 g tub of plain yogurt, ate 200 g", "jar of honey 454 g, had 200 g"))
def test_what_the_writer_had_out_of_a_tub_counts(heard: Hear, said: str) -> None:
    assert [event["as_weighed_g"] for event in heard(said).all("weigh_in")] == [200]


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("cooked rice 200 g at noon, then another 90 g cooked rice", [200, 90]),
        ("boiled potatoes 210 g baked cod 140 g boiled carrots 70 g", [210, 140, 70]),
        ("cheddar 40 g, butter 12 g", [40, 12]),
    ),
)
def test_weights_of_their_own_stay_apart(heard: Hear, said: str, grams: list[float]) -> None:
    assert [event["as_weighed_g"] for event in heard(said).all("weigh_in")] == grams


@pytest.mark.parametrize(
    "said",
    (
        "cheddar block 310 g, 290 g",
        "I had 60 g of blorvenash and 24 g of feta",
        "the honey jar is 340 g and I want to get it down to 300 g",
        "I did not have any of the honey, the jar was 340 g before and is 338 g now",
    ),
)
def test_what_may_mean_something_else_puts_no_large_weight_on_record(heard: Hear, said: str) -> None:
    assert all(event["as_weighed_g"] < 30 for event in heard(said).all("weigh_in"))


@pytest.mark.parametrize(
    "said",
    (
        "my neighbour at number 14 waved, then 105 g boiled carrots",
        "on the number 19 tram, 105 g boiled carrots",
        "pulse 62, 105 g boiled carrots",
        "blood pressure 130 over 80, then 105 g boiled carrots",
        "we are 5 at the table, 105 g boiled carrots",
    ),
)
def test_numbers_of_houses_vehicles_and_people_are_no_amounts(heard: Hear, said: str) -> None:
    assert heard(said).recorded()["as_weighed_g"] == 105


def test_each_reading_after_something_was_added_is_a_total(heard: Hear) -> None:
    events = heard("dry oats 50 g, reading 80 after raisins, 260 after 2% milk").all("weigh_in")
    assert [event["as_weighed_g"] for event in events] == [50, 30, 180]


def test_a_reading_that_has_risen_is_a_total_too(heard: Hear) -> None:
    said = ("display at zero, I added 55 g of dry oats", "The reading has risen to 235 g, the newcomer being 2% milk")
    assert heard(*said).recorded()["as_weighed_g"] == 180


def test_an_empty_pot_is_saved_in_any_words(heard: Hear) -> None:
    (saved,) = heard("The big pot, when nothing is inside, weighs 1650 gram").all("tare_saved")
    assert saved["grams"] == 1650


@few
@given(full=st.integers(200, 900), taken=st.integers(10, 150), words=st.sampled_from(("now", "afterwards", "later")))
def test_a_jar_loses_exactly_what_was_taken(people: Iterator[Chat], full: int, taken: int, words: str) -> None:
    event = next(people).say(f"peanut butter jar {full} g, {words} {full - taken} g").recorded()
    assert event["edible_g"] == taken
