"""Amounts where they stand in a message: with a unit, counted in pieces, sizes, scoops or boxes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from typing import Literal

from bot.language.belongings import read_batch_name, read_batch_number
from bot.language.chunks import Chunk, Line
from bot.language.foodwords import begins_state, read_state
from bot.language.lexicon import lexicon
from bot.language.number_words import number_words
from bot.language.numbers import Number
from bot.language.pack import NUMERAL, opening, pack
from bot.language.reckoning import reckoning
from bot.language.text import Token
from bot.language.told import Amount
from bot.language.word_lists import word_lists
from domain import quantities, reference

MOST_BESIDE = 3
"""Words that may stand between a measure and its food ('a slice of fresh toasted rye bread')."""
MOST_SERVED = 12
"""Slices or pieces that one person has."""
MOST_PIECES = 1000
"""Pieces into which anybody divides a batch."""
WORDS = word_lists("telling")
ONES, ARTICLES = ("one", "ones"), ("a", "an")


@cache
def amount_openers() -> frozenset[str]:
    """The words and signs with which an amount can begin that is not written in digits."""
    words = lexicon()
    units = {unit.lower() for unit in (*words.mass_units, *words.volume_units)}
    lone = {measure + ending for measure in WORDS["lone_measures"] for ending in ("", "s", "es", "'s")}
    small = number_words().openers | WORDS["negative"] | WORDS["lone_units"] | {*ARTICLES, "my", "-"}
    return small | units | words.loose_units | words.piece_nouns | lone


def begins_amount(text: str) -> bool:
    """Whether an amount can begin with such a token."""
    return opening(text) == NUMERAL or text in amount_openers()


def read_amount(line: Line, i: int) -> Chunk | None:
    """An amount with its unit, or a number with what it counts."""
    return line.once(_read_amount, i)


def _read_amount(line: Line, i: int) -> Chunk | None:
    token = line.tokens[i]
    special = _heard_count(line, i) or _share_of_batch(line, i) or _number_last(line, i)
    if special is not None:
        return special
    pointed = token.text in ONES and line.text(i - 1) in WORDS["pointing"]
    if pointed and not line.amounts.unit(i + 1) and line.text(i + 1) != "of":
        return None
    if token.text in ONES and (_stands_for_it(line, i) or _one_of_them(line, i)):
        return None
    own_vessel = token.text == "my" and line.text(i + 1) in line.around.words.vessels
    if (token.text in ARTICLES or own_vessel) and i + 1 < len(line.tokens):
        number = line.amounts.number(i)
        if number is None:
            return _article(line, i, i + 1)
    if _opens_with_measure(line, i):
        return _article(line, i, i)
    read = line.amounts.amount(i) if token.kind in ("number", "word", "sign") else None
    if read is None:
        return _lone_measure(line, i)
    amount, end = read
    if amount.kind == "bare" and _glued_name(line, i, end):
        return None
    pieces = _counted(line, i, amount, end) if amount.kind == "bare" and amount.doubt is None else None
    if pieces is None and amount.kind == "bare" and _dealt_out(line, i, amount, end):
        amount = replace(amount, kind="count")
    return pieces or line.make("amount", i, end, amount=amount)


def _dealt_out(line: Line, i: int, amount: Amount, end: int) -> bool:
    """'fried egg 2 for me': a small number behind what comes in pieces and before whom they were for."""
    if amount.value % 1 or not 1 <= amount.value <= MOST_SERVED or pack()["for_oneself"].end(line.plain, end) is None:
        return False
    named = next((found for k in range(max(0, i - 3), i) if (found := line.name(k)) and found[1] == i), None)
    food = reference.load().foods.get(named[0]) if named is not None else None
    return food is not None and food.countable


@dataclass(frozen=True, slots=True)
class Share:
    """A share of a batch: above 0, at most 1; of the whole or of what is left, where that was said; where it ends."""

    value: float
    of: Literal["whole", "left"] | None
    end: int


def share_at(line: Line, i: int) -> Share | None:
    """'a quarter', '3/12', '3 of the 12', '25 %', 'half of what's left', 'the rest', 'all of it'."""
    words, said = line.plain, reckoning()
    if i >= len(words):
        return None
    rest = said["rest"].end(words, i)
    if rest is not None:
        return Share(1.0, "left", rest)
    value, end = line.amounts.part(i)
    if not value:
        pieces, total, end = _pieces_of(line, i)
        value = pieces / total if total else 0.0
    if not value:
        return None
    of = line.text(end) in line.amounts.numbers.said.of
    for concept, which in ((said["left"], "left"), (said["whole"], "whole")):
        behind = concept.end(words, end + of)
        if behind is not None:
            return Share(value, "left" if which == "left" else "whole", behind)
    return Share(value, None, end)


