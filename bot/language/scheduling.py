"""When to be spoken to: reminders and their days, quiet hours, time zones, the hour at which a day starts."""

from __future__ import annotations

import re
from datetime import time
from zoneinfo import available_timezones

from bot.language.meanings import AskReminderTime, Listing, LocalTime, Meaning, SetReminder, SetSetting, Snooze
from bot.language.message import Message
from bot.language.text import singular

OFF = (
    "off", "stop", "no more", "cancel", "disable", "don't", "dont", "do not", "no", "turn off", "without", "remove",
    "delete", "switch off", "mute", "silence", "end", "quit",
)  # fmt: skip
SUMMARIES = ("weekly summary", "week summary", "weekly report", "weekly picture", "weekly sheet", "week's summary")
REMINDING = ("remind", "reminder", "reminders", "nudge me", "ping me", "reminding", "digest")
SETTING_REGIONS = {
    "us": "US", "usa": "US", "america": "US", "american": "US", "uk": "UK", "british": "UK", "britain": "UK",
    "england": "UK", "metric": "metric", "europe": "metric", "imperial": "US",
}  # fmt: skip
WORKDAYS, WEEKEND, ALL_DAYS, MONDAYS = "01234", "56", "0123456", "0"

_CLOCK = r"(?P<{0}h>\d{{1,2}})(?:[:.](?P<{0}m>\d\d))? ?(?P<{0}p>am|pm)?"
_QUIET = re.compile(rf"\bquiet\b.*?{_CLOCK.format('a')} ?(?:to|until|till|and|-) ?{_CLOCK.format('b')}")
_LATER = re.compile(
    r"(?:please )?(?:snooze|remind me later|ask me later|later|not now)(?: (?:it|this|please))?"
    r"(?: ?(?:for|by)? ?(?P<n>\d{1,3}|an?|half an) ?(?P<unit>min(?:ute)?s?|h(?:ou)?rs?|h))?"
    r"|remind me (?:again )?in (?P<n2>\d{1,3}|an?|half an) ?(?P<unit2>min(?:ute)?s?|h(?:ou)?rs?|h)"
)
_HERE = re.compile(
    r"(?:it'?s|it is|my (?:local )?time is|local time(?: is)?:?|the time is) "
    rf"{_CLOCK.format('a')}(?: here| now)+"
    r"|(?:here it'?s|here it is|the time here is|the local time is|my clock (?:says|shows)) "
    rf"{_CLOCK.format('b')}(?: now)?"
)
_IN_PLACE = re.compile(
    r"(?:(?:i'?m|i am|im|we'?re|we are) (?:now |currently |back )?in"
    r"|(?:(?:i|we)(?:'?ve| have)? )?(?:just )?(?:landed|arrived) in|(?:i|we)(?:'?ve| have)? moved to) "
    r"(?P<place>[\w ,'/-]+?)(?: now| today| this week)?"
)
_DAY_STARTS = re.compile(rf"(?:my |the )?day (?:starts|begins|should start) at {_CLOCK.format('a')}")
SNOOZE_MINUTES = 60
LEAST_BARE_HOUR = 5
"""A bare number below it answers a question by its choice's number."""
NEVER = frozenset(
    {"off", "none", "never", "no", "nope", "no reminders", "no thanks", "not at all", "no reminder please"}
)


def scheduling(message: Message) -> Meaning | None:
    """A reminder, a snooze, quiet hours, a zone or a region, if that is what a sentence is about."""
    for topic in (_snooze, _quiet, _hours, _setting, _reminder):
        found = topic(message)
        if found is not None:
            return found
    return None


def clock_topic(message: Message) -> list[Meaning] | None:
    """'it's 19:40 here': a clock of the person's own, which would read like the time of a weigh-in."""
    found = _HERE.fullmatch(_plain(message))
    which = "a" if found and found["ah"] else "b"
    clock = _read(found, which) if found and (found[f"{which}m"] or found[f"{which}p"]) else None
    return None if clock is None else [LocalTime(clock=clock)]


def clock_alone(message: Message, *, evening: bool) -> str | None:
    """HH:MM of a clock time that is all a message holds; None where it holds anything else.

    In the `evening` a time before noon that does not say so is meant twelve hours later: 'at 9' is 21:00.
    """
    told = message.of("moment", "amount")
    others = [c for c in message.chunks if c not in told and not message.words.knows(c.text.lower())]
    if len(told) != 1 or others or message.of("food", "batch", "state"):
        return None
    moment, amount = told[0].moment, told[0].amount
    if moment is not None and moment.clock is not None:
        clock = moment.clock
    elif amount is not None and amount.kind == "bare" and amount.value in range(LEAST_BARE_HOUR, 24):
        clock = time(int(amount.value))
    else:
        return None
    if evening and 1 <= clock.hour < 12 and not message.has("am", "morning"):
        clock = clock.replace(hour=clock.hour + 12)
    return f"{clock:%H:%M}"


def wants_none(message: Message) -> bool:
    """Whether all that is said is that there shall be none."""
    return _plain(message) in NEVER


def _plain(message: Message) -> str:
    return " ".join(message.text.lower().split()).strip(" .!?")


