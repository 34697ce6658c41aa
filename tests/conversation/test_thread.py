"""What comes after a weigh-in: corrections, repeats, estimates, questions and asides in words nobody foresaw."""

import pytest

from .chat import Chat
from .conftest import Meet

SHAKE = "my shake is 30 g whey, 250 g skimmed milk and a banana 100 g"


@pytest.mark.parametrize(
    ("recorded", "said", "food", "grams"),
    (
        ("220 g cooked rice", "*202 the rice", "white rice", 202),
        ("220 g cooked rice", "202* rice", "white rice", 202),
        ("40 g feta", "soz the feta was 31", "feta", 31),
        ("40 g feta", "srry feta 31", "feta", 31),
        ("310 g boiled potatoes", "potatoes 301, fat fingers", "potato", 301),
        ("200 g grilled chicken breast", "I beg your pardon, one eighty", "chicken breast", 180),
        ("120 g grilled pork chop", "It ought to read one hundred and thirty for the pork chop.", "pork chop", 130),
        ("15 g butter", "ah the butter was 9, weighed the dish again afterwards", "butter", 9),
        ("60 g walnuts", "walnuts were 52 actually, a few went on the floor", "walnuts", 52),
        ("200 g cooked rice", "rice was not 200, it is 170 because plate was wet", "white rice", 170),
        ("320 g tomato soup", "350 i mean", "tomato soup", 350),
        ("75 g hummus, 25 g cheddar", "57 not 75", "hummus", 57),
        ("75 g hummus, 25 g cheddar", "hang on is the cheddar right? 52 not 25", "cheddar cheese", 52),
    ),
)
def test_a_correction_in_other_words(meet: Meet, recorded: str, said: str, food: str, grams: float) -> None:
    chat = meet(region="UK")
    chat.given(recorded)
    changed = chat.say(said).changed()
    assert (changed["food"], changed["as_weighed_g"]) == (food, grams)


def test_two_foods_put_right_at_once(chat: Chat) -> None:
    chat.given("150 g sweetcorn, 90 g cherry tomatoes")
    changed = chat.say("sweetcorn 115 tomatoes 80, read it upside down").all("weigh_in_changed")
    assert [(each["food"], each["as_weighed_g"]) for each in changed] == [("sweet corn", 115), ("cherry tomato", 80)]


def test_a_count_is_put_right_by_the_count_on_record(chat: Chat) -> None:
    chat.given("2 boiled eggs")
    assert chat.say("not 2, 3. forgot the small one").changed()["as_weighed_g"] == 150


def test_a_volume_stays_one(meet: Meet) -> None:
    chat = meet(region="metric")
    chat.given("330 ml beer")
    assert chat.say("make that 500").changed()["as_weighed_g"] == pytest.approx(500 * 331.4 / 330, abs=0.5)


def test_a_food_is_swapped_by_the_words_between(chat: Chat) -> None:
    chat.given("30 g almonds")
    changed = chat.say("almonds, sorry, cashews").changed()
    assert (changed["food"], changed["as_weighed_g"]) == ("cashews", 30)


@pytest.mark.parametrize(
    ("recorded", "said", "grams"),
    (
        ("yesterday 150 g cooked rice", "yesterday's rice was 165, I found the slip of paper", 165),
        ("yesterday 150 g cooked rice", "the rice last night was 130", 130),
        ("on sunday for lunch 150 g cooked rice", "rice at lunch sunday 150 was 185", 185),
    ),
)
def test_the_record_of_another_day_is_enough(chat: Chat, recorded: str, said: str, grams: float) -> None:
    chat.given(recorded, "90 g cooked rice")
    changed = chat.say(said).changed()
    assert (changed["id"], changed["as_weighed_g"], changed["day"]) == (1, grams, "2026-03-01")


@pytest.mark.parametrize(
    "said",
    (
        "180 g rice cooked * 2 portions for later",
        "the rice will be 200 tomorrow",
        "is the rice 200?",
        "the rice I want is 300 g",
    ),
)
def test_what_puts_nothing_right(chat: Chat, said: str) -> None:
    chat.given("220 g cooked rice")
    assert not chat.say(said).all("weigh_in_changed")


@pytest.mark.parametrize(
    ("said", "kinds"),
    (
        ("ooh sorry undo, those were Linda's", ["weigh_in_removed"]),
        ("ay sorry undo, that one is for Joy in station 3", ["weigh_in_removed"]),
        ("undo? no leave it", []),
        ("don't undo", []),
    ),
)
def test_undo_with_a_reason_or_second_thoughts(chat: Chat, said: str, kinds: list[str]) -> None:
    chat.given("30 g peanuts")
    assert [event["type"] for event in chat.say(said).records] == kinds


def test_undo_reaches_a_food_of_another_day_by_its_name(chat: Chat) -> None:
    chat.given("yesterday 40 g mozzarella", "90 g banana")
    assert chat.say("please take yesterdays mozzarella off, the dog got it").one("weigh_in_removed")["id"] == 1


