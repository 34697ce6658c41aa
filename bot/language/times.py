"""Slots for when something was or shall be: moments, clock times, days ahead, spans, days of the week, time zones."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from functools import cache
from zoneinfo import available_timezones

from bot.language.chunks import Line
from bot.language.moments import Moment
from bot.language.pack import pack

NEAR = timedelta(days=183)
"""A date without its year means the one that is nearer."""
MINUTES = {"minutes": 1, "hours": 60}
DAYS = {"days": 1, "weeks": 7, "months": 30, "years": 365}
"""Days of a span; months and years as what is meant by 'keep it for a month'."""
SEVERAL_DAYS = {"workdays": "01234", "weekend": "56", "all_days": "0123456"}
"""Concepts that stand for several days of the week, with those."""
LONGEST_ZONE = 6
"""Tokens of a zone's name ('America/Port_of_Spain')."""
SHORTEST_CITY = 4
MOST_DAYS_NAMED = 20
"""Tokens that days of the week may take."""


def spoken(line: Line, concept: str, i: int, end: int) -> int | None:
    """Where the longest phrase of a concept ends that begins at token i; None where none does."""
    if i >= end:
        return None
    words = line.plain
    for phrase in pack()[concept].by_first.get(words[i], ()):
        stop = i + len(phrase)
        if stop <= end and tuple(words[i:stop]) == phrase:
            return stop
    return None


def passed(line: Line, concept: str, i: int, end: int) -> int:
    """Token i, or the one behind the phrase of the concept that begins there."""
    return spoken(line, concept, i, end) or i


