"""Numbers that are no amounts: list marks, prices, energy, nutrient figures, temperatures, durations."""

from __future__ import annotations

import re

from bot.language.belongings import FROM, read_batch_name
from bot.language.chunks import Chunk, Line
from bot.language.number_words import number_words
from bot.language.pack import pack
from bot.language.told import Amount

_CENTS = re.compile(r"[0-9]+[.,][0-9]{2}")
MOST_NAMED = 8
"""Tokens before a factor that may name what is multiplied."""
LISTING = frozenset({",", ";", ".", ":", "+", "&"})
CURRENCY = frozenset("$£€¥")
MACROS = {
    "protein": "protein_g", "prot": "protein_g", "fat": "fat_g", "carb": "carbohydrate_g",
    "carbohydrate": "carbohydrate_g", "carbo": "carbohydrate_g", "fibre": "fibre_g", "fiber": "fibre_g",
    "sugar": "sugars_g", "salt": "salt_g", "alcohol": "alcohol_g", "sat": "saturated_g", "saturate": "saturated_g",
    "polyol": "polyols_g", "sodium": "sodium_mg",
}  # fmt: skip
GLUED_MACROS = {"p": "protein_g", "f": "fat_g", "c": "carbohydrate_g"}
"""Shorthand that counts only when glued to its number: 200p 70f 300c."""
ENERGY = frozenset({"kcal", "kcals", "cal", "cals", "calorie", "calories", "kilocalories", "kj", "kc"})
SPANS = frozenset(
    {"min", "mins", "minute", "minutes", "hour", "hours", "hr", "hrs", "sec", "secs", "second", "seconds"}
    | {"day", "days", "week", "weeks", "months", "years", "km", "reps", "steps", "people", "persons", "times"}
)
MONEY = frozenset({"euro", "euros", "dollars", "pence", "quid", "usd", "eur", "gbp", "bucks"})
DEGREES = frozenset({"degree", "degrees", "deg", "°"})
HEADS = frozenset({"powder", "bar", "free", "shake", "yogurt", "yoghurt", "pancake", "bread", "granola"})
"""Words that make a food of a nutrient word before them ('protein bar')."""

POLITE_IFS = tuple(
    tuple(phrase.split())
    for phrase in (
        "if you would mind", "if you wouldn't mind", "if you wouldnt mind", "if you don't mind", "if you dont mind",
        "if you would be so kind", "if you'd be so kind", "if you would like", "if you would", "if you could",
        "if you can", "if you will", "if you please", "if you may", "if i may", "if i might", "if you like",
        "if that is ok", "if that's ok", "if thats ok", "if that is okay", "if that's okay", "if that's all right",
    )
)  # fmt: skip
"""What is said out of politeness, whatever it would mean by itself; a longer phrase comes before its beginning."""
TIMING = frozenset({"for", "at", "as", "during", "on"})
"""Words before a meal or a day that say when something was eaten, whatever comes next ('for breakfast cereal 40 g')."""


LIST_MARKS = frozenset({"-", "*", ">"})
FAT_SHARE = frozenset({"with", "at", "of", "fat"})
"""The small words of 'with 0 % of fat'."""
SOME = frozenset({"couple", "few", "number"})


def begins_list_mark(text: str) -> bool:
    """Whether a list mark can begin with such a token."""
    return text in LIST_MARKS or text.isdecimal()


def read_list_mark(line: Line, i: int) -> Chunk | None:
    """A bullet or '2)' at the start of a line."""
    starts = i == 0 or line.tokens[i - 1].kind == "newline"
    if not starts:
        return None
    if line.text(i) in LIST_MARKS and i + 1 < len(line.tokens) and line.tokens[i + 1].spaced:
        return line.make("noise", i, i + 1)
    if line.text(i).isdecimal() and len(line.text(i)) < 3 and line.text(i + 1) in (")", "."):
        after = line.tokens[i + 2] if i + 2 < len(line.tokens) else None
        if after is not None and after.spaced and after.kind != "newline":
            return line.make("noise", i, i + 2)
    return None


