"""What a person settles for good in their own words: habits, the day's start, reminders, energy, own targets."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat


@pytest.mark.parametrize(
    ("text", "food", "state"),
    (
        ("barley is always weighed before cooking here", "pearl barley", "raw"),
        ("all my pasta weights are dry, ok?", "pasta", "raw"),
        ("all my pasta weights are dry", "pasta", "raw"),
        ("quinoa: cooked weight, every time", "quinoa", "cooked"),
        ("whenever I say rice it's cooked", "white rice", "cooked"),
        ("take my lentils as dry unless I tell you otherwise", "lentils", "raw"),
        ("couscous goes on the scale cooked, as a rule", "couscous", "cooked"),
    ),
)
def test_a_habit_is_kept_in_any_words(chat: Chat, text: str, food: str, state: str) -> None:
    if text.endswith("?"):
        assert chat.say(text).all("habit_saved") == []
        return
    assert [event["food"] for event in chat.say(text).all("habit_saved")] == [food]
    assert chat.say(f"100 g {food}").recorded()["state"] == state


def test_one_habit_may_be_told_of_several_foods(chat: Chat) -> None:
    said = chat.say("rice and pasta I weigh cooked, always")
    assert [event["food"] for event in said.all("habit_saved")] == ["white rice", "pasta"]


def test_a_habit_told_again_is_said_to_hold(chat: Chat) -> None:
    chat.say("I always weigh pasta dry")
    assert "already" in chat.say("pasta always dry, that's how I weigh it").text


@pytest.mark.parametrize(
    "text",
    (
        "my wife always weighs rice raw",
        "I used to weigh my rice raw, always",
        "I always have my carrots raw",
        "I never weigh pasta dry",
        "do people always weigh rice raw?",
    ),
)
def test_what_is_no_habit_of_weighing_is_kept_as_none(chat: Chat, text: str) -> None:
    assert chat.say(text).all("habit_saved") == []


@pytest.mark.parametrize(
    ("text", "hour"),
    (
        ("my day begins at 4 am, not at midnight", "4"),
        ("start my day at 6 instead of midnight", "6"),
        ("I drive nights, so whatever I eat before 5am goes down as the day before", "5"),
        ("let my day roll over at 3 in the morning please", "3"),
        ("a new day starts at five for me", "5"),
    ),
)
def test_the_hour_at_which_a_day_begins_is_the_one_that_is_wanted(chat: Chat, text: str, hour: str) -> None:
    event = chat.say(text).one("setting_changed")
    assert (event["name"], str(event["value"])) == ("day_starts", hour)


@pytest.mark.parametrize(
    ("text", "time"),
    (
        ("put the reminder at 9", "21:00"),
        ("remind me at half eight in the evening", "20:30"),
        ("evening reminder 7:15", "19:15"),
        ("remind me at 08:30", "08:30"),
        ("remind me at 8 am", "08:00"),
        ("remind me in the morning at 9", "09:00"),
    ),
)
def test_an_evening_reminder_comes_in_the_evening(chat: Chat, text: str, time: str) -> None:
    assert time in chat.say(text).text


def test_nagging_stops_when_asked(chat: Chat) -> None:
    assert "off" in chat.say("stop pestering me in the evening").text


def test_hidden_energy_comes_back_on_request(chat: Chat) -> None:
    chat.say("hide the calories")
    assert chat.say("calories back on please").one("setting_changed")["value"] == "shown"


def test_what_somebody_wants_a_day_is_their_target(chat: Chat) -> None:
    assert chat.say("I want 120 g protein a day").one("target_set")["protein_g"] == 120
    assert chat.say("I need 300 g chicken a day").records == []
