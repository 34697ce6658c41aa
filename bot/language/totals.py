"""Weights that only say again what was said: '0.25 kg, that is a quarter of a kilo', '80 and another 65, so 145'."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from bot.language.chunks import Chunk
from bot.language.pack import pack
from bot.language.weighed import MOST_PHRASE, Said, grams_of, weighs
from domain.reference.words import is_real_word

AGREE = 0.02
"""How far two ways of saying one weight may be apart."""
LEAST_TERMS = 2
SIGNS = frozenset(",;:()=-")


def restated(said: Said) -> list[Chunk] | None:
    """The clause without a weight that only says the one before it in another way."""
    for first, second in pairwise(said.weights):
        at, until = said.chunks.index(first), said.chunks.index(second)
        between = said.chunks[at + 1 : until]
        links = [c for c in between if c.kind != "sign"]
        if not links or not _all_of(said, "restating", links) or not _agree(grams_of(first), grams_of(second)):
            continue
        behind = said.chunks[until + 1 : until + 2]
        closing = [c for c in behind if c.text in SIGNS]
        return said.but([*between, second, *closing], {})
    return None


def summed(said: Said) -> list[Chunk] | None:
    """The clause with the stated sum of its weights in place of them, where they are all of one food."""
    if len(said.weights) <= LEAST_TERMS or sum(c.kind in ("food", "batch") for c in said.chunks) != 1:
        return None
    *terms, total = said.weights
    before = [c for c in said.chunks if terms[-1].end <= c.start < total.start]
    behind = [c for c in said.chunks if c.start >= total.end]
    stated = said.anywhere("so_much", before) or said.anywhere("in_all", (*before, *behind))
    if not stated or not _agree(sum(map(grams_of, terms)), grams_of(total)):
        return None
    assert total.amount is not None
    words = [c for c in said.chunks if terms[0].end <= c.start and c.kind in ("word", "sign", "amount")]
    return said.but([c for c in words if c is not terms[0]], {terms[0].start: total.amount})


def in_all(said: Said) -> list[Chunk] | None:
    """'two crumpets, 108 g the pair', '…, all told 108 g': the weight with the words that say it is of all of them."""
    for weight in said.weights:
        counts = [c for c in said.chunks if c.start < weight.start and c.kind == "amount" and not weighs(c)]
        if not counts:
            continue
        end = said.says("in_all", weight.end) or _as_one(said, weight.end)
        if end is not None:
            kept = [c for c in said.chunks if not weight.end <= c.start < end]
            return [c._replace(end=end) if c is weight else _count(c) if c is counts[-1] else c for c in kept]
        before = [c for c in said.chunks if weight.start - MOST_PHRASE <= c.start < weight.start]
        start = next((c for c in before if c not in counts[:1] and said.says("in_all", c.start) == weight.start), None)
        if start is not None:
            return said.but([c for c in before if c.start >= start.start], {})
    return None


def _as_one(said: Said, i: int) -> int | None:
    """Where 'for the stack', 'the whole pile' ends that closes a clause: what is counted, taken as one thing."""
    behind = [c for c in said.chunks if c.start >= i]
    at = next((n for n, c in enumerate(behind) if c.kind in ("sign", "newline")), len(behind))
    words = [said.line.plain[c.start] for c in behind[:at]]
    led = pack()["before_as_one"].end(words[:-1], 0) if len(words) > 1 else None
    if (
        led != len(words) - 1
        or behind[at - 1].kind != "word"
        or len(words) > MOST_PHRASE
        or not is_real_word(words[-1])
    ):
        return None
    return None if said.line.words.knows(words[-1]) else behind[at - 1].end


def _count(chunk: Chunk) -> Chunk:
    """A bare number as what it counts."""
    amount = chunk.amount
    bare = amount is not None and amount.kind == "bare" and amount.value.is_integer()
    return chunk._replace(amount=replace(amount, kind="count")) if amount is not None and bare else chunk


def _all_of(said: Said, concept: str, chunks: Sequence[Chunk]) -> bool:
    """Whether the chunks say nothing but a phrase of the concept."""
    return said.says(concept, chunks[0].start) == chunks[-1].end


def _agree(one: float, other: float) -> bool:
    return abs(one - other) <= AGREE * max(one, other)
