"""A frame for what a pot is made of in parts: 'the sauce: 50 g butter, 50 g flour' while a fish pie is put together."""

from __future__ import annotations

from dataclasses import replace

from bot.language.batch_meanings import AddIngredients
from bot.language.frames.raw_pot import is_ingredient
from bot.language.intents.ingredients import in_grams
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.scene import Scene, ref_of

MOST_CHUNKS = 60
MOST_BEFORE = 5
"""Chunks up to the one that names the part ('and then for the sauce')."""
SIGNS = frozenset(":-–,=")
NO_PART = ("pot_begins", "once_again", "call_it", "i_ate", "gave_away", "foreseen", "another_time", "by_recipe")


def part_of_the_pot(scene: Scene) -> list[Meaning] | None:
    """'the sauce: butter 50, flour 50, milk 600', 'topping was 900 g mash', 'wet stuff: 2 eggs, milk 300'."""
    message = scene.message
    filling = [b for b in message.around.batches if b.filling and not b.cooked]
    if len(filling) != 1 or not scene.amounts or len(message.chunks) > MOST_CHUNKS:
        return None
    if scene.asks or message.when.meal or scene.named or scene.cue(*NO_PART):
        return None
    end = _end_of_the_part(message)
    behind = [c for c in message.chunks if end is not None and c.start >= end]
    if not behind or not (behind[0].text in SIGNS or plain(behind[0].text.lower()) in pack()["part_has"]):
        return None
    body = message.part(len(message.chunks) - len(behind) + 1, len(message.chunks))
    told = [replace(i, batch=None) for i in items(body)]
    if not told or not all(is_ingredient(i) for i in told):
        return None
    return [AddIngredients(batch=ref_of(filling), items=tuple(in_grams(told)))]


def _end_of_the_part(message: Message) -> int | None:
    """The token behind the part of a dish that a message begins with; None where it begins with something else."""
    at = message.chunks[0].start
    for chunk in message.chunks[:MOST_BEFORE]:
        end = pack()["part_of_a_dish"].end(message.line.plain, chunk.start)
        if end is not None:
            return end
        if chunk.kind != "word" or chunk.start != at:
            return None
        at = chunk.end
    return None
