"""Reading when something was eaten: days, dates, clock times and meals, on the person's own calendar."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import cache

from bot.language.clock import NAMED_CLOCK, ClockReader
from bot.language.dated_weekdays import which_of_them
from bot.language.lexicon import Lexicon, lexicon
from bot.language.number_words import number_words
from bot.language.numbers import NumberReader
from bot.language.surroundings import Surroundings, day_of
from bot.language.told import When
from bot.language.word_lists import word_lists
from domain.quantities import Region


@dataclass(frozen=True, slots=True)
class Moment:
    """One expression of time: what it says of the day, the clock and the meal."""

    day: date | None = None
    clock: time | None = None
    ago: timedelta | None = None
    meal: str | None = None
    unclear: str | None = None
    future: bool = False
    ahead: date | None = None
    """The day that the same words mean where they point ahead, today included ("from Monday")."""


def together(moments: Sequence[Moment], around: Surroundings) -> When:
    """What several expressions of one message say together."""
    now = around.now
    day = next((m.day for m in moments if m.day), None)
    clock = next((m.clock for m in moments if m.clock), None)
    ago = next((m.ago for m in moments if m.ago), None)
    meal = next((m.meal for m in moments if m.meal), None)
    unclear = next((m.unclear for m in moments if m.unclear), None)
    future = any(m.future for m in moments)
    moment = None
    if ago is not None:
        moment = now - ago
        day = day_of(moment, around.day_starts)
    elif clock is not None:
        # The small hours before a day starts belong to it by the clock of the next one.
        late = timedelta(days=1 if day is not None and clock.hour < around.day_starts else 0)
        moment = datetime.combine((day or now.date()) + late, clock, now.tzinfo)
        if day is None and moment > now:
            moment = datetime.combine(now.date() - timedelta(days=1), clock, now.tzinfo)
        day = day_of(moment, around.day_starts)
        future = future or moment > now
    if day is not None and day > around.today:
        future = True
    return When(day=day, moment=moment, meal=meal, future=future, unclear=unclear)


WORDS = word_lists("moments")
LONGEST_AGO = 10_000
"""More days, hours or minutes ago than anybody counts."""


@cache
def moment_openers() -> frozenset[str]:
    """The words (less their 's) with which an expression of time can begin."""
    words = lexicon()
    names = ("yesterday", "today", "tomorrow", "which_day", "before_date", "before_clock", "before_meal")
    days = frozenset().union(*(WORDS[name] for name in names))
    opening = (*days, *NAMED_CLOCK, *number_words().openers, *words.weekdays, *words.months, *words.meals)
    named = (f"{day}s" for day in words.weekdays)
    opening = (*opening, *named, *WORDS["last_night"], *WORDS["short_weekdays"], "the", "day")
    return frozenset(word.removesuffix("'s") for word in opening)


def begins_moment(text: str) -> bool:
    """Whether an expression of time can begin with such a token."""
    return not text[0].isalpha() or text.removesuffix("'s") in moment_openers()


class MomentReader:
    """Reads expressions of time off a message's tokens."""

    def __init__(self, numbers: NumberReader, words: Lexicon, around: Surroundings) -> None:
        self.numbers = numbers
        self.tokens = numbers.tokens
        self.words = words
        self.today = around.today
        self.region = around.region
        self.clock = ClockReader(numbers, words, lambda i: self._day_word(i) is not None)
        self._text = numbers.text
        self._openers = moment_openers()
        self._found: dict[int, tuple[Moment, int] | None] = {}

    def read(self, i: int) -> tuple[Moment, int] | None:
        """The expression of time that begins at token i, and where it ends; None where none begins."""
        if i not in self._found:
            self._found[i] = self._read(i)
        return self._found[i]

    def _read(self, i: int) -> tuple[Moment, int] | None:
        if self.tokens[i].kind == "number":
            return self._ago(i) or self._date(i) or self._clock(i)
        if self._text(i).removesuffix("'s") not in self._openers:
            return None
        for reader in (self._day_word, self._ago, self._date, self._weekday, self._clock, self._meal):
            read = reader(i)
            if read:
                return read
        return None

    def _day_word(self, i: int) -> tuple[Moment, int] | None:
        today = self.today
        word, after = self._text(i), self._text(i + 1)
        if word in ("the", "on") and after in ("day", "the") and "before" in (self._text(i + 2), self._text(i + 3)):
            j = i + 2 if self._text(i + 2) == "before" else i + 3
            if self._text(j + 1) == "yesterday":
                return Moment(day=today - timedelta(days=2)), j + 2
        if word == "day" and after == "before" and self._text(i + 2) == "yesterday":
            return Moment(day=today - timedelta(days=2)), i + 3
        if word in WORDS["yesterday"]:
            end = i + 2 if after.removesuffix("'s") in WORDS["part_of_day"] else i + 1
            return Moment(day=today - timedelta(days=1)), end
        if word in WORDS["last_night"]:
            return Moment(day=today - timedelta(days=1)), i + 1
        if word in WORDS["last"] and after.removesuffix("'s") in WORDS["nights"]:
            return Moment(day=today - timedelta(days=1)), i + 2
        if word == "this" and after in WORDS["part_of_this_day"]:
            return Moment(day=today), i + 2
        if word in WORDS["today"]:
            return Moment(day=today), i + 1
        if word in WORDS["tomorrow"]:
            return Moment(day=today + timedelta(days=1), future=True), i + 1
        return None

    def _ago(self, i: int) -> tuple[Moment, int] | None:
        number = self.numbers.one_or_many(i)
        if number is None or number.value >= LONGEST_AGO:
            return None
        unit = self._text(number.end).rstrip("s")
        span = self.numbers.and_a_half(number._replace(end=number.end + 1))
        if self._text(span.end) not in WORDS["ago"]:
            return None
        if unit in ("day", "week"):
            days = int(span.value * (7 if unit == "week" else 1))
            return Moment(day=self.today - timedelta(days=days)), span.end + 1
        spans = {"hour": 60, "hr": 60, "h": 60, "minute": 1, "min": 1}
        if unit in spans:
            return Moment(ago=timedelta(minutes=span.value * spans[unit])), span.end + 1
        return None

    def _weekday(self, i: int) -> tuple[Moment, int] | None:
        before = i
        qualifier = ""
        if self._text(i) in WORDS["which_day"]:
            qualifier, i = self._text(i), i + 1
            if qualifier == "on" and self._text(i) in ("last", "the", "this"):
                qualifier, i = self._text(i), i + 1
        word = self._text(i).removesuffix("'s")
        days = self.words.weekdays
        if word in WORDS["short_weekdays"] and (qualifier or self._text(i + 1) in WORDS["part_of_day"]):
            days = {short: 5 + n for n, short in enumerate(sorted(WORDS["short_weekdays"]))}
        if word not in days and (self._text(i + 1) in self.words.meals or (not qualifier and self._before_a_thing(i))):
            word = word.removesuffix("s")  # 'mondays breakfast'
        if word not in days:
            return None
        today = self.today
        back = (today.weekday() - days[word]) % 7
        if qualifier == "next":
            return Moment(day=today + timedelta(days=7 - back), future=True), i + 1
        if qualifier == "last" and back == 0:
            back = 7
        end = i + 1
        if self._text(end).removesuffix("'s") in WORDS["part_of_day"] and end > before:
            end += 1
        dated = which_of_them(self._text, end, days[word], today)
        if dated is not None:
            return Moment(day=dated.day, ahead=dated.ahead), dated.end
        ahead = None if qualifier in ("last", "past") else today + timedelta(days=-back % 7)
        return Moment(day=today - timedelta(days=back), ahead=ahead), end

    def _before_a_thing(self, i: int) -> bool:
        return self._text(i + 1).isalpha() and not self.words.knows(self._text(i + 1))

    def _dated(self, end: int, month: int, day: int, year: int | None = None) -> tuple[Moment, int] | None:
        """The latest such day, in an expression that ends there; None where the calendar has no such day."""
        today = self.today
        try:
            if year is not None:
                found = date(year + 2000 if year < 100 else year, month, day)
                return Moment(day=found, ahead=found), end
            found = date(today.year, month, day)
            before, after = sorted((found, date(today.year + (1 if found < today else -1), month, day)))
            return Moment(day=found if found <= today else before, ahead=after), end
        except ValueError:
            return None

    def _date(self, i: int) -> tuple[Moment, int] | None:
        said_on = self._text(i) in WORDS["before_date"]
        j = i + 1 if said_on else i
        if self._text(j) == "the":
            j += 1
        number = self._text(j)
        if "." in number and (said_on or number.count(".") == 2):
            return self._dotted(j)
        if number.isdecimal() and len(number) == 4 and self._text(j + 1) == "-" and self._text(j + 3) == "-":
            month, day = self._text(j + 2), self._text(j + 4)
            if month.isdecimal() and day.isdecimal():
                return (
                    self._dated(j + 5, int(month), int(day), int(number)) if len(month) <= 2 and len(day) <= 2 else None
                )
        if number.isdecimal() and len(number) <= 2:
            k = j + 1
            if self._text(k) in WORDS["ordinal_endings"]:
                k += 1
            if self._text(k) == "of":
                k += 1
            month_word = self.words.months.get(self._text(k))
            if month_word:
                return self._dated(k + 1, month_word, int(number))
            if said_on or self._between_spaces(j):
                return self._slashed(j)
        month_word = self.words.months.get(number)
        if month_word and self._text(j + 1).isdecimal() and len(self._text(j + 1)) <= 2:
            end = j + 3 if self._text(j + 2) in WORDS["ordinal_endings"] else j + 2
            return self._dated(end, month_word, int(self._text(j + 1)))
        return None

    def _dotted(self, i: int) -> tuple[Moment, int] | None:
        """'on 1.3.', '01.03.2026': day and month with points, where the region writes dates so."""
        parts = self._text(i).split(".")
        if (
            self.region == Region.US
            or not 2 <= len(parts) <= 3
            or not all(p.isdecimal() and len(p) <= 4 for p in parts)
        ):
            return None
        end = i + 2 if self._text(i + 1) == "." else i + 1
        return self._dated(end, int(parts[1]), int(parts[0]), int(parts[2]) if len(parts) == 3 else None)

    def _between_spaces(self, i: int) -> bool:
        """Whether 'a/b' cannot be a fraction: its first number is the larger, or both are alike."""
        top, bottom = self._text(i), self._text(i + 2)
        return self._text(i + 1) == "/" and bottom.isdecimal() and int(top) >= int(bottom[:4])

    def _slashed(self, i: int) -> tuple[Moment, int] | None:
        if self._text(i + 1) != "/" or not self._text(i + 2).isdecimal() or len(self._text(i + 2)) > 2:
            return None
        first, second, end = int(self._text(i)), int(self._text(i + 2)), i + 3
        year = None
        if self._text(end) == "/" and self._text(end + 1).isdecimal() and len(self._text(end + 1)) <= 4:
            year, end = int(self._text(end + 1)), end + 2
        month, day = (first, second) if self.region == Region.US else (second, first)
        return self._dated(end, month, day, year)

    def _clock(self, i: int) -> tuple[Moment, int] | None:
        read = self.clock.read(i)
        return None if read is None else (Moment(clock=read[0]), read[1])

    def _meal(self, i: int) -> tuple[Moment, int] | None:
        j = i
        while self._text(j) in WORDS["before_meal"] and j < i + 4:
            j += 1
        word = self._text(j).removesuffix("'s")
        meal = self.words.meals.get(word)
        if meal is None:
            return None
        if meal == "unclear":
            marked = self._text(i) in ("for", "at") or self._text(j + 1) in (":", "was")
            return (Moment(unclear=word), j + 1) if marked else None
        return Moment(meal=meal), j + 1
