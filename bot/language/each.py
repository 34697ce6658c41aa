"""The weight of each of several pieces: '3 eggs 60 g each', '12 g per biscuit, had 3', '6 meatballs at 30 g'."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise, takewhile

from bot.language.chunks import Chunk
from bot.language.number_words import number_words
from bot.language.pack import pack
from bot.language.text import singular
from bot.language.told import Amount
from bot.language.weighed import LEAST_GRAMS, Said
from domain import reference

MOST_PIECES = 100
"""Pieces that are counted and weighed one by one."""
NEAR_PIECE = 1.6
"""Up to this factor from the usual weight of one a weight is of one."""
MOST_BEFORE = 4
"""Chunks before a weight that may say what it is the weight of one of."""


def of_each(said: Said) -> list[Chunk] | None:
    """'3 eggs 60 g each' (180 g), '12 g per biscuit, had 3', '8 cups of tea with 30 ml milk each' (240 ml)."""
    for n, chunk in enumerate(said.chunks):
        amount = chunk.amount
        if chunk.kind != "amount" or amount is None or amount.doubt or not _sizes_one(amount):
            continue
        end = chunk.end
        for food in said.chunks[n + 1 :]:
            of = food.start == chunk.end and food.text.lower() in number_words().of  # '12 g of milk in each'
            if (food.kind not in ("food", "state") and not of) or food.start != end:
                break
            end = food.end
        one = _of_one(said, n)
        after = said.says("each", chunk.end) or said.says("each", end)
        if after is not None or one or said.behind("each", chunk.start):
            return _multiplied(said, chunk, amount, end, after, one)
        doubted = None if amount.kind == "bare" else _at(said, n)
        if doubted is not None:
            return said.but(_count_of_drinks(said, n, doubted), {chunk.start: doubted})
    return None


def _sizes_one(amount: Amount) -> bool:
    """Whether an amount may be the size of one piece: a measured one, or a bare number too large for a count."""
    return amount.kind in ("mass", "volume") or (amount.kind == "bare" and amount.value > LEAST_GRAMS)


def _counts_food(said: Said, count: Chunk) -> bool:
    """Whether pieces are counted, or a food right behind the number."""
    behind = next((c for c in said.chunks if c.start >= count.end and c.kind not in ("state", "size")), None)
    piece = count.amount is not None and count.amount.unit in said.line.words.piece_nouns
    return piece or (behind is not None and behind.kind == "food")


def _multiplied(
    said: Said, chunk: Chunk, amount: Amount, end: int, after: int | None, one: list[Chunk]
) -> list[Chunk] | None:
    """The clause with the weight of one multiplied by the count; the food ends at `end`, its 'each' at `after`."""
    count = _count_beside(Said(said.line, said.words, [c for c in said.chunks if c not in one]), chunk)
    if amount.kind == "bare" and not (count is not None and _counts_food(said, count)):
        return None  # 'both kids 150 each'
    if count is None or count.amount is None:
        several = sum(c.kind in ("food", "batch") for c in said.chunks) > 1
        return None if several or one else said.but((), {chunk.start: replace(amount, doubt="unclear")})
    alone = len(one) == 1 and one[0].kind != "food" and count.end <= one[0].start  # "3 pieces, one is 22 g"
    if (
        one
        and not alone
        and one[0].start < chunk.start
        and said.line.text(count.start - 1) not in said.line.words.eating
    ):
        return None  # "one wrap is 45 g": the number is another figure about it
    product = _product(count.amount.value, amount)
    dropped = [c for c in said.chunks if after is not None and end <= c.start < after]
    dropped += [c for c in one if c.kind != "food"]
    dropped += [c for c in said.chunks if c is not count and _of_each_one(said, c)]
    if count.start > chunk.start and end == chunk.end:  # "60 g each, 3 eggs"
        between = [c for c in said.chunks if chunk.start <= c.start < count.start and c.kind != "food"]
        return said.but([*between, *dropped], {count.start: product})
    if product.kind == "volume" and count.amount.kind == "bare" and end == chunk.end:
        dropped.append(count)  # "2 beers, 330 ml each" becomes one total in millilitres
    kept = said.but(dropped, {chunk.start: product})
    if after is None or end > chunk.end:
        return kept
    # Make the word part of the amount, because templates have to account for every word.
    return [c._replace(end=after) if c.start == chunk.start else c for c in kept]


def _product(times: float, amount: Amount) -> Amount:
    """An amount multiplied, in grams if it is a mass."""
    grams = None if amount.grams is None else times * amount.grams
    return Amount(
        kind=amount.kind,
        value=times * amount.value if grams is None else grams,
        unit=amount.unit if grams is None else "g",
        grams=grams,
        text=f"{times:g} x {amount.text}",
        times=times,
    )


def _of_one(said: Said, n: int) -> list[Chunk]:
    """The chunks that make the n-th the weight of one piece: '38 g per slice', '12 g a biscuit', 'each date is 8 g'."""
    chunks, words = said.chunks, said.line.words
    behind = chunks[n + 1 : n + 3]
    if behind and behind[0].start == chunks[n].end:
        first = behind[0]
        piece = first.amount is not None and first.amount.value == 1 and first.amount.unit in words.piece_nouns
        if piece and said.says("for_one", first.start):
            return [first]
        named = len(behind) > 1 and (behind[1].kind == "food" or said.line.lemmas[behind[1].start] in words.piece_nouns)
        apart = first.kind == "sign" and all(t.spaced for t in said.line.tokens[first.start : first.end + 1])
        if first.kind != "amount" and not apart and said.says("for_one", first.start) == first.end and named:
            return behind  # '38 g/slice', while '6 g / brown rice 150 g' begins another food
    before = chunks[max(0, n - MOST_BEFORE) : n]
    lone = _one_is(said, before)
    if lone:
        return lone
    while before and said.says("linking", before[-1].start) == before[-1].end:
        before.pop()
    if len(before) < 2 or len(before) == len(chunks[max(0, n - MOST_BEFORE) : n]) or before[-1].kind != "food":
        return []
    one = before[-2]
    single = one.amount is not None and one.amount.value == 1 and not one.amount.unit
    return [one] if single or said.says("each", one.start) == one.end else []


def _one_is(said: Said, before: list[Chunk]) -> list[Chunk]:
    """'… 3 pieces, one is 22 g', 'meatballs, 5 of them, one's about 28 g': the word for one of them."""
    links = len(before)
    while links and (
        said.says("linking", before[links - 1].start) or before[links - 1].text.lower() in pack()["roughly"]
    ):
        links -= 1
    if not links or any(c.kind == "food" and c.start > before[links - 1].start for c in before):
        return []
    one = before[links - 1]
    amount = one.amount
    piece = amount is not None and (not amount.unit or amount.unit in said.line.words.piece_nouns)
    single = links < len(before) and amount is not None and amount.value == 1 and piece
    return [one] if single or said.says("one_of_them", one.start) == one.end else []


