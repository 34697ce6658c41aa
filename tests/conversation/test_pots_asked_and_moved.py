"""An ingredient's amount answered in a sentence, food moved into the pot, and what replies say of both."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat

OPEN = "bolognese: 500 g beef mince 5% raw, 400 g passata"


@pytest.mark.parametrize(
    "text", ("onions were 310", "the onions came to 310 g", "310", "onion 310", "310 g of onions", "onions: 310 g")
)
def test_an_ingredients_amount_is_answered_by_a_sentence(chat: Chat, text: str) -> None:
    chat.say(f"{OPEN}, onions")
    said = chat.say(text)
    assert said.one("batch_changed")["raw_g"] == 1210
    assert not said.all("weigh_in")


@pytest.mark.parametrize(
    "text",
    (
        "onion 310 was for the bolognese not me",
        "the onion went in the bolognese, I didn't eat it",
        "not eaten by me, the 310 g onion was for the bolognese",
        "onion was for the bolognese, not mine",
        "didn't eat it, the onion 310 g went into the bolognese",
    ),
)
def test_what_was_taken_as_eaten_moves_into_the_pot(chat: Chat, text: str) -> None:
    chat.given(OPEN, "ate 310 g raw onion")
    said = chat.say(text)
    assert said.one("batch_changed")["raw_g"] == 1210
    assert said.all("weigh_in_removed")


def test_what_is_in_the_pot_already_is_not_put_in_twice(chat: Chat) -> None:
    chat.given(OPEN, "added 310 g raw onion to the bolognese")
    assert not chat.say("onion 310 was for the bolognese not me").records


def test_a_batch_all_in_boxes_is_said_to_be(chat: Chat) -> None:
    chat.given(OPEN, "bolognese is done, 800 g", "boxed it into 4 tubs")
    said = chat.say("had 150 g of the bolognese")
    assert "all of batch 1 (bolognese) is in boxes" in said.text.lower()


def test_a_change_to_what_stands_already_names_the_food_first(chat: Chat) -> None:
    chat.given("200 g cooked white rice")
    assert "#1 already says so: white rice (cooked), 200 g" in chat.say("#1 was 200 g").text


@pytest.mark.parametrize(
    ("portion", "waiting_g"),
    (
        ("had about 300-340 g of the pasta bake", 340),
        ("had 300 to 340 g of the pasta bake", 340),
        ("ate between 200 and 280 g of the pasta bake", 280),
        ("pasta bake 250-260 g for lunch", 260),
        ("I had 300-320 g pasta bake", 320),
    ),
)
def test_what_a_waiting_portion_took_is_not_boxed(chat: Chat, portion: str, waiting_g: float) -> None:
    chat.given("pasta bake: 500 g penne dry, 400 g passata, 300 g cheddar", "pasta bake is done, 1920 g")
    assert chat.say(portion).all("question")
    boxed = chat.say("boxed the rest up into 4").one("batch_boxed")
    assert boxed["box_g"] == pytest.approx((1920 - waiting_g) / 4, abs=0.01)


def test_without_a_waiting_portion_all_of_it_is_boxed(chat: Chat) -> None:
    chat.given("pasta bake: 500 g penne dry, 400 g passata, 300 g cheddar", "pasta bake is done, 1920 g")
    assert chat.say("boxed the rest up into 4").one("batch_boxed")["box_g"] == 480
