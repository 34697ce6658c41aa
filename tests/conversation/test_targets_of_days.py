"""Targets for more than energy, for some days, until a day."""

import pytest

from .chat import Chat

MONDAY, TUESDAY, SATURDAY = ("2026-03-02T12:00:00+00:00", "2026-03-03T12:00:00+00:00", "2026-03-07T12:00:00+00:00")


def test_a_training_day_has_its_own_target_and_undo_takes_the_day_back(chat: Chat) -> None:
    chat.given("target 2100 kcal protein 120", "target 2600 kcal on training days")
    chat.given("150 g banana")
    assert "of 2,100 kcal" in chat.say("today").text
    assert chat.say("today is a training day").one("day_kind")["kind"] == "training"
    day = chat.say("today").text
    assert "of 2,600 kcal" in day
    assert "protein 118 g left" in day  # SR28 09040: 1.09 g protein in 100 g of banana
    chat.say("undo")
    assert "of 2,100 kcal" in chat.say("today").text


def test_the_calendar_does_weekdays_and_ends(chat: Chat) -> None:
    chat.say("target 2000 kcal", at=MONDAY)
    chat.say("target 1800 kcal on weekdays", at="2026-03-02T12:01:00+00:00")
    said = chat.say("target salt 5 g until Tuesday", at="2026-03-02T12:02:00+00:00")
    assert said.one("target_set")["until"] == "2026-03-03"
    assert "1,800 kcal, salt 5 g" in chat.say("target", at=TUESDAY).text
    assert "Your target: 1,800 kcal." in chat.say("target", at="2026-03-04T12:00:00+00:00").text
    assert "Your target: 2,000 kcal." in chat.say("target", at=SATURDAY).text


def test_the_day_is_held_against_every_figure(chat: Chat) -> None:
    chat.given("target 2000 kcal, fibre 30 g, salt 5 g, alcohol 0 g")
    chat.given("100 g salted butter")
    # SR28 01001: 643 mg sodium in 100 g salted butter, 1.6 g salt
    assert "salt 3.4 g left" in chat.say("today").text
    assert chat.say("how much salt is left?").text.startswith("3.4 g left")


@pytest.mark.parametrize(
    "said", ("target 0 kcal", "protein target 9000 g", "target 1900 until 2031-01-01", "target 30000 kcal")
)
def test_what_cannot_be_is_refused_and_nothing_is_set(chat: Chat, said: str) -> None:
    assert "target_set" not in chat.say(said).kinds
    assert "No target" in chat.say("target").text


def test_a_coachs_target_below_800_kcal_is_refused(chat: Chat) -> None:
    assert chat.say("target for Ana 700").kinds[-1] == "refused"
