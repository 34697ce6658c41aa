"""Repairs that are seen by the shape of what is told: digits in another order, a star before the right word."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from bot.language.message import Message

STAR = "*"
JOINS = frozenset({"+", "-", "/", "=", "*", "&"})
"""Signs that reckon with the numbers at their sides."""
TELLING = frozenset({"amount", "food", "batch", "state", "whole", "moment", "tare"})
ENDS = frozenset({",", ".", ";", "!", "?", "(", ")"})


@dataclass(frozen=True)
class Repair:
    """A repair found: the chunks that it puts right, and those that it puts in their place."""

    wrong: tuple[int, int]
    right: tuple[int, int]
    marker: tuple[int, int]


def digits_turned(message: Message) -> Repair | None:
    """'95 g hummus, my eyes!! 59 g': the same digits in another order, with no food of their own."""
    at = [n for n, c in enumerate(message.chunks) if c.kind == "amount"]
    for first, second in pairwise(at):
        one, other = message.chunks[first].amount, message.chunks[second].amount
        if one is None or other is None or one.kind != "mass" or other.kind not in ("mass", "bare"):
            continue
        between, behind = message.chunks[first + 1 : second], message.chunks[second + 1 : second + 2]
        told = any(c.kind in TELLING - {"food"} or c.text in JOINS for c in between)
        alone = not behind or behind[0].text in (*ENDS, "\n")
        parted = message.chunks[second - 1].text in ENDS or is_star(message, second - 1)
        same_unit = other.kind == "bare" or other.unit == one.unit
        if told or not alone or not parted or not same_unit or not _is_turned(one.value, other.value):
            continue
        if len([c for c in message.chunks[:second] if c.kind == "food"]) == 1:
            return Repair((first, first + 1), (second, second + 1), (second, second + 1))
    return None


def _is_turned(one: float, other: float) -> bool:
    """Whether two numbers of several digits have the same ones in another order."""
    first, second = f"{one:g}", f"{other:g}"
    return first != second and len(first) == len(second) > 1 and sorted(first) == sorted(second)


def is_star(message: Message, n: int) -> bool:
    """Whether a star marks what follows as the right word: 'blueberries *raspberries'."""
    chunk = message.chunks[n]
    behind = message.tokens[chunk.end : chunk.end + 1]
    return chunk.text == STAR and bool(behind) and not behind[0].spaced and message.tokens[chunk.start].spaced
