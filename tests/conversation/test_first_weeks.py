"""Messages that went wrong in first weeks: units of a correction, undo, origins, reminders, figures in letters."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat


def test_a_number_far_too_large_for_spoons_puts_right_the_grams(chat: Chat) -> None:
    chat.say("2 tbsp peanut butter")
    assert chat.say("pb was 35").changed()["edible_g"] == 35


def test_a_number_of_spoons_puts_right_the_spoons(chat: Chat) -> None:
    chat.say("2 tbsp peanut butter")
    assert chat.say("peanut butter was 3").changed()["edible_g"] == pytest.approx(48, rel=0.04)


def test_undo_takes_back_a_question_before_the_record(chat: Chat) -> None:
    chat.given("100 g banana")
    chat.say("4.6 kg").one("question")
    assert "Question dropped" in chat.say("undo that").text
    assert chat.weigh_ins_today() == 1
    chat.say("undo").one("weigh_in_removed")


def test_times_two_picks_no_choice(chat: Chat) -> None:
    chat.say("200 g chicken").one("question")
    assert chat.say("x2").all("weigh_in_open") == []


def test_a_portion_is_taken_from_the_pot_although_an_old_question_waits(chat: Chat) -> None:
    chat.say("zorblax 500 g")
    for text in ("soup: 500 g carrots, 300 g onion", "cooked 700"):
        chat.say(text)
    assert chat.say("ate 300").recorded()["batch"] == 1


@pytest.mark.parametrize(
    ("text", "food", "grams"),
    (
        ("fish pie from the corner shop 400 g", "fish pie", 400),
        ("shop bought lasagne 350 g", "lasagna", 350),
        ("25 g butter on it, if I am honest", "butter", 25),
    ),
)
def test_where_food_comes_from_and_how_sure_one_is_change_nothing(
    chat: Chat, text: str, food: str, grams: float
) -> None:
    event = chat.say(text).recorded()
    assert (event["food"], event["edible_g"]) == (food, grams)


@pytest.mark.parametrize("text", ("going to the shop for 500 g oats", "bought 400 g rice at the shop"))
def test_shopping_stays_off_the_record(chat: Chat, text: str) -> None:
    assert chat.say(text).records == []


def test_a_volume_that_several_had_is_asked_about(chat: Chat) -> None:
    chat.say("200 ml milk, and that was for two of us").asked("yours")


@pytest.mark.parametrize("text", ("target 2500 kcal p180", "tgt 2500 180p", "goal 2500 kcal, p 180"))
def test_a_target_is_told_in_letters(chat: Chat, text: str) -> None:
    event = chat.say(text).one("target_set")
    assert (event["kcal"], event["protein_g"]) == (2500, 180)


def test_a_label_is_told_in_letters(chat: Chat) -> None:
    event = chat.say("label bar: 50 g, 180 kcal, p12 f6 c20").one("label_saved")
    assert event["kcal"] == 360
    assert "protein 24 g, fat 12 g, carbs 40 g" in chat.heard[-1].text


@pytest.mark.parametrize(
    ("text", "said"),
    (
        ("remind 2130", "21:30"),
        ("remind me 1900", "19:00"),
        ("don't remind me on Sundays", "Friday and Saturday"),
        ("no reminders at the weekend", "Thursday and Friday"),
    ),
)
def test_a_reminder_is_set_in_short(chat: Chat, text: str, said: str) -> None:
    turn = chat.say(text)
    assert said in turn.text
    assert "off" not in turn.text
