"""The frame for a person's own weight, told in any word order and among other words."""

from __future__ import annotations

from bot.language.bodies import Body, body
from bot.language.chunks import Chunk
from bot.language.fact_meanings import BodyWeight
from bot.language.meanings import Meaning
from bot.language.scene import Scene
from domain.bodyweight import LEAST_KG, MOST_KG


def on_the_scales(scene: Scene) -> list[Meaning] | None:
    """'stood on the scales and they said 68.2 kilos, so there', 'scale 11 stone 4 lb this aft', '85.7 kg me'."""
    message = scene.message
    if not scene.cue("on_the_scales") or scene.foods or scene.named or message.asks or message.when.future:
        return None
    if scene.cue("weight_change_sure", "weight_aim") or message.of("hash", "tare", "energy", "macro", "part"):
        return None
    if message.has_any(message.words.vessels - message.words.loose_units) or scene.cue("others_bodies"):
        return None
    bodies = [found for chunk in scene.amounts for found in _bodies(scene, chunk.start)]
    if len(bodies) != 1 or bodies[0][0].kg is None or not LEAST_KG <= bodies[0][0].kg <= MOST_KG:
        return None
    told, start, end = bodies[0]
    if any(_weighs(c) and not start <= c.start < end for c in message.chunks):
        return None
    return [BodyWeight(value=told.value, unit=told.unit, kg=told.kg, when=message.when)]


def _weighs(chunk: Chunk) -> bool:
    return chunk.amount is not None and chunk.amount.kind in ("mass", "bare", "volume")


def _bodies(scene: Scene, at: int) -> list[tuple[Body, int, int]]:
    """The weight at a token as (value, first token, end), if it can be a person's; else empty."""
    last = scene.message.chunks[-1].end
    found = [(value, end) for value, end in body(scene.message.line, at, last) if isinstance(value, Body)]
    return [(value, at, end) for value, end in found[-1:]]
