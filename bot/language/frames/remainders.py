"""The frame for what the others left: 'we had 450 g cherries, my brother ate 200, the rest was mine'."""

from __future__ import annotations

from dataclasses import replace

from bot.language.chunks import Chunk, Kind
from bot.language.frames.serving import seen
from bot.language.frames.stretch import as_mass, cut_at, grams_of
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.told import Amount

MOST_WEIGHTS = 6
"""Weights of one dish that are told with who had them."""
LEAST_G = 12
"""A bare number above this is in grams, because nobody counts that many pieces."""
NOT_OF_IT: tuple[Kind, ...] = ("hash", "energy", "macro", "price", "tare", "part", "batch")


def what_remained(scene: Scene) -> list[Meaning] | None:
    """'600 g watermelon, Kofi had 250, Ama 150, what's left is mine': the whole less what others had of it."""
    message = scene.message
    if message.asks or scene.named or message.of(*NOT_OF_IT) or message.when.future or not scene.cue("rest_is_mine"):
        return None
    weights = [c for c in scene.amounts if _weighs(c.amount)]
    if not 2 <= len(weights) <= MOST_WEIGHTS or len(weights) < len(scene.amounts):
        return None
    if len({c.target for c in message.of("food")}) != 1:
        return None
    whole, *theirs = weights
    if not all(_is_somebodys(scene, c) for c in theirs):
        return None
    assert whole.amount is not None
    first = as_mass(whole.amount)
    gone = [as_mass(c.amount, whole.amount) for c in theirs if c.amount is not None]
    grams = grams_of(first) - sum(map(grams_of, gone))
    if grams <= 0:
        return None
    text = " less ".join((whole.amount.text, *(c.amount.text for c in theirs if c.amount is not None)))
    mine = Amount(kind="mass", value=grams, unit="g", grams=grams, text=text)
    kept = [c for c in message.chunks if c.kind in ("food", "state", "whole", "moment") or c is whole]
    told = items(replace(message, chunks=tuple(c._replace(amount=mine) if c is whole else c for c in kept)))
    return list(told) if len(told) == 1 else None


def _weighs(amount: Amount | None) -> bool:
    if amount is None or amount.doubt is not None:
        return False
    return amount.kind == "mass" or (amount.kind == "bare" and amount.value > LEAST_G)


def _is_somebodys(scene: Scene, weight: Chunk) -> bool:
    """Whether the clause of a weight names who had it, and that is not the writer."""
    clause = next((p for p in cut_at(scene.message, pack()["between_eaters"]) if weight in p.chunks), None)
    if clause is None or clause.of("food"):
        return False
    eaters = seen(clause)
    return eaters.person is not None and not clause.has_any(pack()["oneself"].words)
