"""The roles of numbers: counts beside weights, waste, vessels and repairs, in any order and any voice."""

from __future__ import annotations

import pytest

from .chat import Chat


def told(chat: Chat, text: str) -> list[tuple[str, float]]:
    """What a message puts on record: each food with the grams eaten, to the gram."""
    return [(e["food"], round(e["edible_g"])) for e in chat.say(text).events if e["type"] == "weigh_in"]


@pytest.mark.parametrize(
    ("text", "recorded"),
    [
        ("had sausages, pork ones, two, 112 g", [("pork sausage", 112)]),
        ("31 g of oatcakes, that's 3 of them", [("oatcake", 31)]),
        ("a pair of oatcakes that come to 26 g", [("oatcake", 26)]),
        ("a brace of crumpets, all told 108 g", [("crumpet", 108)]),
        ("dates : 4, they weigh 8 g the piece", [("medjool date", 32)]),
        ("i ate meatballs six, each is of 25 g", [("meatballs", 150)]),
        ("Almonds; I counted 15 of them and that was 18 g", [("almonds", 18)]),
        ("walnuts, 6 of them, on the bus", [("walnuts", 24)]),
        ("so it was scrambled eggs, three of them, they came out at 160 grams", [("egg", 160)]),
        ("hot dogs, 2, weigh 90g. buns for em, 2 hot dog buns, 86g", [("hot dog", 90), ("hamburger bun", 86)]),
        ("rye bread I eat 2 slices, with it cheddar 30 g", [("rye bread", 64), ("cheddar cheese", 30)]),
        ("Rye toast the day, slices three, butter on it 14 g", [("toasted rye bread", 72), ("butter", 14)]),
        ("I finished every last one of the 180 g strawberries", [("strawberries", 180)]),
        ("160 g of roast potatoes on my plate and not one of them left", [("roast potatoes with fat", 160)]),
    ],
)
def test_a_count_beside_a_weight_takes_nothing_off_it(chat: Chat, text: str, recorded: list[tuple[str, float]]) -> None:
    assert told(chat, text) == recorded


def test_milk_in_each_of_several_mugs_is_multiplied(chat: Chat) -> None:
    milk = [e for e in chat.say("two mugs of tea, 15 g whole milk in each one").events if e.get("food") == "whole milk"]
    assert [e["as_weighed_g"] for e in milk] == [30]


def test_pieces_for_somebody_else_are_asked_about(chat: Chat) -> None:
    answer = chat.say("crumpets 110 g, 1 for my brother")
    assert not [e for e in answer.events if e["type"] == "weigh_in"]
    assert [e for e in answer.events if e["type"] == "question"]