def _pieces_of(line: Line, i: int) -> tuple[float, float, int]:
    """(pieces, all pieces, where it ends) of '3 of the 12'; zeros where there is no such thing."""
    pieces = line.amounts.number(i)
    behind = reckoning()["out_of"].end(line.plain, pieces.end) if pieces is not None else None
    total = line.amounts.number(behind) if behind is not None else None
    if pieces is None or total is None or line.amounts.unit(total.end):
        return 0.0, 0.0, i
    whole = pieces.value % 1 == total.value % 1 == 0 and 0 < pieces.value < total.value <= MOST_PIECES
    return (pieces.value, total.value, total.end) if whole else (0.0, 0.0, i)


def _share_of_batch(line: Line, i: int) -> Chunk | None:
    """A share in numbers before a batch ('3/12 of batch 1', '3 of 12 of the chilli', '25 % of it' is none)."""
    if not line.around.batches or not line.text(i)[:1].isdecimal():
        return None
    share = share_at(line, i)
    if share is None or share.value >= 1 or line.text(share.end) not in line.amounts.numbers.said.of:
        return None
    behind = [j for j in (share.end + 1, share.end + 2) if j < len(line.tokens)]
    if all(read_batch_number(line, j) is None and read_batch_name(line, j) is None for j in behind):
        return None
    return line.make(
        "amount", i, share.end, amount=Amount(kind="bare", value=share.value, text=line.said(i, share.end))
    )


def _stands_for_it(line: Line, i: int) -> bool:
    """Whether 'one' at the end of its clause stands for the food: 'the cooked one', 'a very good one'."""
    after = line.tokens[i + 1] if i + 1 < len(line.tokens) else None
    before = line.tokens[i - 1] if i else None
    ends = after is None or after.kind in ("sign", "newline")
    return ends and before is not None and before.kind == "word" and before.text not in line.words.eating


def _one_of_them(line: Line, i: int) -> bool:
    """'in one of them': what stands for something named before, no count of a food."""
    return line.text(i - 1) in WORDS["inside"] and line.text(i + 1) == "of" and line.text(i + 2) in WORDS["it"]


def _heard_count(line: Line, i: int) -> Chunk | None:
    """'for eggs' and nothing else in its clause: a word that sounds like a number, before what is counted in pieces."""
    said = line.amounts.numbers.said
    word = line.text(i)
    if word not in said.heard or word in said.heard_verbs or (i and line.tokens[i - 1].kind == "word"):
        return None
    found = line.name(i + 1) if i + 1 < len(line.tokens) else None
    food = reference.load().foods.get(found[0]) if found else None
    if found is None or food is None or not food.countable:
        return None
    after = line.tokens[found[1]] if found[1] < len(line.tokens) else None
    alone = after is None or after.kind in ("sign", "newline") or after.text in said.joining
    alone = alone or (_only_described(line, found[1]) and _weighs_nothing(line, found[1]))
    plural = any(line.lemmas[j] != line.text(j) for j in range(i + 1, found[1]))
    if not alone or plural != (said.heard[word] > 1):
        return None
    return line.make(
        "amount", i, i + 1, amount=Amount(kind="bare", value=said.heard[word], text=f"{said.heard[word]:g}")
    )


def _only_described(line: Line, i: int) -> bool:
    """Whether it is told at token i how it was made or where it was: 'for eggs scrambled', 'for eggs out of a bag'."""
    return begins_state(line.text(i)) or line.text(i) in WORDS["breaking"]


