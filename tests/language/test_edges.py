"""What stands behind a weigh-in and says nothing of its food is left aside; what may describe the food is asked."""

import pytest


@pytest.mark.parametrize(
    ("text", "food", "grams"),
    (
        ("45 g cashews oida", "cashews", 45),
        ("hummus 88 g eish", "hummus", 88),
        ("cheddar 40 lor", "cheddar cheese", 40),
        ("40 g feta, drained, mate", "feta", 40),
        ("33 g hazelnuts during the sermon", "hazelnuts", 33),
        ("64 g feta amidst packing boxes", "feta", 64),
        ("40 g feta behind the till", "feta", 40),
        ("40 g feta in my dressing gown", "feta", 40),
        ("bag full of grapes 240 g", "grapes", 240),
    ),
)
def test_what_says_nothing_of_the_food_is_left_aside(heard, text, food, grams):
    told = heard(text).one("weigh_in")
    assert food.rstrip("s") in told["food"]
    assert told["as_weighed_g"] == pytest.approx(grams)


def test_a_food_by_which_somebody_is_called_is_not_eaten(heard):
    told = heard("two fried eggs this morning honey").one("weigh_in")
    assert (told["food"], told["evidence"]) == ("egg", "counted")


def test_with_the_peel_off_it_is_what_was_eaten(heard):
    told = heard("mandarin 71 g with the peel off").one("weigh_in")
    assert told["edible_g"] == pytest.approx(71)
    assert heard("mandarin 71 g with the peel").one("weigh_in")["edible_g"] < 71


@pytest.mark.parametrize(
    "text",
    (
        "100 g rice kontomire",  # the last word of a compound is what it is
        "2 eggs florentine",
        "200 g cooked rice between everyone",
        "80 g rice ube",  # short, and in descriptions of foods
        "90 g oida cheddar",  # before the food it may say the kind
    ),
)
def test_what_may_change_the_food_is_asked_about(heard, text):
    assert not heard(text).all("weigh_in")


def test_a_thing_beside_a_food_takes_nothing_from_the_list(heard):
    told = heard("36 g cheddar at the tea party, 12 g honey").all("weigh_in")
    assert [each["food"] for each in told] == ["cheddar cheese", "honey"]
