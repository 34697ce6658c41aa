"""Answers to questions that wait: which question, and what is chosen or filled in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from bot.language.told import Amount, Item

Slot = Literal["amount", "food", "kg", "years", "cm", "condition", "kg_per_week", "time"]
"""What an answer fills in: an amount, a food, a clock time, or what a target is computed from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One of a question's choices."""

    question: int
    """The question's key in the surroundings."""
    index: int
    """From 0; it may lie beyond the last one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """What a question asked for, in words of the person's own."""

    question: int
    slot: Slot
    amount: Amount | None = None
    item: Item | None = None
    """For a food: the item as it was said."""
    value: float | bool | str | None = None
    """For the other slots; a time is HH:MM, or None for none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WhichQuestion:
    """An answer that does not say which question it is for, and what it would be for each that it fits."""

    text: str
    choices: tuple[Choice, ...] = ()
    fills: tuple[Filled, ...] = ()
    item: Item | None = None
    """What it is when it answers none of them: a new item, still to be completed."""
    amount: Amount | None = None
    """What it is when it answers none of them: a number by itself."""


Answering = Choice | Filled | WhichQuestion