def eaten(chat: Chat, said: str) -> list[tuple[str, float]]:
    """What a repeat put on today's record, and nothing else beside it."""
    heard = chat.say(said)
    assert all(e["type"] == "weigh_in" and e["day"] == "2026-03-02" for e in heard.records), heard
    assert "question" not in heard.kinds, heard
    return [(e["food"], e["as_weighed_g"]) for e in heard.records]


@pytest.mark.parametrize(
    ("said", "amounts"),
    (
        ("same breakfast as yesterday except that the honey was 12 g, dentist's orders", [45, 12]),
        ("After Mass I had the same breakfast as yesterday, except that the honey was 12 grams", [45, 12]),
        ("oats like yesterday but no honey, 90 g banana instead", [45, 90]),
        ("oats again, same amount, and the same amount of honey", [45, 14]),
        ("same breakfast as yesterday and a banana 90 g", [45, 14, 90]),
    ),
)
def test_a_meal_again_with_what_is_different(chat: Chat, said: str, amounts: list[float]) -> None:
    chat.given("yesterday for breakfast 45 g dry oats, 14 g honey")
    assert [grams for _, grams in eaten(chat, said)] == amounts


def test_last_night_again(chat: Chat) -> None:
    chat.given("yesterday for dinner 220 g grilled chicken breast, 180 g mashed potato")
    assert [grams for _, grams in eaten(chat, "same again as last night but 150 mash")] == [220, 150]


@pytest.mark.parametrize(
    ("said", "amounts"),
    (
        ("my shake but 45 whey", [45, 250, 100]),
        ("shake again, no banana", [30, 250]),
        ("shake round 2, mine, but no banana", [30, 250]),
        ("my shake", [30, 250, 100]),
        ("2 shakes", [60, 500, 200]),
    ),
)
def test_a_mix_of_ones_own_with_a_change(chat: Chat, said: str, amounts: list[float]) -> None:
    chat.say(SHAKE)
    assert [grams for _, grams in eaten(chat, said)] == amounts


def test_a_mix_as_it_was_on_another_day(chat: Chat) -> None:
    chat.say(SHAKE)
    chat.given("yesterday my shake")
    assert eaten(chat, "same shake as yday but 400 milk") == [
        ("whey protein powder", 30),
        ("skim milk", 400),
        ("banana", 100),
    ]


@pytest.mark.parametrize("said", ("200 g potatoes, same as before", "200 g potatoes, same kind"))
def test_the_same_kind_has_the_state_of_the_last(chat: Chat, said: str) -> None:
    chat.given("240 g boiled potatoes")
    recorded = chat.say(said).recorded()
    assert (recorded["state"], recorded["as_weighed_g"]) == ("cooked", 200)


def test_a_usual_food_in_another_amount_is_no_usual_meal(chat: Chat) -> None:
    chat.given("yesterday for breakfast 200 g nonfat greek yogurt and 60 g blueberries")
    assert eaten(chat, "the usual greek yogurt 230 g please") == [("greek yogurt nonfat", 230)]


@pytest.mark.parametrize(
    ("said", "kcal"),
    (
        ("noodle bowl from the van, i'd guess 700 kcal tbh", [700]),
        ("dining hall lasagna again. prolly 650 cals", [650]),
        ("mates bought me a pizza, 1100 kcal probably", [1100]),
        ("celebrating with a burger, out, ~900 kcal, fries about 400 kcal", [900, 400]),
    ),
)
def test_an_estimate_in_other_words(chat: Chat, said: str, kcal: list[float]) -> None:
    assert [each["kcal"] for each in chat.say(said).all("weigh_in")] == kcal


@pytest.mark.parametrize(
    ("said", "kcal"),
    (
        ("1000 rather, had the sauce too", 1000),
        ("no, more like 1000 kcal", 1000),
        ("actually I only ate half the burger so like 450", 450),
    ),
)
def test_an_estimate_is_corrected_by_its_energy(chat: Chat, said: str, kcal: float) -> None:
    chat.given("burger out, about 900 kcal")
    assert chat.say(said).changed()["kcal"] == kcal


@pytest.mark.parametrize(
    ("said", "about"),
    (
        ("how much fat was in that?", "what_if"),
        ("what's in one of those then", "what_if"),
        ("was that a lot?", "what_if"),
        ("did that push me past 2000?", "nutrient"),
        ("what do I still need to hit 120 g protein", "nutrient"),
        ("any room left for a biscuit?", "nutrient"),
        ("am I gaining or losing??", "body_weight"),
        ("how many flapjacks did I have today", "eaten"),
    ),
)
def test_a_question_about_what_was_told_is_answered(chat: Chat, said: str, about: str) -> None:
    chat.given("200 g whole greek yogurt", "60 g flapjack")
    answered = chat.say(said)
    answered.nothing()
    assert answered.one("answer")["about"] == about


