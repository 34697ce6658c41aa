"""Meals and foods eaten again, and questions about the books, in words that nobody foresaw: the record decides."""

import re

import pytest

from .chat import Chat

MONDAY = {"granola": 50, "skyr": 120, "strawberries": 80}
TUESDAY = {"rye bread": 60, "butter": 12, "cheddar cheese": 40}
WEDNESDAY_MORNING = "2026-03-11T08:10:00+00:00"


@pytest.fixture
def week(chat: Chat) -> Chat:
    """Two days with breakfasts, coffee and a dinner, and a stew of which 1,380 g are left."""
    chat.say("breakfast: 50 g granola, 120 g skyr, 80 g strawberries", at="2026-03-09T08:00:00+00:00")
    chat.say("dinner: 180 g cooked white rice, 140 g grilled salmon", at="2026-03-09T19:00:00+00:00")
    chat.say("breakfast: 60 g rye bread, 12 g butter, 40 g cheddar", at="2026-03-10T08:00:00+00:00")
    chat.say("coffee with 30 g whole milk", at="2026-03-10T08:20:00+00:00")
    chat.say("lunch: 200 g cooked pasta, 30 g pesto", at="2026-03-10T13:00:00+00:00")
    chat.say(
        "new batch lentil stew: 500 g raw potatoes, 300 g carrots, 250 g dry lentils, 900 g water",
        at="2026-03-10T17:00:00+00:00",
    )
    chat.say("lentil stew cooked, 1700 g", at="2026-03-10T18:00:00+00:00")
    chat.say("320 g lentil stew", at="2026-03-10T18:30:00+00:00")
    return chat


@pytest.mark.parametrize(
    ("said", "eaten"),
    (
        ("Yesterday's breakfast, take two", TUESDAY),
        ("brekkie's a carbon copy of monday's", MONDAY),
        ("did mondays breakfast again this morning", MONDAY),
        ("no change from yesterday at breakfast", TUESDAY),
        ("what I ate for breakfast on Monday, I ate it today also", MONDAY),
        ("breakfast - ditto yesterday", TUESDAY),
        ("Monday breakfast on repeat, minus the strawberries", {"granola": 50, "skyr": 120}),
        ("yesterdays breakfast once more but cheddar was 55", {**TUESDAY, "cheddar cheese": 55}),
        ("I'm having pretty much Monday's breakfast all over, skyr 150 though", {**MONDAY, "skyr": 150}),
        ("went for the exact breakfast I had Monday. skipped the granola", {"skyr": 120, "strawberries": 80}),
        ("rye bread, butter, cheddar: as per yesterday", TUESDAY),
        ("granola & skyr & strawberries, identical amounts to Monday", MONDAY),
        ("breakfast today is Monday's one repeated", MONDAY),
        ("breakfast and coffee, both exactly as yesterday", {**TUESDAY, "whole milk": 30}),
        ("yesterday morning's breakfast and coffee repeated", {**TUESDAY, "whole milk": 30}),
        ("coffee the way I always have it", {"whole milk": 30}),
        ("same coffee, nothing new", {"whole milk": 30}),
    ),
)
def test_a_meal_on_record_is_eaten_again(week: Chat, said: str, eaten: dict[str, float]) -> None:
    told = week.say(said, at=WEDNESDAY_MORNING)
    recorded = {e["food"]: e["edible_g"] for e in told.all("weigh_in") if e["food"] != "coffee"}
    assert recorded == eaten, told
    assert {e["day"] for e in told.all("weigh_in")} == {"2026-03-11"}
    assert "question" not in told.kinds


@pytest.mark.parametrize(
    "said",
    (
        "tomorrow same breakfast as monday",
        "should I have monday's breakfast again?",
        "same again tomorrow?",
        "my sister had the usual breakfast",
        "he ate yesterday's breakfast again",
        "didn't fancy the usual breakfast today",
        "breakfast wasn't like yesterday's",
        "no breakfast again today, same as yesterday",
        "missed breakfast, same as yesterday",
        "if I had the same breakfast as Monday I'd be starving",
        "I usually have the same breakfast as my wife",
        "usual chaos at breakfast, 3 kids",
        "the usual breakfast crowd was in, 12 people",
        "breakfast at the usual place",
        "same weather as yesterday, breakfast outside",
        "I had the same shoes as yesterday at breakfast",
        "half of yesterday's breakfast again",
        "breakfast cost the same as yesterday",
        "saturday's plan is risotto, 300 g rice and 200 g mushrooms",
        "friday will be risotto. rice 300 g mushrooms 200 g",
    ),
)
def test_what_was_not_eaten_again_stays_off_the_record(week: Chat, said: str) -> None:
    week.say(said, at=WEDNESDAY_MORNING).nothing()


