"""Questions and requests about one's own books in words that no template has."""

import pytest


@pytest.mark.parametrize(
    ("text", "about"),
    (
        ("kcal?", "nutrient"),
        ("kj today?", "nutrient"),
        ("how much protien so far today mate", "nutrient"),
        ("how did I do for fibre on Sunday, would you say?", "nutrient"),
        ("did I go over on calories or am I good", "nutrient"),
        ("am I still on track for today?", "nutrient"),
    ),
)
def test_a_question_about_a_nutrient_gets_its_figure_first(heard, text, about):
    assert heard("90 g oats dry", text).one("answer")["about"] == about


def test_what_was_eaten_is_told_whatever_is_said_around_it(heard):
    said = heard("90 g oats dry yesterday", "what did I have yesterday, I can't for the life of me remember?")
    assert "90 g" in said.text
    assert not said.records


@pytest.mark.parametrize(
    "text",
    (
        "I want my brother in my kitchen, how do I invite him",
        "can Sam and I share one kitchen on here? give me the invite",
        "is there a way for us to join the same kitchen",
    ),
)
def test_a_wish_to_share_the_kitchen_brings_an_invitation(heard, text):
    assert "/start " in heard(text).text


@pytest.mark.parametrize(
    "text", ("good session today", "smells good", "bed", "not my fault", "wish me luck", "skipped breakfast, meeting")
)
def test_a_remark_gets_a_friendly_line_and_records_nothing(heard, text):
    said = heard(text)
    assert not said.events


@pytest.mark.parametrize("text", ("how much protein is in 100 g of cod", "how much sugar has a banana?"))
def test_a_question_about_a_food_is_not_about_the_books(heard, text):
    assert heard("90 g oats dry", text).one("answer")["about"] == "what_if"
