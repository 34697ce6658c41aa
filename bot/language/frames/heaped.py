"""The frame of ingredients that no one eats at a sitting: a pot, even where no word says that one is begun."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.batch_meanings import OpenBatch
from bot.language.frames.opening import name_of_pot, told_ingredients
from bot.language.frames.pot_names import is_named_dish
from bot.language.intents.openings import opening
from bot.language.meanings import Meaning
from bot.language.pack import pack, plain
from bot.language.scene import Scene
from bot.language.stance import how_it_is_said, planned
from bot.language.told import Item
from domain import reference
from domain.foods import State

LEAST_FOODS = 3
LEAST_G = 650.0
"""What goes in, at least."""
HEAPS_G = {
    "fats": 80.0, "condiments": 150.0, "grains": 250.0, "pulses": 300.0, "meat": 400.0, "poultry": 400.0, "fish": 400.0,
    "sausages": 400.0, "vegetables": 600.0,
}  # fmt: skip
"""Grams of one food, by its group, that hardly anybody eats at once as it stands in the list (common practice)."""
BUTTER_G = 100.0
MOST_CHUNKS = 90


def heaped(scene: Scene) -> list[Meaning] | None:
    """'Cottage pie tonight. 500g beef mince, 1 onion that's 140g, 180g carrots, a 400g tin of tomatoes, 40g butter'."""
    message = scene.message
    if len(scene.amounts) < LEAST_FOODS or len(message.chunks) > MOST_CHUNKS:
        return None
    if message.asks or message.of("hash", "energy", "macro", "price", "tare"):
        return None
    if message.when.future or scene.named or scene.cue("i_ate", "ate", "portioned", "condition"):
        return None
    if opening(message) is not None:
        return None  # one of the usual heads
    if planned(message) or how_it_is_said(message) is not None or scene.cue("only_written_down"):
        return None
    told = told_ingredients(message)
    weighed = [item for item in told if _grams(item)]
    foods = {item.name.text for item in weighed if item.name is not None and (item.name.foods or item.name.kinds)}
    if len(foods) < LEAST_FOODS or sum(map(_grams, weighed)) < LEAST_G or any(_cooked(item) for item in told):
        return None
    name = name_of_pot(message)
    dish = pack()["dish"].found([plain(word) for word in name.split()]) or is_named_dish(message, name.split())
    if message.when.meal and not (dish and any(item.state == State.RAW for item in weighed)):
        return None  # a plate
    return [OpenBatch(name=name or None, items=tuple(told))] if any(map(_is_heap, weighed)) else None


def _grams(item: Item) -> float:
    return item.amount.grams or 0.0 if item.amount is not None else 0.0


def _cooked(item: Item) -> bool:
    return item.state == State.COOKED


def _is_heap(item: Item) -> bool:
    """Whether it is more of one food than anybody eats at once."""
    foods = reference.load().foods
    names: Sequence[str] = item.name.foods if item.name is not None else ()
    kinds = reference.load().kinds.get(item.name.kinds) if item.name is not None and item.name.kinds else None
    known = [foods[name] for name in (*names, *(kinds.kinds[:1] if kinds is not None else ())) if name in foods]
    return any(
        _grams(item) >= (BUTTER_G if food.name in pack()["spread_on_bread"] else HEAPS_G.get(food.group, LEAST_G))
        for food in known
    )
