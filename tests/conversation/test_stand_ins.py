"""'It' for the batch that was spoken of last, among other foods and other people."""

from __future__ import annotations

import pytest

from .chat import Chat


@pytest.fixture
def soup(chat: Chat) -> Chat:
    """Has batch 1 (lentil soup) with 2,000 g."""
    chat.given("new batch lentil soup: 400 g dry red lentils, 2000 g water", "the soup's done, 2000 g")
    return chat


@pytest.mark.parametrize(
    ("said", "grams", "beside"),
    (
        ("bowl of it now, 380, two slices white bread 78", 380, ["white bread"]),
        ("a mug of it, 240, and 6 g of butter on 40 g of white bread", 240, ["butter", "white bread"]),
        ("ladled 310 of it over 150 g cooked rice", 310, ["white rice"]),
    ),
)
def test_a_portion_of_it_stands_beside_other_foods(soup: Chat, said: str, grams: float, beside: list[str]) -> None:
    portion, *others = soup.say(said).records
    assert (portion["batch"], portion["as_weighed_g"]) == (1, grams)
    assert sorted(each["food"] for each in others) == beside


def test_two_weights_of_it_for_others_are_none_of_the_writers(soup: Chat) -> None:
    said = soup.say("the kids had 250 and 210 of it")
    assert [event["grams"] for event in said.events if event["type"] == "batch_reduced"] == [250, 210]
    assert not [event for event in said.events if event["type"] == "weigh_in"]


@pytest.mark.parametrize(
    "said",
    ("boiled potatoes 300 g, ate 200 of it", "thinking of having 300 of it with 80 g bread", "none of it for me"),
)
def test_it_is_the_food_named_before_or_is_not_eaten(soup: Chat, said: str) -> None:
    assert not any(event.get("batch") for event in soup.say(said).events)
