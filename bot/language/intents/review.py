"""Sheets, lists, help, and small talk: from readings to meanings."""

from __future__ import annotations

import calendar
from datetime import date, timedelta
from typing import Literal, cast

from bot.language.asked import Listing, Sheet, Skip, Trend
from bot.language.figures import KCAL
from bot.language.grammar import Reading
from bot.language.meanings import Chatter, Help, Meaning
from bot.language.message import Message
from bot.language.moments import Moment, together
from bot.language.nutrients_named import named_nutrient
from bot.language.pack import pack
from bot.language.words import Words

LONGEST_THANKS = 8
"""Words up to which a message with a thank-you in it is one."""
_WEEK = timedelta(days=7)


def sheet(reading: Reading, message: Message) -> Meaning | None:
    """The sheet of a day, a week or a month."""
    if message.of("food", "batch"):
        return None
    if named_nutrient(message) not in (None, KCAL):
        return None  # 'how am I doing on protein' wants no sheet
    values, today = reading.values, message.around.today
    span = cast(Literal["day", "week", "month"], reading["span"])
    when = cast("Moment | None", values.get("when"))
    told = together([when], message.around) if when is not None else None
    if span == "day" and told is None and message.when.day is not None:
        told = message.when  # 'yesterday' among the words around
    if span == "day" and (message.when.meal is not None or message.when.unclear is not None):
        return None
    if told is not None and (told.future or told.day is None or (when is not None and when.clock is not None)):
        return None
    if span == "week":
        back = cast("int | None", values.get("weeks_back"))
        if values.get("calendar") and told is not None and told.day is not None:
            return _calendar_week(told.day, today)
        return Sheet(span=span, day=today) if back is None else _calendar_week(today - back * _WEEK, today)
    if span == "month":
        return _month(reading, today)
    return Sheet(span=span, day=told.day if told is not None and told.day is not None else today)


def _calendar_week(day: date, today: date) -> Meaning:
    """A week of the calendar, Monday to Sunday, or what there is of it."""
    monday = day - timedelta(days=day.weekday())
    return Sheet(span="week", day=min(monday + timedelta(days=6), today), first=monday)


def _month(reading: Reading, today: date) -> Meaning:
    """This month, the last one, or the latest of that name, by its last day."""
    number = cast("int | None", reading.values.get("month"))
    if number is not None:
        year = today.year if number <= today.month else today.year - 1
        return Sheet(span="month", day=date(year, number, calendar.monthrange(year, number)[1]))
    back = reading.values.get("months_back")
    return Sheet(span="month", day=today.replace(day=1) - timedelta(days=1) if back else today)


def trend(reading: Reading, message: Message) -> Meaning | None:
    """Body weight over time, or energy in and out."""
    if message.of("food", "batch"):
        return None
    return Trend(of=cast(Literal["body_weight", "energy_balance"], reading["of"]))


def listing(reading: Reading, message: Message) -> Meaning | None:
    """What the person has of a kind; a food or a batch by name is something else."""
    name = reading.values.get("name")
    if isinstance(name, Words):
        return None if message.of("amount", "energy") else Listing(of="labels", name=name.text.lower())
    if message.of("amount", "food", "energy") or any(c.field != "bare" for c in message.of("batch")):
        return None
    return Listing(of=reading["of"])  # type: ignore[arg-type]


def helping(reading: Reading, message: Message) -> Meaning | None:
    """How something is done; 'how do I' beside food and an amount asks something else."""
    topic = str(reading.values.get("topic", ""))
    if message.of("amount") and message.of("food", "batch"):
        return None
    if topic == "stopping" and any(question.shown for question in message.around.waiting):
        return Skip()  # 'forget it' about what is asked
    return Help(topic=topic)


def small_talk(message: Message) -> Chatter | None:
    """A greeting, thanks, or signs alone: nothing to record."""
    if message.of("amount", "food", "batch", "hash", "energy", "macro"):
        return None
    words = [word for c in message.chunks for word in message.line.plain[c.start : c.end] if word.isalpha()]
    if not words:
        return Chatter(kind="other") if message.said else None
    if pack()["greeting"].end(words, 0):
        return Chatter(kind="greeting")
    return Chatter(kind="thanks") if len(words) <= LONGEST_THANKS and pack()["thanks"].found(words) else None
