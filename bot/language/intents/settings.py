"""Reminders, quiet hours, clocks, what the person owns, the kitchen: from readings to meanings."""

from __future__ import annotations

from datetime import time
from typing import cast

from bot.language.grammar import Reading
from bot.language.kitchen import InviteToKitchen
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.setting_meanings import AskReminderTime, LocalTime, SetReminder, SetSetting
from bot.language.slots import REMINDERS
from bot.language.words import Words

USUAL = "evening"
"""The reminder that is meant where none is named."""
NOON, EARLIEST_EVENING = 12, 5


def local_time(reading: Reading, message: Message) -> Meaning | None:
    """The person's own clock; a bare hour is none."""
    clock = cast(time, reading["clock"])
    said = any(c.kind == "moment" for c in message.chunks)
    return LocalTime(clock=f"{clock:%H:%M}") if said else None


def setting(reading: Reading, message: Message) -> Meaning | None:
    """A setting with its value, or one that is made of clock times."""
    name, values = str(reading["name"]), reading.values
    if "value" in values:
        return SetSetting(name=name, value=str(values["value"]))
    if "height" in values:
        return SetSetting(name=name, value=f"{cast(float, values['height']):.4g}")
    if "years" in values:
        # The year of birth that an age told today stands for; it may be a year early.
        return SetSetting(name=name, value=str(message.around.today.year - cast(int, values["years"])))
    if "from" in values:
        first, last = cast(time, values["from"]), cast(time, values["until"])
        return SetSetting(name=name, value=f"{first:%H:%M}-{last:%H:%M}")
    return SetSetting(name=name, value=str(cast(time, values["clock"]).hour))


def reminder(reading: Reading, message: Message) -> Meaning | None:
    """A reminder at a time, on days, or off."""
    values = reading.values
    what = _what(reading, message)
    if values.get("off"):
        return SetReminder(what=what, time=None)
    clock = cast("time | None", values.get("clock"))
    weekdays = cast("str | None", values.get("weekdays"))
    if clock is not None and not any(word in pack()["of_the_clock"] for word in message.line.plain):
        clock = in_part_of_day(message, clock, what)
    return SetReminder(what=what, time=f"{clock:%H:%M}" if clock is not None else "", weekdays=weekdays)


def in_part_of_day(message: Message, clock: time, what: str) -> time:
    """The time by the part of the day that is said beside it: '7:30' and 'every evening'.

    The evening's reminder comes in the evening where no part is said, unless the time is written as on a clock of 24
    hours: '08:30'.
    """
    said = message.line.plain
    if pack()["in_the_morning"].found(said) or not EARLIEST_EVENING <= clock.hour < NOON:
        return clock
    late = pack()["in_the_later_half"].found(said) or (what == USUAL and f"{clock:%H:%M}" not in message.text)
    return clock.replace(hour=clock.hour + NOON) if late else clock


def reminder_time(reading: Reading, message: Message) -> Meaning | None:
    """A reminder without its time; 'remind me what is left' asks something else."""
    if message.asks or pack()["asked_of_record"].found(message.line.plain):
        return None
    return AskReminderTime(what=_what(reading, message))


def _what(reading: Reading, message: Message) -> str:
    """Which reminder: as named, or by what shall be done then."""
    named = str(reading.values.get("what", USUAL))
    found = (kind for kind in REMINDERS if pack()[f"reminder_{kind}"].found(message.line.plain))
    return named if named != USUAL else next(found, USUAL)


def invite_to_kitchen(reading: Reading, message: Message) -> Meaning | None:
    """Somebody is let into the kitchen, under their name where it was said."""
    called = cast("Words | None", reading.values.get("called"))
    return InviteToKitchen(called=called.text if called is not None else None)
