"""A scale that was set to zero once and then shows all that was put on it, in one message or step by step."""

import pytest

from .chat import Chat

OUNCE = 28.349523125  # g, the avoirdupois ounce of NIST Handbook 44, Appendix C


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        (
            "plate zeroed: salmon 5.3 oz cooked, then 8.1 with roasted potatoes, then 10.4 after broccoli",
            [5.3 * OUNCE, 2.8 * OUNCE, 2.3 * OUNCE],
        ),
        ("bowl tared: 55 dry oats, then 240 with whole milk, then 297 with blueberries", [55, 185, 57]),
        ("tared the bowl, 60 g dry oats, then 100 with banana", [60, 40]),
        ("zeroed the plate: grilled chicken breast 4 oz, now 7 with cooked rice", [4 * OUNCE, 3 * OUNCE]),
        ("zeroed the plate, 120 g cooked rice, and then 200 after adding broccoli", [120, 80]),
    ),
)
def test_totals_in_one_message(chat: Chat, said: str, grams: list[float]) -> None:
    assert [e["as_weighed_g"] for e in chat.say(said).all("weigh_in")] == pytest.approx(grams, abs=0.01)


@pytest.mark.parametrize(
    ("first", "then", "grams"),
    (
        ("plate zeroed, 5.3 oz grilled chicken breast", "now it reads 9.2 after adding broccoli", 3.9 * OUNCE),
        ("bowl zeroed: cooked white rice 6.1 oz", "11 with black beans, canned", 4.9 * OUNCE),
        ("cooked white rice 6.1 oz", "and 7.6 w/ some avocado on top", 1.5 * OUNCE),
        ("cooked white rice 6.1 oz", "then 9 once i added broccoli", 2.9 * OUNCE),
        ("cooked rice 150 g", "and 235 with broccoli", 85),
        ("cooked rice 150 g", "now it's 235 with the broccoli", 85),
        ("cooked rice 150 g", "scale reads 190 after cheddar", 40),
    ),
)
def test_totals_step_by_step(chat: Chat, first: str, then: str, grams: float) -> None:
    chat.say(first)
    assert chat.say(then).recorded()["as_weighed_g"] == pytest.approx(grams, abs=0.01)


def test_a_third_step_keeps_the_ounces(chat: Chat) -> None:
    chat.say("bowl zeroed: cooked white rice 6.1 oz")
    chat.say("8.1 with broccoli")
    assert chat.say("and 9.6 w/ avocado").recorded()["as_weighed_g"] == pytest.approx(1.5 * OUNCE, abs=0.01)


@pytest.mark.parametrize("said", ("11.6 avocado", "200 with my son", "will be 235 with broccoli?"))
def test_what_is_no_total_records_nothing(chat: Chat, said: str) -> None:
    chat.say("cooked rice 150 g")
    assert not chat.say(said).records


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("plate zeroed: grilled salmon fillet 150, boiled potatoes 180, boiled broccoli 200", [150, 180, 200]),
        ("grilled chicken breast 120 g with broccoli 180 g", [120, 180]),
    ),
)
def test_weights_of_their_own_are_no_totals(chat: Chat, said: str, grams: list[float]) -> None:
    assert [e["as_weighed_g"] for e in chat.say(said).all("weigh_in")] == grams
