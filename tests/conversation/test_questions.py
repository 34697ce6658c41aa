"""Questions wait until they are answered, by a button, its number, its words, or what was asked for."""

from pathlib import Path

import pytest

from .chat import Chat, open_door
from .conftest import Meet


@pytest.mark.parametrize("answer", ("cooked", "1", "Cooked!", "it was cooked", "cooked please", "boiled"))
def test_an_answer_may_be_the_number_or_the_words(chat: Chat, answer: str) -> None:
    asked = chat.say("200 g rice")
    asked.asked()
    assert asked.choices[0] == "cooked"
    assert chat.say(answer).one("weigh_in")["state"] == "cooked"
    assert chat.day()["waiting"] == 0


def test_an_answer_may_be_a_button(chat: Chat) -> None:
    chat.say("200 g rice").asked()
    assert chat.press(2).one("weigh_in")["state"] == "raw"


def test_bare_words_for_an_earlier_question_ask_which_is_meant(chat: Chat) -> None:
    chat.say("200 g zorblax").asked()
    chat.say("150 g pasta").asked()
    asked = chat.say("weight only")
    asked.asked("Is “weight only” for #1 zorblax?")
    assert asked.choices == ("yes", "no")
    said = chat.press(1)
    assert said.text.startswith("For #1 zorblax:")
    assert said.one("weigh_in")["food"] == "zorblax"
    assert not chat.say("1").records
    assert chat.say("#2 1").one("weigh_in_open")["as_weighed_g"] == 1  # a number of its own is a new weight


def test_a_bare_amount_for_an_earlier_question_asks_which_is_meant(chat: Chat) -> None:
    chat.say("cheddar").asked()
    chat.say("200 g rice").asked()
    chat.say("35 g").asked("Is “35 g” for cheddar?")
    recorded = chat.press(1).one("weigh_in")
    assert (recorded["food"], recorded["as_weighed_g"]) == ("cheddar cheese", 35)


@pytest.mark.parametrize("answer", ("#1 cooked", "#1: it was cooked", "the rice was cooked"))
def test_an_earlier_question_is_answered_by_its_number_or_its_food_and_says_so(chat: Chat, answer: str) -> None:
    chat.say("200 g rice").asked()
    chat.say("30 g cheddar").recorded()
    said = chat.say(answer, at="2026-03-04T09:00:00+00:00")
    assert said.text.startswith("For #1 rice:")
    recorded = said.one("weigh_in")
    assert (recorded["id"], recorded["state"], recorded["day"]) == (1, "cooked", "2026-03-02")


def test_an_answer_may_go_on_with_something_new(chat: Chat) -> None:
    chat.say("200 g rice").asked()
    said = chat.say("it was cooked, dear, and 10 g honey")
    assert [(e["food"], e["state"]) for e in said.all("weigh_in")] == [("white rice", "cooked"), ("honey", "as_sold")]


@pytest.mark.parametrize("said", ("boneless raw", "raw chicken", "apple", "took 100 g from batch 1", "250 g pasta"))
def test_what_names_something_of_its_own_answers_nothing(chat: Chat, said: str) -> None:
    chat.given("batch: 1000 g raw chicken breast", "batch 1 cooked 750 g")
    number = chat.say("200 g rice").one("weigh_in_open")["id"]
    assert all(event.get("id") != number for event in chat.say(said).events)
    assert chat.say("#1 cooked").one("weigh_in")["food"] == "white rice"


def test_an_open_weigh_in_stands_with_its_weight_and_range_beside_the_sum(chat: Chat) -> None:
    chat.given("30 g cheddar")
    opened = chat.say("200 g rice for lunch").one("weigh_in_open")
    # SR28 20045 and 20044: 130 kcal cooked and 365 kcal dry for 100 g of white rice
    assert (opened["as_weighed_g"], opened["kcal_low"], opened["kcal_high"]) == (200, 260, 730)
    sheet = chat.say("today")
    assert "#2 rice, 200 g: 260 to 730 kcal, raw or cooked?" in sheet.text
    assert sheet.one("sheet")["kcal"] == pytest.approx(121.2, abs=2)
    assert chat.say("cooked").one("weigh_in")["id"] == 2