def clock(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A clock time, also a bare hour: 'noon', 'at 7:30', '10 pm', '22', 'quarter to eight'."""
    read = line.moments.clock.at(i)
    if read is not None and read[1] <= end:
        yield read


def when(line: Line, i: int, end: int) -> Iterator[tuple[Moment, int]]:
    """A moment: a day, a meal, a clock time, or several of them."""
    read = line.moments.read(i)
    if read is not None and read[1] <= end:
        yield read


def day(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A day of the calendar, as a date."""
    yield from ((m.day, e) for m, e in when(line, i, end) if m.day is not None and m.clock is None)


def weekday(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A day of the week, from Monday = 0."""
    number = line.words.weekdays.get(line.lemmas[i].removesuffix("'s"))
    if number is not None:
        yield number, i + 1


def month(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A month by its name, from January = 1."""
    number = line.words.months.get(line.text(i))
    if number is not None:
        yield number, i + 1


def meal(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A meal by its name, none that may be something else."""
    name = line.words.meals.get(line.text(i).removesuffix("'s"))
    if name is not None and name != "unclear":
        yield name, i + 1


def from_day(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """The first day of something: 'from Monday on', 'starting 15 April', 'next week', 'in two weeks', 'tomorrow'."""
    start = spoken(line, "from_then", i, end)
    for at in (i,) if start is None else (start, i):
        day = _day_ahead(line, at, end, named=start is not None)
        if day is not None:
            yield day[0], passed(line, "onwards", day[1], end)
            return


def until_day(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """The last day of something: 'until Friday', 'till the 15th', 'for two weeks'."""
    start = spoken(line, "until_then", i, end)
    day = _day_ahead(line, start, end, named=True) if start is not None else None
    if day is not None:
        yield day
        return
    start = spoken(line, "for_so_long", i, end)
    length = span(line, start, end) if start is not None else None
    if length is not None and length[1] in DAYS:
        yield line.around.today + timedelta(days=int(length[0] * DAYS[length[1]]) - 1), length[2]


def _day_ahead(line: Line, i: int, end: int, *, named: bool) -> tuple[date, int] | None:
    """The day at token i as one ahead, today included; `named`: a word before it says that a day comes."""
    today = line.around.today
    moment = line.moments.read(i) if i < end else None
    if moment is not None and moment[0].day is not None and moment[0].clock is None and moment[1] <= end:
        ahead = moment[0].ahead
        return (ahead if ahead is not None and ahead - today <= NEAR else moment[0].day), moment[1]
    if (stop := spoken(line, "next_week", i, end)) is not None:
        return today + timedelta(days=7 - today.weekday()), stop
    if (stop := spoken(line, "next_month", i, end)) is not None:
        return _first_of(today.month % 12 + 1, today), stop
    start = spoken(line, "in_so_long", i, end)
    length = span(line, start, end) if start is not None else None
    if length is not None and length[1] in DAYS:
        return today + timedelta(days=int(length[0] * DAYS[length[1]])), length[2]
    return _named_ahead(line, i, end, today) if named else None


def _named_ahead(line: Line, i: int, end: int, today: date) -> tuple[date, int] | None:
    """'the 15th': the next one, today included; 'April': its first day."""
    at = passed(line, "the", i, end)
    if at < end and line.text(at).isdecimal() and (stop := spoken(line, "ordinal_ending", at + 1, end)) is not None:
        days = (today + timedelta(days=n) for n in range(62))
        found = next((day for day in days if day.day == int(line.text(at)[:3])), None)
        return None if found is None else (found, stop)
    month = line.words.months.get(line.text(at)) if at < end else None
    return None if month is None else (_first_of(month, today), at + 1)


def _first_of(month: int, today: date) -> date:
    return date(today.year if month > today.month else today.year + 1, month, 1)


def span(line: Line, i: int, end: int) -> tuple[float, str, int] | None:
    """(how many, the concept of the unit, where it ends): '2 hours', 'half an hour', 'a week', '30 min'."""
    number = line.amounts.number(i) if i < end else None
    article = spoken(line, "an", i, end)
    if number is not None and number.end < end:
        value, at = number.value, passed(line, "an", number.end, end)
    elif article is not None:
        value, at = 1.0, article
    else:
        return None
    for unit in (*MINUTES, *DAYS):
        stop = spoken(line, unit, at, end)
        if stop is not None:
            return value, unit, stop
    return None


def minutes(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A span of minutes or hours, in minutes."""
    found = span(line, i, end)
    if found is not None and found[1] in MINUTES:
        yield round(found[0] * MINUTES[found[1]]), found[2]


def days(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A span of days, weeks, months or years, in days."""
    found = span(line, i, end)
    if found is not None and found[1] in DAYS:
        yield round(found[0] * DAYS[found[1]]), found[2]


def weekdays(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """Days of the week as digits from Monday = 0: 'weekdays', 'Mondays and Fridays', 'Mon to Fri'."""
    for concept, named in SEVERAL_DAYS.items():
        stop = spoken(line, concept, i, end)
        if stop is not None:
            yield named, stop
            return
    said: list[int] = []
    at, through = passed(line, "on", i, end), False
    while at < min(end, i + MOST_DAYS_NAMED):
        day = _weekday(line, at)
        if day is None:
            break
        said.extend([(said[-1] + n) % 7 for n in range(1, (day - said[-1]) % 7 + 1)] if through and said else [day])
        yield "".join(sorted({str(d) for d in said})), at + 1
        linked = spoken(line, "through", at + 1, end)
        through = linked is not None
        at = linked or passed(line, "joining", _past_comma(line, at + 1), end)
        at = passed(line, "on", at, end)


def _weekday(line: Line, i: int) -> int | None:
    return line.words.weekdays.get(line.lemmas[i].removesuffix("'s"), _weekend_day(line.lemmas[i]))


def names_weekdays(line: Line) -> bool:
    """Whether a day of the week is named, or a word that stands for several begins."""
    several = frozenset[str]().union(*(pack()[concept].words for concept in SEVERAL_DAYS))
    return not several.isdisjoint(line.plain) or any(_weekday(line, i) is not None for i in range(len(line.tokens)))


def _weekend_day(word: str) -> int | None:
    """The day of a short form that is a word of its own elsewhere ('sat', 'sun')."""
    return next((day for day, name in ((5, "saturday_short"), (6, "sunday_short")) if word in pack()[name]), None)


def _past_comma(line: Line, i: int) -> int:
    return i + 1 if line.text(i) == "," else i


@cache
def _zones() -> dict[str, str]:
    """IANA zones by their own names and by their cities, lower case."""
    names = sorted(available_timezones())
    cities = {name.rsplit("/", 1)[-1].lower(): name for name in names if "/" in name}
    found = {city: name for city, name in cities.items() if len(city) >= SHORTEST_CITY}
    return found | {name.lower(): name for name in names}


def zone(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A time zone by its IANA name or its city: 'Pacific/Auckland', 'Lisbon'."""
    for stop in range(min(end, i + LONGEST_ZONE), i, -1):
        found = _zones().get(line.said(i, stop).lower().replace(" ", "_"))
        if found is not None:
            yield found, stop
            return


def region(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """The region whose sizes and units are meant."""
    for value in ("US", "UK", "metric"):
        stop = spoken(line, f"region_{value}", i, end)
        if stop is not None:
            yield value, stop
