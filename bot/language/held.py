"""The numbers of a message and those in its meanings, compared: what a meaning holds of what was told."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass
from typing import Any

from bot.language.chunks import Chunk
from bot.language.told import Item

CLOSE = 1e-3
"""How far a number in a meaning may be from the one told, as a share of it."""
ANSWERS_ALL = "text"
"""The field that quotes what a meaning was read from; a number in it alone is not yet accounted for."""


def is_number(chunk: Chunk) -> bool:
    """Whether a chunk is a number that was told: written in digits, or with a unit of mass or volume."""
    if chunk.kind == "hash":
        return True
    amount = chunk.amount
    if chunk.kind != "amount" or amount is None:
        return False
    return amount.grams is not None or amount.kind == "volume" or any(c.isdecimal() for c in chunk.text)


def figures_of(chunk: Chunk) -> list[float]:
    """What a number may be in a meaning: its value, and its grams."""
    if chunk.kind == "hash":
        return [float(chunk.number)]
    amount = chunk.amount
    return [] if amount is None else [n for n in (amount.value, amount.grams, amount.other) if n is not None]


def alike(one: float, other: float) -> bool:
    """Whether two figures are the same but for rounding."""
    return abs(one - other) <= CLOSE * max(abs(one), abs(other))


def is_in(chunk: Chunk, values: Sequence[float], texts: Sequence[str]) -> bool:
    """Whether a number is among the figures of the meanings, or is quoted in their texts."""
    said = chunk.amount.text.lower() if chunk.amount is not None else chunk.text.lower()
    if any(quotes(text, said) or quotes(text, chunk.text.lower()) for text in texts):
        return True
    numbers = figures_of(chunk)
    numbers += [n.grams / 1000 for n in (chunk.amount,) if n is not None and n.grams is not None]
    return any(alike(n, value) for n in numbers for value in values)


def quotes(text: str, said: str) -> bool:
    """Whether a text has a number as it was said, and not as a part of a longer one: '16' is not in '216 g'."""
    return re.search(rf"(?<!\d){re.escape(said)}(?!\d)", text) is not None


def is_in_share(
    chunk: Chunk, wholes: Sequence[float], values: Sequence[float], texts: Sequence[str], stays: bool
) -> bool:
    """Whether a meaning has the share, what it leaves, either of them of a weight, or a quotation with it.

    Of a share that `stays` it has to be what is left by it.
    """
    assert chunk.amount is not None
    share, said = chunk.amount.value, chunk.amount.text.lower()
    shares = (1 - share,) if stays else (share, 1 - share)
    made = {*shares, *(each * whole for each in shares for whole in wholes)}
    return any(said in text for text in texts) or any(alike(each, value) for each in made for value in values)


def held_in(part: Any) -> Iterator[float | str]:
    """All numbers in a meaning, and the texts that say how an amount or a name was told."""
    if isinstance(part, bool) or part is None:
        return
    if isinstance(part, (int, float)):
        yield float(part)
    elif isinstance(part, str):
        yield part
    elif isinstance(part, (tuple, list)):
        for each in part:
            yield from held_in(each)
    elif is_dataclass(part):
        for field in fields(part):
            if not (field.name == ANSWERS_ALL and isinstance(part, Item)):
                yield from held_in(getattr(part, field.name))
