"""Where the ingredients begin in a message that opens a pot, behind its name and what announces it."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Chunk
from bot.language.frames.cooked_too import came_out
from bot.language.frames.pot_names import STOPS
from bot.language.frames.spans import Span, is_one
from bot.language.items import items
from bot.language.message import Message
from bot.language.pack import pack, plain

ENDS_A_HEADING = frozenset({":", "=", ".", "!", "/"})
BESIDE_FOOD = ("state", "size", "whole", "noise")
BESIDE_STATES = (",", "(", ")")
MOST_PLACES, MOST_LISTED = 8, 90
"""Places where a list may begin, and chunks of a message, up to which each place is tried."""
MOST_BARE_COUNT = 12
"""Up to this a number by itself may be a count of pieces."""


def body_at(rest: Message, taken: Sequence[Span]) -> int | None:
    """The index of the chunk with which the ingredients begin."""
    chunks = rest.chunks
    first = next((n for n, c in enumerate(chunks) if weighs(c)), None)
    if first is None:
        return None
    whole = _whole_list(rest, first, taken)
    if whole is not None:
        return whole
    if not _name_first(chunks, first) or _led(chunks, first):
        return first
    at = _behind_states(chunks, first)
    while at and not _parts(chunks[at - 1]) and not any(s.start == chunks[at - 1].end for s in taken):
        at -= 1
    return at


def _whole_list(rest: Message, first: int, taken: Sequence[Span]) -> int | None:
    """Where a list begins in which each weight has a known food: as early as that holds, with the food's qualifiers.

    In 'turkey chili. Ground turkey 93% lean, raw: 1.5 lb. Black beans: 15 oz' that is behind 'chili.': with the dish a
    food would be without a weight, and behind 'lean,' a weight without a food.
    """
    chunks = rest.chunks
    begins = {span.end for span in taken}
    parted = [n for n in range(first) if n == 0 or chunks[n - 1].text in STOPS or chunks[n - 1].kind == "newline"]
    places = sorted({*parted, *(n for n in range(first + 1) if chunks[n].start in begins)})
    if len(places) > MOST_PLACES or len(chunks) > MOST_LISTED or came_out(rest) is not None:
        return None
    name_first = _ends_with_weight(rest) and not _led(chunks, first)
    for at in places:
        if (
            _heads_a_list(chunks[at:first])
            or _says_more(chunks[at:first])
            or (not name_first and any(c.kind == "food" for c in chunks[at:first]))
        ):
            continue
        behind = next(
            (n for n in range(at, first + 1) if chunks[n].kind != "newline" and chunks[n].text not in STOPS), at
        )
        if chunks[behind].kind in ("food", "amount", "state", "size") and is_whole(rest.part(behind, len(chunks))):
            return behind
    return None


def _says_more(chunks: Sequence[Chunk]) -> bool:
    """Whether other words stand between the last food and its weight: 'chicken casserole, thighs first: 700 g'."""
    last = max((n for n, c in enumerate(chunks) if c.kind == "food"), default=len(chunks))
    return any(c.kind == "word" for c in chunks[last + 1 :])


def _ends_with_weight(rest: Message) -> bool:
    """Whether the last thing told is a weight, so that each food stands before its own: no '…, 400 g potatoes raw'."""
    chunks = rest.chunks
    last = next((n for n in range(len(chunks) - 1, -1, -1) if chunks[n].kind == "food" or weighs(chunks[n])), 0)
    if not weighs(chunks[last]):
        return False
    behind = next((c for c in chunks[last + 1 :] if c.kind not in BESIDE_FOOD), None)
    return behind is None or behind.kind != "word" or rest.words.knows(behind.text.lower())


def _heads_a_list(chunks: Sequence[Chunk]) -> bool:
    """Whether a heading ends between two foods before the first weight: 'leek pie: leeks, 600 g', 'stew on, beef 1 kg'.

    It ends with a mark or with words that announce a pot, which are taken out of the message.
    """
    marks: list[float] = [n for n, c in enumerate(chunks) if c.text in ENDS_A_HEADING or c.kind == "newline"]
    marks += [n - 0.5 for n in range(1, len(chunks)) if chunks[n - 1].end != chunks[n].start]
    foods = [n for n, c in enumerate(chunks) if c.kind in ("food", "batch")]
    return any(foods and foods[0] < mark < foods[-1] for mark in marks)


def is_whole(body: Message) -> bool:
    """Whether it tells each food with its one weight, and nothing else."""
    told = items(body)
    weights = [c for c in body.of("amount") if weighs(c)]
    known = all(i.name is not None and (i.name.foods or i.name.kinds) and i.amount is not None for i in told)
    return known and len(told) == len(weights) and not any(i.several or i.shared or i.two_masses for i in told)


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
