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


def test_a_number_answers_the_latest_question_and_a_word_the_newest_that_has_it(chat: Chat) -> None:
    chat.say("200 g zorblax").asked()
    chat.say("150 g pasta").asked()
    assert chat.say("weight only").one("weigh_in")["food"] == "zorblax"
    assert chat.say("1").one("weigh_in")["food"] == "pasta"


def test_a_bare_amount_answers_an_open_how_much(chat: Chat) -> None:
    chat.say("cheddar").asked()
    chat.say("200 g rice").asked()
    recorded = chat.say("35 g").one("weigh_in")
    assert (recorded["food"], recorded["as_weighed_g"]) == ("cheddar cheese", 35)


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
    assert "pasta" not in chat.say("200 g rice, 150 g pasta").text
    said = chat.press("cooked")
    assert said.one("weigh_in")["food"] == "white rice"
    assert "pasta" in said.text
    assert "cooked" in said.choices
    assert chat.press("cooked").one("weigh_in")["food"] == "pasta"


def test_undo_drops_the_question_that_the_message_raised(chat: Chat) -> None:
    chat.say("30 g cheddar, 200 g rice")
    chat.say("undo").one("weigh_in_removed")
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
    assert chat.say("1").one("weigh_in")["food"] == "white rice"


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
        assert chat.say("dry", at="2026-03-02T13:00:00+00:00").one("weigh_in")["state"] == "raw"
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