def _weighs_nothing(line: Line, i: int) -> bool:
    """Whether no amount comes from token i to the next sign."""
    while i < len(line.tokens) and line.tokens[i].kind not in ("sign", "newline"):
        if line.amounts.number(i) is not None:
            return False
        i += 1
    return True


def _glued_name(line: Line, i: int, end: int) -> bool:
    """'v2', 'b12', 'size 3': a number that belongs to a name."""
    token = line.tokens[i]
    if (
        i
        and not token.spaced
        and line.tokens[i - 1].kind == "word"
        and len(line.tokens[i - 1].text) == 1
        and line.tokens[i - 1].text != "x"
    ):
        return True
    after = line.tokens[end] if end < len(line.tokens) else None
    if after is not None and not after.spaced and after.text in ("st", "nd", "rd", "th") and after.text != "st":
        return True
    if line.text(i - 1) == "no":  # 'entry no 3', but 'no 215 chix' and '30 no 35'
        return i > 1 and line.tokens[i - 2].kind == "word" and line.amounts.numbers.best(i - 2) is None and end == i + 1
    return line.text(i - 1) in ("size", "version", "type", "number") and end == i + 1


def _opens_with_measure(line: Line, i: int) -> bool:
    """'tablespoon of butter', 'pint o lager', 'mug of tea' at the beginning of its part: one of it."""
    said = line.amounts.numbers.said
    if (
        line.text(i + 1) not in said.of
        or line.text(i) in WORDS["lone_units"]
        or {line.lemmas[i]} & (set(said.parts) | set(line.words.parts))
    ):
        return False
    before = line.tokens[i - 1] if i else None
    if before is not None and before.kind == "word" and before.text not in WORDS["before_lone_measure"]:
        return False
    unit = line.amounts.unit(i)
    word = line.lemmas[i]
    named = word in line.words.loose_units or word in line.words.piece_nouns
    return (named or (unit is not None and unit[2] == i + 1)) and word == line.text(i) and len(word) > 2


def _article(line: Line, i: int, j: int) -> Chunk | None:
    """'a banana', 'a tsp', 'an egg': one, when a unit, a piece or a food comes next."""
    unit = line.amounts.unit(j)
    if unit and not (line.text(j) in ("t", "l", "st") and line.tokens[j].raw != "T"):
        kind, name, end = unit
        more = line.amounts.numbers.and_a_half(Number(1.0, end))  # 'an ounce and a half of avocado'
        if (
            more.end == len(line.tokens)
            or line.tokens[more.end].kind == "sign"
            or line.text(more.end) == "of"
            or pack()["in_all"].end(line.plain, more.end) is not None
        ):
            end = more.end
        value = more.value if end == more.end else 1.0
        grams = quantities.grams(value, name) if kind == "mass" else None
        return line.make(
            "amount", i, end, amount=Amount(kind=kind, value=value, unit=name, grams=grams, text=line.said(i, end))
        )
    one = line.text(i) if j > i else "a"
    return _counted(line, i, Amount(kind="bare", value=1, text=one), j)


def _number_last(line: Line, i: int) -> Chunk | None:
    """'slices 2': a piece noun in the plural with its number behind it, where nothing else follows that."""
    word = line.lemmas[i]
    if word not in line.words.piece_nouns or word == line.text(i) or line.name(i) is not None:
        return None
    number = line.amounts.number(i + 1) if i + 1 < len(line.tokens) else None
    if number is None or number.value % 1 or not 1 <= number.value <= MOST_SERVED:
        return None
    after = line.tokens[number.end] if number.end < len(line.tokens) else None
    if after is not None and after.kind not in ("sign", "newline"):
        return None
    text = f"{line.said(i + 1, number.end)} {line.text(i)}"
    return line.make("amount", i, number.end, amount=Amount(kind="count", value=number.value, unit=word, text=text))


