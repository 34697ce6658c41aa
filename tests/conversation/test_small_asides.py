"""Words beside a food that are no food, and food that was not eaten beside food that was."""

import pytest

from .chat import Chat

SUNDAY_MORNING, MONDAY_MORNING = "2026-03-01T08:00:00+00:00", "2026-03-02T08:00:00+00:00"


@pytest.mark.parametrize(
    ("said", "foods"),
    (
        ("two big slices of pizza, domestic frozen one, about 260 g", [("cheese pizza", 260)]),
        ("nan's round so two big slices of pizza, about 260 g", [("cheese pizza", 260)]),
        ("cheddar, the posh deli kind, 35 g", [("cheddar cheese", 35)]),
        ("banana 120 g though", [("banana", 120)]),
        ("butter 9 g tho", [("butter", 9)]),
        ("a squeeze of honey, about 12 g", [("honey", 12)]),
        ("glug of olive oil, 9 g", [("olive oil", 9)]),
        ("12 g squirt of ketchup", [("ketchup", 12)]),
        ("banana 120 g and a swirl of honey, roughly 8 g", [("banana", 120), ("honey", 8)]),
        ("two onions (310 peeled)", [("onion", 310)]),
        ("three eggs 150", [("egg", 150)]),
        ("2 bananas 236 peeled", [("banana", 236)]),
    ),
)
def test_what_stands_beside_a_food_is_no_food(chat: Chat, said: str, foods: list[tuple[str, float]]) -> None:
    heard = chat.say(said)
    assert [(e["food"], e["as_weighed_g"]) for e in heard.records if e["type"] == "weigh_in"] == foods
    assert not heard.all("question")


@pytest.mark.parametrize(
    "answer", ("dunno, call it 180", "call it 180", "no idea, maybe 180", "not sure, about 180", "dont know, say 180")
)
def test_a_guess_answers_how_much(chat: Chat, answer: str) -> None:
    chat.say("cooked rice")
    assert chat.say(answer).recorded()["as_weighed_g"] == 180


def test_a_pot_takes_pieces_with_their_weight(chat: Chat) -> None:
    chat.say("starting a pot of stew")
    added = chat.say("500 g pork shoulder raw, two onions (310 peeled)")
    assert added.one("batch_changed")["raw_g"] == 810


@pytest.mark.parametrize(
    "said",
    (
        "another box today, left about 60 g of it though",
        "had a box, left 60 g of it tho",
        "one more box for lunch, left roughly 60 g",
    ),
)
def test_what_was_left_of_a_box_was_not_eaten(chat: Chat, said: str) -> None:
    chat.say("I'm cooking a stew: 500 g pork shoulder, 400 g carrots")
    chat.say("stew is done, 900 g")
    chat.say("boxed the stew, 3 boxes of 300 g")
    chat.say("had a box of the stew")
    assert chat.say(said).one("weigh_in")["as_weighed_g"] == 240


@pytest.mark.parametrize(
    ("said", "foods"),
    (
        ("same porridge as yesterday, no honey", ["oats"]),
        ("same porridge and banana as yesterday, without the honey", ["oats", "banana"]),
        ("same breakfast as yesterday, no honey", ["oats", "banana"]),
        ("had the same banana as yesterday but with 20 g raisins", ["banana", "raisins"]),
    ),
)
def test_the_same_again_without_a_part(chat: Chat, said: str, foods: list[str]) -> None:
    chat.say("cooked porridge 210 g, honey 12 g, banana 100 g", at=SUNDAY_MORNING)
    heard = chat.say(said, at=MONDAY_MORNING)
    assert [e["food"] for e in heard.records] == foods


@pytest.mark.parametrize(
    ("said", "removed"),
    (
        ("toss that second banana i never had it", 2),
        ("toss that first banana, i never ate it", 1),
        ("never had that second banana, chuck it", 2),
        ("i never had that banana", 2),
        ("that banana wasn't for me", 2),
        ("the 100 g banana was not mine", 1),
        ("didn't eat that second banana", 2),
    ),
)
def test_what_was_never_eaten_is_taken_off(chat: Chat, said: str, removed: int) -> None:
    chat.say("banana 100 g")
    chat.say("banana 110 g")
    assert chat.say(said).one("weigh_in_removed")["id"] == removed


def test_an_ingredient_is_taken_off_the_day(chat: Chat) -> None:
    chat.say("onion 310 g")
    assert chat.say("onion 310 was for the bolognese not me").one("weigh_in_removed")["id"] == 1


@pytest.mark.parametrize(
    "said",
    (
        "i never had breakfast",
        "didn't have a banana today",
        "i ate the banana but never had the apple",
        "should i never eat that banana?",
        "i never have a banana before noon",
    ),
)
def test_other_denials_take_nothing_off(chat: Chat, said: str) -> None:
    chat.say("banana 100 g")
    assert not chat.say(said).records
