"""The frame for a scale that grew: a message with one food, and a reading larger than all that is on the scale."""

from __future__ import annotations

from dataclasses import replace

from bot.language.fix_meanings import OnTheScale
from bot.language.frames.on_top import on_the_scale, total_of
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.number_words import number_words
from bot.language.pack import pack
from bot.language.reckoning import reckoning
from bot.language.scene import Scene
from bot.language.stance import not_mine
from bot.language.weighed import MOST_PHRASE

MOST_CHUNKS = 20
SMALL_STEP_G = 3.0
"""Less more than before is no step, but the weight of a similar helping."""


def grown_to(scene: Scene) -> list[Meaning] | None:
    """'poured 2% milk in, display's on 235 all up', 'blueberries took her up to 301', 'chickpeas in, scale reads 210'.

    A reading is a total where the words tell of the scale and that it grew, and the number fits what is on it.
    """
    message = scene.message
    if len(scene.amounts) != 1 or len(scene.foods) != 1 or scene.named or scene.asks:
        return None
    put_on = scene.cue("put_on_scale") or _was_put_on(scene)
    if not (scene.cue("grew_to") or (scene.cue("scale_shows") and put_on) or _is_up_to(scene)):
        return None
    if len(message.chunks) > MOST_CHUNKS or message.of("hash", "energy", "macro", "price", "tare", "part", "newline"):
        return None
    if not message.words.negations.isdisjoint(message.said) or _of_others(message):
        return None
    if message.around.at_work or scene.cue("condition", "not_yet") or not_mine(message) is not None:
        return None
    weight, before = scene.amounts[0], on_the_scale(message)
    if _is_its_own(scene):
        return None
    if not before or weight.amount is None or before[-1].food == scene.foods[0].target:
        return None
    total = total_of(weight.amount, before[-1])
    if total is None or total.grams is None or total.grams < sum(each.grams for each in before) + SMALL_STEP_G:
        return None
    about = [c for c in message.chunks if c.kind in ("food", "state", "size", "whole", "moment")]
    told = items(message.without([c for c in message.chunks if c not in about]))
    if len(told) != 1 or told[0].name is None or told[0].amount is not None:
        return None
    return [OnTheScale(total=total, item=replace(told[0], when=message.when))]


def _is_up_to(scene: Scene) -> bool:
    """'milk to 230': a food, and behind it the weight up to which it was put on."""
    weight, food = scene.amounts[0], scene.foods[0]
    behind = range(food.end, weight.start)
    return any(weight.start in reckoning()["up_to"].ends(scene.message.line.plain, n) for n in behind[-MOST_PHRASE:])


def _was_put_on(scene: Scene) -> bool:
    """'blueberries in, so …', 'banana on, scale's showing 320': a food and where it went, and nothing more of it."""
    line, end = scene.message.line, scene.foods[0].end
    return line.text(end) in pack()["put_in_or_on"] and line.text(end + 1) in (",", ".", ";", "-", ":")


def _of_others(message: Message) -> bool:
    """Whether it is somebody else's: 'he poured milk on his'; 'her' and 'them' may be the scale and the food."""
    people = message.words.people | pack()["others_on_a_scale"].words
    return message.has_any(people)


def _is_its_own(scene: Scene) -> bool:
    """Whether the weight stands right before the food: 'added 210 g of chickpeas'."""
    between = scene.message.line.plain[scene.amounts[0].end : scene.foods[0].start]
    return scene.amounts[0].end <= scene.foods[0].start and all(word in number_words().of for word in between)
