"""Pots that amounts and weights alone tell: what goes in is more than one eats, what is in is gross less empty."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat

LENTILS = "lentil soup: 300 g dry brown lentils, 200 g carrots, 1500 g water"


@pytest.mark.parametrize(
    ("text", "name", "raw_g"),
    (
        (
            "Hob's busy. Split peas, dry, 240 g; leeks 130 g; rapeseed oil 12 g; garlic 5 g; ginger 6 g; cumin seeds 3 g; "
            "turmeric 2 g; paprika 4 g; celery 60 g; bay leaf 1 g; and 1150 g of water.",
            "split peas",
            1613,
        ),
        ("onto the flame with it: 280 g green lentils dry. 70 g celery. 1 litre water. 12 g salt", "lentils", 1363.7),
        ("gran doing her mole verde, me on the scale. 1.2 kg raw chicken thighs, 300 g tomatillos, 40 g oil", "mole verde", 1540),
        ("pressure cooker stuffed w/ pinto beans dry 1 lb, water 1400 g, salt 9 g, onion 140 g", "pinto beans", 2002.6),
        ("Weighed each thing first. 650 g raw salmon, 480 g raw potatoes, 180 g cream, 25 g butter", "salmon", 1335),
        ("Husband has me on pepperpot duty. raw beef chuck 900 g, thyme 4 g, water 800 g, salt 10 g", "pepperpot", 1714),
    ),
)  # fmt: skip
def test_more_than_one_person_eats_is_a_pot(chat: Chat, text: str, name: str, raw_g: float) -> None:
    said = chat.say(text)
    opened = said.one("batch_opened")
    assert name.split()[-1].rstrip("s") in opened["name"]
    assert opened["raw_g"] == pytest.approx(raw_g, abs=5)
    assert not said.all("weigh_in")
    assert not said.all("weigh_in_open")


@pytest.mark.parametrize(
    "text",
    (
        "dry oats 55 g, water 240 g, cinnamon 2 g, pear 90 g",
        "cod 210 g raw, green beans 150 g, olive oil 9 g",
        "honeydew 880 g, feta 70 g, mint 4 g",
        "dry pasta 140 g, passata 150 g, parmesan 20 g",
        "I had 320 g cooked rice, 260 g cooked beef, 180 g broccoli",
    ),
)
def test_what_one_person_eats_is_no_pot(chat: Chat, text: str) -> None:
    said = chat.say(text)
    assert not said.all("batch_opened")
    assert said.all("weigh_in") or said.all("weigh_in_open")


@pytest.mark.parametrize(
    "text",
    (
        "whole thing sits at 2.9 kg, empty it was 1.2",
        "took it off the heat: 2900 gross, 1200 tare",
        "2.9 kg soup incl the handi (1.2)",
        "soup's ready, and the lot with its kettle 2900, kettle alone 1200",
        "1700 left once it had cooked",
    ),
)
def test_of_two_weights_of_a_pot_on_the_stove_the_smaller_is_its_vessel(chat: Chat, text: str) -> None:
    chat.say(LENTILS)
    said = chat.say(text)
    assert said.one("batch_cooked")["cooked_g"] == pytest.approx(1700)
    assert not said.all("question")


def test_a_vessel_included_is_taken_off_by_its_saved_weight(chat: Chat) -> None:
    chat.say(LENTILS)
    chat.say("big pot empty 1.2 kg")
    assert chat.say("Soup's ready, 2.95 kg pot included").one("batch_cooked")["cooked_g"] == pytest.approx(1750)


@pytest.mark.parametrize("text", ("soup, 400 for me", "had 300 g salad at work", "will it be 1700?", "apple 150"))
def test_other_weights_are_no_cooked_weight(chat: Chat, text: str) -> None:
    chat.say(LENTILS)
    assert not chat.say(text).all("batch_cooked")
