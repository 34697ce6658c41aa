"""A generic word that stands again for the food named before, and weights told behind what was counted."""

import pytest

from tests.language.conftest import Hear


@pytest.mark.parametrize(
    ("said", "food", "grams"),
    (
        ("greek yogurt nonfat, bowl with yogurt 15.5 oz, bowl alone 9 oz", "greek yogurt nonfat", 184.27),
        ("tinned tuna in water, plate plus tuna 402, plate by itself 310", "tuna", 92.0),
        ("semi-skimmed milk, mug and milk 455 g, mug 310 g", "2% milk", 145.0),
    ),
)
def test_a_word_of_the_name_stands_for_the_food(heard: Hear, said: str, food: str, grams: float) -> None:
    (told,) = heard(said).all("weigh_in")
    assert food in told["food"]
    assert told["edible_g"] == pytest.approx(grams, abs=0.02)


@pytest.mark.parametrize("said", ("peanut butter 20 g, butter 10 g", "rice cakes 18 g, cooked rice 120 g"))
def test_a_food_of_its_own_stays_one(heard: Hear, said: str) -> None:
    assert len(heard(said).all("weigh_in")) == 2


# USDA SR28 09252, pear: refuse 10 % (core, stem and seeds).
@pytest.mark.parametrize(
    ("said", "edible"),
    (
        ("a pear with its core in, 166 g as I picked it up", 149.4),
        ("a pear with core, 180 g when it came out of the bag", 162.0),
        ("one banana without the peel, 104 g when I weighed it", 104.0),
    ),
)
def test_the_weight_behind_a_count_is_that_of_the_food(heard: Hear, said: str, edible: float) -> None:
    (told,) = heard(said).all("weigh_in")
    assert told["edible_g"] == pytest.approx(edible)