def read_times(line: Line, i: int) -> Chunk | None:
    """'x2' behind a food: twice."""
    if (
        line.text(i) != "x"
        or line.text(i + 1) not in ("2", "3")
        or line.tokens[i + 1].spaced
        or line.amounts.unit(i + 2)
    ):
        return None
    before = line.tokens[i - 1].kind if i else "sign"
    if before != "word" or not line.tokens[i].spaced:
        return None
    if not _numbered(line, i):  # 'fried egg x2 bacon x2'
        times = float(line.text(i + 1))
        return line.make("amount", i, i + 2, amount=Amount(kind="count", value=times, text=line.text(i + 1)))
    chunk = line.make("word", i, i + 2)
    return chunk._replace(text="twice" if line.text(i + 1) == "2" else "thrice")


def _numbered(line: Line, i: int) -> bool:
    """Whether a number stands before token i in the same part of its list, one that is multiplied already aside."""
    for j in range(i - 1, max(-1, i - MOST_NAMED), -1):
        token = line.tokens[j]
        if token.kind == "number" or line.amounts.numbers.best(j) is not None:
            return line.text(j - 1) != "x"
        if token.kind == "newline" or token.text in LISTING:
            return False
    return False


def read_price(line: Line, i: int) -> Chunk | None:
    """'£3.40 a kilo'."""
    if line.text(i - 1) == "(" and CURRENCY & {line.text(i), line.text(i + 1)}:
        return line.make("noise", i, i + 2)
    if line.text(i) in CURRENCY and i + 1 < len(line.tokens) and line.tokens[i + 1].kind == "number":
        end = i + 2
        if line.text(end) in ("a", "per", "/", "for", "the") and line.amounts.unit(end + 1):
            end += 2
        return line.make("price", i, end)
    if line.tokens[i].kind != "number":
        return None
    if line.text(i + 1) in CURRENCY or line.text(i + 1) in MONEY:
        return line.make("price", i, i + 2)
    if _CENTS.fullmatch(line.text(i)) and line.text(i + 1) == "for" and line.amounts.quantity(i + 2) is not None:
        return line.make("price", i, i + 2)
    if line.text(i - 1) in pack()["before_price"] and _CENTS.fullmatch(line.text(i)) and not line.amounts.unit(i + 1):
        return line.make("price", i, i + 1)
    return None


def begins_noise(text: str) -> bool:
    """Whether words that add nothing can begin with such a token."""
    begins = text == "if" or text in FAT_SHARE or text in SOME or text in number_words().openers
    return begins or text in pack()["places_like_food"].words or text in pack()["the_pieces"]


def read_noise(line: Line, i: int) -> Chunk | None:
    """Words that add nothing: politeness, 'a couple of things', 'two hours'."""
    if _fat_share(line, i):
        return line.make("noise", i, i + 1)
    polite = _polite(line, i) if line.text(i) == "if" else None
    if polite is not None:
        return polite
    pieces = line.amounts.number(i + 1) if line.text(i) in pack()["the_pieces"] else None
    together = pack()["of_them"].end(line.plain, pieces.end) if pieces is not None else None
    if together is not None and line.text(together) not in line.words.eating:
        return line.make("noise", i, together)  # '29 g the two of them', but not 'the two of them had 29 g'
    place = pack()["places_like_food"].end(line.plain, i)
    if place is not None:
        return line.make("noise", i, place)
    of = 1 if line.text(i + 1) == "of" else 0
    if line.text(i) in SOME and line.text(i + 1 + of) in ("things", "bits", "items"):
        return line.make("noise", i, i + 2 + of)
    if (
        line.text(i) in ("a", "an")
        and line.text(i + 1) in ("couple", "few")
        and "things" in (line.text(i + 2), line.text(i + 3))
    ):
        return line.make("noise", i, i + 3)
    number = line.amounts.number(i)
    if number is not None and line.text(number.end) in SPANS - {"times"}:
        past = line.text(number.end + 1) in ("ago", "back", "earlier")
        return None if past else line.make("noise", i, number.end + 1)
    return None


