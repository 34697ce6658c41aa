"""Numbers that are no amounts: list marks, prices, energy, nutrient figures, temperatures, durations."""

from __future__ import annotations

import re
from functools import cache

from bot.language.belongings import FROM, read_batch_name
from bot.language.chunks import Chunk, Line
from bot.language.number_words import number_words
from bot.language.pack import pack
from bot.language.reckoning import reckoning
from bot.language.told import Amount
from bot.language.word_lists import word_lists
from domain.reference.words import begins_thing, is_action, is_thing

_CENTS = re.compile(r"[0-9]+[.,][0-9]{2}")
MOST_TIMES = 12
"""Pieces of a food that one person has."""
MOST_NAMED = 8
"""Tokens before a factor that may name what is multiplied."""
LEAST_PRESSURE, MOST_PRESSURE = 40, 250
"""Of the blood, in mmHg."""
LISTING = frozenset({",", ";", ".", ":", "+", "&"})
CURRENCY = frozenset("$£€¥")
LIST_MARKS = frozenset({"-", "*", ">"})
FIGURES = (
    "protein_g", "fat_g", "carbohydrate_g", "fibre_g", "sugars_g", "salt_g", "alcohol_g", "saturated_fat_g",
    "polyols_g", "sodium_mg",
)  # fmt: skip
"""The nutrients of which figures are told."""
GLUED = ("protein_g", "fat_g", "carbohydrate_g")
"""Those with a letter of their own that counts only when glued to its number: 200p 70f 300c."""
TIMES_READ = {"2": "twice", "3": "thrice"}
YEARS = range(1900, 2100)
MOST_PHRASE = 5
"""Words of the longest phrase of a list."""
WORDS = word_lists("noise")


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
    number = line.text(i + 1)
    if line.text(i) != "x" or not number.isdecimal() or line.amounts.unit(i + 2):
        return None
    before = line.tokens[i - 1].kind if i else "sign"
    if before != "word" or not line.tokens[i].spaced:
        return None
    after = line.tokens[i + 2] if i + 2 < len(line.tokens) else None
    apart = line.tokens[i + 1].spaced or number not in TIMES_READ
    if apart and (_numbered(line, i) or not 1 <= int(number) <= MOST_TIMES or (after and after.kind == "number")):
        return None
    if not _numbered(line, i):  # 'fried egg x2 bacon x2'
        return line.make("amount", i, i + 2, amount=Amount(kind="count", value=float(number), text=number))
    chunk = line.make("word", i, i + 2)
    return chunk._replace(text=TIMES_READ[number])


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
        if line.text(end) in WORDS["price_per"] and line.amounts.unit(end + 1):
            end += 2
        return line.make("price", i, end)
    if line.tokens[i].kind != "number":
        return None
    if line.text(i + 1) in CURRENCY or line.text(i + 1) in WORDS["money"]:
        return line.make("price", i, i + 2)
    if _CENTS.fullmatch(line.text(i)) and line.text(i + 1) == "for" and line.amounts.quantity(i + 2) is not None:
        return line.make("price", i, i + 2)
    if line.text(i - 1) in pack()["before_price"] and _CENTS.fullmatch(line.text(i)) and not line.amounts.unit(i + 1):
        return line.make("price", i, i + 1)
    return None


def begins_noise(text: str) -> bool:
    """Whether words that add nothing can begin with such a token."""
    begins = text in _noise_openers() or text in number_words().openers
    return begins or text in pack()["places_like_food"].words or text in pack()["the_pieces"] or begins_thing(text)


def read_noise(line: Line, i: int) -> Chunk | None:
    """Words that add nothing: politeness, 'a couple of things', 'two hours'."""
    if _fat_share(line, i):
        return line.make("noise", i, i + 1)
    polite = _phrase(line, "polite_ifs", i)
    if polite is not None:
        return line.make("noise", i, polite, field="polite")
    pieces = line.amounts.number(i + 1) if line.text(i) in pack()["the_pieces"] else None
    together = pack()["of_them"].end(line.plain, pieces.end) if pieces is not None else None
    if together is not None and line.text(together) not in line.words.eating:
        return line.make("noise", i, together)  # '29 g the two of them', but not 'the two of them had 29 g'
    place = pack()["places_like_food"].end(line.plain, i)
    if place is not None:
        return line.make("noise", i, place)
    other = _thing(line, i) or read_tolerance(line, i)
    if other is not None:
        return other
    unit = line.amounts.unit(i + 1) if line.text(i) in WORDS["not_in"] else None
    if unit is not None:
        return line.make("noise", i, unit[2])
    of = 1 if line.text(i + 1) == "of" else 0
    if line.text(i) in WORDS["some"] and line.text(i + 1 + of) in WORDS["things"]:
        return line.make("noise", i, i + 2 + of)
    if line.text(i) in number_words().articles and line.text(i + 1) in WORDS["some"]:
        behind = [j for j in (i + 2, i + 3) if line.text(j) in WORDS["things"]]
        if behind:
            return line.make("noise", i, behind[0] + 1)
    people = _people(line, i)
    if people is not None:
        return people
    number = line.amounts.number(i)
    if number is not None and line.text(number.end) in WORDS["spans"]:
        past = line.text(number.end + 1) in WORDS["ago"]
        return None if past else line.make("noise", i, number.end + 1)
    return None


