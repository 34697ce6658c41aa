"""Frames for batches that are over: what went into one is put right after its last portion was eaten."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from bot.language.batch_meanings import CorrectIngredient, RemoveIngredient, SwapIngredient
from bot.language.frames.filling import corrected, removed
from bot.language.frames.serving import seen
from bot.language.frames.told_of_pot import contents_proven, contents_put_right
from bot.language.intents import templated
from bot.language.meanings import Meaning
from bot.language.message import Message, read
from bot.language.name_tables import lemmas_of
from bot.language.scene import Scene
from bot.language.text import singular

OF_CONTENTS = (CorrectIngredient, RemoveIngredient, SwapIngredient)
MOST_CHUNKS = 60
WEIGHTS = 2
"""Weights of a correction: the one on record and the right one."""
MOST_OVER = 4
"""Batches of one name that are looked into, the latest first."""


def put_right_when_over(scene: Scene) -> list[Meaning] | None:
    """'the lasagne only had 200 g ricotta, not 300', when the lasagne is finished: read as if it were not."""
    for again in _as_if_open(scene):
        found = (
            templated(again)
            or contents_put_right(seen(again).scene)
            or corrected(seen(again).scene)
            or removed(seen(again).scene)
        )
        if found and all(isinstance(each, OF_CONTENTS) for each in found):
            return found
    return None


def proven_when_over(scene: Scene) -> list[Meaning] | None:
    """The same where one of two weights is on record in the batch: 'into the lasagne went 200 g of it, not 300'."""
    if len(scene.masses) < WEIGHTS:
        return None
    return next((found for again in _as_if_open(scene) if (found := contents_proven(seen(again).scene))), None)


def _as_if_open(scene: Scene) -> Iterator[Message]:
    """The message read as if a batch that it names and that is over were open, the latest first."""
    message = scene.message
    if not message.around.closed or not scene.foods or len(message.chunks) > MOST_CHUNKS:
        return
    if not scene.cue("told_wrong", "told_before", "contrasts", "not_put_in"):
        return
    said = {singular(word) for word in message.said}
    named = [b.number for b in message.around.closed if said.issuperset(lemmas_of(b.name))]
    for over in message.around.contents(named[:MOST_OVER]):
        yield read(message.text, replace(message.around, batches=(over,), closed=()))
