"""Words that a microphone or a thumb put in place of a food's name, and those that only look like it."""

import pytest

from .conftest import Hear


@pytest.mark.parametrize(
    ("said", "food"),
    (
        ("flower tortilla 48 g", "flour tortilla"),
        ("25 g of flower", "all-purpose flour"),
        ("stake 180 g grilled sirloin", "top sirloin steak"),
        ("lam chop 150 g grilled", "lamb chop"),
        ("90 g leaks boiled", "leek"),
        ("40 g sunflower seeds", "sunflower seeds"),
        ("almds 25 g", "almonds"),
        ("weighin banana 118 g", "banana"),
        ("a lil sherry 50 ml", "fortified dry wine"),
        ("beer ration 330 ml", "beer"),
    ),
)
def test_the_food_that_was_meant(heard: Hear, said: str, food: str) -> None:
    assert heard(said).recorded()["food"] == food


def test_a_clipped_word_in_a_list_of_foods(heard: Hear) -> None:
    foods = [e["food"] for e in heard("tom 80, cuc 60, evoo 10 g").events if e["type"] == "weigh_in"]
    assert foods == ["tomato", "cucumber", "olive oil"]


@pytest.mark.parametrize("said", ("for eggs scrambled", "for eggs hard boiled out of the cooler"))
def test_a_number_that_was_misheard(heard: Hear, said: str) -> None:
    recorded = heard(said).recorded()
    assert (recorded["food"], recorded["evidence"]) == ("egg", "counted")
    assert recorded["as_weighed_g"] == pytest.approx(200, abs=5)  # four of 50 g, SR28 01123 large


@pytest.mark.parametrize("said", ("raclette 60 g", "alfajores 40 g", "bastilla 120 g", "shito 20 g"))
def test_a_food_that_is_spelt_like_another_is_not_taken_for_it(heard: Hear, said: str) -> None:
    foods = {e.get("food") for e in heard(said).events}
    assert foods.isdisjoint({"pork rillettes", "canned albacore tuna in water", "malabar spinach", "shiro"})
