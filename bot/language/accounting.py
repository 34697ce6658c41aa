"""No number is lost in silence: each is in a meaning of the message, or the reply says that it was left out.

A number whose part in a weigh-in is not known puts that weigh-in's amount in doubt, so that it is asked about.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass, replace
from typing import Any

from bot.language.batch_meanings import CloseBatch
from bot.language.chunks import Chunk
from bot.language.fix_meanings import Again
from bot.language.meanings import Bare, LeftOut, Meaning, NotMine
from bot.language.message import Message
from bot.language.own_part import own_part
from bot.language.portion_meanings import GiveAway, ReduceBatch
from bot.language.repairs import put_right
from bot.language.stance import clauses, not_mine, without_excluded
from bot.language.stories import without_stories
from bot.language.told import Item

CLOSE, AGREE = 1e-3, 0.02
"""How far a number in a meaning may be from the one told, as a share of it; a weight that is said twice in two units
may differ by more."""
OF_OTHERS = (CloseBatch, GiveAway, ReduceBatch)
"""Meanings whose replies say what became of the numbers that are not the writer's."""
ANSWERS_ALL = "text"
"""The field that quotes what a meaning was read from; a number in it alone is not yet accounted for."""


def accounted(message: Message, meant: list[Meaning]) -> list[Meaning]:
    """The meanings, with a weigh-in in doubt for a number that is in none of them, or with what was left out."""
    if not any(isinstance(m, (Item, Bare, Again)) for m in meant) or any(isinstance(m, OF_OTHERS) for m in meant):
        return meant
    told = [c for c in message.chunks if _is_number(c)]
    if not told:
        return meant
    lost = lost_numbers(message, told, meant)
    if any(isinstance(m, NotMine) and m.why == "others" for m in meant):
        meant, lost = _of_others(message, meant, lost)
    if not lost:
        return meant
    only = meant[0] if len(meant) == 1 else None
    beside = {id(c) for c in without_stories(message).chunks}
    if any(id(c) not in beside for c in lost):
        only = None
    if isinstance(only, Item) and only.amount is not None and only.batch is None:
        seen = ", ".join((only.amount.text, *(c.text for c in lost)))
        return [replace(only, amount=replace(only.amount, doubt="unclear", text=seen))]
    return [*meant, LeftOut(texts=tuple(c.text for c in lost))]


def _of_others(message: Message, meant: list[Meaning], lost: Sequence[Chunk]) -> tuple[list[Meaning], list[Chunk]]:
    """The meanings, with the numbers that were somebody else's in the one that says so, and the other lost numbers."""
    parts = [part for sentence in message.sentences() for part in clauses(sentence) if _is_of_others(part)]
    refused = {id(c) for part in parts for c in part.chunks}
    theirs = tuple(c.text for c in lost if id(c) in refused)
    at = next(n for n, m in enumerate(meant) if isinstance(m, NotMine) and m.why == "others")
    told = [NotMine(why="others", texts=theirs) if n == at else m for n, m in enumerate(meant)]
    return told, [c for c in lost if id(c) not in refused]


def _is_of_others(part: Message) -> bool:
    why = not_mine(part)
    return why is not None and why.why == "others"


def lost_numbers(message: Message, told: Sequence[Chunk], meant: Sequence[Meaning]) -> list[Chunk]:
    """Those of the numbers told that are in no meaning, were not put right, and are not in a stated result."""
    held = list(held_in(meant))
    values = [each for each in held if isinstance(each, float)]
    texts = [each.lower() for each in held if isinstance(each, str)]
    lost = [c for c in told if not _is_in(c, values, texts) and not _says_again(c, told, len(meant))]
    if not lost:
        return []
    kept = {id(c) for c in own_part(message).chunks}
    if len(kept) < len(message.chunks) and not any(isinstance(m, Item) and _in_doubt(m) for m in meant):
        lost = [c for c in lost if id(c) in kept]
    excluded = {id(c) for c in without_excluded(message).chunks}
    lost = [c for c in lost if id(c) in excluded]
    right = {c.text.lower() for c in put_right(message).chunks}
    return [c for c in lost if c.text.lower() in right]


def _in_doubt(item: Item) -> bool:
    return item.two_masses or (item.amount is not None and item.amount.doubt is not None)


def _is_number(chunk: Chunk) -> bool:
    if chunk.kind == "hash":
        return True
    amount = chunk.amount
    return chunk.kind == "amount" and amount is not None and any(c.isdecimal() for c in chunk.text)


def _is_in(chunk: Chunk, values: Sequence[float], texts: Sequence[str]) -> bool:
    said = chunk.amount.text.lower() if chunk.amount is not None else chunk.text.lower()
    if any(said in text or chunk.text.lower() in text for text in texts):
        return True
    amount = chunk.amount
    numbers = [float(chunk.number)] if chunk.kind == "hash" else []
    if amount is not None:
        numbers += [n for n in (amount.value, amount.grams, amount.other) if n is not None]
        numbers += [n / 1000 for n in (amount.grams,) if n is not None]
    return any(abs(n - value) <= CLOSE * max(1.0, abs(n)) for n in numbers for value in values)


def _says_again(chunk: Chunk, told: Sequence[Chunk], meanings: int) -> bool:
    """Whether a weight is one of the others in another unit, '4 oz (113 g)', or of one food as another is."""
    weights = [c.amount for c in (chunk, *told) if c.amount is not None and c.amount.grams is not None]
    if not weights or weights[0] is not chunk.amount:
        return False
    one, *others = weights
    return any(
        (w.unit != one.unit or (meanings == 1 and w is not one))
        and abs((w.grams or 0.0) - (one.grams or 0.0)) <= AGREE * (one.grams or 0.0)
        for w in others
    )


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
