"""How many people have the same each, as a message about a batch says it or as its total shows it."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Chunk
from bot.language.frames.serving import Serving
from bot.language.frames.takers import Dealt, Quantity, Taker, dealt_out
from bot.language.pack import pack

MOST_AT_TABLE = 12
"""People who have the same each."""
BEFORE = 3
"""Tokens before somebody among which 'each of' may stand."""


def heads(told: Serving, quantity: Quantity, taker: Taker) -> float | None:
    """How many the quantity is of: 1, or as many as 'each' of them are; None if that is not said."""
    if not _is_each(told, quantity, taker):
        return 1.0
    near = range(taker.start - 1, taker.end)
    if any(told.word(n) in pack()["both_of_them"] for n in near):
        return 2.0
    numbers = [told.message.line.amounts.number(n) for n in near]
    said = next((n.value for n in numbers if n is not None and 1 < n.value <= MOST_AT_TABLE), None)
    counted = [c.amount.value for c in told.scene.amounts if c.amount is not None and told.of_people(c)]
    return said or (counted[0] if len(counted) == 1 and 1 < counted[0] <= MOST_AT_TABLE else None)


def _is_each(told: Serving, quantity: Quantity, taker: Taker) -> bool:
    """'4 each', 'each of the two kids 4', '1 for each kid'."""
    behind = [told.word(n) for n in range(quantity.end, quantity.end + 3)]
    before = [told.word(n) for n in range(taker.start - BEFORE, taker.start)]
    each = pack()["each_of_them"]
    if any(True for i in range(2) for _ in each.ends(behind, i)) or told.word(taker.start) in each:
        return True
    if told.word(quantity.start) in pack()["an_article"] and told.word(taker.start - 1) in pack()["both_alone"]:
        return True  # 'both my brothers went off with a box'
    small = pack()["of_a_share"], pack()["before_a_place"]
    return any(
        all(any(word in words for words in small) for word in before[end:])
        for i in range(len(before))
        for end in each.ends(before, i)
    )


def by_the_total(told: Serving, counts: Sequence[Chunk]) -> tuple[list[Dealt], float] | None:
    """(Who had how much, people who had the same each) where one of the numbers is the sum: 'one me, two Tom, so 3'."""
    for total in (counts[-1:], counts[:1]) if len(counts) > 2 else ():
        rest = [c for c in counts if c is not total[0]]
        shared = dealt_out(told, rest)
        if not shared or any(q.chunk is None for q, _ in shared) or total[0].amount is None:
            continue
        several = [(q.chunk.amount.value, heads(told, q, t)) for q, t in shared if q.chunk and q.chunk.amount]
        open_ones = [value for value, n in several if n is None]
        left = total[0].amount.value - sum(value * n for value, n in several if n is not None)
        if not open_ones and not left:
            return shared, 1.0
        if len(open_ones) == 1 and left / open_ones[0] in range(2, MOST_AT_TABLE + 1):
            return shared, left / open_ones[0]
    return None
