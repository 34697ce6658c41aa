"""The share of the last weigh-in that somebody else had, and corrections in the unit of what was recorded."""

import pytest

from .chat import Chat


@pytest.mark.parametrize(
    ("recorded", "said", "grams"),
    (
        ("banana 120 g", "my sister had about a third of it though", 80),
        ("banana 120 g", "flatmate nicked half of it tho", 60),
        ("cheese pizza 300 g", "tom had a third of that btw", 200),
        ("cheese pizza 260 g", "my brother pinched half the pizza", 130),
        ("250 g cooked rice", "gave the dog a fifth of it", 200),
        ("250 g cooked rice", "only managed three quarters of it", 187.5),
        ("250 g cooked rice", "left a quarter of it", 187.5),
        ("250 g cooked rice", "finished 2/3 of it", 166.67),
        ("4 oz grilled chicken breast", "ended up with half of that", 56.7),
        ("0.4 oz butter", "make that .3", 8.5),
        ("0.4 oz butter", "sorry, .5", 14.17),
        ("0.4 kg cooked rice", "make that .3", 300),
        ("4 oz grilled chicken breast", "actually 5", 141.75),
        ("4 oz grilled chicken breast", "make that 120", 120),
        ("1.2 oz cheddar", "change the cheddar to 1.5", 42.52),
    ),
)
def test_a_share_or_a_new_number_changes_the_last(chat: Chat, recorded: str, said: str, grams: float) -> None:
    chat.say(recorded)
    assert chat.say(said).changed()["as_weighed_g"] == pytest.approx(grams, abs=0.01)


def test_a_share_of_an_apple_takes_that_share_of_its_core(chat: Chat) -> None:
    chat.say("apple 190 g, core 20 g")
    changed = chat.say("ate half of it in the end").changed()
    assert (changed["as_weighed_g"], changed["edible_g"]) == (95, 85)


@pytest.mark.parametrize(
    ("said", "kcal"),
    (("i ate two thirds of it", 520), ("my roommate had a quarter of it", 585), ("left half of it", 390)),
)
def test_a_share_of_an_estimate_is_that_share_of_its_energy(chat: Chat, said: str, kcal: float) -> None:
    chat.say("burger out, about 780 kcal")
    assert chat.say(said).changed()["kcal"] == pytest.approx(kcal, abs=0.1)


@pytest.mark.parametrize(
    "said",
    (
        "will my roommate eat half of it?",
        "my roommate might eat half of it",
        "my roommate ate half a banana",
        "i didn't eat half of it",
        "ate half of that with my roommate",
    ),
)
def test_what_nobody_had_of_it_changes_nothing(chat: Chat, said: str) -> None:
    chat.say("banana 120 g")
    assert not chat.say(said).records


def test_another_share_is_one_more_weigh_in(chat: Chat) -> None:
    chat.say("banana 120 g")
    assert chat.say("ate another half of it").recorded()["as_weighed_g"] == 60


@pytest.mark.parametrize(
    ("recorded", "said", "kcal"),
    (
        ("flapjack 65 g", "also that flapjack was 212 not 320", 212),
        ("flapjack 65 g", "the flapjack was 212 kcal according to the wrapper", 212),
        ("had a burger out, about 900 kcal", "sorry the burger was 780 not 900", 780),
        ("had a burger out, about 900 kcal", "no, the burger was 780 calories", 780),
        ("200 g cooked rice", "actually the rice was 240 kcal not 260", 240),
    ),
)
def test_energy_that_is_put_right(chat: Chat, recorded: str, said: str, kcal: float) -> None:
    chat.say(recorded)
    assert chat.say(said).changed()["kcal"] == pytest.approx(kcal)


def test_a_weight_that_is_put_right_is_no_energy(chat: Chat) -> None:
    chat.say("flapjack 65 g")
    assert chat.say("that flapjack was 72 not 65").changed()["as_weighed_g"] == 72
