"""Where the ingredients begin in a message that opens a pot, behind its name and what announces it."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Chunk
from bot.language.frames.pot_names import STOPS
from bot.language.frames.spans import Span, is_one
from bot.language.message import Message
from bot.language.pack import pack, plain

BESIDE_FOOD = ("state", "size", "whole", "noise")
BESIDE_STATES = (",", "(", ")")
MOST_BARE_COUNT = 12
"""Up to this a number by itself may be a count of pieces."""


def body_at(rest: Message, taken: Sequence[Span]) -> int | None:
    """The index of the chunk with which the ingredients begin."""
    chunks = rest.chunks
    first = next((n for n, c in enumerate(chunks) if weighs(c)), None)
    if first is None:
        return None
    if not _name_first(chunks, first) or _led(chunks, first):
        return first
    at = _behind_states(chunks, first)
    while at and not _parts(chunks[at - 1]) and not any(s.start == chunks[at - 1].end for s in taken):
        at -= 1
    return at


def _led(chunks: Sequence[Chunk], amount: int) -> bool:
    """'turkey chili so six ounces raw onion, …': a word leads on from the dish to an amount and its own food."""
    before = next((c for c in chunks[:amount][::-1] if c.kind != "state"), None)
    behind = next((c for c in chunks[amount + 1 :] if c.kind not in BESIDE_FOOD and c.text not in ("of", ",")), None)
    led = before is not None and plain(before.text.lower()) in pack()["leads_to_amounts"]
    return led and behind is not None and behind.kind == "food"


def _behind_states(chunks: Sequence[Chunk], amount: int) -> int:
    """Where the states before an amount begin, commas and brackets included: 'beef mince 5% fat, raw, 520 g'."""
    at = amount
    while at and (chunks[at - 1].kind == "state" or chunks[at - 1].text in BESIDE_STATES):
        at -= 1
    return at if any(c.kind == "state" for c in chunks[at:amount]) else amount


def _name_first(chunks: Sequence[Chunk], amount: int) -> bool:
    """Whether each food stands before its amount: 'onions 160 g, tomatoes 220 g'."""
    behind = next((c for c in chunks[amount + 1 :] if c.kind not in BESIDE_FOOD), None)
    if behind is None or _parts(behind):
        return True
    following = next((c for c in chunks[amount + 1 :] if c.kind == "food" or weighs(c)), None)
    if following is not None and weighs(following):
        return True
    telling = [c for c in chunks if c.kind == "food" or weighs(c)]
    return weighs(telling[-1]) and behind.text.lower() not in pack()["between_foods"]


def weighs(chunk: Chunk) -> bool:
    """Whether it is an amount of an ingredient, and no 'a' or count of pieces."""
    amount = chunk.amount
    if amount is None or is_one(amount):
        return False
    return amount.kind != "bare" or amount.value > MOST_BARE_COUNT


def _parts(chunk: Chunk) -> bool:
    return chunk.text in STOPS or chunk.kind in ("newline", "amount") or plain(chunk.text.lower()) in pack()["joining"]
