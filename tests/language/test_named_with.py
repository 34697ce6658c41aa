"""What stands behind a food's name, or beside it, tells which food it is as well as what stands before."""

import pytest

from .conftest import Hear


@pytest.mark.parametrize(
    ("said", "food"),
    (
        ("okra fried 120 g", "fried okra"),
        ("okra, fried, 120 g", "fried okra"),
        ("120 g rice fried", "fried rice"),
        ("potatoes roasted 180 g", "roast potatoes with fat"),
        ("mango dried 40 g", "dried mango"),
        ("almonds blanched 20 g", "blanched almonds"),
        ("tofu, fried, 100 g", "fried tofu"),
        ("chicken thigh, skin on, roasted 140 g", "chicken thigh with skin"),
        ("chicken thigh, no skin, roasted 140 g", "chicken thigh skinless"),
        ("chicken breast 200 g raw with skin", "chicken breast with skin"),
        ("pineapple chunks in juice 110 g", "canned pineapple"),
        ("pears in their own juice 100 g", "canned pears"),
        ("broccoli for the greens 90 g", "broccoli"),
        ("60 g cheddar for the toast", "cheddar cheese"),
        ("carrot sticks 60 g", "carrot"),
    ),
)
def test_it_is_the_food_that_is_called_so(heard: Hear, said: str, food: str) -> None:
    assert heard(said).recorded()["food"] == food


@pytest.mark.parametrize(
    ("said", "state", "kcal"),
    (
        # FoodData Central, survey foods: Brussels sprouts, fresh, cooked, fat added, 67 kcal; SR28 boiled: 36.
        ("brussels sprouts roasted 100 g", "cooked", 67),
        # SR28 10862, bacon, pan-fried: 468 kcal.
        ("crispy bacon 100 g", "cooked", 468),
        # SR28 11436, rutabagas, boiled: 30 kcal.
        ("swede mashed 100 g", "cooked", 30),
        # SR28 09040, bananas, raw: 89 kcal. Mashing is no cooking.
        ("mashed banana 100 g", "raw", 89),
        # SR28 16063, cowpeas, boiled: 116 kcal.
        ("black eyed peas cooked from dry 100 g", "cooked", 116),
    ),
)
def test_the_state_is_the_one_that_it_was_eaten_in(heard: Hear, said: str, state: str, kcal: float) -> None:
    record = heard(said).recorded()
    assert (record["state"], round(record["kcal"])) == (state, kcal)


@pytest.mark.parametrize("said", ("halloumi grilled 60 g", "bagel toasted 90 g", "fish fingers baked 100 g"))
def test_what_is_sold_ready_to_eat_may_be_heated(heard: Hear, said: str) -> None:
    assert heard(said).recorded()["state"] == "as_sold"


@pytest.mark.parametrize(
    "said",
    (
        *("chicken breast roll 150 g", "lamb patty 100 g", "date bar 40 g", "ham roll 120 g", "salmon burger 120 g"),
        *("halloumi fried 60 g", "dried apricots stewed 80 g", "pears poached 120 g"),
    ),
)
def test_a_dish_word_or_a_way_of_cooking_without_figures_is_asked_about(heard: Hear, said: str) -> None:
    heard(said).asked()


@pytest.mark.parametrize(
    ("said", "food"),
    (("carots raw 80 g", "carrot"), ("mozerella 50 g", "mozzarella"), ("90 g sossage", "pork sausage")),
)
def test_what_sounds_alike_is_a_slip(heard: Hear, said: str, food: str) -> None:
    answer = heard(said)
    assert food in answer.text or food in answer.choices


@pytest.mark.parametrize("said", ("winkles 90 g", "picanto 60 g", "cockies 90 g"))
def test_two_slips_in_a_short_word_name_no_other_dish(heard: Hear, said: str) -> None:
    assert not [event for event in heard(said).events if event["type"] == "weigh_in"]


def test_a_question_names_the_food_without_words_that_describe_none(heard: Hear) -> None:
    assert "Which kind of greek yogurt?" in heard("120 g gorgeous greek yogurt").text
