"""Frames for batches that are over: what went into one is put right after its last portion was eaten."""

from __future__ import annotations

from dataclasses import replace

from bot.language.batch_meanings import CorrectIngredient, RemoveIngredient, SwapIngredient
from bot.language.frames.filling import corrected, removed
from bot.language.frames.serving import seen
from bot.language.frames.told_of_pot import contents_put_right
from bot.language.intents import templated
from bot.language.meanings import Meaning
from bot.language.message import read
from bot.language.name_tables import lemmas_of
from bot.language.scene import Scene
from bot.language.text import singular

OF_CONTENTS = (CorrectIngredient, RemoveIngredient, SwapIngredient)
MOST_CHUNKS = 60
MOST_OVER = 4
"""Batches of one name that are looked into, the latest first."""


def put_right_when_over(scene: Scene) -> list[Meaning] | None:
    """'the lasagne only had 200 g ricotta, not 300', when the lasagne is finished: read as if it were not."""
    message = scene.message
    if not message.around.closed or not scene.foods or len(message.chunks) > MOST_CHUNKS:
        return None
    if not scene.cue("told_wrong", "told_before", "contrasts", "not_put_in"):
        return None
    said = {singular(word) for word in message.said}
    named = [b.number for b in message.around.closed if said.issuperset(lemmas_of(b.name))]
    for over in message.around.contents(named[:MOST_OVER]):
        again = read(message.text, replace(message.around, batches=(over,), closed=()))
        found = (
            templated(again)
            or contents_put_right(seen(again).scene)
            or corrected(seen(again).scene)
            or removed(seen(again).scene)
        )
        if found and all(isinstance(each, OF_CONTENTS) for each in found):
            return found
    return None
