"""Waste weights: 'core 19', 'the bones came to 92 g', 'left 310 g of rind'."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from bot.language.chunks import Chunk
from bot.language.message import Message, once
from bot.language.pack import pack
from bot.language.text import singular
from bot.language.told import Amount
from bot.language.word_lists import word_lists

WASTE_SPAN = 12
"""How many words may stand between a waste part and its weight."""
WORDS = word_lists("telling")


@once
def wastes_found(message: Message) -> list[Chunk]:
    """The chunks with each waste weight ('core 19', 'left 310 g of rind') made one chunk of kind 'part'."""
    chunks = list(message.chunks)
    found: list[Chunk] = []
    i = 0
    while i < len(chunks):
        waste = _waste_at(message, chunks, i)
        if waste is None:
            found.append(chunks[i])
            i += 1
        else:
            found.append(waste[0])
            i = waste[1]
    return found


def is_part(message: Message, chunk: Chunk) -> bool:
    """Whether the chunk names what is thrown away (core, bones)."""
    named = chunk.kind in ("word", "food") and singular(chunk.text.lower()) in message.words.parts
    return named and not (
        message.word_before(chunk) in WORDS["on_top_of"] and chunk.text.lower() in WORDS["place_on_top"]
    )


def _waste_at(message: Message, chunks: Sequence[Chunk], i: int) -> tuple[Chunk, int] | None:
    """The waste weight that begins at chunk i, and where it ends."""
    if is_part(message, chunks[i]) and not ends_name(message, chunks, i):
        return _part_first(message, chunks, i)
    if chunks[i].text.lower() in WORDS["leaving"]:
        return _left_behind(message, chunks, i)
    if is_weight(chunks[i]) and i:
        return _weight_first(message, chunks, i)
    return None


def ends_name(message: Message, chunks: Sequence[Chunk], i: int) -> bool:
    """Whether the part is the last word of a misspelt name ('sunfolwer seeds')."""
    before = chunks[i - 1] if i else None
    if before is None or before.kind != "word" or message.words.knows(before.text.lower()):
        return False
    words = [before.text.lower(), chunks[i].text.lower()]
    return message.vocabulary.resolve(words, " ".join(words)).corrected


def _part_first(message: Message, chunks: Sequence[Chunk], i: int) -> tuple[Chunk, int] | None:
    """'core 19', 'the bones I left behind came to 92 g'."""
    j = i + 1
    while j < min(len(chunks), i + WASTE_SPAN) and (
        chunks[j].text.lower() in WORDS["waste_links"]
        or chunks[j].text.lower() in WORDS["waste_places"]
        or _aside(chunks, i, j)
        or is_part(message, chunks[j])
        or (chunks[j].kind == "word" and chunks[j].text.lower() in message.words.filler | {"left", "behind"})
    ):
        j += 1
    if (
        j < len(chunks)
        and is_weight(chunks[j])
        and not (_followed_by_food(chunks, j + 1) or _is_out(message, chunks[i]))
    ):
        return _waste(chunks[i].start, chunks[j], singular(chunks[i].text.lower())), j + 1
    return None


def _is_out(message: Message, part: Chunk) -> bool:
    """'stone out it was 180 g': whether the part was taken out before, and what is weighed is the rest."""
    said, words = message.line.plain, pack()
    out = part.end < len(said) and said[part.end] in words["taken_out"]
    return out and any(w in words["the_rest_of_it"] for w in said[part.end + 1 : part.end + WASTE_SPAN])


def _aside(chunks: Sequence[Chunk], i: int, j: int) -> bool:
    """Whether chunk j stands in what is said between commas: 'the core, which I weighed afterwards, was 14 g'."""
    between = [c.text.lower() for c in chunks[i : j + 2]]
    return chunks[j].kind in ("word", "sign") and any(
        a == "," and b in ("which", "that", "now") for a, b in pairwise(between)
    )


def _left_behind(message: Message, chunks: Sequence[Chunk], i: int) -> tuple[Chunk, int] | None:
    """'left 310 g of rind', 'left 40 g on the plate'."""
    j = i + 1
    if j >= len(chunks) or not is_weight(chunks[j]):
        return None
    k = j + 1
    while k < len(chunks) and chunks[k].text.lower() in WORDS["waste_places"]:
        k += 1
    if k < len(chunks) and is_part(message, chunks[k]):
        return _waste(chunks[i].start, chunks[j], singular(chunks[k].text.lower())), k + 1
    if not _followed_by_food(chunks, j + 1):
        return _waste(chunks[i].start, chunks[j], "waste"), max(j + 1, k)
    return None


def _weight_first(message: Message, chunks: Sequence[Chunk], i: int) -> tuple[Chunk, int] | None:
    """'19 g core', '310 g of rind', '40 g left'."""
    j = i + 1
    while j < len(chunks) and chunks[j].text.lower() in ("of", "for", "the", "was", "is", "were"):
        j += 1
    if j >= len(chunks):
        return None
    if is_part(message, chunks[j]) and not _own_weight(chunks, j + 1):
        return _waste(chunks[i].start, chunks[i], singular(chunks[j].text.lower())), j + 1
    left = j == i + 1 and chunks[j].text.lower() in ("left", "leftover")
    if left and all(c.kind != "batch" for c in chunks):
        return _waste(chunks[i].start, chunks[i], "waste"), j + 1
    return None


def _own_weight(chunks: Sequence[Chunk], i: int) -> bool:
    """Whether the part before chunk i has a weight of its own behind it, or is the beginning of a food's name."""
    while i < len(chunks) and chunks[i].text.lower() in WORDS["waste_links"] and chunks[i].text.lower() != "left":
        i += 1
    return i < len(chunks) and (is_weight(chunks[i]) or chunks[i].kind == "food")


def grams_of(amount: Amount) -> float:
    """Grams of a mass; a bare number beside a food is grams."""
    return amount.grams if amount.grams is not None else amount.value


def is_weight(chunk: Chunk) -> bool:
    """Whether the chunk is a mass or a bare number; 'one' and 'half' are of the food, and no weight."""
    amount = chunk.amount if chunk.kind == "amount" else None
    return amount is not None and (amount.kind == "mass" or (amount.kind == "bare" and amount.value > 1))


def _followed_by_food(chunks: Sequence[Chunk], i: int) -> bool:
    while i < len(chunks) and chunks[i].text.lower() in ("of", "the"):
        i += 1
    return i < len(chunks) and chunks[i].kind in ("food", "state")


def _waste(start: int, amount: Chunk, part: str) -> Chunk:
    return Chunk("part", start, amount.end, amount.text, amount=amount.amount, part=part)
