"""Weigh-ins: an amount and a food are recorded at once, what is missing or unclear is asked for."""

import pytest

from .chat import Chat
from .conftest import Meet

# USDA SR28, kcal per 100 g by NDB number: 20045 white rice boiled, 20044 dry, 01009 cheddar
RICE_COOKED_KCAL, RICE_DRY_KCAL, CHEDDAR_KCAL = 1.30, 3.65, 4.04
OUNCE_G = 28.349523125  # NIST Handbook 44, appendix C


def test_an_amount_and_a_food_are_recorded_and_the_reply_says_what_counts(chat: Chat) -> None:
    said = chat.say("180 g cooked rice")
    recorded = said.recorded()
    assert recorded["who"] == chat.who
    assert (recorded["id"], recorded["food"], recorded["state"], recorded["batch"]) == (1, "white rice", "cooked", None)
    assert (recorded["as_weighed_g"], recorded["edible_g"], recorded["basis_g"]) == (180, 180, 180)
    assert (recorded["basis"], recorded["evidence"]) == ("cooked", "weighed")
    assert recorded["kcal"] == pytest.approx(180 * RICE_COOKED_KCAL)
    first, *others = said.text.splitlines()
    assert all(words in first for words in ("#1", "white rice", "180 g", "234 kcal"))
    assert "Today: 234 kcal" in "\n".join(others)


def test_a_food_without_an_amount_asks_how_much(chat: Chat) -> None:
    chat.say("cheddar").asked("how many grams")
    assert chat.say("30").recorded()["as_weighed_g"] == 30


def test_an_amount_without_a_food_asks_of_what(chat: Chat) -> None:
    chat.say("200 g").asked("of what")
    recorded = chat.say("cheddar").recorded()
    assert (recorded["food"], recorded["as_weighed_g"]) == ("cheddar cheese", 200)


@pytest.mark.parametrize("text", ("hello", "thanks", "good night"))
def test_greetings_and_thanks_record_nothing(chat: Chat, text: str) -> None:
    said = chat.say(text)
    said.nothing()
    assert said.events == ()


@pytest.mark.parametrize(
    "text",
    (
        "I did not have 30 g cheddar",
        "I'll have 30 g cheddar later",
        "I wish I had 30 g cheddar",
        "buy 30 g cheddar",
        "the recipe needs 30 g cheddar",
        "my wife had 30 g cheddar",
    ),
)
def test_what_was_not_eaten_or_not_by_the_writer_stands_on_no_day(chat: Chat, text: str) -> None:
    chat.say(text).nothing()
    assert chat.day()["kcal"] == 0


def test_a_question_about_food_is_answered_and_not_recorded(chat: Chat) -> None:
    said = chat.say("how much is 200 g dry rice?")
    assert said.one("answer")
    said.nothing("730")  # 200 g × 365 kcal (USDA SR28, 20044)
    assert chat.day()["kcal"] == 0


def test_no_and_without_exclude_only_what_follows(chat: Chat) -> None:
    assert chat.say("180 g cooked rice, no butter").recorded()["food"] == "white rice"
    assert chat.say("30 g cheddar without bread").recorded()["food"] == "cheddar cheese"


def test_only_the_writers_part_is_recorded(chat: Chat) -> None:
    recorded = chat.say("300 g cooked rice, 120 of it for my son").recorded()
    assert (recorded["edible_g"], recorded["basis_g"]) == (180, 180)


def test_a_shared_amount_asks_how_much_was_theirs(chat: Chat) -> None:
    chat.say("we shared 400 g cooked rice").asked("yours")
    assert chat.say("150 g").recorded()["as_weighed_g"] == 150


def test_the_clear_items_are_recorded_and_the_unclear_ones_asked_about_one_at_a_time(chat: Chat) -> None:
    said = chat.say("30 g cheddar, 200 g zorblax, 20 g butter, 150 g pasta")
    assert [event["food"] for event in said.all("weigh_in")] == ["cheddar cheese", "butter"]
    assert len(said.all("question")) == 2
    assert "zorblax" in said.text
    assert "150 g pasta: cooked or dry" not in said.text
    second = chat.press("weight only")
    assert [event["food"] for event in second.all("weigh_in")] == ["zorblax"]
    assert "pasta" in second.text
    assert chat.press("cooked").one("weigh_in")["food"] == "pasta"


def test_an_impossible_item_is_refused_and_the_others_stand(chat: Chat) -> None:
    said = chat.say("180 g cooked rice, 6 kg cheddar, 20 g butter")
    assert [event["food"] for event in said.records] == ["white rice", "butter"]
    assert len(said.all("refused")) == 1
    assert "5 kg" in said.text


def test_one_mass_for_several_foods_asks_how_much_of_each(chat: Chat) -> None:
    chat.say("350 g rice and chicken").asked("how much of each")