def _lone_measure(line: Line, i: int) -> Chunk | None:
    """'glass of red wine', 'slice of toasted rye bread', 'double espresso': one, where no number says how many."""
    word, before = line.lemmas[i], line.tokens[i - 1] if i else None
    if word not in WORDS["lone_measures"] or (before is not None and not _leads(line, before)):
        return None
    of = line.text(i + 1) == "of"
    start = j = i + 1 + of
    while of and j < start + MOST_BESIDE and (read_state(line, j) is not None or line.text(j) in line.words.harmless):
        j += 1
    named = line.name(j) if j < len(line.tokens) else None
    if named is None or not (of or word in WORDS["lone_before_food"]) or line.name(i) is not None:
        return None
    return _counted(line, i, Amount(kind="bare", value=1, text=line.text(i)), i)


def _leads(line: Line, before: Token) -> bool:
    """Whether a measure without a number may stand behind a token: a sign, a size, a verb of eating, or 'and'."""
    joins = before.text in WORDS["joining"] | WORDS["separating"] | WORDS["listing"] | WORDS["adding"]
    sized = before.text in line.words.sizes or before.text in WORDS["before_piece"]
    return before.kind in ("sign", "newline") or joins or sized or before.text in line.words.eating


def _counted(line: Line, i: int, amount: Amount, end: int) -> Chunk | None:
    """A number before a size, a piece noun or a loose measure: '2 large', '3 slices', 'a scoop', '2 boxes'."""
    j = end
    if line.text(j) == "of" and line.text(j + 1) in ("the", "my", "those", "these") and amount.value >= 1:
        j += 2
    while line.text(j) in WORDS["before_piece"]:
        j += 1
    size = ""
    sized = read_size(line, j) if j < len(line.tokens) else None
    if sized is not None:
        size, j = sized.field, sized.end + (line.text(sized.end) in ONES)
    word = line.lemmas[j] if j < len(line.lemmas) else ""
    if word == "box":
        return line.make(
            "amount",
            i,
            j + 1,
            amount=Amount(kind="count", value=amount.value, unit="box", text=line.said(i, j + 1)),
        )
    if word in ("t",) and j == end:
        return None
    food = line.name(j) if j < len(line.lemmas) else None
    timed = line.moments.read(j) if word in line.words.piece_nouns else None  # "rice 200 half past ten"
    of_it = line.text(j + 1) in line.amounts.numbers.said.of
    if word in line.words.piece_nouns and timed is None and (food is None or of_it):
        unit = f"{size} {word}".strip()
        end = j + 2 if line.text(j + 1) in line.amounts.numbers.said.of else j + 1
        return line.make(
            "amount", i, end, amount=Amount(kind="count", value=amount.value, unit=unit, text=line.said(i, j + 1))
        )
    if word in line.words.loose_units and (food is None or line.text(j + 1) in line.amounts.numbers.said.of):
        end = j + 2 if line.text(j + 1) in line.amounts.numbers.said.of else j + 1
        return line.make(
            "amount",
            i,
            end,
            amount=Amount(kind="measure", value=amount.value, unit=f"{size} {word}".strip(), text=line.said(i, j + 1)),
        )
    if size:
        return line.make(
            "amount", i, j, amount=Amount(kind="count", value=amount.value, unit=size, text=line.said(i, j))
        )
    if amount.text in ARTICLES and (
        food is not None or read_state(line, j) is not None or line.text(j) in line.words.edible or j > end
    ):
        return line.make("amount", i, i + 1, amount=Amount(kind="count", value=1, text=amount.text))
    return None


def begins_size(text: str) -> bool:
    """Whether a size can begin with such a token."""
    return text in ("extra", "x") or text in lexicon().sizes


def read_size(line: Line, i: int) -> Chunk | None:
    """'small', 'extra large'."""
    word = line.text(i)
    if word in ("extra", "x") and line.words.sizes.get(line.text(i + 1)) == "large":
        return line.make("size", i, i + 2, field="extra large")
    if word in line.words.sizes:
        end = i + 3 if line.text(i + 1) == "-" and line.text(i + 2) in ("sized", "size") else i + 1
        return line.make("size", i, end + (line.text(end) in ("sized", "size")), field=line.words.sizes[word])
    return None