def test_fixes_reach_an_open_weigh_in(chat: Chat) -> None:
    chat.say("200 g rice")
    changed = chat.say("change last to 250 g")
    assert (changed.one("weigh_in_open")["as_weighed_g"], changed.one("weigh_in_open")["kcal_low"]) == (250, 325)
    assert chat.day()["waiting"] == 1
    assert chat.say("undo").one("weigh_in_open")["as_weighed_g"] == 200
    assert chat.press("cooked").one("weigh_in")["as_weighed_g"] == 200
    reopened = chat.say("undo")
    assert reopened.one("weigh_in_open")["as_weighed_g"] == 200
    assert reopened.one("question")["about"] == "state"
    chat.say("undo").one("weigh_in_removed")
    assert chat.day()["waiting"] == 0


def test_an_edit_reaches_an_open_weigh_in(chat: Chat) -> None:
    chat.say("200 g rice, 30 g cheddar", ref=1)
    said = chat.edit(1, "220 g rice, 30 g cheddar")
    assert said.one("weigh_in_open")["as_weighed_g"] == 220
    assert chat.day()["waiting"] == 1
    chat.edit(1, "30 g cheddar").one("weigh_in_removed")
    assert chat.day()["waiting"] == 0


def test_after_a_week_an_open_weigh_in_is_asked_about_no_more_and_can_still_be_answered(chat: Chat) -> None:
    chat.say("200 g rice")
    chat.say("30 g cheddar", at="2026-03-09T12:01:00+00:00")
    assert chat.day()["waiting"] == 0
    sheet = chat.say("monday last week 2 march")
    assert "which" not in sheet.text
    assert chat.say("#1 dry").one("weigh_in")["day"] == "2026-03-02"


def test_open_questions_are_listed_and_skipped(chat: Chat) -> None:
    chat.say("200 g rice")
    chat.say("cheddar")
    listed = chat.say("what's open?")
    assert listed.text.startswith("2 questions open:")
    assert "#1: 200 g white rice" in listed.text
    assert "cheddar" in chat.say("skip").text
    assert chat.say("what's open?").text.startswith("One question open:")
    chat.say("skip all")
    assert chat.day()["waiting"] == 0
    assert chat.say("#1 cooked").one("weigh_in")["state"] == "cooked"


def test_an_answer_is_remembered_and_said_so_once(chat: Chat) -> None:
    chat.say("180 g tuna").asked()
    chat.press(1).one("weigh_in")
    again = chat.say("150 g tuna")
    assert "Tuna is canned tuna in water, as you told me." in again.text
    assert again.recorded()["food"] == "canned tuna in water"
    assert "as you told me" not in chat.say("140 g tuna").text
    chat.say("12 oz milk").asked()
    chat.press("volume")
    assert "volume, as last time" in chat.say("8 oz milk").text
    chat.say("I weigh 182").asked()
    chat.say("pounds").one("body_weight")
    assert chat.say("I weigh 181").one("body_weight")["kg"] == pytest.approx(82.1, abs=0.01)


def test_which_batch_a_word_means_is_remembered_while_it_is_open(chat: Chat) -> None:
    chat.given("batch rice: 500 g dry white rice", "batch 1 cooked 1300 g")
    chat.say("200 g rice").asked()
    assert chat.press("batch 1").one("weigh_in")["batch"] == 1
    said = chat.say("100 g rice")
    assert "as last time" in said.text
    assert said.recorded()["batch"] == 1
    chat.say("finished the rice")
    chat.say("100 g rice").asked("cooked or dry")


def test_the_answer_to_how_much_is_grams_however_small(chat: Chat) -> None:
    chat.say("cheddar").asked()
    assert chat.say("8").recorded()["as_weighed_g"] == 8


@pytest.mark.parametrize("answer", ("3", "7", "12", "0"))
def test_a_number_out_of_range_records_nothing_and_the_question_waits(chat: Chat, answer: str) -> None:
    chat.say("200 g rice").asked()
    assert not chat.say(answer).records
    assert chat.day()["waiting"] == 1
    assert chat.say("cooked").one("weigh_in")["as_weighed_g"] == 200


@pytest.mark.parametrize("answer", ("1", "2", "7", "yes", "no", "cooked", "both"))
def test_an_answer_while_nothing_waits_records_nothing(chat: Chat, answer: str) -> None:
    chat.say(answer).nothing()


def test_a_press_out_of_range_records_nothing(chat: Chat) -> None:
    chat.say("200 g rice").asked()
    assert not chat.press(9).records
    assert chat.day()["waiting"] == 1


