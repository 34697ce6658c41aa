"""Buttons under replies that ask nothing, and what is said for them in words."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from bot.channels.telegram import CHANNEL

from .conftest import Run
from .crowd import Human
from .loopback import Loopback, Sent
from .test_talking import weights

DATABASES = ("sqlite", "postgresql")

BUTTER, JAM = "12 g butter", "20 g jam"


@pytest.fixture
def mira(server: Loopback, bot: Run) -> Human:
    """Has been asked what newcomers are asked."""
    person = Human(server, 1001, "Mira")
    person.asks("5 g honey")
    person.asks("no reminder")
    return person


def words(message: Sent) -> list[str]:
    return [text for text, _ in message.buttons]


def test_a_weigh_in_is_undone_by_its_button(bot: Run, server: Loopback, mira: Human) -> None:
    receipt = mira.asks(BUTTER)
    assert words(receipt) == ["Undo", "Change"]
    tap = mira.presses(receipt, "Undo")
    assert "taken back" in mira.hears()[0].text
    assert weights(bot, mira) == [5]
    server.until(lambda: tap in server.answered and receipt.buttons == [])
    assert server.answered[tap] == ""
    assert "12 g" in receipt.text


def test_a_button_acts_on_its_own_weigh_in_only(bot: Run, server: Loopback, mira: Human) -> None:
    first = mira.asks(BUTTER)
    undo = dict(first.buttons)["Undo"]
    mira.asks(JAM)
    mira.presses(first, "Undo", undo)
    assert "butter" in mira.hears()[0].text
    assert weights(bot, mira) == [5, 20]
    tap = mira.presses(first, "Undo", undo)
    server.until(lambda: tap in server.answered)
    assert "already" in server.answered[tap]
    assert tap in server.alerted


def test_the_buttons_of_a_weigh_in_go_when_a_newer_one_comes(bot: Run, server: Loopback, mira: Human) -> None:
    first = mira.asks(BUTTER)
    second = mira.asks(JAM)
    server.until(lambda: first.buttons == [])
    assert words(second) == ["Undo", "Change"]
    mira.asks("today")
    assert words(second) == ["Undo", "Change"]
    mira.asks("undo")
    server.until(lambda: second.buttons == [])


def test_an_unanswered_question_keeps_its_buttons_beside_those_of_a_weigh_in(
    bot: Run, server: Loopback, mira: Human
) -> None:
    question = mira.asks("200 g rice")
    receipt = mira.asks(BUTTER)
    assert words(question) == ["cooked", "dry"]
    mira.presses(question, "cooked")
    mira.hears()
    server.until(lambda: receipt.buttons == [])
    assert weights(bot, mira) == [5, 200, 12]


def test_change_asks_for_the_new_amount(bot: Run, server: Loopback, mira: Human) -> None:
    receipt = mira.asks(BUTTER)
    mira.presses(receipt, "Change")
    assert "How many grams" in mira.hears()[0].text
    assert weights(bot, mira) == [5, 12]
    mira.asks("15")
    assert weights(bot, mira) == [5, 15]


def test_several_weigh_ins_are_undone_together(bot: Run, mira: Human) -> None:
    receipt = mira.asks(f"{BUTTER}, {JAM}")
    assert words(receipt) == ["Undo"]
    mira.presses(receipt, "Undo")
    mira.hears()
    assert weights(bot, mira) == [5]


def test_a_batch_is_boxed_and_eaten_by_its_buttons(bot: Run, server: Loopback, mira: Human) -> None:
    assert words(mira.asks("new batch chilli: 800 g raw ground beef 80/20")) == ["Box", "Portion"]
    cooked = mira.asks("batch 1 cooked 600 g")
    assert words(cooked) == ["Box", "Portion"]
    portion = dict(cooked.buttons)["Portion"]
    mira.presses(cooked, "Box")
    question = mira.hears()[0]
    assert words(question) == ["1 box", "2 boxes", "3 boxes", "4 boxes"]
    mira.presses(question, "2 boxes")
    assert "2 boxes of 300 g" in mira.hears()[0].text
    mira.asks("undo")
    mira.presses(cooked, "Portion", portion)
    assert "How many grams" in mira.hears()[0].text
    mira.asks("150")
    assert weights(bot, mira) == [5, 150]


@pytest.mark.parametrize(
    "data", ("do:", "do:undo", "do:undo:x", "do:undo:999999999999999999999", "do:box:0", "do:done:2026-99-01")
)
def test_a_forged_action_is_answered_calmly(bot: Run, server: Loopback, mira: Human, data: str) -> None:
    receipt = mira.asks(BUTTER)
    tap = mira.presses(receipt, "Undo", data)
    server.until(lambda: tap in server.answered)
    assert server.answered[tap]
    assert weights(bot, mira) == [5, 12]


def test_a_stranger_can_press_nothing(bot: Run, server: Loopback, mira: Human, joao: Human) -> None:
    receipt = mira.asks(BUTTER)
    tap = joao.presses(receipt, "Undo")
    server.until(lambda: tap in server.answered)
    assert "somebody else" in server.answered[tap]
    joao.asks("hello")
    joao.presses(receipt, "Undo")
    assert weights(bot, mira) == [5, 12]


EVENING = ("That was all", "Snooze 1 h", "Off")


def reminded(bot: Run, person: Human, days: int = 0) -> Sent:
    """The evening reminder, due in some minutes at 11 something on the person's clock, or on a later day."""
    now = datetime.now(UTC)
    # POSIX counts zones west of Greenwich as positive, so Etc/GMT+5 is five hours behind UTC.
    behind = now.hour - 11
    zone = ZoneInfo(f"Etc/GMT{behind:+d}")
    bot.tarebook.set_up(CHANNEL, str(person.id), timezone=zone)
    due = now + timedelta(minutes=5)
    person.asks(f"remind me at {due.astimezone(zone):%H:%M}")
    bot.tarebook.take_due(CHANNEL, due + timedelta(days=days))
    return person.hears()[0]


