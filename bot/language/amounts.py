"""Reading amounts: numbers as cooks write them, units, sums, shares and ranges."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property
from itertools import takewhile
from typing import Literal

from bot.language.lexicon import Lexicon
from bot.language.numbers import IMPOSSIBLE_G, Number, NumberReader, written
from bot.language.reckoning import reckoning
from bot.language.text import Token, singular
from bot.language.told import Amount, Doubt
from bot.language.word_lists import word_lists
from domain import quantities
from domain.quantities import Region

MOST_OCLOCK = 12
"""What '20 to 12' may say of the clock."""
MOST_TERMS = 12
"""Terms of a sum that are added up; a longer one is no sum that a person types."""
WORDS = word_lists("telling")
MOST_SMALLER = 20
"""A bare number behind pounds or stones is in the smaller unit, of which one holds fewer than this."""
COUNTED_UP_TO = 12
"""A sum of bare numbers above this is in grams: nobody adds up that many pieces."""
LEAST_OUNCES = 2
"""From this on a bare number between pounds and a word in the singular is ounces: '1 lb 1 onion' counts."""
MOST_NOUN_WORDS = 5
"""Words behind such a number that may name what it counts."""


class AmountReader:
    """Reads amounts off a message's tokens. Every method returns None where nothing of its kind begins."""

    def __init__(self, tokens: Sequence[Token], words: Lexicon, region: Region) -> None:
        self.tokens = tokens
        self.region = region
        self._operations = reckoning().operations
        self.words = words
        self.numbers = NumberReader(tokens, words.units)
        self._text = self.numbers.text
        # Several readers ask for the same place.
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
            goes_on = after is not None and after.kind != "newline" and after.text not in WORDS["begins_another"]
            if after is not None and goes_on and not after.raw[:1].isupper():
                next_food = after.kind == "word" and not self.words.knows(after.text) and self._ends_with_amount
                return i if next_food else i + 1
        return i

    @cached_property
    def _ends_with_amount(self) -> bool:
        """Whether the text ends with an amount, so that foods stand before theirs: 'hot dogs 90g. mustard 12g'."""
        told = [n for n, token in enumerate(self.tokens) if token.kind == "number"]
        behind = [token for token in self.tokens[told[-1] + 1 :] if token.kind == "word"] if told else []
        return bool(told) and all(token.text in self.words.units for token in behind)

    def quantity(self, i: int) -> tuple[Amount, int] | None:
        """A number with its unit ('1 lb 4 oz', 'half a pound'), or a bare number."""
        if i not in self._quantities:
            self._quantities[i] = self._quantity(i)
        return self._quantities[i]

    def _quantity(self, i: int) -> tuple[Amount, int] | None:
        number = self._misheard(i) or self.number(i) or self._lone_unit(i)
        if number is None:
            return None
        at = number.end
        if self._text(at) == "-" and not self.tokens[at].spaced and self.unit(at + 1):
            at += 1
        while self._text(at) in WORDS["before_unit"] and self.unit(at + 1):
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

    def _misheard(self, i: int) -> Number | None:
        """'rice to hundred grams': a hundred, or two of them that were heard wrong."""
        said = self.numbers.said
        sounds = self._text(i - 1) in said.heard_only_behind and self._text(i) in said.scales
        if not sounds or self._text(i - 2) in ("", *said.heard_behind) or self.words.knows(self._text(i - 2)):
            return None
        number = self.number(i)
        if number is None:
            return None
        other = number.value + (said.heard[self._text(i - 1)] - 1) * said.scales[self._text(i)]
        return number._replace(heard=True, other=other)

    def _lone_unit(self, i: int) -> Number | None:
        """'kilo of potatoes', 'pound and a half of beef': a unit without a number is one."""
        before = self._text(i - 1)
        if (
            self._text(i) not in WORDS["lone_units"]
            or (i and self.number(i - 1))
            or before in WORDS["before_no_lone_unit"]
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
        several = self._several(i, number, end)
        if several is not None:
            doubt, other = "each", quantities.grams(several, unit)
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
            if more and number.value == int(number.value) and self._ends_weight(end, more, unit, smaller):
                grams += quantities.grams(more.value, smaller)
                text = self._said(i, more.end)
                return Amount(kind="mass", value=grams, unit="g", grams=grams, text=text), more.end
        read = Amount(
            kind="mass", value=value, unit=unit, grams=grams, text=self._said(i, end), doubt=doubt, other=other
        )
        return read, end

    def _ends_weight(self, i: int, more: Number, unit: str, smaller: str) -> bool:
        """Whether a bare number right behind pounds or stones is the smaller unit ('9 lb 2'), not a count of things."""
        in_one = round(quantities.grams(1, unit) / quantities.grams(1, smaller))
        if in_one > MOST_SMALLER or not 0 < more.value < in_one:
            return False
        after = self._text(more.end)
        if more.value != int(more.value) or more.end != i + 1 or self.unit(more.end) is not None:
            return False
        if not after or self.tokens[more.end].kind == "newline" or after in WORDS["behind_ounces"]:
            return True
        # '2 lb 6 minced beef', but '2 lb 3 large eggs', 'mince 2 lb 1 onion'
        behind = takewhile(str.isalpha, (self._text(n) for n in range(more.end, more.end + MOST_NOUN_WORDS)))
        if more.value < LEAST_OUNCES or not after.isalpha() or len(after) < 4 or after in WORDS["no_ounces_before"]:
            return False
        return all(singular(word) == word for word in behind)

    def _several(self, i: int, number: Number, end: int) -> float | None:
        """'two fifty gram patties': what two of fifty come to, where the number may be 250 too; else None."""
        noun = self._text(end)
        named = self._text(number.end) == singular(self._text(number.end)) and len(self._text(number.end)) > 2
        if not number.word or not named or self.tokens[end - 1].kind != "word" or noun in self.words.filler:
            return None
        plural = any(singular(self._text(j)) != self._text(j) for j in range(end, end + 2))
        for count in self.numbers.at(i)[1:]:
            each = self.numbers.best(count.end)
            if plural and 2 <= count.value <= COUNTED_UP_TO and each is not None and each.end == number.end:
                return count.value * each.value
        return None

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
        if self._text(i - 1) in WORDS["between"] and self._text(end) in ("and", "&", "-"):
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
        if word in WORDS["negative"] or glued:
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
        part, end = self.part(i)
        if not 0 < part < 1:
            return None
        if self._text(end) in self.numbers.said.of or self._text(end) in WORDS["out_of_a_pack"]:
            end += 1
        elif self._text(end - 1) in ("a", "an") and self._text(end - 2) in self.numbers.said.of:
            pass  # 'half of a 200 g block'
        elif self._text(end) not in WORDS["pointing_determiners"]:
            return None
        while self._text(end) in WORDS["determiners"] or self._text(end) in WORDS["packs"]:
            end += 1
        whole = self.quantity(end)
        if whole is None or whole[0].kind != "mass" or whole[0].grams is None or whole[0].doubt:
            return None
        grams = part * whole[0].grams
        return Amount(kind="mass", value=grams, unit="g", grams=grams, text=self._said(i, whole[1])), whole[1]

    def part(self, i: int) -> tuple[float, int]:
        """(the share that is said at i, where it ends): 'half', '2/3', '30 %', '3/12'; 0 where there is none."""
        percent = (
            written(self._text(i)[:-1], i + 1)
            if self._text(i)[:1].isdecimal() and self._text(i).endswith("%")
            else None
        )
        if percent is not None:
            return percent.value / 100, percent.end
        top, bottom = self._text(i), self._text(i + 2)
        if self._text(i + 1) == "/" and top.isdecimal() and bottom.isdecimal() and len(top) < 3 and len(bottom) < 3:
            return (int(top) / int(bottom), i + 3) if 0 < int(top) < int(bottom) else (0.0, i)
        number = self.number(i)
        return (number.value, number.end) if number is not None and 0 < number.value < 1 else (0.0, i)

    def _operation(self, start: int, left: Amount, end: int) -> tuple[Amount, int] | None:
        op = self._operations.get(self._text(end))
        if op is None or (op == "and" and left.kind != "volume") or left.doubt == "range":
            return None
        right = self.quantity(end + 1)
        if right is None or singular(self._text(right[1])) in self.words.parts:
            return None
        other, after = right
        if op == "x" or (op == "at" and left.kind in ("bare", "count") and other.kind == "mass"):
            return self._product(start, left, other, after)
        if op == "at":
            return None
        if "volume" in (left.kind, other.kind):
            return self._of_volumes(start, op, left, other, after)
        a, b = self._shared_unit(left, other)
        if op == "+":
            if other.text.isalpha() and left.kind == "mass" and self._text(after).isalpha():
                return None  # '6 oz plus two fried eggs'
            both = left.kind == "mass" and other.kind == "mass" and any(c.isalpha() for c in left.text)
            if both and self._spaced(end):
                return None
            total = a + b
            return self._reckoned(start, after, total, left, other)
        # "went from 1120 to 865", "the tub: 908 to 877"; a range would grow, and "200 to 150 g rice" is neither
        alone = b > MOST_OCLOCK and not self._text(after).isalpha()
        went_down = op == "to" and a > b and (alone or self._text(start - 1) == "from")
        if (op == "-" or went_down) and a > b:
            if other.kind == "bare" and left.kind == "mass" and left.unit != "g":
                return None
            return self._reckoned(start, after, a - b, left, other)
        return replace(self._reckoned(start, after, b, left, other)[0], doubt="range"), after

    def _of_volumes(self, start: int, op: str, left: Amount, right: Amount, end: int) -> tuple[Amount, int] | None:
        """'1/2 cup plus 2 tbsp', '1 cup and 2 tbsp' in millilitres; '1 to 2 cups' is a range."""
        if op in ("to", "-", "or"):
            ranged = right.kind == "volume" and left.kind in ("volume", "bare")
            return (replace(right, doubt="range", text=self._said(start, end)), end) if ranged else None
        if left.kind != "volume" or right.kind != "volume" or left.doubt or right.doubt:
            return None
        first, second = (quantities.millilitres(a.value, a.unit, self.region) for a in (left, right))
        smaller = quantities.millilitres(1, right.unit, self.region) < quantities.millilitres(1, left.unit, self.region)
        if op == "and" and not smaller:
            return None
        text = self._said(start, end)
        if left.unit == right.unit:
            return Amount(kind="volume", value=left.value + right.value, unit=left.unit, text=text), end
        return Amount(kind="volume", value=first + second, unit="ml", text=text), end

    def _spaced(self, i: int) -> bool:
        return self.tokens[i].spaced and i + 1 < len(self.tokens) and self.tokens[i + 1].spaced

    def _product(self, start: int, left: Amount, right: Amount, end: int) -> tuple[Amount, int] | None:
        text = self._said(start, end)
        many, one = (left, right) if left.kind == "bare" else (right, left)
        if many.kind != "bare" or (one.kind == "volume" and many is right):
            return None
        value = many.value * (one.value if one.grams is None else one.grams)
        if one.kind == "mass" and one.grams is not None:
            return Amount(kind="mass", value=value, unit="g", grams=value, text=text, times=many.value), end
        if one.kind == "volume":
            return Amount(kind="volume", value=value, unit=one.unit, text=text, times=many.value), end
        return (Amount(kind="bare", value=value, text=text), end) if one.kind == "bare" else None

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
