"""Pauses: every one is kept, and means leave all their days out."""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from bot.conversation.settings.pausing import Pauses, Stretch

from .chat import Chat, Door
from .test_coaching import eats, guides, person

BEGINS = date(2026, 3, 1)
A_DAY = st.integers(0, 40).map(lambda n: BEGINS + timedelta(days=n))
A_STRETCH = st.tuples(A_DAY, st.integers(0, 12)).map(lambda t: Stretch(t[0], t[0] + timedelta(days=t[1])))


def at(day: int, month: int = 3) -> str:
    return f"2026-{month:02d}-{day:02d}T20:00:00+00:00"


def test_means_leave_out_the_days_of_all_pauses(door: Door) -> None:
    ines, ana = person(door, "Ines", timezone="UTC"), person(door, "Ana", timezone="UTC")
    guides(ines, ana, "Ana")
    eats(ana, range(2, 5), "300 g cooked rice")
    ana.say("pause until 8 March", at=at(5))
    eats(ana, range(6, 8), "900 g cooked rice")
    eats(ana, range(9, 12), "300 g cooked rice")
    ana.say("pause until 13 March", at=at(12))
    eats(ana, range(13, 14), "900 g cooked rice")
    eats(ana, range(14, 16), "300 g cooked rice")
    month = ana.say("my month", at=at(15)).text
    assert "6 days of a pause left out." in month
    assert "8 of 9 days logged" in month
    assert "On average, a logged day has 390 kcal" in month
    assert "On average, a logged day has 390 kcal" in ines.say("Ana's month", at=at(15)).text


def test_a_pause_ahead_stands_beside_the_present_one(chat: Chat) -> None:
    chat.say("pause from 10 April until 12 April", at=at(2))
    chat.say("pause until 5 March", at=at(2))
    assert "The pause is over" in chat.say("resume", at=at(4)).text
    assert "The pause is over" in chat.say("resume", at=at(4)).text
    chat.say("resume", at=at(4)).refused("not paused")


@given(st.lists(A_STRETCH, max_size=8), A_DAY)
def test_no_two_pauses_share_a_day_and_the_newest_holds(told: list[Stretch], ends: date) -> None:
    pauses = Pauses()
    for new in told:
        before = pauses
        pauses = pauses.with_new(new)
        for n in range(-5, 60):
            day = BEGINS + timedelta(days=n)
            assert sum(each.holds(day) for each in pauses.stretches) <= 1
            if new.holds(day):
                assert pauses.on(day) == new
            elif day < new.first:
                assert (pauses.on(day) is None) == (before.on(day) is None)
    found = pauses.ahead(ends)
    without = pauses.without(ends)
    assert without.on(ends) is None
    for n in range(-5, 60):
        day = BEGINS + timedelta(days=n)
        if found is None or not (found.holds(day) and day >= ends):
            assert without.on(day) is None or pauses.on(day) is not None
            assert (without.on(day) is None) == (pauses.on(day) is None)
