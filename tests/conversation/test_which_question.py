"""Which questions words that name nothing may be for, and the wording of questions."""

from __future__ import annotations

import pytest

from bot.conversation.outcomes import MAX_CHOICE, Choice, distinct
from bot.language.asked import OpenQuestions, Skip

from .chat import Chat
from .conftest import Meet

NEXT_DAY = "2026-03-03T13:00:00+00:00"


@pytest.mark.parametrize("answer", ("35 g", "got myself 12 oz", "it was 40 g", "weight only"))
def test_words_that_name_nothing_are_for_no_question_of_the_day_before(chat: Chat, answer: str) -> None:
    chat.say("cheddar").asked()
    chat.say("200 g zorblax").asked()
    chat.say("30 g butter", at=NEXT_DAY)
    said = chat.say(answer)
    assert "cheddar" not in said.text
    assert "zorblax" not in said.text
    assert not said.all("weigh_in")


@pytest.mark.parametrize("answer", ("got myself 12 oz", "35 g", "340"))
def test_the_question_shown_last_takes_them_a_day_later_only_when_asked(chat: Chat, answer: str) -> None:
    chat.say("cheddar").asked()
    chat.say(answer, at=NEXT_DAY).asked("cheddar")
    assert chat.press("yes").one("weigh_in")["day"] == "2026-03-02"


def test_the_question_shown_last_takes_them_the_next_morning(chat: Chat) -> None:
    chat.say("cheddar").asked()
    assert chat.say("35 g", at="2026-03-03T08:00:00+00:00").one("weigh_in")["as_weighed_g"] == 35


def test_a_question_of_the_day_before_is_answered_by_its_number(chat: Chat) -> None:
    chat.say("200 g rice").asked()
    chat.say("30 g butter", at=NEXT_DAY)
    assert chat.say("#1 cooked").one("weigh_in")["state"] == "cooked"


@pytest.mark.parametrize("answer", ("by weight", "by volume"))
def test_how_it_was_measured_is_no_answer_to_which_food(chat: Chat, answer: str) -> None:
    chat.say("200 g zorblax").asked()
    chat.say("30 g butter")
    assert "zorblax" not in chat.say(answer).text


@pytest.mark.parametrize("answer", ("got myself 12 oz", "helped myself to 340 g", "I had 340 g"))
def test_what_somebody_ate_is_no_cooked_weight(chat: Chat, answer: str) -> None:
    chat.given("new batch chili: 900 g raw ground beef 15% fat, 400 g canned tomatoes")
    chat.say("boxed the chili in 4 boxes")
    chat.say("30 g butter")
    assert not chat.say(answer).all("batch_cooked")


def test_a_bare_invitation_asks_to_what(chat: Chat) -> None:
    asked = chat.say("invite")
    asked.asked("To your kitchen")
    assert asked.choices == ("to my kitchen", "to be my client", "to be my coach")
    assert "/start" not in asked.text
    assert "An invitation to your kitchen" in chat.press(1).text


@pytest.mark.parametrize(("choice", "words"), ((2, "/start "), (3, "coach")))
def test_an_invitation_may_be_for_coaching(chat: Chat, choice: int, words: str) -> None:
    chat.say("invite")
    assert words in chat.press(choice).text


def test_who_ate_of_a_batch_is_answered_with_ones_own_part(chat: Chat) -> None:
    chat.given(
        "new batch chili: 900 g raw ground beef 15% fat, 400 g canned tomatoes", "chili weighs 1000 g cooked",
        "250 g chili",
    )  # fmt: skip
    said = chat.say("who's had how much of the chili?")
    said.nothing("You had 250 g of it. What others had stays private.", "750 g")


