"""A frame for a dish that heads what each eater got of it."""

from __future__ import annotations

from bot.language.frames.serving import Serving
from bot.language.frames.takers import dealt_out
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
    told = Serving(Scene(body))
    strange = [c for c in told.scene.foods if plain(c.text.lower()) not in pack()["of_the_dish"]]
    shared = dealt_out(told, told.numbers)
    if strange or not shared or any(q.chunk is None or q.chunk not in told.weights for q, _ in shared):
        return None
    mine = [quantity.chunk for quantity, taker in shared if taker.whose == "mine"]
    if len(mine) != 1 or len(shared) == 1:
        return None
    told_of = items(message.without([c for c in message.chunks[at:] if c is not mine[0]]))
    return [*told_of, NotMine(why="others")] if len(told_of) == 1 else None