def read_no_amount(line: Line, i: int) -> Chunk | None:
    """Energy, temperatures, durations: numbers that are no amounts."""
    unit, raw = line.text(i + 1), line.tokens[i + 1].raw if i + 1 < len(line.tokens) else ""
    if line.text(i - 1) == "per" and line.amounts.unit(i + 1):
        return line.make("noise", i, i + 2)
    if unit in ENERGY:
        value = line.amounts.quantity(i)
        return line.make("energy", i, i + 2, amount=value[0] if value else None, field=unit)
    if unit in DEGREES or raw in ("C", "F", "ºC", "°C"):
        end = i + 3 if line.text(i + 2) in ("c", "f", "celsius", "fahrenheit", "centigrade") else i + 2
        return line.make("noise", i, end)
    if unit in SPANS:
        return None if line.text(i + 2) in ("ago", "back", "earlier") else line.make("noise", i, i + 2)
    return None


def read_spoken_energy(line: Line, i: int) -> Chunk | None:
    """'nine hundred calories'."""
    number = line.amounts.number(i)
    if number is None or line.text(number.end) not in ENERGY:
        return None
    told = Amount(kind="bare", value=number.value, text=line.said(i, number.end))
    return line.make("energy", i, number.end + 1, amount=told, field=line.text(number.end))


def _polite(line: Line, i: int) -> Chunk | None:
    """'if you would', and the like."""
    for phrase in POLITE_IFS:
        if all(line.text(i + n) == word for n, word in enumerate(phrase)):
            return line.make("noise", i, i + len(phrase), field="polite")
    return None


def _fat_share(line: Line, i: int) -> bool:
    """The small words of 'with 0 % of fat', which say no more than '0 %'."""
    word = line.text(i)
    if word not in FAT_SHARE:
        return False
    before, after = line.text(i - 1), line.text(i + 1)
    if word in ("with", "at"):
        return after.endswith("%") and line.text(i + 2) in ("fat", "of")
    if word == "of":
        return before.endswith("%") and after == "fat"
    return word == "fat" and (before.endswith("%") or (before == "of" and line.text(i - 2).endswith("%")))


def read_macro(line: Line, i: int) -> Chunk | None:
    """'24 g protein', 'protein 24 g', '70 fat': a figure of energy or nutrients, never food."""
    quantity = line.amounts.quantity(i) if line.tokens[i].kind == "number" else None
    if quantity is not None and quantity[0].kind in ("mass", "bare"):
        j = quantity[1] + 1 if line.text(quantity[1]) == "of" else quantity[1]
        word = line.lemmas[j] if j < len(line.lemmas) else ""
        if word in MACROS and _ends_name(line, j):
            return line.make("macro", i, j + 1, amount=quantity[0], field=MACROS[word])
        if (
            word in GLUED_MACROS
            and quantity[0].kind == "bare"
            and not line.tokens[j].spaced
            and line.tokens[j].raw.islower()
        ):
            return line.make("macro", i, j + 1, amount=quantity[0], field=GLUED_MACROS[word])
    return None


def _ends_name(line: Line, i: int) -> bool:
    """Whether the nutrient word at i is not the head of a food ('protein powder', 'fat free yogurt')."""
    found = line.name(i)
    if found is not None and found[1] > i + 1:
        return False
    after = line.lemmas[i + 1] if i + 1 < len(line.lemmas) else ""
    return not (after in HEADS or line.lemmas[i] in ("sugar", "salt"))


def read_moment(line: Line, i: int) -> Chunk | None:
    """A day, a time or a meal; none where its last words begin a name ('of the lunch soup', 'a breakfast burrito')."""
    read = line.moments.read(i)
    if read is None or any(_names_more(line, i, j, read[1]) for j in range(i + 1, read[1])):
        return None
    return line.make("moment", i, read[1], moment=read[0])


def _names_more(line: Line, start: int, i: int, end: int) -> bool:
    """Whether a name begins at i, inside the time from start to end, and goes on behind it, or is a batch's in full."""
    batch = read_batch_name(line, i)
    if batch is not None and (
        batch.end > end or (batch.end == end and not FROM.isdisjoint((line.text(start - 1), line.text(start))))
    ):
        return True
    food = line.name(i)
    return food is not None and food[1] > end and line.text(start) not in TIMING
