"""Whose food it is, told in any words: shares of one food, another's plate, bodies, and things called he and she."""

import pytest

from .chat import Chat


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("mashed banana 150 g but the baby got 60 g of it", 90),
        ("mango 300 g peeled, me and my brother went halves", 150),
        ("Lasse and I shared one pear, my half 70 grams", 70),
        ("between the five of us we ate 1 kg grapes, my share a fifth", 200),
        ("boiled potatoes, in total 600 grams for us four, I ate one quarter of them", 150),
        ("My daughter and I have halved her blueberry muffin, it was 96 grams before, and I ate my half", 48),
        ("hubby was out so just me tonight, 180 g of cooked basmati rice", 180),
        ("Tom's dinner was 300 g cooked rice, mine 180 g", 180),
        ("falafel: 66 g, three of them", 66),
    ),
)
def test_only_the_writers_part_counts(chat: Chat, said: str, grams: float) -> None:
    assert chat.say(said).recorded()["as_weighed_g"] == pytest.approx(grams)


@pytest.mark.parametrize(
    "said",
    (
        "for Priya 90 g rice and 120 g dal",
        "put 40 g jam on her toast",
        "put 25 g milk in her tea",
        "saved 150 g quiche for Pete",
        "I was offered 120 g of brownie but passed",
        "the nurse had 30 g of biscuits",
        "she halved the 200 g cake with her mate",
        "cake: she had 90 g",
        "my boss is 92 kg",
        "My sister came by and ate three slices of brie",
        "the kids rushed in and demolished 200 g of grapes",
    ),
)
def test_what_others_had_is_nobodys_record(chat: Chat, said: str) -> None:
    assert not chat.say(said).records


@pytest.mark.parametrize(
    ("said", "kg"),
    (
        ("weighed everybody after dinner: me 61.2 kg, Dan 84 kg, Junie 38 kg", 61.2),
        ("Dad weighs 95 kg, I'm 81.2 kg", 81.2),
        ("bw 83.6 kg", 83.6),
    ),
)
def test_of_several_bodies_the_writers_counts(chat: Chat, said: str, kg: float) -> None:
    (told,) = chat.say(said).records
    assert (told["type"], told["kg"]) == ("body_weight", kg)


def test_what_was_given_is_taken_off_the_food_that_it_comes_to(chat: Chat) -> None:
    chat.say("145 g roast chicken breast")
    chat.say("45 g chicken gravy")
    said = chat.say("I gave the dog 20 g of my chicken so 125 for me")
    assert [(e["food"], e["as_weighed_g"]) for e in said.all("weigh_in_changed")] == [("chicken breast", 125)]


def test_a_food_may_be_called_he(chat: Chat) -> None:
    said = chat.say("Today jacket potato, he is 285 g, on him cheddar 40 g")
    assert [e["as_weighed_g"] for e in said.records] == [285, 40]
