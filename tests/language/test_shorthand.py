"""Common words as they are texted: none of them is taken for a part of a food's name."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bot.language.lexicon import lexicon
from bot.language.meanings import NotMine
from bot.language.told import Item
from bot.language.understand import understand

from .test_pseudo_locale import AROUND


@pytest.mark.parametrize("short", sorted(lexicon().shorthand))
def test_a_short_word_reads_as_its_word(short: str) -> None:
    frames = ("{} i had 90 g cheddar then", "90 g cheddar {} the lads were here")
    for frame in frames:
        typed, full = (understand(frame.format(word), AROUND) for word in (short, lexicon().shorthand[short]))
        assert [type(each) for each in typed] == [type(each) for each in full]
        assert [each.name for each in typed if isinstance(each, Item)] == [
            each.name for each in full if isinstance(each, Item)
        ]


@pytest.mark.parametrize(
    ("text", "food"),
    (
        ("200 g rice bc im starving", "white rice"),
        ("had 2 eggs cuz nothing else in the house", "egg"),
        ("120 g salmon thru the oven then plate", "farmed atlantic salmon"),
        ("250 ml whole milk w/o sugar", "whole milk"),
        ("2nite 160 g cod baked", "cod"),
    ),
)
def test_no_short_word_is_part_of_a_food(text: str, food: str) -> None:
    (item,) = understand(text, AROUND)
    assert isinstance(item, Item)
    assert item.name is not None
    assert (item.name.foods, item.name.unknown) == ((food,), ())


def test_tomorrow_in_short_is_a_plan() -> None:
    assert understand("2moro 300 g chicken thighs for me", AROUND) == [NotMine(why="plan")]


@pytest.mark.parametrize("text", ("cheers cuz, 90 g cheddar", "90 g cheddar, cuz"))
def test_who_is_spoken_to_is_no_reason(text: str) -> None:
    (item,) = understand(text, AROUND)
    assert isinstance(item, Item)
    assert item.name is not None
    assert item.name.foods == ("cheddar cheese",)


def test_a_name_of_the_persons_own_stays() -> None:
    around = replace(AROUND, labels=("bc mix",))
    (item,) = understand("40 g bc mix", around)
    assert isinstance(item, Item)
    assert item.name is not None
    assert item.name.foods == ("bc mix",)
