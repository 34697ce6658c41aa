"""One parser for every number: written in digits, said in words, dictated. All readings are kept, each with a cost."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from typing import NamedTuple

from bot.language.number_words import NumberWords, number_words
from bot.language.text import Token, singular, texts_of

FRACTION_PARTS = (2, 3, 4, 5, 8, 10)
IMPOSSIBLE_G = 25_000.0
"""Above this a grouped reading of '1,250 kg' cannot be meant (the limit for a whole batch)."""
LONGEST_NUMERAL = 15
"""Digits of a numeral that is read to the last; a longer one is only known to be too much."""
MOST_READ = 1e15
HUNDRED, THOUSAND = 100, 1000
MOST_DIGITS = 9
"""Digits said one by one that are read as one number."""
NEIGHBOURS = 10
"""How far apart the ends of a range said in one breath may be ('fifty sixty')."""

SHORT_COST = 0.2
"""Of a form that leaves out 'hundred' ('two fifty'), or tells the digits."""
HEARD_COST = 0.5
"""Of a word that sounds like a number."""
PART_COST = 1.0
"""Of a reading that stops before a number word which could belong to it."""


class Number(NamedTuple):
    """A number as read: its value, the other value where the sign in it is doubtful, and where it ends."""

    value: float
    end: int
    other: float | None = None
    pointed: bool = False
    """Written '1.250': a decimal point, or a foreign thousands mark."""
    word: bool = False
    cost: float = 0.0
    """0 for a number as grammars have it; the cheapest of several readings is the likeliest."""
    heard: bool = False
    """Whether a word that only sounds like a number is in it ('ate ounces')."""
    spread: bool = False
    """Whether two numbers were said in one breath, as for the ends of a range ('fifty sixty')."""
    listed: bool = False
    """Whether a dictated comma is in it, which may also part two numbers ('oats twenty comma two cups milk')."""


def written(text: str, end: int) -> Number | None:
    """A numeral by the rules for points and commas; None where it is no number ('1.2.3')."""
    if len(text) > LONGEST_NUMERAL and text.strip("0123456789") == "":
        return Number(MOST_READ, end)
    if "," in text and "." in text:
        last = max(text.rfind(","), text.rfind("."))
        mark = text[last]
        groups = text[:last].split("." if mark == "," else ",")
        if text.count(mark) > 1 or any(len(g) != 3 for g in groups[1:]):
            return None
        return Number(float("".join(groups) + "." + text[last + 1 :]), end)
    if "," in text:
        head, *groups = text.split(",")
        grouped = all(len(g) == 3 for g in groups) and len(head) <= 3 and not head.startswith("0")
        if grouped:
            other = float(f"{head}.{groups[0]}") if len(groups) == 1 else None
            return Number(float(head + "".join(groups)), end, other=other)
        return Number(float(f"{head}.{groups[0]}"), end) if len(groups) == 1 else None
    if text.count(".") > 1 or text.lower().count("e") > 1:
        return None
    value = MOST_READ if len(text) > LONGEST_NUMERAL else min(float(text), MOST_READ)
    if "e" in text.lower():
        return Number(value, end) if value > IMPOSSIBLE_G else None
    if "." in text and len(text.split(".")[1]) == 3 and not text.startswith("0"):
        return Number(value, end, other=float(text.replace(".", "")), pointed=True)
    return Number(value, end)


class NumberReader:
    """Reads numbers off tokens; `units` are the words that make a number before them an amount."""

    def __init__(self, tokens: Sequence[Token], units: Container[str], said: NumberWords | None = None) -> None:
        self.tokens = tokens
        self.said = said or number_words()
        self._units = units
        self.text = self._text = texts_of(tokens)
        # Several readers ask for the same place.
        self._read: dict[int, tuple[Number, ...]] = {}

    def at(self, i: int) -> tuple[Number, ...]:
        """All numbers that may begin at token i, the likeliest first; empty where none begins."""
        if i not in self._read:
            kind = self.tokens[i].kind if 0 <= i < len(self.tokens) else ""
            found: list[Number] = []
            if kind == "number":
                found = self._numeral(i)
            elif kind == "word" and self._text(i) in self.said.openers:
                found = sorted(self._spoken(i), key=lambda n: (n.cost, -n.end))
            self._read[i] = tuple(found)
        return self._read[i]

    def best(self, i: int) -> Number | None:
        """The likeliest number that begins at token i."""
        found = self.at(i)
        return found[0] if found else None

    def shortest(self, i: int) -> Number | None:
        """The reading of the fewest tokens at i: the hour in 'seven thirty'."""
        return min(self.at(i), key=lambda n: n.end, default=None)

    def one_or_many(self, i: int) -> Number | None:
        """The same as `best`, or 1 for an article: 'a minute ago', 'two minutes ago'."""
        found = self.best(i)
        return found if found or self._text(i) not in self.said.articles else Number(1.0, i + 1, word=True)

    def and_a_half(self, number: Number) -> Number:
        """The number with a fraction behind it: 'one and a half', '2 and a quarter', 'two and three quarters'."""
        said, j = self.said, number.end
        if self._text(j) not in said.joining:
            return number
        k, count = j + 1, 1.0
        if self._text(k) in said.articles:
            k += 1
        elif self._text(k) in said.ones:
            k, count = k + 1, said.ones[self._text(k)]
        elif self.tokens[k].kind == "number" if k < len(self.tokens) else False:
            fraction = self._fraction(k)
            if fraction:
                return number._replace(value=number.value + fraction.value, end=fraction.end)
            if self._text(k) in ("1", "2", "3"):
                k, count = k + 1, float(self._text(k))
        part = said.parts.get(singular(self._text(k)), 0.0) * count
        if 0 < part < 1 and self._text(k + 1) not in said.articles:
            return number._replace(value=number.value + part, end=k + 1)
        return number

    # ---- digits ------------------------------------------------------------------------------------------------

    def _numeral(self, i: int) -> list[Number]:
        fraction = self._fraction(i)
        if fraction:
            return [self._so_many(fraction)]
        number = written(self.tokens[i].text, i + 1)
        if number is None:
            return []
        if number.pointed or number.value >= MOST_READ:
            return [number]
        whole = number.value == int(number.value)
        if whole:
            behind = self._fraction(i + 1) if i + 1 < len(self.tokens) and self.tokens[i + 1].spaced else None
            if behind:
                return [behind._replace(value=number.value + behind.value)]
        after = self._text(i + 1)
        if after in self.said.scales:
            return [self._ended(n) for n in self._scaled(number.value, i + 1)]
        if whole and after in self.said.point:
            digits = self._digits(i + 2)
            if digits:
                return [Number(number.value + digits[0], digits[1])]
        if whole and after in self.said.comma:
            return [self._ended(number)]
        if whole and number.value < 10 and singular(after) in self.said.parts:
            return [self._so_many(Number(number.value * self.said.parts[singular(after)], i + 2, word=True))]
        if after in self.said.multiples and number.value < 100:
            return [Number(number.value * self.said.multiples[after], i + 2)]
        return [self.and_a_half(number) if whole else number]

    def _fraction(self, i: int) -> Number | None:
        """'1/2', '3/4': two small whole numbers without spaces; 80/20 and 3/1 are none."""
        if i + 2 >= len(self.tokens) or self._text(i + 1) != "/":
            return None
        top, bottom = self._text(i), self._text(i + 2)
        if not (top.isdecimal() and bottom.isdecimal() and len(top) <= 2 and len(bottom) <= 2):
            return None
        if int(bottom) not in FRACTION_PARTS or not 0 < int(top) < int(bottom):
            return None
        return Number(int(top) / int(bottom), i + 3)

    # ---- words -------------------------------------------------------------------------------------------------

    def _spoken(self, i: int) -> Iterator[Number]:
        said, word = self.said, self._text(i)
        if word in said.articles:
            yield from self._behind_article(i + 1)
            return
        if word in said.parts:
            if word in said.fractions or self._text(i + 1) in said.of:
                yield self._so_many(Number(said.parts[word], i + 1, word=True))
            return
        if word in said.point:
            digits = self._digits(i + 1)
            if digits:
                yield Number(digits[0], digits[1], word=True)
            return
        short = list(self._short_forms(i))
        for number in self._cardinals(i):
            yield self._ended(number._replace(word=True, cost=number.cost + PART_COST * bool(short)))
        for number in (*short, *self._heard(i)):
            yield self._ended(number._replace(word=True))

    def _behind_article(self, i: int) -> Iterator[Number]:
        """'a hundred and five', 'a dozen', 'a half', 'a third of a'."""
        said, word = self.said, self._text(i)
        if word in said.parts:
            yield self._so_many(Number(said.parts[word], i + 1, word=True))
        elif word in said.scales:
            for number in self._scaled(1.0, i):
                yield self._ended(number._replace(word=True))
        elif word in said.multiples:
            yield self._ended(Number(said.multiples[word], i + 1, word=True))

    def _cardinals(self, i: int) -> Iterator[Number]:
        """'forty two', 'two hundred and five', 'thirteen hundred', 'one thousand two hundred and fifty'."""
        said, word = self.said, self._text(i)
        if word in said.zeros or (word in said.zeros_inside and self._text(i + 1) in said.point):
            yield Number(0.0, i + 1)
        elif word in said.scales:
            if singular(word) == word:
                yield from self._scaled(1.0, i)
        elif word in said.multiples:
            if singular(word) == word:
                yield Number(said.multiples[word], i + 1)
        else:
            small = self._small(i)
            if small is not None:
                yield from self._scaled(small.value, small.end, small.cost)
                if small.end > i + 1:
                    yield Number(said.tens.get(word, small.value), i + 1, cost=PART_COST)

    def _small(self, i: int) -> Number | None:
        """A number below a hundred: 'seven', 'thirteen', 'forty', 'forty two', and 'forty too' before a unit."""
        said, word = self.said, self._text(i)
        if word in said.tens:
            ten, one = said.tens[word], self._text(i + 1)
            if one in said.ones:
                return Number(ten + said.ones[one], i + 2)
            if one in said.heard and self._text(i + 2) in self._units:
                return Number(ten + said.heard[one], i + 2, cost=HEARD_COST)
            return Number(ten, i + 1)
        for words in (said.ones, said.teens, said.glued):
            if word in words:
                return Number(words[word], i + 1)
        return None

    def _scaled(self, value: float, i: int, cost: float = 0.0) -> list[Number]:
        """The value with the hundreds and thousands that follow at i: all of it first, then where it may stop."""
        found = [Number(value, i)]
        if self._scale(i) == HUNDRED:
            found = self._tailed(value * HUNDRED, i + 1, HUNDRED)
        longest = found[0]
        if self._scale(longest.end) == THOUSAND:
            found = self._tailed(longest.value * THOUSAND, longest.end + 1, THOUSAND)
        return [n._replace(cost=n.cost + cost, heard=n.heard or cost > 0) for n in found]

    def _scale(self, i: int) -> float | None:
        return self.said.scales.get(self._text(i))

    def _tailed(self, value: float, i: int, below: int) -> list[Number]:
        """The value with a smaller number behind it, with or without 'and'; and, dearer, without that number."""
        tail = self._tail(i, below)
        if tail is None:
            return [Number(value, i)]
        return [tail._replace(value=value + tail.value), Number(value, i, cost=PART_COST)]

    def _tail(self, i: int, below: int) -> Number | None:
        """What may follow a hundred (a number below it), or a thousand, behind 'and' or a comma."""
        said = self.said
        joined = self._text(i) in said.joining or (below > HUNDRED and self._text(i) == ",")
        j = i + 1 if joined else i
        one = self._text(j)
        if one in said.heard and self._text(j + 1) in self._units:
            return Number(said.heard[one], j + 1, cost=HEARD_COST, heard=True)
        small = self._small(j)
        if small is None and joined and one.isdecimal() and len(one) <= 2 and self._text(j + 1) in self._units:
            small = Number(float(one), j + 1)
        if small is None or self._parted(small.end):
            return None
        if below > HUNDRED and self._scale(small.end) == HUNDRED and small.value < 10:
            return self._tailed(HUNDRED * small.value, small.end + 1, HUNDRED)[0]
        return small if self._scale(small.end) in (None, 10 * below) else None

    def _parted(self, i: int) -> bool:
        """Whether a fraction follows, so that the number before it counts its parts: 'a hundred and three quarters'."""
        return singular(self._text(i)) in self.said.parts and self._text(i) not in self.said.fractions

    def _short_forms(self, i: int) -> Iterator[Number]:
        """'two fifty' (250), 'three twenty five' (325), 'one oh five' (105), 'one eight zero' (180), 'fifty sixty'."""
        said = self.said
        head = self._small(i)
        if head is None or head.cost:
            return
        digits = self._digit_run(i)
        told = 0 in digits or (len(digits) > 2 and self._text(i + len(digits)) in self._units)
        if told and (len(digits) > 2 or not digits[-1]):
            yield Number(float("".join(map(str, digits))), i + len(digits), cost=SHORT_COST)
            return
        if self._text(head.end) in said.zeros_inside and self._text(head.end + 1) in said.ones:
            value = 100 * head.value + said.ones[self._text(head.end + 1)]
            yield Number(value, head.end + 2, cost=SHORT_COST)
            return
        behind = self._small(head.end)
        if behind is None or singular(self._text(behind.end)) in said.ordinals:
            return
        if self._neighbours(head.value, behind.value):
            whole = self._scaled(behind.value, behind.end)[0]
            if whole.end == behind.end and self._small(whole.end) is not None:
                return
            yield whole._replace(cost=SHORT_COST, spread=True)
        elif behind.value >= 10 and self._scale(behind.end) is None:
            yield Number(100 * head.value + behind.value, behind.end, cost=SHORT_COST)

    @staticmethod
    def _neighbours(first: float, second: float) -> bool:
        """Whether two numbers said in one breath may be the ends of a range: 'two three', 'fifteen twenty'."""
        if first < 10 and second < 10:
            return second == first + 1
        if first >= 20 and first % 10 == second % 10 == 0:
            return second > first
        return first >= 10 and first % 5 == second % 5 == 0 and 0 < second - first <= NEIGHBOURS

    def _digit_run(self, i: int) -> list[int]:
        """Digits said one by one from i on."""
        run: list[int] = []
        while len(run) < MOST_DIGITS:
            word = self._text(i + len(run))
            if word in self.said.ones:
                run.append(int(self.said.ones[word]))
            elif word in self.said.zeros_inside:
                run.append(0)
            else:
                break
        return run

    def _digits(self, i: int) -> tuple[float, int] | None:
        """What stands behind a dictated point, as a part of one: 'two five', 'twenty five', '25'."""
        run = self._digit_run(i)
        if run:
            return int("".join(map(str, run))) / 10 ** len(run), i + len(run)
        small = self._small(i)
        if small is not None and small.value >= 10 and self._scale(small.end) is None:
            return small.value / 100, small.end
        if self._text(i).isdecimal() and len(self._text(i)) <= 4:
            return int(self._text(i)) / 10 ** len(self._text(i)), i + 1
        return None

    def _heard(self, i: int) -> Iterator[Number]:
        """'ate ounces', 'to hundred grams': a word that sounds like a number where a number has to stand."""
        said, word, after = self.said, self._text(i), self._text(i + 1)
        if word not in said.heard:
            return
        before = self._text(i - 1) if i and self.tokens[i - 1].kind == "word" else ""
        if word in said.heard_only_behind and before and before not in said.heard_behind:
            return
        verb = word in said.heard_verbs
        if len(after) > 1 and after in self._units and not (verb and before in said.heard_never_behind):
            yield Number(said.heard[word], i + 1, cost=HEARD_COST, heard=True)
        elif after in said.scales and not verb:
            plain = self._scaled(1.0, i + 1)
            for number, alone in zip(self._scaled(said.heard[word], i + 1), plain, strict=True):
                other = alone.value if word in said.heard_prepositions else None
                yield number._replace(cost=number.cost + HEARD_COST, heard=True, other=other)

    def _ended(self, number: Number) -> Number:
        """The number with what may follow it: a dictated point and its digits, a fraction of it, a fraction more."""
        said, after = self.said, self._text(number.end)
        if after in said.point or (after in said.comma and number.value < HUNDRED):
            digits = self._digits(number.end + 1)
            if digits and (after in said.point or self._text(digits[1]) in self._units):
                value = number.value + digits[0]
                return number._replace(value=value, end=digits[1], listed=after in said.comma)
        part = said.parts.get(singular(after))
        if part and 0 < number.value < 10:
            return self._so_many(number._replace(value=number.value * part, end=number.end + 1))
        if after in said.multiples and number.value < 100:
            return self._so_many(number._replace(end=number.end))
        if number.end and self._text(number.end - 1) in said.multiples and after in said.of:
            return self._so_many(number._replace(end=number.end + 1))
        return self._so_many(self.and_a_half(number), article=False)

    def _so_many(self, number: Number, *, article: bool = True) -> Number:
        """The number times the dozen or the hundred behind it: 'half a dozen', 'a couple of hundred'."""
        said, end = self.said, number.end
        while article and (
            self._text(end) in said.articles or (self._text(end) in said.of and self._text(end + 1) in said.articles)
        ):
            end += 1
        times = said.multiples.get(self._text(end)) or (
            said.scales.get(self._text(end)) if number.value != int(number.value) or article else None
        )
        if times:
            return number._replace(value=number.value * times, end=end + 1)
        return number._replace(end=end)
