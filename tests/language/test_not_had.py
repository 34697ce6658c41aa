"""What a message only mentions: foods nobody ate, animals, and what other things weigh."""

import pytest

from tests.language.conftest import Hear


@pytest.mark.parametrize(
    "said",
    (
        "boiled potatoes 410 g. Gravy I skip.",
        "200 g cooked rice. It did not include the beans.",
        "85 g strawberries and 60 g grapes, excluding the dates",
        "40 g almonds, and the sunflower seeds no, those blew out of the window",
        "45 g dry oats, up with the lambs again",
    ),
)
def test_a_food_that_was_not_had_is_not_asked_about(heard: Hear, said: str) -> None:
    told = heard(said)
    assert told.all("weigh_in")
    assert not told.all("question")


@pytest.mark.parametrize("said", ("200 g cooked rice with beans", "200 g cooked rice and the beans"))
def test_a_food_that_may_have_been_had_is(heard: Hear, said: str) -> None:
    assert heard(said).all("question")


@pytest.mark.parametrize(
    ("said", "kg"),
    (
        ("cow 612 kg this morning, I weigh 94,5 kg", 94.5),
        ("the truck weighs seventy nine thousand pounds and i weigh two hundred and eight pounds", 94.35),
    ),
)
def test_a_things_weight_beside_ones_own(heard: Hear, said: str, kg: float) -> None:
    (told,) = heard(said).all("body_weight")
    assert told["kg"] == pytest.approx(kg, abs=0.01)


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("bananas, 2, peeled, 231 g the pair", 231.0),
        ("corn tortillas x3, 78 g for the stack", 78.0),
        ("4 meatballs, 160 g the whole pile", 160.0),
        ("half nine last night, 45 g cheddar", 45.0),
        ("billy empty 640, billy with whole milk in it 890, drank the lot", 250.0),
    ),
)
def test_numbers_beside_the_weight_are_read_for_what_they_are(heard: Hear, said: str, grams: float) -> None:
    (told,) = heard(said).all("weigh_in")
    assert told["edible_g"] == pytest.approx(grams)


def test_what_may_be_eaten_later_is_not_recorded(heard: Hear) -> None:
    assert not heard("maybe I eat 50 g of cheddar later, maybe I sleep").all("weigh_in")
