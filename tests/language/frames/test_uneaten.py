"""Food that nobody ate is never recorded; the same words around food that was eaten leave it on record."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from bot.language.fix_meanings import Change, Delete, Which
from bot.language.meanings import NotMine, Unclear
from bot.language.surroundings import Recorded, Surroundings
from bot.language.told import Item
from bot.language.understand import understand

AROUND = Surroundings(now=datetime(2026, 3, 2, 12, tzinfo=UTC))
UNEATEN = {
    "waste": (
        "threw away 180 g cooked rice", "sadly had to throw out 90 g cheddar", "binned 70 g bread",
        "chucked out 120 g yoghurt, mouldy",
        "3 eggs went off", "knocked over 250 ml milk", "tipped 300 ml milk down the sink",
        "80 g spinach gone off so into the bin", "we composted 400 g apples",
    ),
    "doubt": (
        "sold 4 kg plums", "harvested 600 g tomatoes", "picked 800 g raspberries", "froze 350 g chicken breast",
        "still need 400 g flour", "we have 10 eggs", "220 g cooked rice in the freezer",
        "caught a 1 kg trout and let it go",
        "peeled 600 g potatoes", "made 2 kg of hummus", "boil 4 eggs for 8 minutes", "packed 90 g bread",
        "in my dream I ate 400 g ice cream", "everybody had 150 g cooked pasta", "bet I can eat 300 g chocolate",
        "forgot to eat 100 g cooked rice", "in a pickle here", "cool as a cucumber",
        "going on a date", "my coffee mug broke",
    ),
    "negation": (
        "90 g cheddar NOT", "90 g cheddar, just kidding", "80 g ham lol jk", "100 g pear wait no", "100 g pear nvm",
        "I ate 150 g cooked rice but I did not", "neither 80 g cheddar nor 40 g ham", "60 g crisps, only joking",
    ),
    "plan": ("150 g cooked rice later", "150 g cooked rice soon", "120 g pear last week", "90 g bread last month"),
    "report": (
        "he said: 150 g cooked rice",
        'she said "I ate 300 g chocolate"',
    ),
    "others": ("180 g cooked rice, the dog ate it", "120 g ham but the cat got it"),
    "either": ("80 g cheddar or 40 g ham", "100 g pear or 120 g apple"),
    "not_food": (
        "pin 4821", "room 117", "code 9921", "bp 135", "temperature 37.9",
        "the parcel weighs 3 kg", "newborn 3300 g",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("why", "text"), [(why, text) for why, texts in UNEATEN.items() for text in texts])
def test_what_nobody_ate_is_not_recorded(why: str, text: str) -> None:
    found = understand(text, AROUND)
    assert [each.why for each in found if isinstance(each, NotMine)] == [why]
    assert not any(isinstance(each, Item) for each in found)


@pytest.mark.parametrize("text", ("100 g * 100 g banana", "double 100 g cooked rice", "triple 80 g bread"))
def test_a_sum_is_asked_about(text: str) -> None:
    assert [type(each) for each in understand(text, AROUND)] == [Unclear]


@pytest.mark.parametrize(
    ("text", "grams"),
    (
        ("dropped 20 g butter in the pan and ate the lot", [20]),
        ("peeled banana 110 g", [110]),
        ("picked at 40 g nuts", [40]),
        ("made porridge 45 g oats and ate it", [45]),
        ("packed lunch: 80 g bread", [80]),
        ("got through 200 g cooked rice", [200]),
        ("chucked 20 g cheddar on my pasta", [20]),
        ("peeled 150 g carrots and ate them raw", [150]),
        ("weighed 60 g oats for breakfast", [60]),
        ("40 g burnt toast", [40]),
        ("100 g frozen peas", [100]),
        ("200 g cooked rice from the fridge", [200]),
        ("grated 30 g cheddar over the pasta", [30]),
        ("100 g cheddar and 50 g ham", [100, 50]),
        ("binned the crusts, ate 60 g bread", [60]),
        ("made 45 g oats", [45]),
    ),
)
def test_what_was_eaten_is_recorded(text: str, grams: list[float]) -> None:
    told = [each for each in understand(text, AROUND) if isinstance(each, Item)]
    weights = [each.amount.grams for each in told if each.amount is not None and each.amount.grams is not None]
    assert weights == grams


BANANA = Recorded(number=1, food="banana", day=AROUND.today, grams=100, edible_g=100)


@pytest.mark.parametrize(
    "text",
    (
        "I didn't eat it", "just kidding", "that was for the dog", "my son ate it", "not food", "sorry, wrong chat",
        "oh I never ate that", "it was for my brother", "I threw it away", "lol jk",
    ),
)  # fmt: skip
def test_what_was_recorded_last_is_disowned(text: str) -> None:
    assert understand(text, _with_banana()) == [Delete(which=Which(number=1))]


@pytest.mark.parametrize("text", ("I only ate half", "left half of it", "actually I only had half"))
def test_only_half_was_eaten(text: str) -> None:
    (change,) = understand(text, _with_banana())
    assert isinstance(change, Change)
    assert change.share == 0.5 or (change.by is not None and change.by.grams == -50)


@pytest.mark.parametrize("text", ("I ate it all", "it was for me", "that was for lunch", "half past two"))
def test_what_was_eaten_is_not_disowned(text: str) -> None:
    assert not any(isinstance(each, Delete) for each in understand(text, _with_banana()))


def test_which_of_several_was_not_eaten_is_not_guessed() -> None:
    several = replace(AROUND, recorded=lambda: (BANANA, replace(BANANA, number=2, food="apple")))
    assert not any(isinstance(each, Delete) for each in understand("I didn't eat it", several))


def _with_banana() -> Surroundings:
    return replace(AROUND, recorded=lambda: (BANANA,))
