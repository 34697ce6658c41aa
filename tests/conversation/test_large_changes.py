"""A change of what nobody named to many times its weight: it may be meant for something else, so it is asked about."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat


@pytest.mark.parametrize(
    "text", ("set it to 1900", "make that 1900", "actually 1900", "nah, 1900", "change it to 1900 g", "meant 1900")
)
def test_it_is_asked_about_and_stands_until_then(chat: Chat, text: str) -> None:
    chat.given("my target is 2000 kcal", "180 g cooked rice")
    said = chat.say(text)
    said.asked("#1 white rice, 180 g: shall I change it to")
    assert said.records == []
    assert chat.say("no").records == []
    assert "180 g" in chat.say("what did I eat today?").text


def test_yes_changes_it(chat: Chat) -> None:
    chat.given("180 g cooked rice")
    chat.say("set it to 1900").asked()
    assert chat.say("yes").changed()["as_weighed_g"] == 1900


@pytest.mark.parametrize(
    ("told", "text", "grams"),
    (
        ("180 g cooked rice", "change it to 300", 300),
        ("180 g cooked rice", "no sorry, the rice was 1100", 1100),
        ("180 g cooked rice", "not 180, 1100", 1100),
        ("4 oz roast chicken breast", "make it 120", 120),
        ("2 boiled eggs", "make it 3", 150),
        ("20 g butter", "change last to 90 g", 90),
    ),
)
def test_what_is_named_or_grows_less_is_changed(chat: Chat, told: str, text: str, grams: float) -> None:
    chat.given(told)
    assert chat.say(text).changed()["as_weighed_g"] == pytest.approx(grams)
