"""Another food in place of the one told just before: what was recorded and its kind decide, not the wording."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat


@pytest.mark.parametrize(
    ("told", "text", "food", "grams"),
    (
        (("apple 165 g core weighed 12 g",), "nah it was a pear", "pear", 153),
        (("apple 178 g", "core 14 g"), "oh wait no, that was a pear", "pear", 164),
        (("can of coke 330ml",), "wait it was coke zero", "diet cola", 330.3),
        (("coke 330",), "sorry it was coke zero", "diet cola", 330),
        (("cheddar 40",), "oops, it was gouda", "gouda", 40),
        (("cheddar 40",), "gouda it was, sorry", "gouda", 40),
        (("cheddar 40, rye bread 60",), "och no, it was gouda", "gouda", 40),
        (("almonds 30",), "hang on, those were cashews", "cashews", 30),
        (("chicken breast 180 roasted",), "my mistake, it was turkey breast", "turkey breast", 180),
    ),
)
def test_what_it_was_takes_the_place_of_the_thing_of_its_kind(
    chat: Chat, told: tuple[str, ...], text: str, food: str, grams: float
) -> None:
    chat.given(*told)
    event = chat.say(text).changed()
    assert (event["food"], event["id"]) == (food, 1)
    assert event["edible_g"] == pytest.approx(grams, abs=0.5)


@pytest.mark.parametrize(
    "text",
    (
        "no wait I had a pear too", "wait, was it a pear?", "oh and it was with a pear",
        "sorry, the pear was my son's", "no, my lunch was a pear and rice", "actually no pear for me",
    ),
)  # fmt: skip
def test_another_food_that_is_told_beside_it_changes_nothing(chat: Chat, text: str) -> None:
    chat.given("apple 165")
    assert not {"weigh_in_changed", "weigh_in_removed"} & set(chat.say(text).kinds)