@pytest.mark.parametrize(
    ("choice", "says"), (("That was all", "complete"), ("Snooze 1 h", "Again at"), ("Off", "is off"))
)
def test_the_evening_reminder_has_buttons(bot: Run, server: Loopback, mira: Human, choice: str, says: str) -> None:
    reminder = reminded(bot, mira)
    assert tuple(words(reminder)) == EVENING
    mira.presses(reminder, choice)
    assert says in mira.hears()[0].text
    server.until(lambda: reminder.buttons == [])
    assert weights(bot, mira) == [5]


@pytest.mark.parametrize("choice", ("That was all", "Snooze 1 h"))
def test_a_reminder_of_another_day_can_no_longer_be_answered(
    bot: Run, server: Loopback, mira: Human, choice: str
) -> None:
    tap = mira.presses(reminded(bot, mira, days=1), choice)
    server.until(lambda: tap in server.answered)
    assert "was for" in server.answered[tap]


def test_a_food_beside_a_pot_is_moved_by_one_tap(bot: Run, server: Loopback, mira: Human) -> None:
    mira.asks("new batch chilli: 800 g raw ground beef 80/20, 400 g canned tomatoes")
    added = mira.asks("150 g onion")
    assert words(added) == ["I ate it"]
    mira.presses(added, "I ate it")
    mira.hears()
    assert weights(bot, mira) == [5, 150]
    mira.asks("add 20 g salt to batch 1")
    eaten = mira.asks("2 eggs")
    assert words(eaten) == ["Undo", "Change", "In the pot"]
    mira.presses(eaten, "In the pot")
    assert "100 g egg (raw) added" in mira.hears()[0].text
    assert weights(bot, mira) == [5, 150]


def test_the_usual_breakfast_is_one_tap(bot: Run, server: Loopback, mira: Human) -> None:
    mira.asks("delete last")
    now = datetime.now(UTC)
    behind = now.hour - 8
    zone = ZoneInfo(f"Etc/GMT{behind:+d}") if behind <= 12 else ZoneInfo("Etc/GMT-10")
    bot.tarebook.set_up(CHANNEL, str(mira.id), timezone=zone)
    for days in (3, 2, 1):
        mira.says("60 g dry oats and 200 g whole milk for breakfast", at=(now - timedelta(days=days)).timestamp())
        mira.hears()
    due = now + timedelta(minutes=5)
    mira.asks(f"breakfast offer at {due.astimezone(zone):%H:%M}")
    bot.tarebook.take_due(CHANNEL, due)
    offer = mira.hears()[0]
    assert words(offer) == ["60 g oats and 200 g whole milk", "Off"]
    before = weights(bot, mira)
    tap = dict(offer.buttons)["60 g oats and 200 g whole milk"]
    mira.presses(offer, "", tap)
    mira.hears()
    assert weights(bot, mira) == [*before, 60, 200]
    again = mira.presses(offer, "", tap)
    server.until(lambda: again in server.answered)
    assert "already" in server.answered[again]
    assert weights(bot, mira) == [*before, 60, 200]
