"""An order that is whole by itself, and the weigh-ins told beside it: 'change last to 150, 73 g bread'.

Between signs stand stretches; one that tells a food and its weight and no more is no part of the order beside it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from bot.language.asked import WhatIf
from bot.language.chunks import Kind
from bot.language.fact_meanings import SaveLabel, SaveTare, SetTarget
from bot.language.figures import nutrient_at
from bot.language.fix_meanings import Change
from bot.language.meanings import Meaning, NotMine
from bot.language.message import SENTENCE_END, Message
from bot.language.pack import pack
from bot.language.told import Item

Reader = Callable[[Message], list[Meaning]]
ORDERS = (Change, SaveLabel, SaveTare, SetTarget, WhatIf)
"""Meanings of which a weight of another food, behind a sign, is no part."""
CUES = ("label_word", "target_word", "tare_word", "asks_to_change", "asking_form")
"""Concepts of which one is said at the beginning of an order."""
HEADS = ("label_word", "target_word", "tare_word")
BESIDE = ("tells_of_eating", "in_addition", "taken_of", "articles_of", "articles", "oneself")
"""Concepts whose words may stand beside a food and its weight."""
ABOUT: tuple[Kind, ...] = ("state", "size", "whole", "moment")
MOST_CHUNKS, MOST_STRETCHES = 120, 24
MOST_LEADING = 3
"""Words of a stretch in which an order is told to begin."""

Stretch = tuple[int, int]
"""The first chunk, and the one behind the last."""


def told_beside_order(message: Message, read: Reader) -> list[Meaning] | None:
    """What an order and the weigh-ins before and behind it mean; None where they cannot be told apart."""
    if not message.of("food") or len(message.of("amount", "energy")) < 2 or len(message.chunks) > MOST_CHUNKS:
        return None
    if message.wording.said.isdisjoint(CUES) and not message.of("hash"):
        return None
    parts = _stretches(message)
    if not 2 <= len(parts) <= MOST_STRETCHES:
        return None
    plain = [_is_plain(message.part(*part)) for part in parts]
    apart = [told or _tells(message.part(*part)) for told, part in zip(plain, parts, strict=True)]
    for n, part in enumerate(parts):
        if plain[n] or not _begins_order(message.part(*part)):
            continue
        if n and not (apart[n - 1] or _is_headed(message.part(*part))):
            continue
        ends = (end for end in range(n + 1, len(parts) + 1) if end == len(parts) or apart[end])
        for end in ends:
            if (n, end) != (0, len(parts)):
                found = _told_apart(message, read, (part[0], parts[end - 1][1]), parts[end : end + 1])
                if found is not None:
                    return found
    return None


def _stretches(message: Message) -> list[Stretch]:
    """The message cut at signs, ends of lines and words that join."""
    found: list[Stretch] = []
    start = 0
    for n, chunk in enumerate(message.chunks):
        if chunk.kind == "newline" or chunk.text.lower() in pack()["parts_told"] or chunk.text == "?":
            if n > start:
                found.append((start, n))
            start = n + 1
    if start < len(message.chunks):
        found.append((start, len(message.chunks)))
    return found


def _is_plain(part: Message) -> bool:
    """Whether it tells one food that is no nutrient, its weight, and nothing else."""
    foods, amounts = part.of("food"), part.of("amount")
    if len(foods) != 1 or len(amounts) != 1:
        return False
    weight, food = amounts[0].amount, foods[0]
    if weight is None or weight.kind != "mass" or weight.doubt is not None:
        return False
    if nutrient_at(part.line, food.start, food.end) is not None:
        return False
    others = [c for c in part.chunks if c not in (amounts[0], food) and c.kind not in ABOUT]
    return all(c.kind == "word" and any(c.text.lower() in pack()[name] for name in BESIDE) for c in others)


def _tells(part: Message) -> bool:
    """Whether it begins with the weight of a food that is no nutrient: '88 g fruit salad for Jo'."""
    first, foods = part.chunks[0].amount, part.of("food")
    if first is None or first.kind != "mass" or not foods or part.chunks[1:2] != tuple(foods) or part.of("hash"):
        return False
    return nutrient_at(part.line, foods[0].start, foods[0].end) is None


def _begins_order(part: Message) -> bool:
    first = part.line.plain[part.chunks[0].start : part.chunks[-1].end][:MOST_LEADING]
    return part.chunks[0].kind == "hash" or any(pack()[name].found(first) for name in CUES)


def _is_headed(part: Message) -> bool:
    """Whether its first word says what kind of order it is: 'label oat bar …', 'target 2000 kcal', '#4 was 317 g'."""
    first = part.line.plain[part.chunks[0].start : part.chunks[-1].end]
    return part.chunks[0].kind == "hash" or any(pack()[name].end(first, 0) is not None for name in HEADS)


def _told_apart(message: Message, read: Reader, order: Stretch, behind: Sequence[Stretch]) -> list[Meaning] | None:
    start, end = order
    told = read(message.part(start, end))
    if not told or not all(isinstance(meaning, ORDERS) for meaning in told):
        return None
    parted = behind[0][0] if behind else len(message.chunks)
    first, last = message.part(0, start), message.part(parted, len(message.chunks))
    sides = [side for side in (first, last) if side.chunks]
    if not _is_complete(message, told, sides) or not _is_parted(message, told, order, behind):
        return None
    found = [read(side) if side.chunks else [] for side in (first, last)]
    if not all(any(isinstance(meaning, (Item, NotMine)) for meaning in each) for each in found if each):
        return None
    return [*found[0], *told, *found[1]]


def _is_complete(message: Message, told: Sequence[Meaning], sides: Sequence[Message]) -> bool:
    """Whether the order says what it changes to, and nothing beside it is of the weigh-in that it changes."""
    eaten = {c.target for side in sides for c in side.of("food")}
    recorded = message.around.recorded()
    for meaning in told:
        if isinstance(meaning, SaveLabel) and meaning.protein_g is None and meaning.fat_g is None:
            return False  # 'a flapjack, wrapper said 212 kcal' is a weigh-in
        if not isinstance(meaning, Change):
            continue
        if meaning.amount is None:
            return False
        number = meaning.which.number
        if any(each.food in eaten for each in recorded if number in (None, each.number)):
            return False
    return True


def _is_parted(message: Message, told: Sequence[Meaning], order: Stretch, behind: Sequence[Stretch]) -> bool:
    """Whether figures of a label are complete or end with their line, and a question with its sign before food."""
    start, end = order
    before, after = message.chunks[max(start - 1, 0) : start], message.chunks[end : end + 1] if behind else ()
    labels = [meaning for meaning in told if isinstance(meaning, SaveLabel)]
    if any(None in (label.kcal, label.protein_g, label.fat_g) for label in labels):
        cuts = after if _is_headed(message.part(*order)) else (*before, *after)
        return all(cut.kind == "newline" or cut.text in SENTENCE_END for cut in cuts)
    if any(isinstance(meaning, WhatIf) for meaning in told):
        eats = bool(behind) and pack()["tells_of_eating"].found(message.part(*behind[0]).wording)
        return start == 0 and eats and after[0].text == "?"
    return True