def _thing(line: Line, i: int) -> Chunk | None:
    """Two words that name no food though the first one does: 'in my dressing gown'."""
    two = i + 1 < len(line.tokens) and is_thing(line.text(i), line.lemmas[i + 1])
    return line.make("noise", i, i + 2) if two else None


def read_place_number(line: Line, i: int) -> Chunk | None:
    """'at number 14', 'the number 19 tram': the number of a house or a vehicle, and of no weigh-in on record."""
    named_so = line.text(i) in pack()["number_of"] and i + 1 < len(line.tokens)
    number = line.amounts.number(i + 1) if named_so else None
    if number is None or number.value % 1:
        return None
    word = line.text(number.end)
    named = word.isalpha() and not line.words.knows(word) and not is_action(word) and line.name(number.end) is None
    on_record = any(each.number == number.value for each in line.around.recorded())
    if line.text(i - 1) in pack()["at_a_place"] or (named and not on_record):
        return line.make("noise", i, number.end)
    return None


def read_body_reading(line: Line, i: int) -> Chunk | None:
    """'pulse 62', 'resting heart rate: 58': what the body showed, with the word for it."""
    end = pack()["body_reading"].end(line.plain, i)
    while end is not None and line.text(end) in (*LISTING, *number_words().of, *pack()["weighs_empty"].words):
        end += 1
    number = line.amounts.number(end) if end is not None and end < len(line.tokens) else None
    if number is None or line.amounts.unit(number.end) is not None or number.value > MOST_PRESSURE:
        return None
    return line.make("noise", i, number.end)


def read_no_amount(line: Line, i: int) -> Chunk | None:
    """Energy, temperatures, durations: numbers that are no amounts."""
    unit, raw = line.text(i + 1), line.tokens[i + 1].raw if i + 1 < len(line.tokens) else ""
    if line.text(i - 1) in WORDS["per"] and line.amounts.unit(i + 1):
        return line.make("noise", i, i + 2)
    if _is_year(line, i):
        return line.make("noise", i, i + 1)
    people = _people(line, i)
    if people is not None:
        return people
    pressure = _blood_pressure(line, i)
    if pressure is not None:
        return pressure
    if unit in WORDS["energy"]:
        value = line.amounts.quantity(i)
        return line.make("energy", i, i + 2, amount=value[0] if value else None, field=unit)
    if unit in WORDS["degrees"] or raw in ("C", "F", "ºC", "°C"):
        end = i + 3 if line.text(i + 2) in WORDS["scales_of_degrees"] else i + 2
        return line.make("noise", i, end)
    if unit in WORDS["times"] and line.amounts.number(i + 2) is not None:
        return None
    if unit in WORDS["spans"] or unit in WORDS["times"]:
        return None if line.text(i + 2) in WORDS["ago"] else line.make("noise", i, i + 2)
    return None


def _blood_pressure(line: Line, i: int) -> Chunk | None:
    """'130 over 80', '128/82': the upper and the lower pressure of the blood, and no weights."""
    upper, lower = line.amounts.number(i), None
    if upper is not None and line.text(upper.end) in pack()["over"] and upper.end + 1 < len(line.tokens):
        lower = line.amounts.number(upper.end + 1)
    if upper is None or lower is None or line.amounts.unit(lower.end) is not None:
        return None
    fits = LEAST_PRESSURE <= lower.value < upper.value <= MOST_PRESSURE
    return line.make("noise", i, lower.end) if fits else None


def _people(line: Line, i: int) -> Chunk | None:
    """'18 guests', 'four kids': how many people there were, and no weight."""
    number = line.amounts.number(i)
    if number is None or number.end >= len(line.tokens) or number.value % 1 or number.value < 2:
        return None
    place = pack()["here_to_eat"].end(line.plain, number.end)
    if place is not None and number.value <= MOST_TIMES:
        return line.make("noise", i, place)
    if not reckoning()["each"].words.isdisjoint(line.plain):
        return None
    who = line.tokens[number.end]
    if line.lemmas[number.end] not in line.words.people or who.text == line.lemmas[number.end]:
        return None
    if line.name(number.end) is not None or _beside_the_writers(line, i, number.end + 1):
        return None
    return line.make("noise", i, number.end + 1)


