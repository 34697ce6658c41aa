"""Words of a person's own, and usual things: kept, used, said the first time, undone and forgotten."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat, Said

BREAKFAST = "2026-03-02T07:30:00+00:00"
NEXT = "2026-03-03T07:30:00+00:00"
THEN = "2026-03-04T07:30:00+00:00"


def foods(said: Said) -> list[tuple[str, float]]:
    """The foods and grams that a message recorded."""
    return [(e["food"], e["as_weighed_g"]) for e in said.events if e["type"] == "weigh_in"]


def test_a_word_means_the_food_that_was_said_and_the_reply_tells_once(chat: Chat) -> None:
    assert not foods(chat.say("when I say milk I mean 2% milk"))
    first, second = chat.say("milk 200 g"), chat.say("milk 100 g")
    assert foods(first) == [("2% milk", 200)]
    assert "as you told me" in first.text
    assert "as you told me" not in second.text
    assert foods(chat.say("200 g whole milk")) == [("whole milk", 200)]


def test_what_a_word_means_is_taken_back_and_forgotten(chat: Chat) -> None:
    chat.given("when I say milk I mean 2% milk")
    chat.say("undo")
    assert foods(chat.say("milk 200 g")) == [("whole milk", 200)]
    chat.given("when I say milk I mean skim milk")
    assert foods(chat.say("milk 200 g")) == [("skim milk", 200)]
    chat.say("forget my milk")
    assert foods(chat.say("milk 200 g")) == [("whole milk", 200)]


@pytest.mark.parametrize(("said", "times"), (("my shake", 1), ("a shake", 1), ("2 shakes", 2), ("half a shake", 0.5)))
def test_several_foods_under_one_word(chat: Chat, said: str, times: float) -> None:
    kept = chat.say("my shake is 30 g whey, 250 g whole milk and 100 g banana")
    assert not foods(kept)
    assert foods(chat.say(said)) == [
        ("whey protein powder", 30 * times),
        ("whole milk", 250 * times),
        ("banana", 100 * times),
    ]


def test_a_food_of_the_table_stays_itself_beside_a_combination_of_that_name(chat: Chat) -> None:
    chat.given("my coffee is 200 g black coffee with 30 g whole milk")
    assert foods(chat.say("my coffee")) == [("coffee", 200), ("whole milk", 30)]
    assert foods(chat.say("coffee 150 g")) == [("coffee", 150)]


def test_a_vessel_of_ones_own_has_the_volume_that_was_said(chat: Chat) -> None:
    chat.given("my mug holds 240 ml")
    by_volume = foods(chat.say("240 ml whole milk"))
    assert foods(chat.say("a mug of whole milk")) == by_volume
    assert foods(chat.say("my mug of whole milk")) == by_volume


def test_a_piece_of_ones_own_weighs_what_was_said(chat: Chat) -> None:
    chat.given("one roti weighs 38 g")
    assert foods(chat.say("2 rotis")) == [("chapati", 76)]


def test_what_is_told_as_usual_is_recorded_and_kept(chat: Chat) -> None:
    told = chat.say("just had my usual coffee: 300 g black coffee with 45 g 2% milk", at=BREAKFAST)
    assert foods(told) == [("coffee", 300), ("2% milk", 45)]
    assert foods(chat.say("usual coffee again", at=NEXT)) == [("coffee", 300), ("2% milk", 45)]


def test_a_usual_meal_comes_with_its_changes_and_they_do_not_stay(chat: Chat) -> None:
    chat.say("usual breakfast: 60 g dry oats, 200 g 2% milk and 90 g blueberries", at=BREAKFAST)
    changed = chat.say("usual breakfast but 75 g blueberries", at=NEXT)
    assert foods(changed) == [("oats", 60), ("2% milk", 200), ("blueberries", 75)]
    assert foods(chat.say("the usual, oats 50", at=THEN)) == [("oats", 50), ("2% milk", 200), ("blueberries", 90)]


def test_several_usual_things_in_one_message(chat: Chat) -> None:
    chat.say("breakfast: 60 g dry oats, 200 g 2% milk", at=BREAKFAST)
    chat.say("coffee 250 g with 30 g whole milk", at=BREAKFAST)
    both = chat.say("same breakfast as yesterday and usual coffee, and 20 g walnuts", at=NEXT)
    assert foods(both) == [("oats", 60), ("2% milk", 200), ("coffee", 250), ("whole milk", 30), ("walnuts", 20)]


def test_what_of_a_repeat_is_not_on_record_is_said(chat: Chat) -> None:
    chat.say("breakfast: 60 g dry oats", at=BREAKFAST)
    said = chat.say("same oats and kiwi as yesterday", at=NEXT)
    assert foods(said) == [("oats", 60)]
    assert "No kiwi is on record" in said.text


@pytest.mark.parametrize(
    "said", ("my favourite is cheddar", "toast is my breakfast", "is my milk whole milk?", "my shake is great")
)
def test_what_says_nothing_about_a_word_keeps_none(chat: Chat, said: str) -> None:
    chat.say(said)
    assert chat.say("what do you know about me?").one("listing")["count"] == 0


def test_all_that_is_remembered_is_listed(chat: Chat) -> None:
    for told in ("when I say yogurt I mean nonfat greek yogurt", "my mug holds 240 ml", "one roti weighs 38 g"):
        chat.given(told)
    chat.given("my shake is 30 g whey and 250 g milk")
    listed = chat.say("what do you know about me?")
    assert listed.one("listing")["count"] == 4
    for part in ("yogurt", "240 ml", "38 g", "30 g whey"):
        assert part in listed.text


REMEMBERED = (
    "when I say yogurt I mean nonfat greek yogurt",
    "my mug holds 240 ml",
    "my shake is 30 g whey, 300 ml milk and a banana",
    "my ladle of soup is 140 g",
    "one scoop of whey = 31 g",
    "I always weigh rice dry",
)
FORGETTING = {
    "forget my mug": "mug",
    "forget that yogurt means greek": "yogurt",
    "forget what yogurt means": "yogurt",
    "forget my shake": "shake",
    "forget my ladle": "ladle of soup",
    "forget my scoop of whey": "scoop of whey protein powder",
    "forget that I weigh rice dry": "white rice",
    "forget how I weigh rice": "white rice",
    "forget my white rice habit": "white rice",
}


@pytest.mark.parametrize("text", sorted(FORGETTING))
def test_words_measures_and_habits_are_listed_and_forgotten_one_by_one(chat: Chat, text: str) -> None:
    for told in REMEMBERED:
        chat.say(told)
    assert chat.say("what do you remember about me?").one("listing")["count"] == len(REMEMBERED)
    assert chat.say(text).text.startswith(f"Forgotten: {FORGETTING[text]}:")
    left = chat.say("my habits")
    assert left.one("listing")["count"] == len(REMEMBERED) - 1
    assert f"{FORGETTING[text]}:" not in left.text
    assert "back to what it was" in chat.say("undo").text
    assert chat.say("my own words").one("listing")["count"] == len(REMEMBERED)


def test_what_was_forgotten_is_asked_again_and_can_be_told_anew(chat: Chat) -> None:
    chat.say("I always weigh rice dry")
    chat.say("forget how I weigh rice")
    assert chat.say("100 g rice").one("question")["about"] == "state"
    chat.say("my ladle of soup is 140 g")
    chat.say("forget my ladle")
    chat.say("my ladle of soup is 150 g")
    assert "ladle of soup: 150 g" in chat.say("list my measures").text


def test_all_words_are_forgotten_after_asking_once(chat: Chat) -> None:
    for told in REMEMBERED:
        chat.say(told)
    chat.say("forget all my words").asked("6 words")
    chat.say("yes")
    assert chat.say("my habits").one("listing")["count"] == 0


def test_a_word_with_several_meanings_asks_which(chat: Chat) -> None:
    chat.say("my ladle of soup is 140 g")
    chat.say("my ladle of stew is 160 g")
    chat.say("forget my ladle").refused("ladle of soup or ladle of stew")
    assert chat.say("forget my ladle of stew").text.startswith("Forgotten: ladle of stew")
