"""Reading amounts: numbers as cooks write them, units, sums, shares and ranges."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from bot.language.lexicon import Lexicon
from bot.language.meanings import Amount, Doubt
from bot.language.numbers import IMPOSSIBLE_G, Number, NumberReader
from bot.language.text import Token, singular, texts_of
from domain import quantities

MOST_TERMS = 12
"""Terms of a sum that are added up; a longer one is no sum that a person types."""
DESCRIBING = frozenset({"level", "heaped", "heaping", "rounded", "generous", "scant", "full", "flat", "big", "good"})
"""Words between a number and its unit that change neither."""
COUNTED_UP_TO = 12
"""A sum of bare numbers above this is of grams: nobody adds up that many pieces (rule 11)."""


class AmountReader:
    """Reads amounts off a message's tokens. Every method returns None where nothing of its kind begins."""

    def __init__(self, tokens: Sequence[Token], words: Lexicon) -> None:
        self.tokens = tokens
        self.words = words
        self.numbers = NumberReader(tokens, words.units)
        # Several readers ask for the same place.
        self._text = texts_of(tokens)
        self._quantities: dict[int, tuple[Amount, int] | None] = {}

    def number(self, i: int) -> Number | None:
        """The likeliest number that begins at token i."""
        return self.numbers.best(i)

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
        doubt = self._doubt(i, number)
        if unit is None:
            return Amount(
                kind="bare",
                value=number.value,
                text=self._said(i, number.end),
                doubt=doubt,
                other=number.other if doubt == "point" else None,
            ), number.end
        kind, name, end = unit
        if kind == "volume":
            extra = self.numbers.and_a_half(Number(number.value, end))
            text = self._said(i, extra.end)
            doubt = doubt if doubt == "range" else None
            return Amount(kind="volume", value=extra.value, unit=name, text=text, doubt=doubt), extra.end
        return self._mass(i, number, name, end)

    def _doubt(self, i: int, number: Number) -> Doubt | None:
        """Why a number by itself is doubtful: two that were said in one breath, a point or a word of two readings."""
        before = self.tokens[i - 1] if i else None
        named = before is not None and before.kind == "word" and before.text not in self.words.filler
        if number.spread or (number.listed and named):
            return "range"
        return "point" if number.pointed or (number.heard and number.other is not None) else None

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
        doubt = self._doubt(i, number)
        other: float | None = None
        if doubt == "point" and unit == "g":
            other = number.other
        elif doubt == "point":
            doubt = None if number.pointed else "range"
        elif number.other is not None and unit != "g" and quantities.grams(value, unit) > IMPOSSIBLE_G:
            value = number.other
        half = self.numbers.and_a_half(Number(value, end))
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