class TestUnitsOfBodyWeight:
    @pytest.mark.parametrize(
        ("text", "units"),
        (("weighed myself, 84.2", ("kilograms", "pounds")), ("I weigh 25", ("kilograms", "stones"))),
    )
    def test_only_units_in_which_a_person_can_weigh_that_are_offered(
        self, meet: Meet, text: str, units: tuple[str, ...]
    ) -> None:
        assert meet(region="UK").say(text).choices == units

    def test_a_number_that_fits_one_unit_is_in_it(self, meet: Meet) -> None:
        assert meet(region="UK").say("weighed myself, 11.5").one("body_weight")["kg"] == pytest.approx(73.03, abs=0.01)

    @pytest.mark.parametrize(
        ("first", "kg"),
        (("I weigh 84 kg", 84.2), ("I weigh 85 lb", 38.19), ("I weigh 185 lb", 84.2), ("I weigh 13 stone 3", 84.2)),
    )
    def test_the_unit_of_a_weight_on_record_is_taken(self, meet: Meet, first: str, kg: float) -> None:
        me = meet(region="UK")
        me.given(first)
        assert me.say("weighed myself, 84.2").one("body_weight")["kg"] == pytest.approx(kg, abs=0.01)

    def test_an_answered_unit_is_taken_the_next_time(self, meet: Meet) -> None:
        me = meet(region="UK")
        me.say("weighed myself, 84.2").asked()
        me.press("kilograms")
        assert me.say("weighed myself, 83.9").one("body_weight")["kg"] == 83.9

    def test_a_remembered_unit_in_which_nobody_weighs_that_is_not_taken(self, meet: Meet) -> None:
        me = meet(region="UK")
        me.given("I weigh 17 stone 3")
        me.say("weighed myself, 84.2").asked("kilograms or pounds")

    @pytest.mark.parametrize("region", ("UK", "US"))
    @pytest.mark.parametrize(
        "text",
        (
            "morning! weighed in at 74.3", "my fasting weight 74.3", "home at last. weight 74.3 before bed",
            "ma weight this mornin 74.3, no bad", "74.3 on the scale, kept my socks on",
        ),
    )  # fmt: skip
    def test_a_first_weight_without_a_unit_is_asked_about_where_several_are_used(
        self, meet: Meet, region: str, text: str
    ) -> None:
        assert meet(region=region).say(text).asked("kilograms")
        assert meet(region="metric").say(text).one("body_weight")["kg"] == 74.3

    @pytest.mark.parametrize(
        "text", ("weighed 168.4 this am", "168.4 this morning", "one sixty eight point four first thing today")
    )
    def test_a_number_near_the_weight_on_record_is_a_weight_in_its_unit(self, meet: Meet, text: str) -> None:
        me = meet()
        me.given("I weigh 170.2 lb")
        assert me.say(text).one("body_weight")["kg"] == pytest.approx(76.38, abs=0.01)

    @pytest.mark.parametrize(
        "text", ("my chicken weight 168.4", "168.4", "rice 168.4 this morning", "my old weight 168.4")
    )
    def test_a_food_or_another_weight_near_it_is_none(self, meet: Meet, text: str) -> None:
        me = meet()
        me.given("I weigh 170.2 lb")
        assert "body_weight" not in {event["type"] for event in me.say(text).events}


class TestWording:
    @pytest.mark.parametrize(
        ("text", "question"),
        (
            ("new batch stew: 800 g raw chuck steak, onions", "How many grams of onions went in?"),
            ("french fries", "How many grams of french fries?"),
            ("400g", "400 g of what?"),
            ("150 g tunas", "Which kind of tunas?"),
        ),
    )
    def test_questions_read_like_english(self, chat: Chat, text: str, question: str) -> None:
        assert question in chat.say(text).text

    @pytest.mark.parametrize(("word", "text"), (("prawns", "prawns"), ("courgettes", "courgettes")))
    def test_a_question_says_the_persons_own_word(self, meet: Meet, word: str, text: str) -> None:
        assert f"How many grams of {word}?" in meet(region="UK").say(text).text

    def test_no_energy_is_said_while_nothing_has_figures(self, chat: Chat) -> None:
        chat.say("200 g zorblax").asked()
        said = chat.press("weight only")
        said.one("weigh_in")
        assert "0 kcal" not in said.text

    def test_a_weigh_in_left_at_its_weight_is_said_so(self, chat: Chat) -> None:
        chat.say("200 g rice").asked()
        assert "Kept as a weight only: #1 rice" in chat.say("skip").text

    def test_nothing_is_open(self, chat: Chat) -> None:
        chat.say("took 200 g from batch 3").refused("Batch 3 is not open.")
        chat.say("resume").refused("You are not paused.")


def test_no_two_choices_are_the_same() -> None:
    one, other = OpenQuestions(), Skip()
    long = "y" * MAX_CHOICE
    assert [c.words for c in distinct([Choice("rice", one), Choice("Rice", one)])] == ["rice"]
    numbered = [c.words for c in distinct([Choice(long, one), Choice(long, other), Choice(long, None)])]
    assert len({words.casefold() for words in numbered}) == 3
    assert all(len(words) <= MAX_CHOICE for words in numbered)