def _at(said: Said, n: int) -> Amount | None:
    """'6 meatballs at 30 g': the weight of each or of all, whichever is near the usual piece; in doubt if neither is.

    None if the n-th chunk is not such a weight.
    """
    mass = said.chunks[n].amount
    before = [c for c in said.chunks[max(0, n - MOST_BEFORE) : n] if c.kind == "amount"]
    count = before[-1].amount if before else None
    if count is None or mass is None or not said.behind("at", said.chunks[n].start):
        return None
    foods = [c for c in said.chunks[:n] if c.kind == "food"]
    named = [c for c in foods if c.start >= before[-1].end or mass.grams is None or len(foods) == 1]
    if not named or count.unit == "box" or count.value % 1 or count.value < 2:
        return None
    if mass.grams is None:
        drinks = count.kind in ("measure", "bare", "count")
        return _product(count.value, mass) if drinks else None  # "2 cans of lager of 440 ml", "beer, two of 330 ml"
    if count.kind not in ("bare", "count"):
        return None
    food = reference.load().foods.get(named[0].target)
    piece = food.piece(food.counted_row(), count.unit, said.line.around.region) if food is not None else None
    if piece is not None:
        each, all_of_it = (max(grams / piece, piece / grams) for grams in (mass.grams, mass.grams / count.value))
        if each < NEAR_PIECE <= all_of_it:
            return _product(count.value, mass)
        if all_of_it < NEAR_PIECE <= each:
            return mass
    return replace(mass, doubt="each", other=count.value * mass.grams, text=f"{count.text} at {mass.text}")


def _count_of_drinks(said: Said, n: int, product: Amount) -> list[Chunk]:
    """'two of 330 ml': the count, which the volume of all holds by now, with its 'of'."""
    if product.kind != "volume":
        return []
    count = next(m for m in range(n - 1, -1, -1) if said.chunks[m].kind == "amount")
    amount = said.chunks[count].amount
    of = said.chunks[n - 1 : n] if said.chunks[n - 1].kind == "word" else []
    return [said.chunks[count], *of] if amount is not None and not amount.unit else []


def _count_beside(said: Said, beside: Chunk) -> Chunk | None:
    """The nearest whole count before a chunk, else after it."""
    n = said.chunks.index(beside)
    for chunk in (*reversed(said.chunks[:n]), *said.chunks[n + 1 :]):
        amount = chunk.amount
        if chunk.kind != "amount" or amount is None or amount.kind == "mass" or amount.doubt:
            continue
        if _of_each_one(said, chunk):
            continue
        if amount.value == int(amount.value) and 1 <= amount.value <= MOST_PIECES and amount.text not in ("a", "an"):
            return chunk
    return None


def _of_each_one(said: Said, chunk: Chunk) -> bool:
    """Whether a number is the 'one' of 'each one' and counts nothing."""
    ends = (said.says("each", i) for i in range(max(0, chunk.start - 2), chunk.start))
    return chunk.kind == "amount" and any(end is not None and end >= chunk.end for end in ends)


def several_of(said: Said) -> list[Chunk] | None:
    """'2 50 g patties' (100 g): a count right before the weight of a plural noun."""
    for n, (count, mass) in enumerate(pairwise(said.chunks)):
        number, amount = count.amount, mass.amount
        if count.kind != "amount" or mass.kind != "amount" or number is None or amount is None:
            continue
        if number.kind != "bare" or not 2 <= number.value <= LEAST_GRAMS or number.value % 1 or amount.kind != "mass":
            continue
        named = n > 0 and said.chunks[n - 1].kind in ("food", "batch", "state")
        behind = takewhile(lambda c: c.kind in ("food", "state", "word"), said.chunks[n + 2 :])
        nouns = [said.line.text(c.end - 1) for c in behind]
        if amount.grams is None or amount.doubt or named or all(singular(noun) == noun for noun in nouns):
            continue
        grams = number.value * amount.grams
        text = f"{number.text} x {amount.text}"
        product = replace(amount, value=grams, unit="g", grams=grams, text=text, times=number.value)
        return said.but([count], {mass.start: product})
    return None
