"""Questions of one's own day, week and pause, and food that was only thought of, in the words of many people."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat


@pytest.mark.parametrize(
    "text",
    (
        "how'd I do this week?", "howd my week look", "Please read for me everything that I ate today",
        "read me back today",
    ),
)  # fmt: skip
def test_the_sheet_answers(chat: Chat, text: str) -> None:
    chat.given("180 g cooked rice for lunch")
    said = chat.say(text)
    assert said.records == []
    assert said.one("sheet")


@pytest.mark.parametrize(
    "text", ("Total protein for the day, please.", "protein total today pls", "my protein, day so far")
)
def test_a_nutrient_of_the_day_is_told(chat: Chat, text: str) -> None:
    chat.given("180 g cooked rice for lunch")
    said = chat.say(text)
    assert said.records == []
    assert "5 g protein" in said.text


@pytest.mark.parametrize("text", ("am I still paused?", "is my pause on?", "when does my pause end?", "are we paused"))
def test_whether_a_pause_is_on(chat: Chat, text: str) -> None:
    assert "You are not paused." in chat.say(text).text
    chat.say("pause for a week")
    assert "Paused until" in chat.say(text).text


@pytest.mark.parametrize(
    ("text", "foods"),
    (
        ("thought about a beer but had water", ["water"]),
        ("fancied crisps but settled for 30 g almonds", ["almonds"]),
        ("was tempted by the cake, went for 120 g plain yoghurt", ["plain yogurt"]),
        ("almost had a biscuit, had an apple 150 g instead", ["apple"]),
        ("considered the cheddar but stuck with 40 g gouda", ["gouda"]),
    ),
)
def test_only_what_was_eaten_in_the_end_is_recorded(chat: Chat, text: str, foods: list[str]) -> None:
    said = chat.say(text)
    assert [event["food"] for event in said.records] == foods
    assert "question" not in said.kinds