@pytest.mark.parametrize("said", ("the cheddar went off again", "out of granola again", "cheddar again"))
def test_a_food_by_itself_is_no_second_helping(week: Chat, said: str) -> None:
    assert not week.say(said, at=WEDNESDAY_MORNING).records


def test_a_meal_told_with_its_weights_is_no_repeat(week: Chat) -> None:
    told = week.say("late breakfast again, 40 g cheddar and 60 g rye bread", at=WEDNESDAY_MORNING)
    assert {e["food"]: e["edible_g"] for e in told.all("weigh_in")} == {"cheddar cheese": 40, "rye bread": 60}


def test_what_was_different_comes_in_the_next_message(week: Chat) -> None:
    week.say("Monday's breakfast once more for me", at=WEDNESDAY_MORNING)
    changed = week.say("except I went down to 90 on the skyr").changed()
    assert (changed["food"], changed["edible_g"], changed["day"]) == ("skyr", 90, "2026-03-11")
    assert week.say("no strawberries though").one("weigh_in_removed")


@pytest.mark.parametrize(
    ("said", "answer"),
    (
        ("is there still stew to be had?", r"1,380 g"),
        ("stew - what's the damage, how much remains", r"1,380 g"),
        ("whats the stew sitting at", r"1,380 g"),
        ("and stew what are we down to", r"1,380 g"),
        ("what've we got left in stew", r"1,380 g"),
        ("HOW MANY DAYS OLD IS THAT STEW", r"1 day"),
        ("when did i cook the stew", r"1 day"),
        ("please tell me all what is inside the stew until now", r"(?s)carrot.*lentils"),
        ("if i took 200 g of the stew, whats the protein", r"protein \d"),
        ("say I had 200 g of the stew, how much protein would it be", r"protein \d"),
        ("give me a rundown of what ive eaten yesterday", r"pesto"),
        ("could you list off all I ate Monday", r"salmon"),
        ("butter: was there any yesterday?", r"12 g"),
        ("what does my week add up to so far", r"kcal"),
        ("Tuesday add up to what altogether?", r"kcal"),
    ),
)
def test_a_question_in_any_words_is_answered(week: Chat, said: str, answer: str) -> None:
    text = week.say(said, at=WEDNESDAY_MORNING).nothing()
    assert re.search(answer, text), text


def test_a_bit_of_somebodys_helping_leaves_the_batch_alone(week: Chat) -> None:
    week.say("Dog scored my daughter's last bit of stew haha", at=WEDNESDAY_MORNING).nothing()
    assert "1,380" in week.say("how much stew is left?").text


def test_a_dish_told_again_for_a_meal_does_not_repeat_the_meal(week: Chat) -> None:
    assert not week.say("soup again for dinner. 250 g out of batch 4", at=WEDNESDAY_MORNING).all("weigh_in")


def test_a_jar_that_is_only_spoken_of_is_no_box_of_a_pot(week: Chat) -> None:
    week.say("the lentil stew that is left goes in 3 boxes", at=WEDNESDAY_MORNING)
    told = week.say("peanut butter 20 g, this jar has grams", at=WEDNESDAY_MORNING).all("weigh_in")
    assert [(each["food"], each["as_weighed_g"]) for each in told] == [("peanut butter", 20.0)]


def test_what_is_being_thrown_out_is_not_eaten(week: Chat) -> None:
    said = "rest of the lentil stew smells funny so I am throwing it all out"
    told = week.say(said, at=WEDNESDAY_MORNING)
    assert not told.all("weigh_in")
    assert told.all("batch_closed")


def test_a_running_scale_counts_a_portion_of_a_pot_too(week: Chat) -> None:
    told = week.say("scale runs on: bowl 310, boiled rice 470, lentil stew 620", at=WEDNESDAY_MORNING).all("weigh_in")
    assert [(each["food"], each["as_weighed_g"]) for each in told] == [("white rice", 160.0), ("lentil stew", 150.0)]
