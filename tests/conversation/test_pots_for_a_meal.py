"""What is being cooked for a meal is a pot, and a plate that is told with its meal is eaten."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat


@pytest.mark.parametrize(
    ("text", "name", "raw_g"),
    (
        ("making rajma for lunch - kidney beans soaked 420, onion 160, olive oil 25, water 500", "rajma", 1105),
        (
            "I'm throwing together some chicken soup I've got 680 g of chicken thighs boneless skinless",
            "chicken soup",
            680,
        ),
        ("cooking bolognese for dinner: 500 g beef mince, 150 g onion, 400 g tinned tomatoes", "bolognese", 1050),
        ("knocking up a fish stew for tea, cod 600, potatoes 400, leek 150", "fish stew", 1150),
        ("making a dal for tonight, red lentils 300, water 900, ghee 20", "dal", 1220),
    ),
)
def test_what_is_cooked_for_a_meal_is_a_pot(chat: Chat, text: str, name: str, raw_g: float) -> None:
    (opened,) = [event for event in chat.say(text).events if event["type"] == "batch_opened"]
    assert (opened["name"], opened["raw_g"]) == (name, raw_g)


@pytest.mark.parametrize(
    "text",
    (
        "lunch: chicken breast 180 roasted, rice 200 cooked, broccoli 150",
        "made myself lunch: 2 fried eggs, 60 g toast and 80 g baked beans",
        "had chicken soup for lunch, 400 g",
        "for dinner 150 g salmon, 200 g potatoes boiled, 100 g peas",
    ),
)
def test_a_plate_is_no_pot(chat: Chat, text: str) -> None:
    assert not [event for event in chat.say(text).events if event["type"] == "batch_opened"]


def test_what_will_be_made_tomorrow_is_a_plan(chat: Chat) -> None:
    said = chat.say("making rajma for lunch tomorrow - kidney beans 420, onion 160, olive oil 25, water 500")
    assert not [event for event in said.events if event["type"] in ("batch_opened", "weigh_in", "weigh_in_open")]
