"""The frame of ingredients that no one eats at a sitting: a pot, even where no word says that one is begun."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.asked import WhatIf
from bot.language.batch_meanings import OpenBatch
from bot.language.frames.opening import is_anothers, name_of_pot, opened, told_ingredients
from bot.language.frames.pot_names import is_named_dish, unheard_name
from bot.language.frames.substance import FEW, is_for_a_pot
from bot.language.intents.ingredients import in_grams
from bot.language.intents.openings import opening
from bot.language.meanings import Chatter, LeftOut, Meaning, NotMine, Unclear
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.scene import Scene
from bot.language.stance import how_it_is_said, planned
from bot.language.told import Item
from domain.foods import State

MOST_CHUNKS = 90
MOST_BESIDE = 2
"""Meanings of a message in which one pot is opened and its heading may have been read by itself."""
BESIDE_WEIGH_INS = (Chatter, LeftOut)
"""What may come with weigh-ins that are a pot after all."""


def heaped(scene: Scene) -> list[Meaning] | None:
    """'Cottage pie tonight. 500g beef mince, 1 onion that's 140g, 180g carrots, a 400g tin of tomatoes, 40g butter'."""
    message = scene.message
    if len(scene.amounts) < FEW or len(message.chunks) > MOST_CHUNKS or _is_no_pot(scene):
        return None
    if message.of("tare") or scene.named or opening(message) is not None:
        return None  # one of the usual heads
    told = told_ingredients(message)
    if not is_for_a_pot(told):
        return None
    name = name_of_pot(message)
    return None if _is_a_plate(message, name, told) else [_opened(message, name, told)]


def pot_after_all(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """The pot that is told by what was read as weigh-ins of raw food, water and spices; None if they may be a meal."""
    if len(meant) <= MOST_BESIDE and any(isinstance(m, OpenBatch) for m in meant):
        kept = [m for m in meant if not isinstance(m, (Unclear, NotMine))]
        return [_with_heading(message, m) for m in kept] if _says_too_little(meant) else None
    told = [item for m in meant for item in (m.items if isinstance(m, WhatIf) else [m]) if isinstance(item, Item)]
    if len(told) < FEW or any(not isinstance(m, (Item, WhatIf, *BESIDE_WEIGH_INS)) for m in meant):
        return None
    if any(i.batch is not None or i.kcal is not None or i.others_g or i.changes is not None for i in told):
        return None
    scene = Scene(message)
    if not is_for_a_pot(told) or _is_no_pot(scene):
        return None
    name = name_of_pot(message)
    if _is_a_plate(message, name, told):
        return None
    if is_anothers(message):
        return [NotMine(why="others")]
    by_words = opened(scene)
    if by_words is not None and any(isinstance(m, OpenBatch) for m in by_words):
        return by_words
    return [_opened(message, name, told)]


def _says_too_little(meant: Sequence[Meaning]) -> bool:
    """Whether a pot has no name yet, or its heading was read by itself."""
    return len(meant) > 1 or any(isinstance(m, OpenBatch) and m.name is None for m in meant)


def _with_heading(message: Message, meaning: Meaning) -> Meaning:
    """A pot that was read without the sentence before it, with the name in that: 'on sambar duty. Toor dal …'."""
    if not isinstance(meaning, OpenBatch) or meaning.name is not None:
        return meaning
    return replace(meaning, name=unheard_name(message) or None)


def _opened(message: Message, name: str, told: Sequence[Item]) -> OpenBatch:
    return OpenBatch(name=name or unheard_name(message) or None, items=tuple(in_grams(told)))


def _is_no_pot(scene: Scene) -> bool:
    """Whether it asks, plans, was eaten or only stands in a recipe or on a shopping list."""
    message = scene.message
    if (message.asks and message.has("?")) or message.of("hash", "energy", "macro", "price"):
        return True
    if message.when.future or scene.cue("i_ate", "ate", "portioned", "condition"):
        return True
    return planned(message) or how_it_is_said(message) is not None or scene.cue("only_written_down", "shop_trip")


def _is_a_plate(message: Message, name: str, told: Sequence[Item]) -> bool:
    """Whether it is of a meal and names no dish that is made from something raw."""
    dish = pack()["dish"].found([plain(word) for word in name.split()]) or is_named_dish(message, name.split())
    return bool(message.when.meal) and not (dish and any(item.state == State.RAW for item in told))
