"""A dish that is cooked once more, and what is in a pot."""

from __future__ import annotations

import pytest

from tests.language.conftest import Hear

STEW = "stew: 1200 g raw beef chuck, 700 g potatoes, 180 g carrots"


@pytest.mark.parametrize(
    ("text", "raw_g"),
    (
        ("the stew again, 800 g potatoes this time", 2180),
        ("the stew again, same ingredients", 2080),
        ("same stew as last week going on", 2080),
        ("another stew, exactly like the last one but with 400 g of potatoes", 1780),
        ("making that stew once more, no carrots this time", 1900),
        ("another go at that stew, no carrots this time", 1900),
        ("stew again, same everything", 2080),
        ("repeat the stew, double it", 4160),
    ),
)
def test_a_dish_is_cooked_again(heard: Hear, text: str, raw_g: float) -> None:
    assert heard(STEW, "stew done 1800", text).one("batch_opened")["raw_g"] == pytest.approx(raw_g)


@pytest.mark.parametrize(
    "text",
    (
        "stew again for lunch, 240 g",
        "240 g stew again for lunch, no bread left",
        "had stew again tonight, 320 g",
        "will make the stew again next week",
        "should I make the stew again, same ingredients?",
    ),
)
def test_a_dish_is_only_eaten_again(heard: Hear, text: str) -> None:
    assert not heard(STEW, "stew done 1800", text).all("batch_opened")


@pytest.mark.parametrize(
    "text",
    (
        "read me back what's in the stew so far",
        "remind me, pet, what's in that stew",
        "what did I put in there again",
        "list what went in the stew pls",
        "whit's in the stew",
        "run me through the stew ingredients",
        "which things did I put in the stew already?",
    ),
)
def test_what_is_in_a_pot_is_asked(heard: Hear, text: str) -> None:
    said = heard(STEW, text)
    assert said.one("answer")["about"] == "contents"
    assert "potato" in said.text


@pytest.mark.parametrize("text", ("how much is left in the stew", "what's left in the stew", "what's in the freezer"))
def test_other_questions_are_not_about_contents(heard: Hear, text: str) -> None:
    assert "contents" not in [e["about"] for e in heard(STEW, "stew done 1800", text).all("answer")]