def test_the_same_message_again_is_recorded_again_with_a_note(chat: Chat) -> None:
    assert "same" not in chat.say("180 g cooked rice").text
    said = chat.say("180 g cooked rice")
    assert said.recorded()["id"] == 2
    assert "same as #1" in said.text
    assert chat.day()["kcal"] == pytest.approx(2 * 180 * RICE_COOKED_KCAL)


def test_twice_the_same_item_in_one_message_is_two_weigh_ins(chat: Chat) -> None:
    assert [event["id"] for event in chat.say("30 g cheddar, 30 g cheddar").records] == [1, 2]


def test_a_volume_says_in_a_few_words_that_it_was_not_weighed(chat: Chat) -> None:
    said = chat.say("1 cup cooked rice")
    assert said.recorded()["evidence"] == "density"
    assert "not weighed" in said.text


def test_a_volume_without_any_source_asks_for_the_weight(chat: Chat) -> None:
    chat.say("a bowl of cooked rice").asked("how many grams")
    recorded = chat.say("240").recorded()
    assert (recorded["as_weighed_g"], recorded["evidence"]) == (240, "weighed")


def test_ounces_of_a_drink_ask_weight_or_volume(chat: Chat) -> None:
    chat.say("12 oz orange juice").asked("weight or by volume")
    assert chat.press("weight").recorded()["as_weighed_g"] == pytest.approx(12 * OUNCE_G, abs=0.006)


def test_a_doubtful_point_asks_which_of_the_two(chat: Chat) -> None:
    chat.say("1.250 g cooked rice").asked("1,250")
    assert chat.press("1,250").recorded()["as_weighed_g"] == 1250


def test_a_range_asks_how_many_grams(chat: Chat) -> None:
    chat.say("100 to 150 g cheddar").asked("range")
    assert chat.say("120").recorded()["as_weighed_g"] == 120


def test_pieces_are_recorded_as_counted_at_medium_size(chat: Chat) -> None:
    recorded = chat.say("2 eggs").recorded()
    assert (recorded["as_weighed_g"], recorded["evidence"]) == (100, "counted")  # USDA SR28, 01123: large 50 g


def test_a_number_that_may_be_pieces_or_grams_asks(chat: Chat) -> None:
    chat.say("60 blueberries").asked("grams or pieces")
    assert chat.press("60 g").recorded()["as_weighed_g"] == 60


@pytest.mark.parametrize(
    ("text", "word"),
    (("0 g cheddar", "0 g"), ("-30 g cheddar", "above zero"), ("6 kg cheddar", "5 kg"), ("12 lb cheddar", "5 kg")),
)
def test_an_impossible_weight_is_refused_and_the_reply_says_why(chat: Chat, text: str, word: str) -> None:
    chat.say(text).refused(word)
    assert chat.day()["waiting"] == 0


def test_a_misspelling_is_taken_and_the_name_is_echoed(chat: Chat) -> None:
    said = chat.say("chiken brest 200 g cooked")
    assert said.recorded()["food"] == "chicken breast"
    assert "chicken breast" in said.text


def test_an_unknown_food_offers_the_nearest_names_weight_only_and_its_label(chat: Chat) -> None:
    said = chat.say("200 g zorblax")
    said.asked("zorblax")
    assert {"weight only", "type its label"} <= set(said.choices)
    assert len(said.choices) <= 4


def test_an_unknown_food_can_be_named_in_answer(chat: Chat) -> None:
    chat.say("200 g zorblax").asked()
    asked = chat.say("cheddar")
    asked.asked("Is “cheddar” for #1 zorblax?")
    assert asked.choices == ("yes", "no, cheddar is new")
    assert chat.press(1).one("weigh_in")["as_weighed_g"] == 200
    chat.say("90 g quxfrob").asked()
    assert chat.say("it was cheddar").recorded()["as_weighed_g"] == 90


def test_the_plain_kind_is_named_when_no_kind_was_said(chat: Chat) -> None:
    assert "whole milk" in chat.say("200 g milk").text


def test_raw_or_cooked_is_asked_once_and_the_answer_is_the_habit(chat: Chat) -> None:
    asked = chat.say("200 g rice")
    asked.asked_state()
    answered = chat.press("dry")
    assert answered.recorded()["state"] == "raw"
    assert answered.recorded()["kcal"] == pytest.approx(200 * RICE_DRY_KCAL)
    assert answered.one("habit_saved") == {"type": "habit_saved", "food": "white rice", "state": "raw"}
    again = chat.say("150 g rice")
    assert again.recorded()["state"] == "raw"
    assert "as you told me" in again.text


def test_saying_it_outright_makes_a_habit_and_logging_does_not(chat: Chat) -> None:
    chat.say("180 g cooked rice").recorded()
    chat.say("200 g rice").asked()
    assert chat.say("I always weigh rice dry").one("habit_saved")["state"] == "raw"
    assert chat.say("150 g rice").one("weigh_in")["state"] == "raw"


