"""A frame for somebody else's meal that heads the message: what it was is not the writer's."""

from __future__ import annotations

from dataclasses import replace

from bot.language.frames.eaters import Eaters
from bot.language.frames.stretch import cut_at
from bot.language.items import items
from bot.language.meanings import Meaning, NotMine
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.told import Item

MOST_CHUNKS = 30


def anothers_meal(scene: Scene) -> list[Meaning] | None:
    """'Tom's dinner was 300 g rice, mine 180 g': only what is said to be the writer's counts."""
    message = scene.message
    if len(message.chunks) > MOST_CHUNKS or scene.named or message.asks or not scene.amounts or not scene.foods:
        return None
    first, *rest = cut_at(message, pack()["between_eaters"])
    if not _is_anothers(first):
        return None
    found: list[Meaning] = [NotMine(why="others")]
    for part in rest:
        mine = Scene(part).cue("for_myself", "i_ate", "my_piece")
        if not mine and part.of("amount"):
            if part.of("food") and Eaters(Scene(part)).person is None:
                continue  # goes on with what the other had
            return None
        found += [_of_the_same(item, first) for item in items(part)] if mine else []
    return found


def _is_anothers(part: Message) -> bool:
    """Whether a stretch begins with somebody's meal: "Tom's dinner was …", 'her lunch: …'."""
    if len(part.chunks) < 3 or part.chunks[1].kind != "moment":
        return False
    whose, meal = part.chunks[0], part.chunks[1].moment
    said = whose.text.lower()
    somebody = said.endswith("'s") or said in pack()["belonging_to_others"]
    return somebody and whose.kind == "word" and meal is not None and meal.meal is not None


def _of_the_same(item: Item, first: Message) -> Item:
    """What the writer had; without a food it is what the other had."""
    if item.name is not None or item.batch is not None:
        return item
    told = items(first)
    return item if len(told) != 1 else replace(item, name=told[0].name, state=item.state or told[0].state)