def test_a_message_that_stands_by_itself_is_taken_so_and_the_question_waits(chat: Chat) -> None:
    chat.say("200 g rice").asked()
    assert chat.say("30 g cheddar").one("weigh_in")["food"] == "cheddar cheese"
    assert chat.say("hello").records == []
    assert chat.day()["waiting"] == 1
    chat.say("dry").asked("Is “dry” for #1 rice?")


@pytest.mark.parametrize("between", ("hello", "today", "batches", "what's open?"))
def test_a_look_at_something_keeps_the_question_shown(chat: Chat, between: str) -> None:
    chat.say("200 g rice").asked()
    chat.say(between)
    assert chat.say("dry").one("weigh_in")["as_weighed_g"] == 200


def test_the_same_food_with_its_state_is_a_new_message_and_no_answer(chat: Chat) -> None:
    chat.say("200 g rice").asked()
    assert chat.say("150 g cooked rice").one("weigh_in")["as_weighed_g"] == 150
    assert chat.day()["waiting"] == 1


def test_answered_questions_stay_answered(chat: Chat) -> None:
    chat.say("200 g rice").asked()
    chat.press(1)
    again = chat.press(1)
    again.nothing("settled")
    chat.press(2).nothing("settled")
    assert chat.say("cooked").records == []
    assert chat.day()["kcal"] == pytest.approx(260)  # 200 g × 130 kcal (USDA SR28, 20045)


def test_a_button_after_the_words_answered_it_does_nothing_more(chat: Chat) -> None:
    chat.say("200 g rice").asked()
    chat.say("cooked").one("weigh_in")
    chat.press(2).nothing("settled")


def test_waiting_questions_show_on_the_day_sheet(chat: Chat) -> None:
    chat.say("200 g rice").asked()
    chat.say("200 g zorblax").asked()
    sheet = chat.say("today")
    assert sheet.one("sheet")["waiting"] == 2
    assert "zorblax" in sheet.text
    assert "rice" in sheet.text


def test_waiting_questions_show_in_the_evening_reminder(meet: Meet) -> None:
    with open_door() as door:
        chat = Chat(door, "mira")
        chat.say("remind me at 20:30").one("reminder_set")
        chat.say("200 g rice").asked()
        evening = door.step(advance_to="2026-03-02T21:00:00+00:00")
        assert "rice" in evening.text
        assert "rice" not in evening.text.splitlines()[0]  # a lock screen shows the first line


def test_after_an_answer_the_next_question_is_shown(chat: Chat) -> None:
    both = chat.say("200 g rice, 150 g pasta")
    assert len(both.all("question")) == 2
    assert "150 g pasta: cooked" not in both.text
    said = chat.press("cooked")
    assert said.one("weigh_in")["food"] == "white rice"
    assert "pasta" in said.text
    assert "cooked" in said.choices
    assert chat.press("cooked").one("weigh_in")["food"] == "pasta"


def test_undo_drops_the_question_that_the_message_raised(chat: Chat) -> None:
    chat.say("30 g cheddar, 200 g rice")
    assert [event["id"] for event in chat.say("undo").all("weigh_in_removed")] == [2, 1]
    assert chat.day()["waiting"] == 0
    chat.press(1).nothing()
    assert chat.day()["kcal"] == 0


def test_an_answer_is_judged_like_the_message_was_at_its_own_time(chat: Chat) -> None:
    chat.say("200 g rice yesterday for lunch", at="2026-03-02T23:50:00+00:00").asked()
    recorded = chat.say("cooked", at="2026-03-03T00:10:00+00:00").one("weigh_in")
    assert (recorded["day"], recorded["meal"]) == ("2026-03-01", "lunch")


def test_a_question_of_yesterday_still_records_on_the_day_it_was_about(chat: Chat) -> None:
    chat.say("200 g rice", at="2026-03-02T23:50:00+00:00").asked()
    assert chat.say("cooked", at="2026-03-03T08:10:00+00:00").one("weigh_in")["day"] == "2026-03-02"


def test_an_impossible_answer_is_refused(chat: Chat) -> None:
    chat.say("cheddar").asked()
    assert not chat.say("9 kg").records
    assert not chat.say("0").records
    assert chat.day()["kcal"] == 0


def test_a_declined_question_is_closed(chat: Chat) -> None:
    chat.given("batch: 1000 g raw chicken breast")
    chat.say("batch 1 cooked 1040 g").asked()
    chat.say("no").nothing()
    assert chat.day()["waiting"] == 0


