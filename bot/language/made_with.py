"""A dish that is named before the weights of what it was made with: they are what was eaten."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Chunk
from bot.language.message import Message
from bot.language.pack import pack
from domain import reference

UNWEIGHED = frozenset({"count", "measure"})
"""Kinds of amount that say how much of a dish there was without weighing it: 'a bowl', 'one'."""
MOST_CHUNKS = 40


def without_dish(message: Message) -> Message:
    """The message without the bowl of porridge in 'bowl of porridge made with 40 g oats'."""
    words = pack()["made_with"]
    if not words.found(message.wording) or message.asks or message.of("batch") or len(message.chunks) > MOST_CHUNKS:
        return message
    if "pot_begins" in message.wording.said:
        return message
    for at, chunk in enumerate(message.chunks):
        if chunk.kind != "food" or (end := words.end(message.line.plain, chunk.end)) is None:
            continue
        start = _begins(message, at)
        dish = message.chunks[start:at] if start is not None else None
        behind = [c for c in message.chunks if c.start >= end][:2]
        if dish is not None and _weighed(behind) and not _drunk(chunk):
            return message.without(c for c in message.chunks if (c in dish or c is chunk or chunk.end <= c.start < end))
    return message


def _begins(message: Message, at: int) -> int | None:
    """Where the words of the dish begin, its unweighed amount among them; None where it was weighed itself."""
    start = at
    while start and message.chunks[start - 1].kind in ("amount", "word", "size"):
        chunk = message.chunks[start - 1]
        if chunk.amount is not None and chunk.amount.kind not in UNWEIGHED:
            return None
        if chunk.amount is None and chunk.text.lower() not in pack()["article"] and chunk.text.lower() != "of":
            break
        start -= 1
    return start


def _weighed(behind: Sequence[Chunk]) -> bool:
    """Whether a weight and a food come next."""
    amount = next((c.amount for c in behind if c.amount is not None), None)
    return amount is not None and amount.kind == "mass" and behind[0].kind == "amount"


def _drunk(dish: Chunk) -> bool:
    food = reference.load().foods.get(dish.target)
    return food is not None and food.drunk