def test_the_number_that_is_asked_about_is_the_one_compared_with(chat: Chat) -> None:
    chat.say("target 2000 kcal")
    chat.given("100 g olive oil")  # 884 kcal, FoodData Central SR Legacy 171413
    assert "616 kcal left" in chat.say("does that put me over fifteen hundred").text


@pytest.mark.parametrize(
    "said",
    (
        "saturday we make maybe fifty dumplings, send help",
        "big shop later: 5 kg potatoes, 2 kg rice, a dozen eggs",
        "bulk store run later: 5 lb chicken, 10 lb rice",
        "my niece wanted ice cream, she got it, not me",
        "they put cake in front of me and I pushed it away",
        "trainer wants me at 170 lbs by june",
    ),
)
def test_what_was_not_eaten_asks_nothing(chat: Chat, said: str) -> None:
    chat.say(said).nothing()


@pytest.mark.parametrize(
    ("said", "food", "grams"),
    (
        ("60 g croissant, don't tell my wife", "croissant", 60),
        ("60 g croissant dont look at me like that", "croissant", 60),
        ("240 g potato salad from my neighbour's party, I didn't cook", "potato salad", 240),
        ("rice?? no, couscous. cooked, 160 g", "couscous", 160),
        ("banana? nah. 30 g almonds", "almonds", 30),
    ),
)
def test_an_aside_holds_nothing_back(chat: Chat, said: str, food: str, grams: float) -> None:
    recorded = chat.say(said).recorded()
    assert (recorded["food"], recorded["as_weighed_g"]) == (food, grams)


@pytest.mark.parametrize(
    ("said", "day"),
    (
        ("breakfast 180 g fried rice from last night", "2026-03-02"),
        ("180 g leftover fried rice from yesterday", "2026-03-02"),
        ("I forgot 180 g fried rice from last night", "2026-03-01"),
        ("180 g fried rice last night", "2026-03-01"),
    ),
)
def test_where_leftovers_are_from_is_no_day(chat: Chat, said: str, day: str) -> None:
    assert chat.say(said).recorded()["day"] == day


@pytest.mark.parametrize(
    ("recorded", "said", "state"),
    (
        ("200 g cooked rice", "not cooked", "raw"),
        ("200 g cooked rice", "the rice wasn't cooked", "raw"),
        ("200 g dry pasta", "it was not dry", "cooked"),
    ),
)
def test_a_state_that_is_denied_leaves_the_other(chat: Chat, recorded: str, said: str, state: str) -> None:
    chat.given(recorded)
    assert chat.say(said).changed()["state"] == state


@pytest.mark.parametrize(("said", "state"), (("not cooked", "raw"), ("it wasn't cooked", "raw"), ("not dry", "cooked")))
def test_a_denied_state_answers(chat: Chat, said: str, state: str) -> None:
    chat.say("200 g rice").one("question")
    assert chat.say(said).one("weigh_in")["state"] == state


def test_one_of_three_states_is_still_asked_for(chat: Chat) -> None:
    chat.say("200 g chickpeas").one("question")
    assert not chat.say("not dry").records


def test_a_number_a_day_later_is_asked_about(meet: Meet) -> None:
    chat = meet(region="metric")
    chat.say("some ham", "2026-03-02T12:00:00+00:00").one("question")
    asked = chat.say("82.4", "2026-03-03T13:00:00+00:00")
    asked.asked("ham")
    assert chat.press("body weight").one("body_weight")["kg"] == 82.4


def test_a_number_on_the_same_day_answers(chat: Chat) -> None:
    chat.say("some ham").one("question")
    assert chat.say("120").recorded()["as_weighed_g"] == 120


@pytest.mark.parametrize(
    ("told", "said"),
    (
        ("90 g naan and 200 g chips", "plain naan"),
        ("haddock cooked 180, 100 g chips", "baked haddock, cooked"),
        ("140 g cooked farmed atlantic salmon, 100 g chips", "farmed atlantic"),
    ),
)
def test_words_that_only_say_it_more_closely_are_no_new_food(chat: Chat, told: str, said: str) -> None:
    chat.say(told).one("question")
    chat.say(said).nothing()


@pytest.mark.parametrize(
    ("said", "example"),
    (
        ("I need to fix what I said about the blork", "change last"),
        ("the pot is glorping", "new batch"),
        ("my packet label says floop", "label oat bar"),
        ("same old blork as ever", "same breakfast"),
        ("who zonks the qwerty?", "how much protein"),
        ("zort the blib", "180 g cooked rice"),
    ),
)
def test_what_is_not_understood_gets_an_example_that_fits(chat: Chat, said: str, example: str) -> None:
    heard = chat.say(said)
    heard.one("not_understood")
    assert said in heard.text
    assert example in heard.text
    assert len(heard.text.splitlines()) == 1
