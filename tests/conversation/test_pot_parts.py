"""A dish told by its parts: each is an ingredient list of the pot that is being put together, and no pot of its own."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat

PIE = "making a fish pie tonight. cod 480, smoked haddock 220"


@pytest.mark.parametrize(
    ("text", "raw_g"),
    (
        ("the sauce: butter 50, plain flour 50, whole milk 600", 1400),
        ("Sauce - 50g butter, 50g plain flour, 600g whole milk", 1400),
        ("and for the topping, 900 g mashed potato", 1600),
        ("then the topping is mash, 900 g", 1600),
        ("base: spinach 200g", 900),
        ("veg: leek 150, peas 80", 930),
        ("now the cheese layer: cheddar 60 g", 760),
        ("wet stuff = whole milk 300 g, 20 g butter", 1020),
    ),
)
def test_a_part_goes_into_the_pot_that_is_being_put_together(chat: Chat, text: str, raw_g: float) -> None:
    chat.say(PIE)
    said = chat.say(text)
    assert [event["type"] for event in said.events] == ["batch_changed"]
    assert said.events[0]["raw_g"] == raw_g


@pytest.mark.parametrize(
    "text",
    (
        "new batch tomato sauce: 800 g tinned tomatoes, 100 g onion",
        "had 60 g of cheese sauce",
        "lunch: sauce 40 g, pasta 150 g cooked",
        "what is in the sauce?",
        "the sauce tomorrow: 50 g butter, 50 g plain flour",
    ),
)
def test_what_is_no_part_of_it_leaves_the_pot_alone(chat: Chat, text: str) -> None:
    chat.say(PIE)
    assert all(event.get("batch") != 1 for event in chat.say(text).events if event["type"] == "batch_changed")


def test_a_sauce_without_a_pot_is_a_pot(chat: Chat) -> None:
    assert chat.say("the sauce: butter 50, plain flour 50, whole milk 600").events[0]["type"] == "batch_opened"