def test_the_other_state_than_the_habit_is_recorded_and_pointed_out_once(chat: Chat) -> None:
    chat.say("I always weigh rice dry")
    switched = chat.say("180 g cooked rice")
    assert switched.recorded()["state"] == "cooked"
    assert "usually" in switched.text
    assert "usually" not in chat.say("190 g cooked rice").text


def test_a_habit_is_for_that_food_and_not_for_its_kinds(chat: Chat) -> None:
    chat.say("I always weigh rice dry")
    chat.say("150 g brown rice").asked_state()


def test_a_habit_is_each_persons_own(chat: Chat, meet: Meet) -> None:
    chat.say("I always weigh rice dry")
    meet().say("150 g rice").asked_state()


def test_a_state_word_before_the_amount_asks_how_it_was_weighed(chat: Chat) -> None:
    chat.say("cooked 200 g rice").asked_state()


@pytest.mark.parametrize("text", ("100 g canned kiwi", "100 g canned cucumber"))
def test_a_state_that_the_table_has_no_figures_for_is_asked_about(chat: Chat, text: str) -> None:
    chat.say(text).asked()


def test_whole_takes_the_refuse_off(chat: Chat) -> None:
    said = chat.say("apple 204 with core")
    recorded = said.recorded()
    # USDA SR28, 09003: refuse 10 %, core and stem; 52 kcal per 100 g
    assert (recorded["as_weighed_g"], recorded["edible_g"]) == (204, pytest.approx(183.6))
    assert (recorded["basis_g"], recorded["evidence"]) == (pytest.approx(183.6), "refuse_table")
    assert recorded["kcal"] == pytest.approx(183.6 * 0.52, abs=0.01)
    assert "204 g" in said.text
    assert "184 g" in said.text


def test_a_waste_weight_comes_off_and_is_better_evidence(chat: Chat) -> None:
    recorded = chat.say("apple 204, core 19").recorded()
    assert (recorded["as_weighed_g"], recorded["edible_g"], recorded["evidence"]) == (204, 185, "weighed")


def test_a_waste_weight_that_comes_later_changes_the_last_food_with_such_a_part(chat: Chat) -> None:
    chat.given("apple 204 with core", "30 g cheddar")
    changed = chat.say("core was 21").changed()
    assert (changed["was"], changed["food"], changed["edible_g"]) == (1, "apple", 183)


def test_a_waste_weight_as_heavy_as_the_food_is_refused(chat: Chat) -> None:
    chat.say("apple 100, core 120").refused()


def test_the_gross_weight_in_a_known_vessel_counts_without_it(chat: Chat) -> None:
    chat.given("tare blue bowl 412 g")
    recorded = chat.say("cooked rice 632 in the blue bowl").recorded()
    assert recorded["as_weighed_g"] == 220


def test_an_unknown_vessel_is_asked_for_and_kept(chat: Chat) -> None:
    chat.say("cooked rice 632 g in the green bowl").asked("green bowl")
    said = chat.say("232")
    assert said.one("weigh_in")["as_weighed_g"] == 400
    assert said.one("tare_saved") == {"type": "tare_saved", "name": "green bowl", "grams": 232}


def test_a_vessel_heavier_than_the_gross_weight_is_refused(chat: Chat) -> None:
    chat.given("tare blue bowl 412 g")
    chat.say("cooked rice 300 g in the blue bowl").refused("412 g")


def test_numbers_are_read_whole_grams_and_stored_exact(chat: Chat) -> None:
    said = chat.say("10 oz cheddar")
    assert "283 g" in said.text
    assert said.recorded()["as_weighed_g"] == pytest.approx(283.5, abs=0.006)
    assert said.recorded()["kcal"] == pytest.approx(10 * OUNCE_G * CHEDDAR_KCAL, abs=0.01)
    assert "8.5 g" in chat.say("0.3 oz cheddar").text


def test_the_day_and_the_meal_stand_in_the_reply(chat: Chat) -> None:
    said = chat.say("180 g cooked rice for lunch yesterday")
    assert (said.recorded()["day"], said.recorded()["meal"]) == ("2026-03-01", "lunch")
    assert "yesterday" in said.text
    assert "lunch" in said.text
    assert chat.day()["kcal"] == 0


def test_a_time_that_is_still_to_come_is_refused(chat: Chat) -> None:
    chat.say("180 g cooked rice today at 23:30", at="2026-03-03T14:00:00+00:00").refused("future")


def test_days_are_the_persons_own(meet: Meet) -> None:
    # 10:30 UTC is 23:30 in Auckland, and 11:30 is the next day there (UTC+13 in March, IANA)
    chat = meet(timezone="Pacific/Auckland")
    assert chat.say("30 g cheddar", at="2026-03-02T10:30:00+00:00").recorded()["day"] == "2026-03-02"
    assert chat.say("31 g cheddar", at="2026-03-02T11:30:00+00:00").recorded()["day"] == "2026-03-03"
