"""Reading when something was eaten: days, dates, clock times and meals, on the person's own calendar."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import cache

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
DAYS = ("yesterday", "today", "part_of_day", "nights", "last_night")
_NAMED_CLOCK = {**dict.fromkeys(WORDS["noon"], time(12)), **dict.fromkeys(WORDS["midnight"], time(0))}
LONGEST_AGO = 10_000
"""More days, hours or minutes ago than anybody counts."""


@cache
def moment_openers() -> frozenset[str]:
    """The words (less their 's) with which an expression of time can begin."""
    words = lexicon()
    names = ("yesterday", "today", "tomorrow", "which_day", "before_date", "before_clock", "before_meal")
    days = frozenset().union(*(WORDS[name] for name in names))
    opening = (*days, *_NAMED_CLOCK, *number_words().openers, *words.weekdays, *words.months, *words.meals)
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
        two = after.removesuffix("'s") in WORDS["part_of_day" if word in WORDS["yesterday"] else "nights"]
        if word in WORDS["yesterday"] | WORDS["last_night"] or (word in WORDS["last"] and two):
            return Moment(day=today - timedelta(days=1)), i + (2 if two and word not in WORDS["last_night"] else 1)
        if word == "this" and after in WORDS["part_of_this_day"]:
            return Moment(day=today), i + 2
        if word in WORDS["tomorrow"]:
            return Moment(day=today + timedelta(days=1), future=True), i + 1
        return (Moment(day=today), i + 1) if word in WORDS["today"] else None

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
        minutes = {"hour": 60, "hr": 60, "h": 60, "minute": 1, "min": 1}.get(unit)
        return None if minutes is None else (Moment(ago=timedelta(minutes=span.value * minutes)), span.end + 1)

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
        at = self._text(i) in WORDS["before_clock"]
        j = i + 1 if at else i
        while at and self._text(j) in WORDS["roughly"]:
            j += 1
        word = self._text(j)
        if word in _NAMED_CLOCK:
            return Moment(clock=_NAMED_CLOCK[word]), j + 1
        past = self._past(i)
        if past:
            return past
        hour, minute, end = self._digits(j, at)
        if hour is None:
            return None
        if self._later_half(end) and 1 <= hour < 12 and (at or self._text(j + 1) == ":"):
            return Moment(clock=time(hour + 12, minute)), end + 3 - (self._text(end) == "tonight") * 2
        suffix = self._text(end).replace(".", "")
        dotted = suffix in ("a", "p") and self._text(end + 1) == "." and self._text(end + 2) == "m"
        if suffix in ("am", "pm") or dotted:
            if not 1 <= hour <= 12:
                return None
            hour = hour % 12 + (12 if suffix[0] == "p" else 0)
            return Moment(clock=time(hour, minute)), end + (3 if dotted else 1)
        if suffix in WORDS["hour_sharp"] and hour < 24:
            return Moment(clock=time(hour, minute)), end + 1
        if self._text(j + 1) == ":" and hour < 24:
            return Moment(clock=time(hour, minute)), end
        if not at or hour > 23 or self._measured(end):
            return None
        alone = Moment(clock=time(hour, minute)) if self._text(i) == "at" else self._rough_hour(i, end)
        return None if alone is None else (alone, end)

    def _rough_hour(self, i: int, end: int) -> Moment | None:
        """'last night around 9, 45 g almonds': behind a day or a meal, which date it; before a sign or an 'I'."""
        before = self._text(i - 1).removesuffix("'s") if i else ""
        led = before in self.words.meals or any(before in WORDS[name] for name in DAYS)
        closes = end >= len(self.tokens) or self.tokens[end].kind in ("sign", "newline")
        return Moment() if led and (closes or self._text(end) in WORDS["writer"]) else None

    def clock_at(self, i: int) -> tuple[time, int] | None:
        """The clock time at token i, where nothing else can stand ('noon', '22', 'six thirty'), and where it ends."""
        read = self._clock(i)
        if read is not None and read[0].clock is not None:
            return read[0].clock, read[1]
        hour, minute, end = self._digits(i, at=True)
        return None if hour is None or hour > 24 or self._measured(end) else (time(hour % 24, minute), end)

    def _later_half(self, i: int) -> bool:
        """'at 7 in the evening', 'at 8 tonight'."""
        first, second, third = (self._text(n) for n in range(i, i + 3))
        at_night = first == "at" and second in WORDS["later_half"]
        return at_night or first == "tonight" or (first == "in" and second == "the" and third in WORDS["later_half"])

    def _measured(self, i: int) -> bool:
        """Whether the number before token i is an amount ("at 20 g") and no time."""
        word = self._text(i)
        return word in self.words.mass_units or word in self.words.volume_units or word in WORDS["measured"]

    def _digits(self, i: int, at: bool) -> tuple[int | None, int, int]:
        word = self._text(i)
        hour = self.numbers.shortest(i) if at and i < len(self.tokens) and self.tokens[i].kind == "word" else None
        if hour is not None and hour.end == i + 1 and 0 < hour.value <= 12 and hour.value == int(hour.value):
            minute, end = self._spoken_minute(hour.end)
            return int(hour.value), minute, end
        if i < len(self.tokens) and self.tokens[i].kind == "number":
            head, _, tail = word.partition(".")
            if head.isdecimal() and len(head) <= 2:
                if self._text(i + 1) == ":" and self._text(i + 2).isdecimal() and len(self._text(i + 2)) == 2:
                    minute = int(self._text(i + 2))
                    return (int(head), minute, i + 3) if minute < 60 else (None, 0, i)
                if len(tail) == 2 and tail.isdecimal() and int(tail) < 60 and (at or self._text(i + 1) in ("am", "pm")):
                    return int(head), int(tail), i + 1
                if not tail:
                    return int(head), 0, i + 1
        return None, 0, i

    def _spoken_minute(self, i: int) -> tuple[int, int]:
        """The minutes behind a spoken hour ('seven thirty', 'nine oh five'), and where they end; else 0."""
        said = self.numbers.said
        if self._text(i) in said.zeros_inside and self._text(i + 1) in said.ones:
            return int(said.ones[self._text(i + 1)]), i + 2
        minute = self.numbers.best(i) if i < len(self.tokens) and self.tokens[i].kind == "word" else None
        if minute is None or not 10 <= minute.value < 60 or minute.value % 1 or self._measured(minute.end):
            return 0, i
        return int(minute.value), minute.end

    def _clock_ends(self, i: int) -> bool:
        """Whether nothing that can be counted follows: 'ten to twelve almonds' is no time of the day."""
        after = self.tokens[i] if i < len(self.tokens) else None
        return after is None or after.kind != "word" or after.text in self.words.filler

    def _past(self, i: int) -> tuple[Moment, int] | None:
        """'half past seven', 'quarter to eight'."""
        j = i + 1 if self._text(i) == "at" else i
        half = self._half_hour(j, at=j > i)
        if half is not None:
            return half
        number = self.numbers.best(j)
        if number is None or self._text(number.end) not in ("past", "to"):
            return None
        if not number.word and j == i:
            return None  # '150 to 200'
        minutes = number.value if number.value >= 1 else 60 * number.value
        hour = self.numbers.shortest(number.end + 1)
        if hour is None or minutes % 5 or not 0 < minutes <= 30 or hour.value != int(hour.value):
            return None
        counted = number.value >= 1 and (j == i or not number.word)
        if not 0 <= hour.value < 24 or (counted and not self._clock_ends(hour.end)):
            return None
        shift = minutes if self._text(number.end) == "past" else -minutes
        clock = (datetime(2000, 1, 2, int(hour.value), tzinfo=UTC) + timedelta(minutes=shift)).time()
        end = hour.end
        if self._later_half(end) and clock.hour < 12:
            return Moment(clock=clock.replace(hour=clock.hour + 12)), end + (1 if self._text(end) == "tonight" else 3)
        if self._text(end) in ("pm", "am"):
            clock = clock.replace(hour=clock.hour % 12 + (12 if self._text(end) == "pm" else 0))
            end += 1
        return Moment(clock=clock), end

    def _half_hour(self, i: int, *, at: bool) -> tuple[Moment, int] | None:
        """'at half 7', 'half six this morning': half past it; 'at seven and a half'."""
        number = self.numbers.best(i)
        if number is None or number.end >= len(self.tokens) + 1:
            return None
        if at and number.word and 1 < number.value < 13 and number.value % 1 == 0.5:
            end = number.end
            return None if self._measured(end) else (Moment(clock=time(int(number.value), 30)), end)
        if self._text(i) not in self.numbers.said.fractions or number.end != i + 1 or number.value != 0.5:
            return None
        hour = self.numbers.shortest(i + 1) if i + 1 < len(self.tokens) else None
        if hour is None or hour.value % 1 or not 1 <= hour.value <= 12 or self._measured(hour.end):
            return None
        day = self._day_word(hour.end) is not None
        if not (at and self._clock_ends(hour.end)) and not day:
            return None
        late = day and self._text(hour.end + 1) in WORDS["later_half"] and hour.value < 12
        return Moment(clock=time(int(hour.value) % 24 + (12 if late else 0), 30)), hour.end

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