def _snooze(message: Message) -> Meaning | None:
    found = _LATER.fullmatch(_plain(message))
    if not found:
        return None
    count, unit = found["n"] or found["n2"], found["unit"] or found["unit2"]
    if count is None or unit is None:
        return Snooze(minutes=SNOOZE_MINUTES)
    value = {"a": 1.0, "an": 1.0, "half an": 0.5}.get(count) or float(count)
    return Snooze(minutes=round(value * (60 if unit.startswith("h") else 1)))


def _quiet(message: Message) -> Meaning | None:
    if not message.has("quiet"):
        return None
    if message.has("off", "no quiet hours"):
        return SetSetting(name="quiet", value="off")
    found = _QUIET.search(_plain(message))
    first, last = (_read(found, "a"), _read(found, "b")) if found else (None, None)
    return None if first is None or last is None else SetSetting(name="quiet", value=f"{first}-{last}")


def _hours(message: Message) -> Meaning | None:
    """'my day starts at 4'."""
    found = _DAY_STARTS.fullmatch(_plain(message))
    clock = _read(found, "a") if found else None
    return None if clock is None else SetSetting(name="day_starts", value=str(int(clock[:2])))


def _read(found: re.Match[str], which: str) -> str | None:
    """HH:MM of a clock time in a match; None where there is no such time."""
    hour, minute, half = int(found[f"{which}h"]), int(found[f"{which}m"] or 0), found[f"{which}p"]
    if half:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if half == "pm" else 0)
    return f"{hour:02d}:{minute:02d}" if hour < 24 and minute < 60 else None


def _setting(message: Message) -> Meaning | None:
    said = message.said
    if message.has("region", "units") and not message.asks:
        region = next((SETTING_REGIONS[w] for w in said if w in SETTING_REGIONS), None)
        return SetSetting(name="region", value=region) if region else None
    if message.has("timezone", "time zone", "zone"):
        zone = zone_in(message.text)
        return SetSetting(name="timezone", value=zone) if zone else None
    placed = _IN_PLACE.fullmatch(_plain(message))
    if placed and not message.of("food", "amount", "batch"):
        zone = zone_in(placed["place"])
        return SetSetting(name="timezone", value=zone) if zone else None
    return None


def zone_in(text: str) -> str | None:
    """The IANA zone that a text names, by its own name or its city."""
    by_lower = {z.lower(): z for z in available_timezones()}
    for word in text.replace(",", " ").split():
        if word.lower().strip(".") in by_lower:
            return by_lower[word.lower().strip(".")]
    joined = text.lower().replace(" ", "_")
    cities = {z.rsplit("/", 1)[-1].lower(): z for z in by_lower.values() if "/" in z}
    found = [zone for city, zone in cities.items() if len(city) > 3 and f"_{city}" in f"_{joined}"]
    return max(found, key=len) if found else None


def _reminder(message: Message) -> Meaning | None:
    if not message.has(*REMINDING, *SUMMARIES):
        return None
    if message.has("when do", "when does", "when will", "when is", "what time do", "what time does", "what time is"):
        return Listing(of="reminders")
    what = _what(message)
    if message.has(*OFF):
        return SetReminder(what=what, time=None)
    weekdays = _weekdays(message)
    clocks = [c.moment.clock for c in message.of("moment") if c.moment is not None and c.moment.clock is not None]
    if clocks:
        return SetReminder(what=what, time=f"{clocks[0]:%H:%M}", weekdays=weekdays)
    bare = [a.value for a in message.amounts if a.kind == "bare" and a.value == int(a.value) and 0 <= a.value < 24]
    if bare and message.has("to", "at", "for"):
        return SetReminder(what=what, time=f"{int(bare[0]):02d}:00", weekdays=weekdays)
    if weekdays is not None:
        return SetReminder(what=what, time="", weekdays=weekdays)
    # 'weekly summary' and no more asks for the summary, not for its time.
    timed = message.has(*REMINDING) and not message.has("reminders")
    return AskReminderTime(what=what) if timed and not message.asks else None


def _what(message: Message) -> str:
    if message.has("digest"):
        return "digest"
    if message.has("week", "weekly", *SUMMARIES):
        return "week"
    if message.has("cook", "cooking", "cook day", "batch cook"):
        return "cook"
    if message.has("still good", "fridge", "refrigerator", "leftovers"):
        return "good"
    return next((word for word in ("morning", "breakfast", "lunch") if message.has(word)), "evening")


def _weekdays(message: Message) -> str | None:
    """The days of the week that were named, as digits from Monday = 0; None where none was."""
    days = dict(message.words.weekdays, sat=5, sun=6)
    said = [singular(word) for word in message.said]
    if "weekday" in said or "workday" in said:
        return WORKDAYS
    if "weekend" in said:
        return WEEKEND
    if message.has("every day", "daily", "each day"):
        return ALL_DAYS
    if "digest" in said and "weekly" in said and not days.keys() & set(said):
        return MONDAYS
    named = [(place, days[word]) for place, word in enumerate(said) if word in days]
    if len(named) == 2 and said[named[0][0] + 1 : named[1][0]] in (["to"], ["-"], ["through"], ["until"]):
        first, last = named[0][1], named[1][1]
        return "".join(sorted(str((first + n) % 7) for n in range((last - first) % 7 + 1)))
    return "".join(sorted({str(day) for _, day in named})) or None
