"""Fixes in words that nobody foresaw: what is on record tells which number or food is the old one."""

import pytest

from .chat import Chat


@pytest.mark.parametrize(
    ("recorded", "said", "food", "grams"),
    (
        ("200 g roasted chicken breast", "no 185 chicken", "chicken breast", 185),
        ("78 g dry pasta", "no sorry the pasta was 64", "pasta", 64),
        ("220 g cooked rice", "wait rice 205", "white rice", 205),
        ("35 g cheddar, 20 g butter", "oops butter 12", "butter", 12),
        ("35 g cheddar, 20 g butter", "sorry that was 25 cheddar", "cheddar cheese", 25),
        ("45 g dry oats", "my bad its 54 oats", "oats", 54),
        ("45 g dry oats", "I typed the oats wrong, they were 54", "oats", 54),
        ("60 g hummus", "the hummus I told you about was forty not sixty", "hummus", 40),
        ("60 g hummus", "hummus 60 -> 40", "hummus", 40),
        ("70 g dry pasta", "it wasn't 70 g of pasta but 90", "pasta", 90),
        ("30 g cheddar", "I only ate 20 of the cheddar", "cheddar cheese", 20),
        ("250 g cooked rice", "50 g of the rice went to the cat, so 200 for me", "white rice", 200),
        ("250 g cooked rice", "actually half the rice went in the bin", "white rice", 125),
        ("250 g cooked rice", "and 100 g of the rice was for my son", "white rice", 150),
        ("200 g grilled sirloin", "no wait 240 g I had the end piece too", "top sirloin steak", 240),
        (
            "32 g shortbread",
            "one of those shortbreads, 15 grams of it, went to the dog, so I had only 17",
            "shortbread",
            17,
        ),
    ),
)
def test_a_fix_is_known_by_what_is_on_record(chat: Chat, recorded: str, said: str, food: str, grams: float) -> None:
    chat.say(recorded)
    changed = chat.say(said).changed()
    assert (changed["food"], changed["as_weighed_g"]) == (food, grams)


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("ach the cheddar yesterday was 30 no 35", 30),
        ("cheddar yesterday: 30 instead of 35", 30),
        ("I have a confession about Sunday, the cheddar was not 35 grams but 41, I had a second bit", 41),
        ("Oh and on Sunday that cheddar I said was 35 was 25", 25),
        ("correct something from yesterday: I had 45 g cheddar not 35", 45),
    ),
)
def test_a_fix_reaches_another_day(chat: Chat, said: str, grams: float) -> None:
    chat.given("yesterday 35 g cheddar", "20 g cheddar")
    changed = chat.say(said).changed()
    assert (changed["id"], changed["as_weighed_g"], changed["day"]) == (1, grams, "2026-03-01")


@pytest.mark.parametrize(
    ("said", "food"),
    (
        ("not almonds, it was cashews", "cashews"),
        ("ugh I said almonds but it was pecans", "pecans"),
        ("och it was hazelnuts, no almonds", "hazelnuts"),
        ("ah wait, thats walnuts not almonds", "walnuts"),
    ),
)
def test_a_food_is_swapped(chat: Chat, said: str, food: str) -> None:
    chat.given("30 g almonds")
    changed = chat.say(said).changed()
    assert (changed["food"], changed["as_weighed_g"]) == (food, 30)


@pytest.mark.parametrize(
    ("said", "gone"),
    (
        ("would you ever take out that last one", [3]),
        ("take the second one off", [2]),
        ("nah scrap the honey, my sister had it", [2]),
        ("please delete the banana, I gave it back", [3]),
    ),
)
def test_a_weigh_in_is_taken_off(chat: Chat, said: str, gone: list[int]) -> None:
    chat.given("40 g dry oats, 12 g honey, 110 g banana")
    assert [event["id"] for event in chat.say(said).all("weigh_in_removed")] == gone


def test_a_weigh_in_moves_to_the_day_that_is_said(chat: Chat) -> None:
    chat.given("150 g grapes")
    changed = chat.say("that grapes you have down for today, I ate them yesterday").changed()
    assert (changed["day"], changed["as_weighed_g"]) == ("2026-03-01", 150)


def test_a_waste_weight_is_put_right(chat: Chat) -> None:
    chat.given("yesterday apple 176 g, core 21")
    changed = chat.say("About yesterday, the apple core I told you was 21 was 31").changed()
    assert changed["edible_g"] == pytest.approx(145)


@pytest.mark.parametrize(
    "said",
    (
        "no sugar, 30 g honey",
        "no rice, 200 g boiled potatoes",
        "wait, I also had 30 g almonds",
        "actually another 20 g cheddar",
        "no more cheddar, 20 g brie",
        "cheddar again, 30 g",
    ),
)
def test_what_is_new_changes_nothing_on_record(chat: Chat, said: str) -> None:
    chat.given("40 g cheddar, 180 g cooked rice")
    assert not chat.say(said).all(
        "weigh_in_changed",
    )


@pytest.mark.parametrize(
    "said",
    (
        "wait, how much is 40 g cheddar?",
        "actually I fancy 40 g of cheddar tomorrow",
        "instead of cheddar I'll have 20 g brie tonight",
        "don't delete the cheddar",
        "should the cheddar be 40 not 30?",
    ),
)
def test_questions_and_plans_put_nothing_right(chat: Chat, said: str) -> None:
    chat.given("30 g cheddar")
    assert not chat.say(said).records


def test_a_fix_of_what_is_not_on_record_is_asked_about(chat: Chat) -> None:
    chat.given("30 g cheddar")
    chat.say("no, the brie was 40").asked("brie")
    assert chat.say("record it").recorded()["as_weighed_g"] == 40
