"""Measures and vessels to be kept, and days that are not those of the meal, in words of people nobody met before."""

import pytest

from .chat import MONDAY_NOON, Chat

TODAY = MONDAY_NOON[:10]


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("One spoon from my peanut butter is 16 gram", 16),
        ("note for later: my ladle takes 150 g of lentil soup", 150),
        ("a slice off my sourdough loaf comes to 42 g, please keep it in mind", 42),
        ("Write down for next time that my handful of almonds weighs 24 g", 24),
        ("My rye bread weighs 38 g per slice, keep that", 38),
        ("fyi ma ladle hauds 145 g o the chicken soup", 145),
        ("remember, one level scoop out of my protein powder = 28g", 28),
        ("my bread: each slice weighs 41 g", 41),
        ("and the same with jam, one spoon of mine is 14 g", 14),
        ("a tablespoon of my tahini weighs 15 g every time", 15),
        ("keep in mind my cereal bowl takes 55 g of muesli", 55),
        ("each of my meatballs is 28 g", 28),
        ("for future reference a slice of our wholemeal loaf weighs forty one grams", 41),
    ),
)
def test_a_measure_is_kept_and_not_eaten(chat: Chat, said: str, grams: float) -> None:
    events = chat.say(said).events
    assert [(event["type"], event.get("grams")) for event in events] == [("measure_saved", grams)]


@pytest.mark.parametrize(
    "said",
    (
        "my sister's ladle holds 200 g of chicken soup",
        "is one scoop of my whey 30 g?",
    ),
)
def test_other_peoples_measures_are_not_kept(chat: Chat, said: str) -> None:
    assert "measure_saved" not in {event["type"] for event in chat.say(said).events}


@pytest.mark.parametrize(
    "said",
    (
        "I had my scoop of whey, 30 g",
        "a slice of my sourdough came to 42 g",
        "my bowl has 55 g muesli in it and I'm eating it",
    ),
)
def test_what_was_eaten_is_no_measure(chat: Chat, said: str) -> None:
    assert {event["type"] for event in chat.say(said).records} == {"weigh_in"}


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("I had the rice pot wrong, it's 988 g", 988),
        ("rice pot weighs 988 actually, I misread", 988),
        ("the weight I gave for the rice pot is off, should be 988", 988),
        ("correction, rice pot is 988 g empty", 988),
    ),
)
def test_a_vessels_weight_is_put_right(chat: Chat, said: str, grams: float) -> None:
    chat.given("my rice pot weighs 900 g empty", "12 g butter")
    events = chat.say(said).events
    assert [(event["type"], event.get("grams")) for event in events] == [("tare_saved", grams)]


@pytest.mark.parametrize(
    "said",
    (
        "120 g of last night's cooked rice",
        "for lunch yesterday's cooked rice, 120 g",
        "friday will be busy. 120 g cooked rice just now",
        "120 g cooked rice now, because sunday is the big lunch",
        "mum comes on friday! 120 g cooked rice eaten",
        "thursday's the wedding so I'm being careful, just 120 g cooked rice now",
    ),
)
def test_the_day_of_something_else_is_not_that_of_the_meal(chat: Chat, said: str) -> None:
    chat.given("yesterday dinner 200 g cooked rice")
    (event,) = chat.say(said).records
    assert (event["type"], event["day"], event["as_weighed_g"]) == ("weigh_in", TODAY, 120)


@pytest.mark.parametrize("said", ("yesterday's lunch was 30 g cheddar", "forgot yesterday's cheese, 30 g cheddar"))
def test_a_day_that_is_the_meals_stays(chat: Chat, said: str) -> None:
    (event,) = chat.say(said).records
    assert event["day"] < TODAY


def test_a_request_to_keep_may_stand_before_a_vessel(chat: Chat) -> None:
    said = chat.say("Please store: my coffee mug holds 260 ml")
    assert "260 ml" in said.text
    assert not said.all("weigh_in")
