"""Pots of people who cook together: their vessels, how a dish is announced, boxes for each of them."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat, Said

CURRY = ("new batch curry: 900 g raw chicken breast, 400 g coconut milk, 300 g onion", "curry cooked 1400 g")
BOXED = (*CURRY, "split the curry into 5 boxes")


def last(chat: Chat, *texts: str) -> Said:
    """What the last of the messages brings about."""
    return [chat.say(text) for text in texts][-1]


@pytest.mark.parametrize(
    ("text", "name", "grams"),
    (
        ("My tall cezve weighs 815 g on its own", "tall cezve", 815),
        ("wee potjie is 2040 with nothing in it", "wee potjie", 2040),
    ),
)
def test_what_weighs_something_empty_is_a_vessel(chat: Chat, text: str, name: str, grams: float) -> None:
    saved = chat.say(text).one("tare_saved")
    assert (saved["name"], saved["grams"]) == (name, grams)


def test_a_heading_is_no_vessel(chat: Chat) -> None:
    saved = chat.say("vessels first: the stockpot weighs 2250 g, the roasting dish weighs 1800 g").all("tare_saved")
    assert [(each["name"], each["grams"]) for each in saved] == [("stockpot", 2250), ("roasting dish", 1800)]


def test_another_one_of_a_kind_of_vessel_is_known_by_its_kind(chat: Chat) -> None:
    saved = last(chat, "the big potjie weighs 2040 g empty", "and the small potjie weighs 960 g").one("tare_saved")
    assert saved["name"] == "small potjie"


@pytest.mark.parametrize("text", ("a papaya weighs 300 g on its own", "the salad weighs 250 g"))
def test_food_that_weighs_something_is_no_vessel(chat: Chat, text: str) -> None:
    assert "tare_saved" not in chat.say(text).kinds


@pytest.mark.parametrize("text", ("1240 empty", "it's 1240 g on its own", "the pan is 1240"))
def test_the_weight_of_a_vessel_is_answered_in_any_words(chat: Chat, text: str) -> None:
    done = last(chat, CURRY[0], "curry done, 2640 with the big pan", text)
    assert done.one("batch_cooked")["cooked_g"] == 1400


def test_a_saved_vessel_is_known_by_its_last_word(chat: Chat) -> None:
    done = last(chat, "the dutch oven weighs 2200 g empty", CURRY[0], "curry is done, 3600 with the oven and all")
    assert done.one("batch_cooked")["cooked_g"] == 1400


@pytest.mark.parametrize(
    ("text", "name", "raw_g"),
    (
        ("Ugali now, from 350 g cornmeal and 800 g water", "ugali", 1150),
        (
            "Number three is a chicken tray bake with 1100 g raw chicken thighs, 600 g sweet potato and 30 g olive oil",
            "chicken tray bake",
            1730,
        ),
        ("new pot number nine: 400 g dry pasta, 300 g passata, 200 g onion", "number nine", 900),
    ),
)
def test_a_word_leads_from_a_dish_to_its_parts(chat: Chat, text: str, name: str, raw_g: float) -> None:
    opened = chat.say(text).one("batch_opened")
    assert (opened["name"], opened["raw_g"]) == (name, raw_g)


def test_a_pot_with_a_number_for_its_name_goes_by_it(chat: Chat) -> None:
    chat.say("new pot number nine: 400 g dry pasta, 300 g passata, 200 g onion")
    assert chat.say("number nine cooked 1200").one("batch_cooked")["cooked_g"] == 1200
    assert chat.say("250 g out of number nine").recorded()["batch"] == 1


@pytest.mark.parametrize(
    "text", ("Toast with 10 g butter and 15 g jam", "porridge from 40 g oats and 200 g milk", "number one was 90 g")
)
def test_a_plate_is_no_pot(chat: Chat, text: str) -> None:
    chat.say("60 g banana")
    assert "batch_opened" not in chat.say(text).kinds


def test_a_part_of_a_dish_is_no_weight_of_the_dish(chat: Chat) -> None:
    chat.say("making a pumpkin soup: 700 g pumpkin, 200 g onion, 900 g vegetable broth")
    assert chat.say("Actually the pumpkin was 750 g.").one("batch_changed")["raw_g"] == 1850
    assert chat.say("pumpkin soup is done, 1500").one("batch_cooked")["cooked_g"] == 1500
    chat.say("300 g of the soup")
    changed = chat.say("argh, the pumpkin in the soup was 720 g")
    assert changed.one("batch_changed")["raw_g"] == 1820
    assert changed.one("weigh_in_changed")["edible_g"] == 300


@pytest.mark.parametrize(
    "text",
    (
        "All curry that remains I put into 5 equal boxes",
        "Split what's left of that curry five ways, five boxes even",
        "packed 5 x 280 g of the curry",
    ),
)
def test_boxes_are_filled_and_nothing_is_eaten(chat: Chat, text: str) -> None:
    said = last(chat, *CURRY, text)
    boxed = said.one("batch_boxed")
    assert (boxed["boxes"], boxed["box_g"]) == (5, 280)
    assert "weigh_in" not in said.kinds


@pytest.mark.parametrize(
    ("text", "boxes"), (("one stays in the fridge and 4 boxes I froze", 4), ("froze two of them", 2))
)
def test_boxes_that_are_frozen_are_not_eaten(chat: Chat, text: str, boxes: int) -> None:
    said = last(chat, *BOXED, text)
    assert said.one("batch_moved")["boxes"] == boxes
    assert "weigh_in" not in said.kinds


def test_boxes_are_filled_and_some_of_them_frozen(chat: Chat) -> None:
    said = last(chat, *CURRY, "I divided what is left of the curry into 4 boxes and froze 2 of them")
    assert (said.one("batch_boxed")["boxes"], said.one("batch_moved")["boxes"]) == (4, 2)


def test_a_box_of_a_food_is_from_the_pot_in_boxes(chat: Chat) -> None:
    assert last(chat, *BOXED, "a box of curry was lunch, eaten at my desk").recorded()["batch"] == 1


@pytest.mark.parametrize(
    ("text", "mine_g", "theirs_g"),
    (
        ("curry: 3 of us, 250 g each", 250, 500),
        ("four of us had curry, 200 g each", 200, 600),
    ),
)
def test_each_of_us_has_the_same(chat: Chat, text: str, mine_g: float, theirs_g: float) -> None:
    said = last(chat, *CURRY, text)
    assert said.one("weigh_in")["edible_g"] == mine_g
    assert said.one("batch_reduced")["grams"] == theirs_g


def test_a_box_for_each_of_us(chat: Chat) -> None:
    said = last(chat, *BOXED, "one box each for Nadia and me")
    assert said.one("weigh_in")["edible_g"] == 280
    assert said.one("batch_reduced")["grams"] == 280


def test_what_was_left_and_given_away_is_not_eaten(chat: Chat) -> None:
    said = last(chat, *CURRY, "all of what was left of the curry I gave to my sister")
    assert "batch_closed" in said.kinds
    assert "weigh_in" not in said.kinds


@pytest.mark.parametrize(
    ("text", "raw_g"),
    (
        ("the onion was 240 in fact", 1540),
        ("Turns out the coconut milk was really 380 g", 1580),
        ("I told you wrong, the onion was 250", 1550),
    ),
)
def test_what_one_pot_alone_holds_is_put_right_without_its_name(chat: Chat, text: str, raw_g: float) -> None:
    said = last(chat, *CURRY, "310 of the curry", text)
    assert said.one("batch_changed")["raw_g"] == raw_g
    assert "weigh_in" not in said.kinds


@pytest.mark.parametrize(
    "text", ("had the onion, it was 40 in fact", "another onion, 60 g in fact", "the cheddar was 40 g")
)
def test_other_food_is_no_correction_of_a_pot(chat: Chat, text: str) -> None:
    assert "batch_changed" not in last(chat, *CURRY, text).kinds


def test_a_weigh_in_of_the_food_is_put_right_before_a_pot(chat: Chat) -> None:
    assert last(chat, *CURRY, "onion 60 g", "the onion was 70 in fact").changed()["as_weighed_g"] == 70


@pytest.mark.parametrize("text", ("oops mom's was 190", "sorry, my brother's was 150"))
def test_a_weight_of_somebody_elses_changes_nothing_of_the_writers(chat: Chat, text: str) -> None:
    said = last(chat, *CURRY, "310 of the curry", "my mom had 200 and my brother 160", text)
    assert said.records == []


def test_half_of_the_box_that_was_taken_is_no_second_box(chat: Chat) -> None:
    said = last(chat, *BOXED, "one box of curry", "actually i only ate half the box, gave the dog the rest")
    assert said.one("weigh_in")["edible_g"] == 140
    assert "3 of 5 boxes" not in said.text
