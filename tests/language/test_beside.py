"""What stands beside a food and is read with it: its size, kind, waste, what it went on, what else was weighed."""

import pytest

from .conftest import Hear

COOKED_SOUP = ("new batch called lunch soup: 800 g raw carrots, 500 g raw potatoes", "batch 1 cooked 1300 g")


@pytest.mark.parametrize(
    "said",
    (
        "The roast chicken breast and the boiled potatoes were 380 g together",
        "cooked rice, boiled peas and baked cod came to 450 g in total",
        "cod, potatoes, peas: 450 g combined",
        "cod and potatoes: both came to 380 g",
        "rice and peas, 420 g all in",
        "450 g of rice, peas and cod",
        "I had the cod and the peas. Together they weighed 380 g.",
        "rice / pasta 180 g cooked",
    ),
)
def test_one_mass_of_several_foods_is_asked_about(heard: Hear, said: str) -> None:
    assert "how much of each" in heard(said).text


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("200 g cooked rice, 150 g boiled peas, 350 g together", [200, 150]),
        ("rice cooked 250 / boiled peas 80 / evoo 8g", [250, 80, 8]),
        ("rice cooked 250 | boiled peas 80 | evoo 8g", [250, 80, 8]),
        ("rice cooked 250 + boiled peas 80 + evoo 8g", [250, 80, 8]),
        ("banana + 2 rice cakes", [118, 18]),
        ("15 g of parmesan over my pasta, 180 g cooked", [15, 180]),
    ),
)
def test_the_items_of_a_list_stand_by_themselves(heard: Hear, said: str, grams: list[float]) -> None:
    assert [e["as_weighed_g"] for e in heard(said).all("weigh_in")] == pytest.approx(grams)


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("one orange small", 96),
        ("one orange, quite small", 96),
        ("eggs 2 large", 100),
        ("2 eggs (large ones)", 100),
        ("1 banana, a small one", 101),
    ),
)
def test_a_size_behind_the_food_counts(heard: Hear, said: str, grams: float) -> None:
    assert heard(said).recorded()["edible_g"] == pytest.approx(grams)


@pytest.mark.parametrize(
    ("said", "food"),
    (
        ("ice cream, 3 oz, vanilla", "vanilla ice cream"),
        ("milk 200 g, skimmed", "skim milk"),
        ("cheese 30 g, cheddar", "cheddar cheese"),
        ("rice, 180 g cooked, brown", "brown rice"),
        ("130 g fish cod baked", "cod"),
        ("30 g cheese brie", "brie"),
        ("nuts almonds 30 g", "almonds"),
        ("150 g meat chicken breast grilled", "chicken breast"),
    ),
)
def test_a_kind_behind_the_amount_and_a_group_beside_the_food(heard: Hear, said: str, food: str) -> None:
    assert heard(said).recorded()["food"] == food


@pytest.mark.parametrize(
    "said", ("yogurt 150 g, greek", "100 g fish chicken breast cooked", "200 g vegetable rice cooked")
)
def test_a_kind_or_a_group_that_decides_nothing_is_asked_about(heard: Hear, said: str) -> None:
    assert heard(said).asked()["about"] == "food"


@pytest.mark.parametrize(
    ("said", "eaten"),
    (
        ("Roasted chicken drumsticks, 312 g; the bones came to 104 g.", [208]),
        ("Roasted chicken drumsticks 312 g. The bones weighed 104 g", [208]),
        ("Roasted chicken drumsticks 312 g - bones 104 g", [208]),
        ("Mango 300 g. I threw away 40 g of stone.", [260]),
        ("roasted chicken drumsticks 250 g, rice cooked 180 g, bones 60 g", [190, 180]),
        ("peach 180 g, cheddar 30 g, stone 12 g", [168, 30]),
    ),
)
def test_waste_told_with_the_food_is_taken_off_what_it_came_from(heard: Hear, said: str, eaten: list[float]) -> None:
    answer = heard(said)
    assert [e["edible_g"] for e in answer.all("weigh_in")] == eaten
    assert not answer.all("weigh_in_changed")


@pytest.mark.parametrize(
    "said",
    (
        "11.5 g of butter on my toast",
        "butter 11.5 g on the baked potato",
        "11.5 g of butter in my porridge",
        "11.5 g of butter with my pie, though I did not touch the pie itself",
        "11.5 g of butter, if you would",
        "please log 11.5 g of butter if you don't mind",
        "11.5 g of butter in the pan",
    ),
)
def test_what_it_went_on_and_politeness_change_nothing(heard: Hear, said: str) -> None:
    recorded = heard(said).recorded()
    assert (recorded["food"], recorded["as_weighed_g"]) == ("butter", 11.5)


@pytest.mark.parametrize(
    "said", ("half of the boiled potatoes", "half the eggs", "a third of my almonds", "half of the cooked rice")
)
def test_a_share_of_an_unstated_amount_is_asked_about(heard: Hear, said: str) -> None:
    assert heard(said).asked()["about"] == "amount"


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("200 g boiled potatoes, half of them", 100),
        ("300 g cooked rice, I ate half of it", 150),
        ("300 g cooked rice, a third of it went to my daughter", 200),
        ("half of the banana", 59),
    ),
)
def test_a_share_of_what_is_known_is_that_part(heard: Hear, said: str, grams: float) -> None:
    assert heard(said).recorded()["edible_g"] == pytest.approx(grams)


@pytest.mark.parametrize(
    "said", ("boiled rice 432 in the blue bowl", "boiled rice 432 in the bowl", "boiled rice weighed 432 g in the pan")
)
def test_a_vessel_that_was_on_the_scale_is_asked_for(heard: Hear, said: str) -> None:
    assert heard(said).asked()["about"] == "tare"


@pytest.mark.parametrize(
    ("said", "meal"),
    (("180 g of the lunch soup", None), ("180 g of the lunch soup for dinner", "dinner"), ("lunch soup 180 g", None)),
)
def test_a_meal_in_the_name_of_a_batch_sets_no_meal(heard: Hear, said: str, meal: str | None) -> None:
    recorded = heard(*COOKED_SOUP, said).recorded()
    assert (recorded["batch"], recorded["meal"]) == (1, meal)
