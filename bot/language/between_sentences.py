"""What a clause or a sentence means only together with another: its day, its waste, its food."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.fix_meanings import Waste
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.told import Item
from bot.language.waste import wastes_found

MOST_BEFORE_WASTE = 6
"""Clauses before a waste weight that may tell together of the food that it came from."""


def only_when(clause: Message) -> bool:
    """Whether a clause says when, and nothing else: it dates the weigh-ins around it."""
    if clause.asks or not clause.of("moment"):
        return False
    others = [c for c in clause.chunks if c.kind not in ("moment", "sign")]
    return all(c.kind == "word" and clause.words.knows(c.text.lower()) for c in others)


def left_alone(meaning: Meaning, untouched: set[str]) -> bool:
    """Whether a food without an amount is one of those that the message says were not eaten."""
    if not isinstance(meaning, Item) or meaning.amount is not None or meaning.name is None:
        return False
    name = meaning.name
    return bool(untouched & {*name.foods, f"kinds:{name.kinds}"})


def waste_of(waiting: Sequence[Message], clause: Message, found: Sequence[Meaning]) -> bool:
    """Whether a clause only tells the waste of the one food before it ('… 312 g; the bones came to 104 g')."""
    only = found[0] if len(found) == 1 else None
    if not isinstance(only, Waste) or only.name is not None or len(waiting) > MOST_BEFORE_WASTE:
        return False
    told = [c for part in waiting for c in part.of("food", "amount", "batch")]
    one = [c.kind for c in told].count("food") == 1 and all(c.kind != "batch" for c in told)
    return one and any(c.kind == "amount" for c in told) and any(c.kind == "part" for c in wastes_found(clause))


def with_food(sentence: Message, before: Message | None) -> Message:
    """A sentence that only says 'they came to 132 g', with the one food of the sentence before it."""
    if before is None or not sentence.of("amount") or sentence.of("food", "batch", "hash", "energy"):
        return sentence
    foods = before.of("food")
    if len(foods) != 1 or before.of("amount") or not sentence.has("they", "them", "it", "mine", "those", "these"):
        return sentence
    return replace(sentence, chunks=(*sentence.chunks, *foods))
