"""Looking back further than a day: a month, a week by its date, body weight over time, energy in and out."""

from __future__ import annotations

import calendar
from datetime import date, timedelta

from bot.language.meanings import Meaning, Sheet, Trend
from bot.language.message import Message

WEEK_OF = ("week of", "week from", "week starting", "week beginning", "week that started", "week that began")
LAST_WEEK = ("last week", "last week's", "last weeks", "previous week", "week before", "last calendar week")
WEEK_BEFORE_LAST = ("week before last", "week before the last", "last week but one")
SO_FAR = ("week so far", "so far this week", "since monday", "this calendar week", "current week")
LAST_SEVEN = ("last 7 days", "past 7 days", "last seven days", "past seven days", "previous 7 days")
WEEKS_AGO = ("week ago", "weeks ago", "week back", "weeks back")
_WEEK = timedelta(days=7)
TRENDS = (
    "weight trend", "trend", "my weights", "weight over time", "body weights", "weight history", "how is my weight",
    "how's my weight", "hows my weight", "weight chart", "weight graph",
)  # fmt: skip
BALANCES = (
    "energy balance", "do i burn", "i burn", "am i burning", "energy expenditure", "my expenditure", "my maintenance",
    "tdee", "do i spend", "do i use up", "do i need a day", "energy do i need", "calories do i need",
)  # fmt: skip


def reviewing(message: Message) -> Meaning | None:
    """A month's or an earlier week's sheet, the trend of body weight, or the energy balance."""
    if message.of("food", "batch") or message.has("remind", "reminder", "target", "targets"):
        return None
    if message.has(*BALANCES):
        return Trend(of="energy_balance")
    if message.has(*LAST_SEVEN):
        return Sheet(span="week", day=message.around.today)
    if message.of("amount"):
        return None
    if message.has(*TRENDS):
        return Trend(of="body_weight")
    return _week(message) or _month(message)


def _week(message: Message) -> Meaning | None:
    """A week of the calendar, Monday to Sunday, or what there is of it; None for the seven days up to today."""
    today, when = message.around.today, message.when
    if message.has(*WEEK_BEFORE_LAST):
        return _calendar_week(today - 2 * _WEEK, today)
    if message.has(*LAST_WEEK):
        return _calendar_week(today - _WEEK, today)
    if message.has(*SO_FAR):
        return _calendar_week(today, today)
    dated = message.has(*WEEK_OF, *WEEKS_AGO) and when.day is not None and not when.future
    return _calendar_week(when.day, today) if dated and when.day is not None else None


def _calendar_week(day: date, today: date) -> Meaning:
    monday = day - timedelta(days=day.weekday())
    return Sheet(span="week", day=min(monday + timedelta(days=6), today), first=monday)


def _month(message: Message) -> Meaning | None:
    today = message.around.today
    if message.has("last month", "previous month"):
        return Sheet(span="month", day=today.replace(day=1) - timedelta(days=1))
    if message.has("this month", "month", "month's", "monthly"):
        named = _named(message)
        return Sheet(span="month", day=named or today)
    named = _named(message)
    alone = {"in", "for", "how", "was", "show", "me", "my", "sheet", "summary", "?", "totals", "the", "of"}
    only = all(word in alone or word in message.words.months for word in message.said)
    return Sheet(span="month", day=named) if named is not None and only and "may" not in message.said[:1] else None


def _named(message: Message) -> date | None:
    """The last day of the latest month of that name, at the latest today's month."""
    today = message.around.today
    number = next((message.words.months[w] for w in message.said if w in message.words.months), None)
    if number is None or message.of("moment"):
        return None
    year = today.year if number <= today.month else today.year - 1
    return date(year, number, calendar.monthrange(year, number)[1])
