"""What comes unasked: reminders by the clock, pictures, and what becomes of them on the way."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from sqlalchemy import select, update

from bot.channels.telegram import CHANNEL, scheduler
from bot.channels.telegram.rendering import MAX_CAPTION
from bot.reports import picture, series
from bot.store.delivery import outbox
from bot.store.schema import question, schedule, unasked

from .conftest import Run
from .crowd import Human
from .loopback import Loopback
from .test_talking import weights

FIGURES = series.Picture(
    title="Your week",
    days=tuple(
        series.DayFigures(day=day, kcal=2000.0, protein_g=100.0)
        for day in series.stretch(datetime(2026, 3, 2, tzinfo=UTC).date(), datetime(2026, 3, 8, tzinfo=UTC).date())
    ),
)


@pytest.fixture(autouse=True)
def _a_fast_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(scheduler, "SWEEP_EVERY", 0.2)


def falls_due(run: Run, kind: str) -> None:
    """Lets everybody's message of that kind be due now."""
    now = datetime.now(UTC)
    due = {"time": f"{now:%H:%M}", "weekdays": "0123456", "next_due": now, "next_date": now.date()}
    with run.tarebook.transaction() as conn:
        conn.execute(update(schedule).where(schedule.c.kind == kind).values(**due))


def puts(run: Run, person: Human, text: str, **more: object) -> None:
    """Puts a message with a picture into the outbox."""
    with run.tarebook.transaction() as conn:
        outbox.put(conn, CHANNEL, str(person.id), text, picture=series.encode(FIGURES), **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("database_kind", ("sqlite", "postgresql"))
def test_a_reminder_comes_by_itself_and_its_question_can_be_answered(bot: Run, server: Loopback, mira: Human) -> None:
    mira.asks("200 g rice")
    falls_due(bot, "evening")
    reminder = mira.hears()[0]
    assert "Still open" in reminder.text
    mira.presses(reminder, "dry")
    mira.hears()
    assert weights(bot, mira) == [200]
    assert len(server.sent[mira.id]) == 3


def test_who_has_blocked_the_bot_gets_no_reminder(bot: Run, server: Loopback, mira: Human) -> None:
    def dealt_with() -> bool:
        with bot.tarebook.transaction() as conn:
            return conn.execute(select(unasked.c.state)).scalars().all() == ["unreachable"]

    mira.asks("200 g rice")
    mira.blocks()
    server.until(lambda: server.idle)
    # From now on the server would take a message.
    server.blocked.discard(mira.id)
    falls_due(bot, "evening")
    server.until(dealt_with)
    assert len(server.sent[mira.id]) == 1


def test_the_week_comes_with_its_picture(bot: Run, mira: Human) -> None:
    mira.asks("180 g cooked rice")
    falls_due(bot, "week")
    week = mira.hears()[0]
    assert week.photo is not None
    assert week.text.startswith("Your week.")


def test_a_picture_is_sent_once_also_when_its_text_has_to_follow_by_itself(
    bot: Run, server: Loopback, mira: Human
) -> None:
    mira.asks("hello")
    text = "\n".join(["A line that is about as long as lines are."] * 40)
    assert len(text) > MAX_CAPTION
    server.fail("sendMessage", 2, 502)
    puts(bot, mira, text)
    shown, said = mira.hears(2)
    assert (shown.photo is not None, shown.text) == (True, "")
    assert (said.photo, said.text) == (None, text)
    mira.asks("hello")
    assert len(server.sent[mira.id]) == 4


def test_a_picture_is_sent_again_after_an_error(bot: Run, server: Loopback, mira: Human) -> None:
    mira.asks("hello")
    server.fail("sendPhoto", 1, 502)
    puts(bot, mira, "Your week.")
    assert mira.hears()[0].photo is not None


def test_without_its_picture_a_text_goes_out_all_the_same(
    bot: Run, mira: Human, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(_: series.Picture) -> bytes:
        raise RuntimeError

    monkeypatch.setattr(picture, "png", broken)
    mira.asks("hello")
    puts(bot, mira, "Your week.")
    said = mira.hears()[0]
    assert (said.photo, said.text) == (None, "Your week.")


def test_the_buttons_under_a_picture_go_away_when_one_is_pressed(bot: Run, server: Loopback, mira: Human) -> None:
    mira.asks("200 g rice")
    with bot.tarebook.transaction() as conn:
        ref = conn.execute(select(question.c.ref)).scalar_one()
    puts(bot, mira, "Your week.", choices=("cooked", "dry"), question_ref=ref)
    week = mira.hears()[0]
    mira.presses(week, "dry")
    mira.hears()
    server.until(lambda: not week.buttons)
    assert week.text == "Your week."
    assert weights(bot, mira) == [200]
