"""From when something holds: the same words as for a day that was, read as pointing ahead."""

from __future__ import annotations

import re
from datetime import date, timedelta

from bot.language.chunks import Chunk
from bot.language.message import Message

BEGINS = ("from", "starting", "start", "starts", "beginning", "begins", "effective", "as of")
_ENDS = frozenset({"until", "till", "til", "by", "before", "through"})
"""Words before a day that is not the first one."""
_BEGINNING = rf"\b(?:{'|'.join(BEGINS)})(?: on| in)? (?:the )?"
_ORDINAL = re.compile(rf"{_BEGINNING}(\d{{1,2}}) (?:st|nd|rd|th)\b")
_MONTH = re.compile(rf"{_BEGINNING}(?:1 st of )?([a-z]+)\b")
_IN_DAYS = re.compile(r"\bin (\d{1,2}|[a-z]+) (day|week)s?\b")
_NEAR = timedelta(days=183)
"""A date without its year means the one that is nearer."""


def from_day(message: Message) -> date | None:
    """The first day on which what is told holds; None where no day is named. It may lie in the past."""
    today = message.around.today
    named = (_named(chunk, message, today) for chunk in message.of("moment"))
    found = next((day for day in named if day is not None), None)
    if found is not None:
        return found
    line = " ".join(message.said)
    if message.has("next week"):
        return today + timedelta(days=7 - today.weekday())
    if message.has("next month"):
        return _first_of(today.month % 12 + 1, today)
    return _by_ordinal(line, today) or _by_month(line, message, today) or _by_distance(line, message, today)


def begins(message: Message) -> bool:
    """Whether it is said that something begins."""
    return message.has(*BEGINS)


def _named(chunk: Chunk, message: Message, today: date) -> date | None:
    moment = chunk.moment
    before = message.tokens[chunk.start - 1].text if chunk.start else ""
    if moment is None or moment.day is None or before in _ENDS:
        return None
    ahead = moment.ahead
    return ahead if ahead is not None and ahead - today <= _NEAR else moment.day


def _first_of(month: int, today: date) -> date:
    return date(today.year if month > today.month else today.year + 1, month, 1)


def _by_ordinal(line: str, today: date) -> date | None:
    """'from the 15th': the next one, today included."""
    found = _ORDINAL.search(line)
    if not found:
        return None
    day = today
    for _ in range(62):
        if day.day == int(found[1]):
            return day
        day += timedelta(days=1)
    return None


def _by_month(line: str, message: Message, today: date) -> date | None:
    """'from April'."""
    found = _MONTH.search(line)
    month = message.words.months.get(found[1]) if found else None
    return None if month is None else _first_of(month, today)


def _by_distance(line: str, message: Message, today: date) -> date | None:
    """'in 3 days', 'in two weeks'."""
    found = _IN_DAYS.search(line)
    if not found:
        return None
    word = found[1]
    count = int(word) if word.isdecimal() else {"a": 1, "an": 1, **message.words.numbers}.get(word)
    return None if count is None else today + timedelta(days=int(count) * (7 if found[2] == "week" else 1))
