"""A frame for a dish that heads what each eater got of it."""

from __future__ import annotations

from bot.language.frames.giving import eater, parts_of_eaters
from bot.language.frames.serving import Serving
from bot.language.items import items
from bot.language.meanings import Meaning, NotMine
from bot.language.pack import pack, plain
from bot.language.scene import Scene

MOST_HEAD = 6
"""Chunks before the colon."""


def shared_plates(scene: Scene) -> list[Meaning] | None:
    """'roast chicken: 145 g meat for me, 210 g for tim, 90 g each for the kids': only the writer's counts."""
    message = scene.message
    at = next((i for i, c in enumerate(message.chunks[:MOST_HEAD]) if c.text == ":"), None)
    if at is None or scene.named or message.of("hash", "energy", "macro", "price") or Serving(scene).unreal:
        return None
    head, body = message.part(0, at), message.part(at + 1, len(message.chunks))
    if len(head.of("food")) != 1 or head.of("amount") or not body.of("amount"):
        return None
    mine, others = [], 0
    for part in parts_of_eaters(body):
        here = Serving(Scene(part))
        strange = [c for c in here.scene.foods if plain(c.text.lower()) not in pack()["of_the_dish"]]
        its, theirs = eater(here)
        if strange or len(here.weights) != 1 or len(here.numbers) != 1 or its == theirs:
            return None
        mine += here.weights if its else []
        others += theirs
    if len(mine) != 1 or not others:
        return None
    told = items(message.without([c for c in message.chunks[at:] if c is not mine[0]]))
    return [*told, NotMine(why="others")] if len(told) == 1 else None
