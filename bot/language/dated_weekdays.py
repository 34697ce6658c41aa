"""A weekday that is said more exactly: by the day of its month ('Monday the 2nd'), or as one of last week."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import NamedTuple

from bot.language.word_lists import word_lists

WORDS = word_lists("moments")
A_WEEK = timedelta(days=7)
WEEKS = 8
"""Weeks within which a weekday falls on every day of the month that its number can mean."""


class Dated(NamedTuple):
    """The day that is meant, the one that the same words mean where they point ahead, and the end of the words."""

    day: date
    ahead: date | None
    end: int


def which_of_them(text: Callable[[int], str], at: int, weekday: int, today: date) -> Dated | None:
    """Which day the words behind a weekday (0 is Monday) make of it; None where they say nothing of it.

    `text` gives the words by their places; `at` is the place behind the weekday.
    """
    if text(at) in WORDS["of_that"]:
        at += 1
    if text(at) in WORDS["last"] and text(at + 1) in WORDS["weeks"]:
        monday = today - timedelta(days=today.weekday()) - A_WEEK
        return Dated(monday + timedelta(days=weekday), None, at + 2)
    number = text(at)
    if not number.isdecimal() or len(number) > 2 or text(at + 1) not in WORDS["ordinal_endings"]:
        return None
    latest = today - timedelta(days=(today.weekday() - weekday) % 7)
    before = _on_the(int(number), latest, -A_WEEK)
    after = _on_the(int(number), latest if latest == today else latest + A_WEEK, A_WEEK)
    day = before or after
    return None if day is None else Dated(day, after, at + 2)


def _on_the(number: int, first: date, step: timedelta) -> date | None:
    """The first of these weekdays that has that number in its month."""
    return next((day for n in range(WEEKS) if (day := first + n * step).day == number), None)