def _beside_the_writers(line: Line, start: int, end: int) -> bool:
    """'2 me, 3 kids': a list of who had how many, where the number before the writer is no number of people either."""
    writer = pack()["the_writer"]
    before = line.text(start - 2) in writer and line.amounts.number(start - 3) is not None
    if before and line.tokens[start - 1].kind == "sign":
        return True
    return line.text(end) == "," and _counts_the_writer(line, end + 1)


def _counts_the_writer(line: Line, i: int) -> bool:
    number = line.amounts.number(i)
    return number is not None and line.text(number.end) in pack()["the_writer"]


def read_tolerance(line: Line, i: int) -> Chunk | None:
    """'(+/- 0.1)', 'give or take 5 g': how far the scale may be off."""
    end = _phrase(line, "give_or_take", i)
    off = line.amounts.quantity(end) if end is not None and end < len(line.tokens) else None
    return None if off is None else line.make("noise", i, off[1])


def begins_tolerance(text: str) -> bool:
    """Whether a tolerance can begin with such a sign."""
    return any(text == phrase.split()[0] for phrase in WORDS["give_or_take"])


def _is_year(line: Line, i: int) -> bool:
    """'since 1988', 'in 2019': a number of four digits behind such a word, and no amount."""
    text = line.text(i)
    if line.text(i - 1) not in WORDS["before_year"] or not text.isdecimal() or len(text) != 4:
        return False
    return int(text) in YEARS and line.amounts.unit(i + 1) is None


@cache
def _noise_openers() -> frozenset[str]:
    phrases = ("polite_ifs", "give_or_take", "not_in", "fat_share", "some")
    return frozenset(phrase.split()[0] for name in phrases for phrase in WORDS[name]) | number_words().articles


def _phrase(line: Line, name: str, i: int) -> int | None:
    """Where the longest phrase of a list that begins at token i ends; None if none does."""
    listed = WORDS[name]
    said = [line.text(j) for j in range(i, min(i + MOST_PHRASE, len(line.tokens)))]
    return next((i + n for n in range(len(said), 0, -1) if " ".join(said[:n]) in listed), None)


def read_spoken_energy(line: Line, i: int) -> Chunk | None:
    """'nine hundred calories'."""
    number = line.amounts.number(i)
    if number is None or line.text(number.end) not in WORDS["energy"]:
        return None
    told = Amount(kind="bare", value=number.value, text=line.said(i, number.end))
    return line.make("energy", i, number.end + 1, amount=told, field=line.text(number.end))


def _fat_share(line: Line, i: int) -> bool:
    """The small words of 'with 0 % of fat', which say no more than '0 %'."""
    word = line.text(i)
    if word not in WORDS["fat_share"]:
        return False
    before, after = line.text(i - 1), line.text(i + 1)
    if word in WORDS["before_fat_share"]:
        return after.endswith("%") and line.text(i + 2) in WORDS["behind_fat_share"]
    of = number_words().of
    if word in of:
        return before.endswith("%") and after in WORDS["fat"]
    return word in WORDS["fat"] and (before.endswith("%") or (before in of and line.text(i - 2).endswith("%")))


def read_macro(line: Line, i: int) -> Chunk | None:
    """'24 g protein', 'protein 24 g', '70 fat': a figure of energy or nutrients, never food."""
    quantity = line.amounts.quantity(i) if line.tokens[i].kind == "number" else None
    if quantity is not None and quantity[0].kind in ("mass", "bare"):
        j = quantity[1] + 1 if line.text(quantity[1]) in number_words().of else quantity[1]
        word = line.lemmas[j] if j < len(line.lemmas) else ""
        nutrient = next((name for name in FIGURES if word in WORDS[name]), None)
        if nutrient is not None and _ends_name(line, j):
            return line.make("macro", i, j + 1, amount=quantity[0], field=nutrient)
        glued = next((name for name in GLUED if word in WORDS[f"glued_{name}"]), None)
        if (
            glued is not None
            and quantity[0].kind == "bare"
            and not line.tokens[j].spaced
            and line.tokens[j].raw.islower()
        ):
            return line.make("macro", i, j + 1, amount=quantity[0], field=glued)
    return None


def _ends_name(line: Line, i: int) -> bool:
    """Whether the nutrient word at i is not the head of a food ('protein powder', 'fat free yogurt')."""
    found = line.name(i)
    if found is not None and found[1] > i + 1:
        return False
    after = line.lemmas[i + 1] if i + 1 < len(line.lemmas) else ""
    return not (is_verb(line, i) or after in WORDS["heads"] or line.lemmas[i] in WORDS["foods_too"])


def is_verb(line: Line, i: int) -> bool:
    """Whether a nutrient word at i is a verb there: '3673 g sat in the pot', 'sat down at last'."""
    after = line.lemmas[i + 1] if i + 1 < len(line.lemmas) else ""
    return line.lemmas[i] in WORDS["verbs_too"] and after in WORDS["behind_verbs"]


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
    return food is not None and food[1] > end and line.text(start) not in WORDS["timing"]
