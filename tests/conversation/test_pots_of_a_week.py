"""A week of pots: what is frozen, what vessels weigh, whose pieces and boxes, and when a portion was told."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat

STEW = (
    "new batch barley stew: 300 g dry pearl barley, 500 g carrots, 1200 g water",
    "barley stew cooked 1800 g",
)
BAKE = ("new batch veggie bake: 500 g potatoes, 300 g leeks, 200 g cheddar",)
SQUARES = (*BAKE, "batch 1 cooked 900 g", "cut it in 9 squares")
VESSEL = ("the steel pot weighs 1500 g empty", *STEW[:1], "batch 1 cooked 3300 g in the steel pot")


@pytest.mark.parametrize(
    ("text", "boxes", "box_g"),
    (
        ("froze 800 g of the stew", 1, 800),
        ("I froze 800 g of the barley stew in four tubs of 200 g each for next week", 4, 200),
        ("800 g stew into the freezer for the weekend", 1, 800),
        ("froze half of the stew", 1, 900),
        ("popped 2 x 350 g of stew in the freezer", 2, 350),
        ("froze 600 g stew, 300 g in each tub", 2, 300),
        ("took 700 g of the stew and froze it", 1, 700),
        ("put away 500 g stew for tomorrow's lunch", 1, 500),
        ("freezer: 900 g stew", 1, 900),
    ),
)
def test_what_is_put_by_is_in_boxes_and_eaten_by_nobody(chat: Chat, text: str, boxes: int, box_g: float) -> None:
    chat.given(*STEW)
    boxed = chat.say(text)
    assert [each["type"] for each in boxed.records] == ["batch_boxed"], boxed
    assert (boxed.one("batch_boxed")["boxes"], boxed.one("batch_boxed")["box_g"]) == (boxes, pytest.approx(box_g))
    assert chat.day()["kcal"] == 0


@pytest.mark.parametrize(
    "text", ("froze 800 g stew and had 250 g stew for lunch", "ate 250 g of the stew, 800 g stew went into the freezer")
)
def test_what_is_eaten_beside_what_is_frozen_is_on_the_day(chat: Chat, text: str) -> None:
    chat.given(*STEW)
    told = chat.say(text)
    assert told.one("batch_boxed")["box_g"] == pytest.approx(800)
    assert told.one("weigh_in")["edible_g"] == pytest.approx(250)


def test_what_comes_from_the_freezer_is_eaten(chat: Chat) -> None:
    chat.given(*STEW)
    assert chat.say("had 300 g of the frozen stew").recorded()["edible_g"] == pytest.approx(300)


def test_more_than_there_is_is_asked_about(chat: Chat) -> None:
    chat.given(*STEW)
    chat.say("froze 4 kg of the stew").asked("1,800 g")


@pytest.mark.parametrize(
    ("told", "weighed"),
    (
        ("the 8x8 tin weighs 640 g", "batch 1 cooked 1540 g in the 8x8 tin"),
        ("my 30 cm skillet is 640 g", "bake done, 1540 g in the 30 cm skillet"),
        ("9 by 9 inch pan 640 g", "batch 1 cooked 1540 g in the 9 by 9 inch pan"),
    ),
)
def test_the_size_of_a_vessel_is_part_of_its_name(chat: Chat, told: str, weighed: str) -> None:
    chat.given(*BAKE)
    assert chat.say(told).one("tare_saved")["grams"] == pytest.approx(640)
    assert chat.say(weighed).one("batch_cooked")["cooked_g"] == pytest.approx(900)


@pytest.mark.parametrize("text", ("pot 850g", "stew pot 1.9 kg", "the small saucepan 620g", "wok: 1.1 kg"))
def test_the_bare_weight_of_a_vessel_is_its_tare(chat: Chat, text: str) -> None:
    assert [each["type"] for each in chat.say(text).records] == ["tare_saved"]


def test_a_bowl_of_food_is_no_vessel(chat: Chat) -> None:
    assert "tare_saved" not in chat.say("soup bowl 300 g").kinds


@pytest.mark.parametrize(
    "text", ("steel pot now weighs 2400 g", "the steel pot is down to 2400 g", "steel pot on the scale: 2.4 kg")
)
def test_a_known_vessel_is_taken_off_again(chat: Chat, text: str) -> None:
    chat.given(*VESSEL)
    asked = chat.say(text)
    asked.asked("900 g is left")
    assert chat.press("I ate 900 g").recorded()["edible_g"] == pytest.approx(900)
    assert "900 g" in chat.left(1)


def test_nothing_is_asked_where_the_weight_is_as_on_record(chat: Chat) -> None:
    chat.given(*VESSEL)
    chat.say("steel pot now weighs 3300 g").nothing("as on record")


@pytest.mark.parametrize("text", ("batch lentils 350 dry", "batch lentils 350 g dry, 900 g water"))
def test_the_word_batch_and_another_food_open_another(chat: Chat, text: str) -> None:
    chat.given(*STEW)
    assert chat.say(text).one("batch_opened")["batch"] == 2


def test_a_portion_stands_on_the_day_it_was_told(chat: Chat) -> None:
    chat.given(*BAKE)
    chat.say("had 250 g of the bake", at="2026-03-02T18:00:00+00:00").asked()
    portion = chat.say("batch 1 cooked 900 g", at="2026-03-03T09:00:00+00:00").one("weigh_in")
    assert portion["day"] == "2026-03-02"


@pytest.mark.parametrize("kids", ("the boys", "my sons"))
def test_what_an_unknown_number_had_is_said_and_the_rest_is_recorded(chat: Chat, kids: str) -> None:
    chat.given(*STEW)
    told = chat.say(f"I had 300 g, my wife had 350 g and {kids} 150 g each")
    assert told.one("weigh_in")["edible_g"] == pytest.approx(300)
    assert told.one("batch_reduced")["grams"] == pytest.approx(350)
    assert "150 g" in told.text


@pytest.mark.parametrize(
    "text",
    (
        "one bake square yesterday for lunch and two and a half squares for dinner",
        "a square of the bake yesterday at lunch, and two and a half for dinner",
    ),
)
def test_pieces_are_read_portion_by_portion(chat: Chat, text: str) -> None:
    chat.given(*SQUARES)
    found = chat.say(text).all("weigh_in")
    assert [(each["edible_g"], each["meal"], each["day"]) for each in found] == [
        (pytest.approx(100), "lunch", "2026-03-01"),
        (pytest.approx(250), "dinner", "2026-03-01"),
    ]


def test_pieces_stand_beside_another_food(chat: Chat) -> None:
    chat.given(*SQUARES)
    found = chat.say("two bake squares and 80 g banana").all("weigh_in")
    assert [each["edible_g"] for each in found] == [pytest.approx(200), pytest.approx(80)]


@pytest.mark.parametrize(
    ("text", "part"), (("3 of us split the salsa evenly", 3), ("split it evenly with my neighbour", 2))
)
def test_a_dish_told_just_now_is_divided(chat: Chat, text: str, part: int) -> None:
    chat.given("made salsa: 300 g tomatoes, 60 g onion")
    changed = chat.say(text).all("weigh_in_changed")
    assert [each["edible_g"] for each in changed] == [pytest.approx(300 / part), pytest.approx(60 / part)]


def test_another_dish_is_not_what_was_told(chat: Chat) -> None:
    chat.given("made salsa: 300 g tomatoes, 60 g onion")
    assert not chat.say("3 of us split the pizza evenly").all("weigh_in_changed")


@pytest.mark.parametrize("text", ("box", "a box", "another box", "tub"))
def test_a_box_is_one_of_the_only_pot_in_boxes(chat: Chat, text: str) -> None:
    chat.given(*STEW, "2 boxes of 500 g from the stew")
    assert chat.say(text).recorded()["edible_g"] == pytest.approx(500)
    chat.given("a box from batch 1")
    chat.say(text).refused("No boxes are left; 800 g of barley stew is.")
