"""Weights that only say again what was said: '0.25 kg, that is a quarter of a kilo', '80 and another 65, so 145'."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from bot.language.chunks import Chunk
from bot.language.weighed import MOST_PHRASE, Said, grams_of, weighs

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
        end = said.says("in_all", weight.end)
        if end is not None:
            return [c._replace(end=end) if c is weight else c for c in said.chunks if not weight.end <= c.start < end]
        before = [c for c in said.chunks if weight.start - MOST_PHRASE <= c.start < weight.start]
        start = next((c for c in before if c not in counts[:1] and said.says("in_all", c.start) == weight.start), None)
        if start is not None:
            return said.but([c for c in before if c.start >= start.start], {})
    return None


def _all_of(said: Said, concept: str, chunks: Sequence[Chunk]) -> bool:
    """Whether the chunks say nothing but a phrase of the concept."""
    return said.says(concept, chunks[0].start) == chunks[-1].end


def _agree(one: float, other: float) -> bool:
    return abs(one - other) <= AGREE * max(one, other)
