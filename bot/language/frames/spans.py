"""Find the tokens that phrases of concepts take in a message, so that a frame can remove them and read the rest."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from bot.language.chunks import Chunk
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.told import Amount

HELD = frozenset({"food", "energy", "macro", "price", "hash"})
"""Kinds of chunk that a phrase never takes a part of."""


@dataclass(frozen=True, slots=True)
class Span:
    """Tokens `start` to `end` of a message."""

    start: int
    end: int


def spans(message: Message, *concepts: str) -> list[Span]:
    """The longest phrase of the concepts at each token, except phrases that contain a weight or a food."""
    found: list[Span] = []
    if not message.chunks:
        return found
    first, last = message.chunks[0].start, message.chunks[-1].end
    said = message.line.plain
    longest: dict[int, int] = {}
    for at, end in (place for name in concepts for place in said.places(name)):
        if first <= at and longest.get(at, at) < end <= last:
            longest[at] = end
    if not longest:
        return found
    held = {n for c in message.chunks if _holds(c) for n in range(c.start, c.end)}
    behind = first
    for at in sorted(longest):
        span = Span(at, longest[at])
        if at >= behind and (held.isdisjoint(range(at, span.end)) or _is_a_pot(message, span)):
            found.append(span)
            behind = span.end
    return found


def _is_a_pot(message: Message, span: Span) -> bool:
    """Whether a phrase that ends in a word for a pot was mistaken for something else.

    A 'new pot' is not a new potato, and 'a third pot' no third of one.
    """
    inside = [c for c in message.chunks if c.start < span.end and span.start < c.end]
    if message.line.plain[span.end - 1] not in pack()["pot"]:
        return False
    alike = all(c.kind in ("food", "word", "batch") or _is_part_of_one(c) for c in inside)
    return alike and all(span.start <= c.start + (c.amount is not None) and c.end <= span.end for c in inside)


def _is_part_of_one(chunk: Chunk) -> bool:
    amount = chunk.amount
    return amount is not None and amount.kind in ("measure", "bare") and 0 < amount.value < 1


def _holds(chunk: Chunk) -> bool:
    """Whether removing the chunk would lose information; the 'a' of 'a pot' is an amount only in form."""
    return chunk.kind in HELD or (chunk.amount is not None and not is_one(chunk.amount))


def is_one(amount: Amount) -> bool:
    """Whether an amount says no more than 'a' or 'one': 'a pot of', 'a big'."""
    if amount.kind == "bare":
        return amount.value == 1 and amount.text.isalpha()
    return amount.kind == "loose" or (amount.kind in ("count", "measure") and amount.value == 1)


def outside(message: Message, taken: Iterable[Span]) -> Message:
    """The message without the chunks that overlap a span."""
    gone = {n for span in taken for n in range(span.start, span.end)}
    return message.without([c for c in message.chunks if not gone.isdisjoint(range(c.start, c.end))])
