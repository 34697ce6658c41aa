"""What people say in their first days: who they are, commands in short, answers in full, slips on the scale."""

import pytest

from bot.conversation.help_topics import TOPICS
from bot.conversation.welcome import HELP

from .chat import Chat
from .conftest import Meet


@pytest.mark.parametrize(("asked", "answer", "food", "grams"), (
    ("pear", "7 oz with core", "pear", 198.4),
    ("mango", "310 g with stone", "mango", 310),
    ("rice", "170 g cooked", "white rice", 170),
))  # fmt: skip
def test_an_answer_may_say_how_it_was_weighed(chat: Chat, asked: str, answer: str, food: str, grams: float) -> None:
    chat.say(asked).asked("How many grams")
    weighed = chat.say(answer).recorded()
    assert (weighed["food"], round(weighed["as_weighed_g"], 1)) == (food, grams)
    if "with" in answer:
        assert weighed["edible_g"] < grams


@pytest.mark.parametrize("said", (
    "hello, I'm Priya", "hey it's Dana. I cook for five and my scale only does ounces", "hi, this is Omar here",
))  # fmt: skip
def test_a_name_is_no_food(chat: Chat, said: str) -> None:
    assert chat.say(said).nothing("Hello!")


def test_a_food_behind_a_greeting_is_one(chat: Chat) -> None:
    assert chat.say("hi it's halva, 40 g").recorded()["food"] == "halva"


@pytest.mark.parametrize("said", (
    "I'm on day 4 and the lentil soup, is it still ok?", "we are 5 days in with the soup, still good?",
))  # fmt: skip
def test_the_day_of_a_batch_is_no_amount(chat: Chat, said: str) -> None:
    chat.say("new batch lentil soup: 400 g dry lentils, 900 g carrots")
    chat.say("batch 1 cooked 1900 g")
    text = chat.say(said, at="2026-03-06T12:00:00+00:00").nothing("in the fridge for 4 days")
    assert "left out" not in text


def test_the_day_of_food_that_is_no_batch(chat: Chat) -> None:
    chat.say("I'm on day 4 and the chili, is it still ok?").nothing("3 to 4 days in the fridge")


@pytest.mark.parametrize("said", ("weigh 1800 lb", "body weight 18 lb", "I weigh 7 kg", "my weight is 950 kg"))
def test_a_weight_that_nobody_has_is_a_slip(chat: Chat, said: str) -> None:
    text = chat.say(said).refused("can't be right", "What did the scale say?")
    assert "emergency" not in text
    assert "somebody else" not in text


def test_a_weight_that_may_be_a_danger_still_is_answered_as_one(chat: Chat) -> None:
    assert "doctor" in chat.say("I weigh 31 kg").text


def test_del_is_delete(chat: Chat) -> None:
    chat.say("30 g cheddar")
    chat.say("del walnuts").refused("There is no walnuts on record")
    assert chat.say("del cheddar").one("weigh_in_removed")["id"] == 1


@pytest.mark.parametrize("said", ("No, put the egg back", "put it back please", "actually bring that egg back"))
def test_what_was_deleted_is_put_back(chat: Chat, said: str) -> None:
    chat.say("egg 51 g boiled")
    chat.say("Please take off the egg, I gave it to the cat.").one("weigh_in_removed")
    assert chat.say(said).recorded()["food"] == "egg"


def test_nothing_else_is_undone_by_putting_back(chat: Chat) -> None:
    chat.say("51 g boiled egg")
    chat.say("put the egg back").nothing("Nothing was deleted just now")


def test_a_dish_that_was_made_with_what_is_weighed_is_not_weighed_again(chat: Chat) -> None:
    chat.say("I always weigh oats dry")
    weighed = chat.say("bowl of porridge made with 40 grams of oats").recorded()
    assert (weighed["food"], weighed["as_weighed_g"]) == ("oats", 40)
    both = chat.say("a sandwich made with 60 g white bread and 30 g cheddar")
    assert [event["food"] for event in both.records] == ["white bread", "cheddar cheese"]
    assert "question" not in both.kinds


@pytest.mark.parametrize("said", ("2 eggs fried in 6 g butter", "7 g lard fried", "sauteed in 9 g margarine"))
def test_fat_in_the_pan_keeps_its_figures(chat: Chat, said: str) -> None:
    heard = chat.say(said)
    assert "question" not in heard.kinds
    assert heard.records


