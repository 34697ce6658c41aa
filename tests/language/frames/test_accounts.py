"""Who had how much, by clause and part in it: any name or relation, anywhere in a sentence."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Said
from tests.language.conftest import Hear

RAGOUT = ("ragout: 900 g raw pork shoulder, 300 g carrot, 600 g water", "ragout is done, 1500 g")
BARLEY = ("barley: 400 g dry pearl barley, 800 g water", "barley is done, 1100 g")
STEW = ("stew: 900 g raw pork shoulder, 300 g carrot, 600 g water", "stew is done, 1500 g")
BOXED = (*STEW, "boxed the stew into 5 tubs")  # 300 g each
SLICES = (*RAGOUT, "ragout makes 10 pieces")  # 150 g each


def eaten(said: Said) -> list[float]:
    found = (*said.all("weigh_in"), *said.all("weigh_in_open"))
    return [round(e["as_weighed_g"], 1) for e in found]


def gone(said: Said) -> list[float]:
    return [round(e["grams"], 1) for e in said.all("batch_reduced")]


@pytest.mark.parametrize(
    ("text", "mine", "theirs"),
    (
        ("250 g of the ragout has vanished into our lodger", [], [250]),
        ("220 g of ragout and 180 g of the barley ended up on gita's plate", [], [220, 180]),
        ("threw out 100 g ragout and 60 g of the barley", [], [100, 60]),
        ("out of the ragout i had 310, Opa 280, both girls together 400", [310], [280, 400]),
        ("nephew inhaled 190 of the ragout before i could stop him", [], [190]),
        ("a fifth of the ragout was Bo's and I had a tenth", [150], [300]),
        ("240 of the ragout was put in the freezer, 200 is my lunch", [200], []),
        ("my auntie, who sits beside me, took 200 g of the ragout", [], [200]),
        ("ragout to go, 300, a workmate stole 80 of that", [220], [80]),
        ("from the ragout, which I must say smelled lovely, I spooned out 275 g for myself", [275], []),
        ("ragout, 200 g, for me, and the barley 120 g, for her", [200], [120]),
    ),
)
def test_each_quantity_goes_to_its_eater(heard: Hear, text: str, mine: list[float], theirs: list[float]) -> None:
    said = heard(*RAGOUT, *BARLEY, text)
    assert (eaten(said), gone(said)) == (mine, theirs)


@pytest.mark.parametrize(
    ("text", "mine"),
    (
        ("ragout, 300 g, for me; whatever remained went in the bin", [300]),
        ("I had 260 of the ragout and the remainder, I fear, had to be thrown away", [260]),
        ("what was left of the ragout i tipped in the bin", []),
    ),
)
def test_a_rest_in_any_words_closes_the_pot(heard: Hear, text: str, mine: list[float]) -> None:
    said = heard(*RAGOUT, text)
    assert eaten(said) == mine
    assert said.one("batch_closed")


@pytest.mark.parametrize(
    ("text", "mine", "theirs"),
    (
        ("both my cousins went off with a stew tub", [], [600]),
        ("gran had a tub, I had a tub", [300], [300]),
    ),
)
def test_boxes_go_to_whoever_had_them(heard: Hear, text: str, mine: list[float], theirs: list[float]) -> None:
    said = heard(*BOXED, text)
    assert (eaten(said), gone(said)) == (mine, theirs)


def test_pieces_are_counted_for_whom_they_are(heard: Hear) -> None:
    said = heard(*SLICES, "for me two of the ragout pieces")
    assert eaten(said) == [300]


@pytest.mark.parametrize(
    "text",
    (
        "Morwenna says I should have 300 g of the ragout",
        "my lodger cooked 300 g of ragout of her own",
        "how much of the ragout would 200 g for my spouse leave?",
        "if my lodger had 300 g of the ragout there'd be none",
        "no ragout for my lodger, 300 g or not",
        "tomorrow 250 g of the ragout goes to our lodger",
    ),
)
def test_what_nobody_had_leaves_the_pot_alone(heard: Hear, text: str) -> None:
    said = heard(*RAGOUT, text)
    assert (eaten(said), gone(said)) == ([], [])


def test_a_day_or_a_meal_is_no_eater(heard: Hear) -> None:
    said = heard(*RAGOUT, "Tonight's dinner reads: ragout 210 g; boiled potatoes 150 g")
    assert (eaten(said), gone(said)) == ([210, 150], [])


@pytest.mark.parametrize(
    ("text", "mine"),
    (
        ("cooked couscous came to 360 g, from it my daughter took 140 for herself", 220),
        ("Gita brought 80 g of walnuts, i ate 30", 30),
        ("we are 6 at the table, cooked couscous 1 kg, I took 170 of that", 170),
        ("banana in two with Bo, my half, no peel, 54 g", 54),
        ("Bo left 50 g of roasted pork loin on his plate, i ate it", 50),
        ("cheddar 90 g, of which 30 g went to my lodger", 60),
    ),
)
def test_the_writers_part_of_one_food(heard: Hear, text: str, mine: float) -> None:
    assert eaten(heard(text)) == [mine]


@pytest.mark.parametrize(
    "text",
    (
        "my niece came and had 200 g cooked couscous",
        "150 ml coconut milk went to the pudding of my daughter, not to me",
        "our lodger got through 90 g of walnuts",
    ),
)
def test_food_of_others_is_nobodys_weigh_in(heard: Hear, text: str) -> None:
    assert eaten(heard(text)) == []


@pytest.mark.parametrize(
    ("text", "mine"),
    (
        ("For start of day, toast white 60 g, on top avocado 50 g", [60, 50]),
        ("shake was 30 g whey isolate and 200 g semi skimmed milk", [30, 200]),
        ("had 40 g walnuts with my lodger", [40]),
    ),
)
def test_what_looks_like_anothers_is_the_writers(heard: Hear, text: str, mine: list[float]) -> None:
    assert eaten(heard(text)) == mine
