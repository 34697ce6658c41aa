"""Clauses that only narrate vanish; those that say what became of the food do not."""

import pytest

from tests.conversation.chat import Event, Said

from .conftest import Hear


def recorded(said: Said) -> list[Event]:
    return [*said.all("weigh_in"), *said.all("weigh_in_open")]


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("while my sister painted the fence I ate 90 g of cashews", 90),
        ("After my uncle had at last stopped talking about his boat I ate 70 g of brie", 70),
        ("The dentist, a tall man from Kent, told me to eat less sugar, so 140 g of raw carrots it was", 140),
        ("What with the boiler broken and the electrician not coming till Friday, lunch was 160 g of ham", 160),
        ("In place of the planned 300 g I ate 130 g of cooked pasta", 130),
        ("Folk tell me that 50 g of feta is too much; all the same I have eaten 50 g of feta", 50),
        ("my donkey ate three apples, i ate 120 g of grapes", 120),
        ("the sheep got the celery leaves, I ate 120 g of grapes", 120),
        ("the bull was 800 kg this morning, I had 60 g of ham", 60),
        ("Yesterday it was 120, today 155 g of strawberries", 155),
        ("I have my 45 g of brie whether the nurse likes it or not", 45),
        ("when the man came to mend the roof I was just finishing 95 g of mango", 95),
        ("85 g of almonds off the tree my grandfather planted", 85),
    ),
)
def test_a_clause_that_only_narrates_is_set_aside(heard: Hear, said: str, grams: float) -> None:
    found = recorded(heard(said, at="2026-03-04T12:00:00+00:00"))
    assert [(event["as_weighed_g"], event["day"]) for event in found] == [(grams, "2026-03-04")]


@pytest.mark.parametrize(
    "said",
    (
        "30 g of walnuts for the squirrels",
        "150 g cooked rice, which my neighbour ate",
        "while I watched, my husband ate 120 g of salted peanuts",
        "70 g salami, and I left all of it",
        "when my sister comes I will eat 120 g of cashews",
    ),
)
def test_what_became_of_the_food_is_still_heard(heard: Hear, said: str) -> None:
    assert not recorded(heard(said))


def test_a_food_animal_before_a_cut_stays_food(heard: Hear) -> None:
    assert [e["food"] for e in recorded(heard("90 g cooked lamb chop for lunch"))] == ["lamb chop"]
    assert [e["as_weighed_g"] for e in recorded(heard("20 g of butter for the chicken"))] == [20]


def test_a_day_of_the_narrated_clause_dates_the_meal_where_it_says_when(heard: Hear) -> None:
    said = heard("when my sister came round yesterday I ate 80 g of brie", at="2026-03-04T12:00:00+00:00")
    assert [e["day"] for e in recorded(said)] == ["2026-03-03"]
