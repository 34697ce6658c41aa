"""Answers to the bot's questions in a person's own words, and what was told being taken back or put right."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat


@pytest.mark.parametrize(
    ("told", "answer", "food"),
    (
        ("175 g chicken leg roasted", "meat & skin", "chicken leg with skin"),
        ("175 g chicken leg roasted", "leg, with its skin", "chicken leg with skin"),
        ("175 g chicken leg roasted", "i pulled the skin off", "chicken leg skinless"),
        ("175 g chicken leg roasted", "no skin", "chicken leg skinless"),
        ("130 g minced beef cooked", "15% fat", "ground beef 85/15"),
        ("130 g minced beef cooked", "the 93 percent one", "ground beef 93/7"),
        ("130 g minced beef cooked", "12 % fat", "ground beef 90/10"),
    ),
)
def test_what_tells_the_kinds_apart_names_the_kind(chat: Chat, told: str, answer: str, food: str) -> None:
    chat.say(told)
    assert chat.say(answer).recorded()["food"] == food


def test_a_weigh_in_told_again_answers_and_is_recorded_once(chat: Chat) -> None:
    chat.say("40 g oats and 10 g honey")
    event = chat.say("40 g dry oats and 10 g honey").recorded()
    assert (event["food"], event["state"], event["id"]) == ("oats", "raw", 1)


def test_a_right_weight_beside_the_old_one_changes_what_is_asked_about(chat: Chat) -> None:
    chat.say("150 g pork")
    turn = chat.say("150 minus 35, so 115 g pork")
    opened = [event for event in turn.events if event["type"] == "weigh_in_open"]
    assert [(event["id"], event["as_weighed_g"]) for event in opened] == [(1, 115)]


def test_another_weight_of_the_food_asked_about_is_a_weigh_in_of_its_own(chat: Chat) -> None:
    chat.say("200 g salmon")
    chat.say("raw")
    assert chat.say("200 g salmon cooked").recorded()["id"] == 2


def test_a_state_may_come_before_the_food(chat: Chat) -> None:
    chat.say("130 g")
    chat.say("raw")
    event = chat.say("chicken breast").recorded()
    assert (event["food"], event["state"], event["edible_g"]) == ("chicken breast", "raw", 130)


def test_an_amount_may_come_with_the_state(chat: Chat) -> None:
    chat.say("rice")
    event = chat.say("180 g cooked").recorded()
    assert (event["state"], event["edible_g"]) == ("cooked", 180)


@pytest.mark.parametrize("answer", ("just a few drops of lemon juice, nothing", "a squeeze", "hardly any"))
def test_what_is_too_little_to_weigh_is_not_asked_about_again(chat: Chat, answer: str) -> None:
    chat.say("lemon juice")
    assert "dropped" in chat.say(answer).text


@pytest.mark.parametrize(
    "text",
    (
        "never ate those, take them off", "didn't touch the crisps in the end", "i had no crisps after all",
        "turns out i never had the crisps",
    ),
)  # fmt: skip
def test_what_was_not_eaten_after_all_goes_off_the_record(chat: Chat, text: str) -> None:
    chat.given("50 g crisps")
    assert [event["id"] for event in chat.say(text).events if event["type"] == "weigh_in_removed"] == [1]


@pytest.mark.parametrize(
    "text",
    (
        "didn't eat any more crisps after all", "no butter after all", "i never have crisps, actually?",
        "i didn't have crisps this time", "never had cashews, actually",
    ),
)  # fmt: skip
def test_what_denies_something_else_takes_nothing_off(chat: Chat, text: str) -> None:
    chat.given("50 g crisps")
    assert "weigh_in_removed" not in chat.say(text).kinds


@pytest.mark.parametrize(("text", "grams"), (("scratch that. 25", 25), ("scratch that. ounce and a half", 42.5)))
def test_an_amount_behind_what_takes_back_is_the_right_one(chat: Chat, text: str, grams: float) -> None:
    chat.given("40 g walnuts")
    assert chat.say(text).changed()["edible_g"] == pytest.approx(grams, abs=0.1)


@pytest.mark.parametrize("text", ("another 15 g of that, couldn't resist", "an additional 15 g of it, was not enough"))
def test_more_of_that_is_more_whatever_is_said_of_it(chat: Chat, text: str) -> None:
    chat.given("25 g gouda")
    event = chat.say(text).recorded()
    assert (event["food"], event["edible_g"], event["id"]) == ("gouda", 15, 2)


def test_what_the_packet_says_takes_the_place_of_what_was_said(chat: Chat) -> None:
    chat.given("140 g cod cooked")
    event = chat.say("i say cod but the wrapper says haddock, so it was haddock").changed()
    assert (event["food"], event["edible_g"]) == ("haddock", 140)
