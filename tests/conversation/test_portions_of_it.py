"""'It' and 'that' behind a weight: the batch that was spoken of last."""

import pytest

from .chat import Chat


@pytest.fixture
def cooked(chat: Chat) -> Chat:
    chat.say("starting a pot of stew")
    chat.say("500 g pork shoulder, 400 g carrots")
    chat.say("stew is done, weighs 800 g")
    return chat


@pytest.mark.parametrize(
    ("said", "portion", "beside"),
    (
        ("i had 320 of that with 95 g spaghetti, that was dry weight", 320, [("pasta", 95)]),
        ("had 320 of it", 320, []),
        ("320 of that and 95 g dry spaghetti for me", 320, [("pasta", 95)]),
        ("dinner: 300 g of it with 180 g cooked rice", 300, [("white rice", 180)]),
        ("ate 250 of it + 40 g cheddar", 250, [("cheddar cheese", 40)]),
        ("just had 280g of that, 150 g boiled potatoes", 280, [("potato", 150)]),
    ),
)
def test_it_is_the_batch_spoken_of(cooked: Chat, said: str, portion: float, beside: list[tuple[str, float]]) -> None:
    told = cooked.say(said).all("weigh_in")
    assert [(e["batch"], e["as_weighed_g"]) for e in told[:1]] == [(1, portion)]
    assert [(e["food"], e["as_weighed_g"]) for e in told[1:]] == beside


@pytest.mark.parametrize(
    "said",
    (
        "going to have 320 of that with 95 g spaghetti",
        "should i have 320 of it?",
        "did not have 320 of it",
        "had 1900 of that with 95 g dry spaghetti",
    ),
)
def test_what_was_not_taken_of_it(cooked: Chat, said: str) -> None:
    assert not [e for e in cooked.say(said).all("weigh_in") if e["batch"]]


def test_it_is_another_food_once_that_was_told(cooked: Chat) -> None:
    cooked.say("greek yogurt nonfat 150 g")
    assert cooked.say("had another 50 of it").recorded()["batch"] is None
