"""The usual breakfast is offered in the morning where there is one, and recorded by nobody but the person."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat, open_door

OATS = "breakfast: 60 g dry oats, 200 g whole milk"
OFFER = "Your usual breakfast?"


@pytest.fixture
def chat():
    with open_door() as door:
        yield Chat(door, "mira")


def breakfasts(chat: Chat, *texts: str) -> None:
    for day, text in enumerate(texts, start=2):
        chat.say(text, at=f"2026-03-0{day}T07:10:00+00:00")


def morning(chat: Chat, day: int) -> str:
    """What comes by itself from the evening before to eight in the morning."""
    chat.door.step(advance_to=f"2026-03-0{day}T07:00:00+00:00")
    said = chat.door.step(advance_to=f"2026-03-0{day}T08:00:00+00:00")
    assert not said.records
    return said.text


def test_a_breakfast_eaten_three_times_alike_is_offered_and_not_recorded(chat: Chat) -> None:
    breakfasts(chat, OATS, OATS)
    assert OFFER not in morning(chat, 4)
    chat.say(OATS, at="2026-03-04T08:10:00+00:00")
    offer = morning(chat, 5)
    assert OFFER in offer
    assert "60 g oats and 200 g whole milk" in offer
    assert chat.say("today", at="2026-03-05T08:01:00+00:00").one("sheet")["kcal"] == 0
    taken = chat.say("the usual breakfast", at="2026-03-05T08:02:00+00:00").all("weigh_in")
    assert [(each["food"], each["as_weighed_g"], each["meal"]) for each in taken] == [
        ("oats", 60, "breakfast"),
        ("whole milk", 200, "breakfast"),
    ]


def test_amounts_that_differ_are_not_offered(chat: Chat) -> None:
    breakfasts(chat, OATS, "breakfast: 60 g dry oats, 180 g whole milk", OATS)
    assert OFFER not in morning(chat, 5)


def test_nothing_is_offered_once_something_is_on_record_today(chat: Chat) -> None:
    breakfasts(chat, OATS, OATS, OATS)
    chat.say("10 g honey", at="2026-03-05T06:30:00+00:00")
    assert OFFER not in morning(chat, 5)


def test_what_was_usual_is_not_offered_for_ever(chat: Chat) -> None:
    breakfasts(chat, OATS, OATS, OATS)
    assert OFFER in morning(chat, 8)
    assert OFFER not in morning(chat, 9)


def test_the_offer_is_moved_and_turned_off_by_word(chat: Chat) -> None:
    breakfasts(chat, OATS, OATS, OATS)
    moved = chat.say("breakfast offer at 9:15", at="2026-03-04T09:00:00+00:00").one("reminder_set")
    assert (moved["what"], moved["time"]) == ("usual", "09:15")
    assert OFFER not in morning(chat, 5)
    assert OFFER in chat.door.step(advance_to="2026-03-05T09:30:00+00:00").text
    chat.say("breakfast offer off", at="2026-03-05T10:00:00+00:00")
    assert OFFER not in chat.door.step(advance_to="2026-03-06T10:00:00+00:00").text
