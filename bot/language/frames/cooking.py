"""Frames of the pot on the stove: what it weighs once it is cooked."""

from __future__ import annotations

from bot.language.batch_meanings import CookBatch
from bot.language.meanings import Meaning
from bot.language.scene import Scene, ref_of
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount, TareRef

LEAST_OF_RAW, MOST_OF_RAW = 0.2, 3.0
"""What a cooked batch weighs at least and at most for what went in, water that nobody told and its pot included."""


def cooked(scene: Scene) -> list[Meaning] | None:
    """'soups done. 3615 on the scale w the big pan, big pan 980 empty', 'dal's ready, no pot, 2030 on the nose'."""
    raw = [b for b in scene.batches if not b.cooked] or ([] if scene.batches else list(scene.message.around.cooking))
    if len(raw) != 1 or scene.asks or not scene.cue("done", "weighing_now") or scene.cue("portioned", "i_ate"):
        return None
    if scene.foods or scene.message.of("hash"):
        return None
    weights = sorted(scene.masses, key=_grams, reverse=True)
    if not weights or len(weights) > 2 or not scene.only(*weights) or not _fits(weights[0], raw[0]):
        return None
    tares = [c.tare for c in scene.message.of("tare") if c.tare is not None]
    tare = tares[0] if tares else None
    if len(weights) > 1:
        if tare is None and not scene.cue("the_vessel", "empty"):
            return None
        tare = TareRef(name=tare.name if tare is not None else "pot", grams=_grams(weights[1]))
    return [CookBatch(batch=ref_of(raw), amount=weights[0], tare=tare)]


def _grams(amount: Amount) -> float:
    return amount.grams if amount.grams is not None else amount.value


def _fits(amount: Amount, batch: KnownBatch) -> bool:
    """Whether it can be what a batch weighs now."""
    return batch.raw_g is None or LEAST_OF_RAW * batch.raw_g <= _grams(amount) <= MOST_OF_RAW * batch.raw_g
