"""A description behind a food says which food it is, in whatever words it is put; what is eaten beside it does not."""

import pytest

from .conftest import Hear


@pytest.mark.parametrize(
    ("said", "food"),
    (
        ("roll 55 g, the whole wheat kind", "whole wheat dinner roll"),
        ("toast 38 g the wholemeal sort", "whole wheat toast"),
        ("160 g of Greek yoghurt, of the 2% variety", "greek yogurt lowfat"),
        ("80 g turkey breast from the deli", "deli turkey breast"),
        ("sardines (in oil) 60 g", "canned sardines in oil"),
        ("tuna (brine) 100 g", "canned tuna in water"),
        ("70 g salmon - the smoked stuff", "smoked salmon"),
        ("cheese 25 g, it's cheddar, the reduced fat one", "reduced fat cheddar cheese"),
        ("beef mince 120 g, the lean one (5%), raw", "ground beef 95/5"),
        ("milk 150 ml (oat)", "oat milk"),
        ("cream 20 g, double", "double cream"),
        ("250 g cola, the zero one", "diet cola"),
        ("cereal 35 g - bran flakes", "bran flakes"),
        ("pasta 180 g cooked, wholewheat penne", "whole wheat pasta"),
        ("soup, 280 g, tomato", "tomato soup"),
        ("180 g lentils cooked (the red ones)", "red lentils"),
    ),
)
def test_it_is_put_before_the_food(heard: Hear, said: str, food: str) -> None:
    assert heard(said).recorded()["food"] == food


@pytest.mark.parametrize(
    ("said", "foods"),
    (
        ("bread 60 g, butter 10 g", ["white bread", "butter"]),
        ("rice cooked 150 g, chicken breast cooked 90 g", ["white rice", "chicken breast"]),
        ("salad was: cucumber 110 g, tomato 140 g", ["cucumber", "tomato"]),
        ("60 g white bread, 40 g rye bread", ["white bread", "rye bread"]),
        ("apple 150 g, banana 120 g", ["apple", "banana"]),
        ("cheddar 30 g, oatcakes 24 g, grapes 80 g", ["cheddar cheese", "oatcake", "grapes"]),
        ("2 slices white toast 60 g, 10 g butter", ["white toast", "butter"]),
        ("tea 200 ml, whole milk 20 ml", ["black tea", "whole milk"]),
    ),
)
def test_a_food_of_its_own_describes_no_other(heard: Hear, said: str, foods: list[str]) -> None:
    assert [e["food"] for e in heard(said).events if e["type"] == "weigh_in"] == foods


@pytest.mark.parametrize(
    ("said", "food", "eaten"),
    (
        ("papaya 300 g with the skin and seeds", "papaya", 186.0),  # SR28 09226: refuse 38 %, seeds and skin
        ("pomegranate, seeds only, 90 g", "pomegranate", 90.0),
        ("camembert 35 g rind cut off", "camembert", 35.0),
        ("mango 140 g, stone taken out", "mango", 140.0),
        ("pumpkin seeds only 25 g", "pumpkin seeds", 25.0),
        ("peach 130 g, the stone went in the bin 9 g", "peach", 121.0),
    ),
)
def test_a_part_of_a_food_is_no_food_by_itself(heard: Hear, said: str, food: str, eaten: float) -> None:
    recorded = heard(said).recorded()
    assert (recorded["food"], recorded["edible_g"]) == (food, pytest.approx(eaten, abs=0.1))


@pytest.mark.parametrize(
    "said",
    (
        "the salad comprised 70 g canned chickpeas, 40 g cucumber and 15 g feta",
        "my salad consisted of 70 g canned chickpeas, 40 g cucumber and 15 g feta",
    ),
)
def test_a_dish_is_no_part_of_its_first_ingredient(heard: Hear, said: str) -> None:
    foods = [e["food"] for e in heard(said).events if e["type"] == "weigh_in"]
    assert foods == ["chickpeas", "cucumber", "feta"]


def test_what_it_was_not_made_with_is_not_counted(heard: Hear) -> None:
    assert heard("porridge oats made with water and not with milk, 230 g cooked").recorded()["food"] == "oats"


def test_a_state_before_a_food_of_two_words(heard: Hear) -> None:
    assert heard("boiled sweet potato 160 g").recorded()["food"] == "sweet potato"
    assert heard("boiled sweets 20 g").recorded()["food"] == "hard candy"
