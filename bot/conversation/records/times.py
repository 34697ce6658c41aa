"""When a weigh-in was eaten."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from bot.language.told import When
from bot.store.books import Books


def time_of(when: When, books: Books) -> tuple[datetime, date]:
    """(moment, day) of a weigh-in; without a clock time it gets the time of the message."""
    now = books.local
    back = books.today - when.day if when.day else timedelta()
    moment = when.moment or datetime.combine(now.date() - back, now.timetz())
    return moment, when.day or books.day_of(moment)