def test_two_people_answer_their_own_questions(chat: Chat, meet: Meet) -> None:
    other = meet()
    chat.say("200 g rice").asked()
    other.say("150 g pasta").asked()
    chat.say("100 g quinoa").asked()
    assert other.say("1").one("weigh_in")["food"] == "pasta"
    assert chat.say("1").one("weigh_in")["food"] == "quinoa"
    assert chat.say("#1 cooked").one("weigh_in")["food"] == "white rice"


def test_nobody_answers_somebody_elses_question(chat: Chat, meet: Meet) -> None:
    chat.say("200 g rice").asked()
    other = meet()
    other.say("cooked").nothing()
    other.say("1").nothing()
    assert chat.day()["waiting"] == 1


def test_a_question_survives_a_restart(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path / 'kitchen.db'}"
    with open_door(url) as door:
        chat = Chat(door, "mira", region="UK", timezone="Europe/Lisbon")
        chat.given("batch pilaf: 500 g dry rice")
        chat.say("200 g rice").asked()
        chat.say("took 300 g from batch 1").asked()
    with open_door(url) as door:
        chat = Chat(door, "mira")
        assert chat.say("#1 dry", at="2026-03-02T13:00:00+00:00").one("weigh_in")["state"] == "raw"
        said = chat.say("batch 1 cooked 1400 g")
        assert said.one("weigh_in")["basis_g"] == pytest.approx(300 * 500 / 1400, abs=0.006)
        assert chat.day()["waiting"] == 0


def test_what_is_on_record_can_be_undone_after_a_restart(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path / 'kitchen.db'}"
    with open_door(url) as door:
        Chat(door, "mira").given("30 g cheddar", "20 g butter", "change last to 25 g")
    with open_door(url) as door:
        chat = Chat(door, "mira")
        undone = chat.say("undo", at="2026-03-02T13:00:00+00:00")
        assert undone.changed()["as_weighed_g"] == 20
        assert chat.say("undo").one("weigh_in_removed")["id"] == 2
        assert chat.say("same again").recorded()["food"] == "cheddar cheese"


@pytest.mark.parametrize(
    "text", ("the tuna was canned tuna in water", "the tuna was in water", "the tuna earlier was canned tuna in water")
)
def test_a_sentence_with_the_food_and_its_kind_answers_an_older_question(chat: Chat, text: str) -> None:
    assert chat.say("180 g tuna").one("question")["about"] == "food"
    chat.given("20 g butter")
    answered = chat.say(text).one("weigh_in")
    assert (answered["id"], answered["food"], answered["as_weighed_g"]) == (1, "canned tuna in water", 180)
    assert chat.say("100 g tuna").recorded()["food"] == "canned tuna in water"


@pytest.mark.parametrize("agrees", ("yes", "go ahead", "1"))
def test_a_bare_word_for_an_older_question_asks_and_a_yes_is_enough(chat: Chat, agrees: str) -> None:
    chat.say("170 g greek yogurt")
    chat.given("20 g butter")
    asked = chat.say("nonfat")
    asked.asked("#1 greek yogurt")
    assert asked.choices == ("yes", "no")
    answered = chat.say(agrees)
    assert answered.text.startswith("For #1 greek yogurt")
    assert answered.one("weigh_in")["food"] == "greek yogurt nonfat"


def test_asking_for_a_total_leaves_the_question_answerable(chat: Chat) -> None:
    chat.say("80 g polenta")
    chat.say("how much protein so far?").nothing("protein")
    assert chat.say("dry").one("weigh_in")["state"] == "raw"


@pytest.mark.parametrize(
    ("text", "state"),
    (("the first", "cooked"), ("the second one", "raw"), ("first one please", "cooked"), ("the second choice", "raw")),
)
def test_a_choice_is_named_by_its_place(chat: Chat, text: str, state: str) -> None:
    chat.say("200 g rice").asked()
    assert chat.say(text).one("weigh_in")["state"] == state


def test_an_answer_may_repeat_the_weight(chat: Chat) -> None:
    chat.say("200 g rice").asked()
    said = chat.say("cooked, 200 g")
    assert said.one("weigh_in")["as_weighed_g"] == 200
    assert "question" not in said.kinds


@pytest.mark.parametrize("text", ("first", "first was", "the second one", "the ordinary one", "3"))
def test_a_question_without_choices_has_none_to_pick(chat: Chat, text: str) -> None:
    chat.say("100 g").asked("of what?")
    assert "choices 1 to 0" not in chat.say(text).text
    chat.given("50 g apple")
    assert "broke" not in chat.say(text).text