def test_a_kind_of_the_food_on_record_names_it(chat: Chat) -> None:
    chat.say("ground turkey 5 oz cooked")
    changed = chat.say("actually make that turkey raw").changed()
    assert (changed["food"], changed["state"]) == ("ground turkey", "raw")


def test_an_amount_is_said_once(chat: Chat) -> None:
    text = chat.say("kid left 40g of pasta, I finished it").text
    assert "40 g pasta: cooked or dry?" in text


def test_a_range_with_one_end_is_a_number(chat: Chat) -> None:
    for food in ("rice", "pasta", "couscous"):
        chat.say(f"80 g {food}")
    assert chat.say("skip all").text.startswith("3 questions dropped.")


def test_an_answer_given_once_is_no_habit_of_always(chat: Chat) -> None:
    chat.say("80 g rice")
    chat.say("dry")
    assert "Counted dry, as you told me." in chat.say("60 g rice").text


def test_batches_are_told_in_ounces_too_where_ounces_were_typed(chat: Chat) -> None:
    chat.say("new batch chili: 5 lb raw ground turkey")
    assert "2,126 g (75 oz) cooked" in chat.say("it weighs 75 oz cooked").text
    assert "Left in batch 1 (chili): 1,843 g (65 oz)." in chat.say("10 oz from the chili").text
    assert "3 boxes of 614 g (21.7 oz)" in chat.say("split the chili into 3 boxes").text
    assert "1,843 g (65 oz) of 2,126 g (75 oz)" in chat.say("how much chili is left?").text
    chat.say("a box of chili")
    chat.say("a box of chili")
    assert "0 of 3 boxes" not in chat.say("a box of chili").text


def test_batches_of_somebody_who_types_grams_have_no_ounces(chat: Chat, meet: Meet) -> None:
    for one, said in ((chat, "900 g"), (meet(region="metric"), "32 oz")):
        one.say("new batch dal: 400 g dry lentils, 600 g carrots")
        assert " oz" not in one.say(f"batch 1 cooked {said}").text
        assert " oz" not in one.say("how much dal is left?").text


@pytest.mark.parametrize(
    ("said", "kind"), (("tdy", "sheet"), ("wk", "sheet"), ("redo", "help"), ("no target", "help"), ("stop", "help"))
)
def test_commands_in_short(chat: Chat, said: str, kind: str) -> None:
    assert chat.say(said).kinds == [kind]


def test_forget_it_drops_the_question(chat: Chat) -> None:
    chat.say("rice").asked()
    chat.say("forget it").nothing("Question dropped")
    chat.say("forget it").nothing("undo")


@pytest.mark.parametrize("said", ("are you a person", "am I talking to a robot?", "is this a real person"))
def test_it_says_what_it_is(chat: Chat, said: str) -> None:
    chat.say(said).nothing("I'm a program, not a person")


def test_the_example_comes_once_a_day(chat: Chat) -> None:
    first = chat.say("xyzzy plugh").text
    second = chat.say("flurb gronk").text
    assert "for example" in first
    assert second == "I did not understand “flurb gronk”, so nothing of it is recorded."
    assert "for example" in chat.say("gronk plugh", at="2026-03-03T12:00:00+00:00").text


NAMED = [each.strip(" ,") for each in HELP.partition("More: ")[2].partition("\n")[0].split("help ") if each]


@pytest.mark.parametrize("topic", (*NAMED, "batches", "questions", "yesterday", "undo", "units"))
def test_help_has_every_topic_that_it_names(chat: Chat, topic: str) -> None:
    heard = chat.say(f"help {topic}")
    assert heard.kinds == ["help"]
    assert heard.text in TOPICS.values() or "time zone" in heard.text


def test_help_is_short() -> None:
    assert len(HELP.splitlines()) <= 8
    assert {"boxes", "freezer", "giving away", "targets", "reminders", "body weight", "week", "time zone"} <= set(NAMED)


def test_a_name_that_says_a_word_twice_needs_it_twice(chat: Chat) -> None:
    assert "red red" not in chat.say("175ml of red").text
    assert chat.say("200 g red red").recorded()["food"] == "red red"
