"""Amounts that nobody eats at once are asked about, and what no scale shows is refused."""

import pytest

from .chat import Chat


@pytest.mark.parametrize("said", ("5 kg olive oil", "2 kg salt", "1 kg butter", "3 kg peanut butter"))
def test_more_than_people_eat_is_asked_about_once(chat: Chat, said: str) -> None:
    chat.say(said).asked("more than people eat")
    assert chat.say("yes").recorded()


def test_a_smaller_amount_answers_it(chat: Chat) -> None:
    chat.say("5 kg olive oil").asked()
    assert chat.say("50 g").recorded()["as_weighed_g"] == 50


@pytest.mark.parametrize("said", ("800 g cooked rice", "500 g butter", "90 g salt"))
def test_much_that_can_be_is_recorded(chat: Chat, said: str) -> None:
    chat.say(said).recorded()


def test_less_than_a_scale_shows_is_refused(chat: Chat) -> None:
    chat.say("0.0000001 g feta").refused("1 mg")
    chat.say("0.05 g saffron").recorded()


def test_what_is_only_asked_is_answered(chat: Chat) -> None:
    assert "kcal" in chat.say("how many calories in 5 kg butter?").nothing()
