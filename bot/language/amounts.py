"""Reading amounts: numbers as cooks write them, units, sums, shares and ranges."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from bot.language.lexicon import Lexicon
from bot.language.meanings import Amount, Doubt
from bot.language.text import Token, singular, texts_of
from domain import quantities

FRACTION_PARTS = (2, 3, 4, 5, 8, 10)
IMPOSSIBLE_G = 25_000.0
"""Above this a grouped reading of '1,250 kg' cannot be meant (the limit for a whole batch)."""
LONGEST_NUMERAL = 15
"""Digits of a numeral that is read to the last; a longer one is only known to be too much."""
MOST_READ = 1e15
MOST_TERMS = 12
"""Terms of a sum that are added up; a longer one is no sum that a person types."""
DESCRIBING = frozenset({"level", "heaped", "heaping", "rounded", "generous", "scant", "full", "flat", "big", "good"})
"""Words between a number and its unit that change neither."""
COUNTED_UP_TO = 12
"""A sum of bare numbers above this is of grams: nobody adds up that many pieces (rule 11)."""
SMALLEST_UNREADABLE = 10**15


@dataclass(frozen=True, slots=True)
class Number:
    """A number as read: its value, the other value where the sign in it is doubtful, and where it ends."""

    value: float
    end: int
    other: float | None = None
    pointed: bool = False
    """Written '1.250': a decimal point, or a foreign thousands mark."""
    word: bool = False


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
    if text.count(".") > 1:
        return None
    value = MOST_READ if len(text) > LONGEST_NUMERAL else min(float(text), MOST_READ)
    if "e" in text.lower():
        return Number(value, end) if value > IMPOSSIBLE_G else None
    if "." in text and len(text.split(".")[1]) == 3 and not text.startswith("0"):
        return Number(value, end, other=float(text.replace(".", "")), pointed=True)
    return Number(value, end)


class AmountReader:
    """Reads amounts off a message's tokens. Every method returns None where nothing of its kind begins."""

    def __init__(self, tokens: Sequence[Token], words: Lexicon) -> None:
        self.tokens = tokens
        self.words = words
        # Several readers ask for the same place.
        self._text = texts_of(tokens)
        self._numbers: dict[int, Number | None] = {}
        self._quantities: dict[int, tuple[Amount, int] | None] = {}

    def number(self, i: int) -> Number | None:
        """A numeral, a fraction, a number word, or a numeral with a fraction behind it."""
        if i not in self._numbers:
            kind = self.tokens[i].kind if 0 <= i < len(self.tokens) else ""
            self._numbers[i] = (
                self._numeral(i) if kind == "number" else self._number_word(i) if kind == "word" else None
            )
        return self._numbers[i]

    def _numeral(self, i: int) -> Number | None:
        fraction = self._fraction(i)
        if fraction:
            return fraction
        number = written(self.tokens[i].text, i + 1)
        if number is None:
            return None
        if number.value == int(min(number.value, SMALLEST_UNREADABLE)) and not number.pointed:
            behind = self._fraction(i + 1) if i + 1 < len(self.tokens) and self.tokens[i + 1].spaced else None
            if behind and behind.value < 1:
                return Number(number.value + behind.value, behind.end)
            return self._and_a_half(number)
        return number

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

    def _and_a_half(self, number: Number) -> Number:
        """'one and a half', '2 and a quarter'."""
        j = number.end
        if self._text(j) in ("and", "&"):
            k = j + 2 if self._text(j + 1) in ("a", "an", "one", "1") else j + 1
            part = self.words.fractions.get(self._text(k))
            if part and part < 1 and self._text(k + 1) not in ("a", "an"):
                return Number(number.value + part, k + 1, word=number.word)
        return number

    def _number_word(self, i: int) -> Number | None:
        word = self._text(i)
        if word in ("a", "an") and self._text(i + 1) in ("half", "quarter", "third", "dozen", "couple"):
            return self._number_word(i + 1)
        if word in ("couple",):
            return Number(2, i + 2 if self._text(i + 1) == "of" else i + 1, word=True)
        if word in self.words.fractions:
            return self._word_fraction(i, 1)
        if word not in self.words.numbers:
            return None
        value, end = self.words.numbers[word], i + 1
        tens = self.words.numbers.get(self._text(end).lstrip("-"), 0)
        if 20 <= value < 100 and 0 < tens < 10:
            value, end = value + tens, end + 1
        if self._text(end) == "hundred":
            value, end = value * 100, end + 1
            rest_at = end + 1 if self._text(end) == "and" else end
            rest = self._number_word(rest_at) if self._text(rest_at) in self.words.numbers else None
            if rest and 0 < rest.value < 100:
                value, end = value + rest.value, rest.end
        parts = self.words.fractions.get(singular(self._text(end)))
        if parts and value < 10 and word not in ("dozen",):
            return self._word_fraction(end, value)
        return self._and_a_half(Number(value, end, word=True))

    def _word_fraction(self, i: int, count: float) -> Number:
        value = count * self.words.fractions[singular(self._text(i))]
        end = i + 1
        while self._text(end) in ("a", "an") or (self._text(end) == "of" and self._text(end + 1) in ("a", "an")):
            end += 1
        if self._text(end) == "dozen":
            value, end = value * 12, end + 1
        return Number(value, end, word=True)

    def unit(self, i: int) -> tuple[Literal["mass", "volume"], str, int] | None:
        """(kind, unit, end) of a unit's name (`domain/units.csv`)."""
        if i >= len(self.tokens):
            return None
        if phrase := self._unit_phrase(i):
            unit, end = phrase
        else:
            raw = self.tokens[i].raw
            word = raw if raw in self.words.volume_units else self._text(i)  # T is a tablespoon, t a teaspoon
            named = self.words.mass_units.get(word) or self.words.volume_units.get(word)
            if named is None:
                return None
            unit, end = named, i + 1
        return "mass" if unit in quantities.MASS_UNITS else "volume", unit, self._dot(end)

    def _unit_phrase(self, i: int) -> tuple[str, int] | None:
        """A name of several words ('fl oz', 'fl. oz', 'fluid-ounces')."""
        for words, unit in self.words.unit_phrases:
            j = i
            for word in words:
                while j > i and self._text(j) in (".", "-"):
                    j += 1
                if self._text(j) != word:
                    break
                j += 1
            else:
                return unit, j
        return None

    def _dot(self, i: int) -> int:
        """Past the full stop of an abbreviated unit ("oz.") when the sentence clearly goes on."""
        if self._text(i) == "." and i < len(self.tokens) and not self.tokens[i].spaced:
            after = self.tokens[i + 1] if i + 1 < len(self.tokens) else None
            if after is not None and after.kind != "newline" and not after.raw[:1].isupper():
                return i + 1
        return i

    def quantity(self, i: int) -> tuple[Amount, int] | None:
        """A number with its unit ('1 lb 4 oz', 'half a pound'), or a bare number."""
        if i not in self._quantities:
            self._quantities[i] = self._quantity(i)
        return self._quantities[i]

    def _quantity(self, i: int) -> tuple[Amount, int] | None:
        number = self.number(i) or self._lone_unit(i)
        if number is None:
            return None
        at = number.end
        if self._text(at) == "-" and not self.tokens[at].spaced and self.unit(at + 1):
            at += 1
        while self._text(at) in DESCRIBING and self.unit(at + 1):
            at += 1
        if self._text(at) in ("a", "an", "of") and number.word and self._text(at + 1) and self.unit(at + 1):
            at += 1
        unit = self.unit(at)
        if unit is None:
            doubt: Doubt | None = "point" if number.pointed else None
            return Amount(
                kind="bare",
                value=number.value,
                text=self._said(i, number.end),
                doubt=doubt,
                other=number.other if number.pointed else None,
            ), number.end
        kind, name, end = unit
        if kind == "volume":
            extra = self._and_a_half(Number(number.value, end))
            return Amount(kind="volume", value=extra.value, unit=name, text=self._said(i, extra.end)), extra.end
        return self._mass(i, number, name, end)

    def _lone_unit(self, i: int) -> Number | None:
        """'kilo of potatoes', 'pound and a half of beef': a unit without a number is one."""
        before = self._text(i - 1)
        if (
            self._text(i) not in ("kilo", "kilogram", "pound", "litre", "liter")
            or (i and self.number(i - 1))
            or before in ("per", "a", "the", "each", "/")
        ):
            return None
        return Number(1, i, word=True) if self._text(i + 1) in ("of", "and") else None

    def _mass(self, i: int, number: Number, unit: str, end: int) -> tuple[Amount, int]:
        value = number.value
        doubt: Doubt | None = None
        other: float | None = None
        if number.pointed and unit == "g":
            doubt, other = "point", number.other
        elif number.other is not None and unit != "g" and quantities.grams(value, unit) > IMPOSSIBLE_G:
            value = number.other
        half = self._and_a_half(Number(value, end))
        value, end = half.value, half.end
        grams = quantities.grams(value, unit)
        smaller = {"lb": "oz", "st": "lb", "kg": "g"}.get(unit)
        if smaller:
            j = end + 1 if self._text(end) in ("and", "&") else end
            more = self.number(j)
            second = self.unit(more.end) if more else None
            if more and second and second[1] == smaller:
                grams += quantities.grams(more.value, smaller)
                end = second[2]
                return Amount(kind="mass", value=grams, unit="g", grams=grams, text=self._said(i, end)), end
        read = Amount(
            kind="mass", value=value, unit=unit, grams=grams, text=self._said(i, end), doubt=doubt, other=other
        )
        return read, end

    def _said(self, start: int, end: int) -> str:
        parts = [(" " if t.spaced and n else "") + t.raw for n, t in enumerate(self.tokens[start:end])]
        return "".join(parts)

    def amount(self, i: int) -> tuple[Amount, int] | None:
        """A quantity with whatever is reckoned with it: a sum, a difference, a product, a range, a share."""
        negative = self._negative(i)
        if negative:
            return negative
        share = self._share(i)
        if share:
            return share
        left = self.quantity(i)
        if left is None:
            return None
        read, end = left
        if self._text(i - 1) == "between" and self._text(end) in ("and", "&", "-"):
            upper = self.quantity(end + 1)
            if upper is not None:
                return replace(upper[0], doubt="range", text=self._said(i, upper[1])), upper[1]
        for _ in range(MOST_TERMS):
            more = self._operation(i, read, end)
            if more is None:
                break
            read, end = more
        return read, end

    def _negative(self, i: int) -> tuple[Amount, int] | None:
        word = self._text(i)
        glued = word == "-" and self.tokens[i].spaced and i + 1 < len(self.tokens) and not self.tokens[i + 1].spaced
        if (i and self.tokens[i - 1].kind == "newline") or i == 0:
            glued = glued and word == "-"
        if word in ("minus", "negative") or glued:
            before = self.tokens[i - 1] if i else None
            if before is not None and before.kind == "number":
                return None
            right = self.quantity(i + 1)
            if right:
                read, end = right
                grams = -read.grams if read.grams is not None else None
                return replace(read, value=-read.value, grams=grams, doubt="negative", text=self._said(i, end)), end
        return None

    def _share(self, i: int) -> tuple[Amount, int] | None:
        """'half of 250 g', '2/3 of the 300 g', '30 % of 400 g': the product."""
        number = self.number(i)
        if number is None:
            return None
        end, part = number.end, number.value
        if self._text(end) == "%":
            end, part = end + 1, part / 100
        elif not 0 < part < 1:
            return None
        if self._text(end) == "of":
            end += 1
        elif self._text(end) not in ("the", "that", "my", "this"):
            return None
        while self._text(end) in ("the", "that", "my", "this", "a", "an", "those"):
            end += 1
        whole = self.quantity(end)
        if whole is None or whole[0].kind != "mass" or whole[0].grams is None or whole[0].doubt:
            return None
        grams = part * whole[0].grams
        return Amount(kind="mass", value=grams, unit="g", grams=grams, text=self._said(i, whole[1])), whole[1]

    def _operation(self, start: int, left: Amount, end: int) -> tuple[Amount, int] | None:
        sign = self._text(end)
        op = {
            "+": "+",
            "plus": "+",
            "-": "-",
            "minus": "-",
            "less": "-",
            "x": "x",
            "*": "x",
            "times": "x",
            "to": "to",
        }.get(sign)
        if op is None or (left.kind == "volume" and op != "to" and op != "-"):
            return None
        right = self.quantity(end + 1)
        if right is None or singular(self._text(right[1])) in self.words.parts:
            return None
        other, after = right
        if op == "x":
            return self._product(start, left, other, after)
        if (op in ("to", "-") and left.kind == other.kind == "volume") or (
            other.kind == "volume" and left.kind == "bare"
        ):
            return replace(other, doubt="range", text=self._said(start, after)), after
        if "volume" in (left.kind, other.kind):
            return None
        a, b = self._shared_unit(left, other)
        if op == "+":
            both = left.kind == "mass" and other.kind == "mass" and any(c.isalpha() for c in left.text)
            if both and self._spaced(end):
                return None
            total = a + b
            return self._reckoned(start, after, total, left, other)
        if op == "-" and a > b:
            if other.kind == "bare" and left.kind == "mass" and left.unit != "g":
                return None
            return self._reckoned(start, after, a - b, left, other)
        return replace(self._reckoned(start, after, b, left, other)[0], doubt="range"), after

    def _spaced(self, i: int) -> bool:
        return self.tokens[i].spaced and i + 1 < len(self.tokens) and self.tokens[i + 1].spaced

    def _product(self, start: int, left: Amount, right: Amount, end: int) -> tuple[Amount, int] | None:
        if left.kind == "bare" and right.kind == "mass" and right.grams is not None:
            grams = left.value * right.grams
        elif left.kind == "mass" and right.kind == "bare" and left.grams is not None:
            grams = left.grams * right.value
        elif left.kind == right.kind == "bare":
            value = left.value * right.value
            return Amount(kind="bare", value=value, text=self._said(start, end)), end
        else:
            return None
        return Amount(kind="mass", value=grams, unit="g", grams=grams, text=self._said(start, end)), end

    @staticmethod
    def _shared_unit(left: Amount, right: Amount) -> tuple[float, float]:
        """Both values in grams, or both bare; a side without a unit takes the other side's."""
        if left.grams is not None and right.grams is not None:
            return left.grams, right.grams
        if right.grams is not None:
            return quantities.grams(left.value, right.unit), right.grams
        if left.grams is not None:
            return left.grams, quantities.grams(right.value, left.unit)
        return left.value, right.value

    def _reckoned(self, start: int, end: int, value: float, left: Amount, right: Amount) -> tuple[Amount, int]:
        weights = left.value > COUNTED_UP_TO and right.value > COUNTED_UP_TO
        if left.kind == "mass" or right.kind == "mass" or weights:
            return Amount(kind="mass", value=value, unit="g", grams=value, text=self._said(start, end)), end
        return Amount(kind="bare", value=value, text=self._said(start, end)), end
