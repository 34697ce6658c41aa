"""Reading clock times off a message's tokens: 'at 7:30', 'half past six', 'quarter to nine', '8 in the evening'."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, time, timedelta

from bot.language.lexicon import Lexicon
from bot.language.numbers import NumberReader
from bot.language.word_lists import word_lists

WORDS = word_lists("moments")
NAMED_CLOCK = {**dict.fromkeys(WORDS["noon"], time(12)), **dict.fromkeys(WORDS["midnight"], time(0))}
DAYS = ("yesterday", "today", "part_of_day", "nights", "last_night")
"""Lists of words behind which a rough hour may stand."""


class ClockReader:
    """Reads clock times; `is_day` says whether an expression of a day begins at a token."""

    def __init__(self, numbers: NumberReader, words: Lexicon, is_day: Callable[[int], bool]) -> None:
        self.numbers = numbers
        self.tokens = numbers.tokens
        self.words = words
        self._text = numbers.text
        self._is_day = is_day

    def read(self, i: int) -> tuple[time | None, int] | None:
        """(the time that begins at token i, where it ends); without a time for a rough hour, None where none begins."""
        at = self._text(i) in WORDS["before_clock"]
        j = i + 1 if at else i
        while at and self._text(j) in WORDS["roughly"]:
            j += 1
        word = self._text(j)
        if word in NAMED_CLOCK:
            return NAMED_CLOCK[word], j + 1
        past = self._past(i)
        if past:
            return past
        hour, minute, end = self._digits(j, at)
        if hour is None:
            return None
        colon = self._text(j + 1) == ":"
        later = self._later_half(end)
        if later is not None and 1 <= hour < 12 and (at or colon):
            return time(hour + 12, minute), later
        marked = self._marked(hour, end)
        if marked is not None:
            return None if marked[0] is None else (time(marked[0], minute), marked[1])
        if hour > 23 or not (at or colon):
            return None
        if colon or (self._text(i) == "at" and not self._measured(end)):
            return time(hour, minute), end
        return (None, end) if self._is_rough_hour(i, end) else None

    def at(self, i: int) -> tuple[time, int] | None:
        """The clock time at token i, where nothing else can stand ('noon', '22', 'six thirty'), and where it ends."""
        read = self.read(i)
        if read is not None and read[0] is not None:
            return read[0], read[1]
        hour, minute, end = self._digits(i, at=True)
        return None if hour is None or hour > 24 or self._measured(end) else (time(hour % 24, minute), end)

    def _marked(self, hour: int, end: int) -> tuple[int | None, int] | None:
        """(the hour of the day, where it ends) with 'pm', "o'clock" behind it; no hour where the two don't fit."""
        suffix = self._text(end).replace(".", "")
        dotted = suffix in ("a", "p") and self._text(end + 1) == "." and self._text(end + 2) == "m"
        if suffix in ("am", "pm") or dotted:
            if not 1 <= hour <= 12:
                return None, end
            return hour % 12 + (12 if suffix[0] == "p" else 0), end + (3 if dotted else 1)
        return (hour, end + 1) if suffix in WORDS["hour_sharp"] and hour < 24 else None

    def _is_rough_hour(self, i: int, end: int) -> bool:
        """'last night around 9, 45 g almonds': behind a day or a meal, which date it; before a sign or an 'I'."""
        before = self._text(i - 1).removesuffix("'s") if i else ""
        led = before in self.words.meals or any(before in WORDS[name] for name in DAYS)
        closes = end >= len(self.tokens) or self.tokens[end].kind in ("sign", "newline")
        return led and not self._measured(end) and (closes or self._text(end) in WORDS["writer"])

    def _later_half(self, i: int) -> int | None:
        """Where 'in the evening', 'tonight', 'at night' ends that begins at token i; None where none begins."""
        first, second, third = (self._text(n) for n in range(i, i + 3))
        if first == "tonight":
            return i + 1
        if first == "at" and second == "night":
            return i + 2
        return i + 3 if first == "in" and second == "the" and third in WORDS["evening_hours"] else None

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

    def _past(self, i: int) -> tuple[time, int] | None:
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
        later = self._later_half(end)
        if later is not None and clock.hour < 12:
            return clock.replace(hour=clock.hour + 12), later
        if self._text(end) in ("pm", "am"):
            clock = clock.replace(hour=clock.hour % 12 + (12 if self._text(end) == "pm" else 0))
            end += 1
        return clock, end

    def _half_hour(self, i: int, *, at: bool) -> tuple[time, int] | None:
        """'at half 7', 'half six this morning': half past it; 'at seven and a half'."""
        number = self.numbers.best(i)
        if number is None or number.end >= len(self.tokens) + 1:
            return None
        if at and number.word and 1 < number.value < 13 and number.value % 1 == 0.5:
            end = number.end
            return None if self._measured(end) else (time(int(number.value), 30), end)
        if self._text(i) not in self.numbers.said.fractions or number.end != i + 1 or number.value != 0.5:
            return None
        hour = self.numbers.shortest(i + 1) if i + 1 < len(self.tokens) else None
        if hour is None or hour.value % 1 or not 1 <= hour.value <= 12 or self._measured(hour.end):
            return None
        day = self._is_day(hour.end)
        if not (at and self._clock_ends(hour.end)) and not day:
            return None
        late = day and self._text(hour.end + 1) in WORDS["later_half"] and hour.value < 12
        return time(int(hour.value) % 24 + (12 if late else 0), 30), hour.end
