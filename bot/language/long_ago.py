"""What is told of another time of life, or of every time: 'in 2011 I ate 90 g a night', 'Gran always put 50 g in'."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.message import SENTENCE_END, Message
from bot.language.pack import pack
from domain.reference.words import is_action, is_finite

YEAR, LIFE = 4, 100
"""Digits of a year, and how long ago one that somebody tells of may be."""


def is_of_old(message: Message, amount: int, end: int) -> bool:
    """Whether the sentence of the amount at a token, read up to `end`, is about another time, or about every time.

    What was set aside as a story is read too, for it says when.
    """
    tokens = message.tokens
    ends = (n + 1 for n in range(amount) if tokens[n].text in SENTENCE_END or tokens[n].kind == "newline")
    start = max(ends, default=0)
    said, before = message.line.plain[start:end], message.line.plain[start:amount]
    gone = pack()["long_gone"].found(said) and not pack()["compared_with_then"].found(said)
    return gone or _in_a_year_gone(before, message.around.today.year) or _every_time(before)


def _in_a_year_gone(before: Sequence[str], this_year: int) -> bool:
    years = (w for n, w in enumerate(before) if n and before[n - 1] in pack()["in_or_on"])
    return any(len(w) == YEAR and w.isdecimal() and this_year - LIFE < int(w) < this_year for w in years)


def _every_time(before: Sequence[str]) -> bool:
    """Whether a verb stands behind 'always' or the like: 'as always, 60 g' has none."""
    often = (n for n, w in enumerate(before[:-1]) if w in pack()["every_time"])
    return any(is_action(before[n + 1]) or is_finite(before[n + 1]) for n in often)
