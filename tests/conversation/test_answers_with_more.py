"""Answers that say the kind and the weight at once, or how the food was cooked."""

import pytest

from .chat import Chat

OUNCE = 28.349523125  # g, the avoirdupois ounce of NIST Handbook 44, Appendix C


@pytest.mark.parametrize(
    ("first", "said", "food", "grams"),
    (
        ("chicken", "chicken was 4.2 oz, rotisserie breast", "rotisserie chicken breast", 4.2 * OUNCE),
        ("chicken", "4.2 oz, rotisserie breast", "rotisserie chicken breast", 4.2 * OUNCE),
        ("chicken", "it was rotisserie breast, 120 g", "rotisserie chicken breast", 120),
        ("chicken", "the chicken was 118 g, rotisserie breast", "rotisserie chicken breast", 118),
        ("fries 120 g", "the oven kind, french fries", "french fries", 120),
        ("fries 120 g", "the oven kind", "french fries", 120),
        ("fries 4.1 oz", "from the air fryer", "french fries", 4.1 * OUNCE),
    ),
)
def test_kind_weight_and_oven(chat: Chat, first: str, said: str, food: str, grams: float) -> None:
    chat.say(first)
    recorded = chat.say(said).one("weigh_in")
    assert recorded["food"] == food
    assert recorded["as_weighed_g"] == pytest.approx(grams, abs=0.01)


def test_not_from_the_oven_is_no_answer(chat: Chat) -> None:
    chat.say("fries 120 g")
    assert not chat.say("not the oven kind").records


@pytest.mark.parametrize(
    ("said", "foods"),
    (
        ("milk 200 ml, chocolate 20 g", ["whole milk", "milk chocolate"]),
        ("cooked rice 200 g, grilled chicken breast 120 g", ["white rice", "chicken breast"]),
    ),
)
def test_a_second_food_is_no_kind_of_the_first(chat: Chat, said: str, foods: list[str]) -> None:
    assert [e["food"] for e in chat.say(said).all("weigh_in")] == foods
