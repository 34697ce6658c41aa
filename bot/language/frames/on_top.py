"""The frame for what the scale shows once something more is on it, told in a message of its own."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from bot.language.chunks import Chunk
from bot.language.fix_meanings import OnTheScale
from bot.language.frames.fix_scene import OUNCES
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.stance import not_mine, without_excluded
from bot.language.surroundings import Recorded
from bot.language.told import Amount

STILL_ON_THE_SCALE = timedelta(minutes=15)
"""How long ago something may have been put on the scale that still shows it."""
MOST_CHUNKS = 20
MOST_OUNCES = 60
"""More than a kitchen scale shows with a plate of food on it."""


def put_on_top(scene: Scene) -> list[Meaning] | None:
    """'now it reads 9.2 after adding the chicken', 'and 11.6 w/ some avocado on top', '11 with black beans'."""
    message = scene.message
    if len(message.chunks) > MOST_CHUNKS or len(scene.amounts) != 1 or scene.named or message.asks:
        return None
    if message.of("hash", "energy", "macro", "price", "tare", "part", "newline"):
        return None
    weight = scene.amounts[0]
    behind = _added(message, weight)
    if behind is None or weight.amount is None or scene.cue("condition", "not_yet") or not_mine(message) is not None:
        return None
    before = on_the_scale(message)
    if not before:
        return None
    total = total_of(weight.amount, before[-1])
    leads = _leads(message, weight)
    if total is None or total.grams is None or total.grams <= sum(each.grams for each in before) or not leads:
        return None
    told = items(without_excluded(behind))
    if len(told) != 1 or told[0].name is None or told[0].amount is not None:
        return None
    return [OnTheScale(total=total, item=replace(told[0], when=message.when))]


def on_the_scale(message: Message) -> list[Recorded]:
    """The weigh-ins of the last minutes that no batch is part of."""
    around = message.around
    recent = [r for r in around.recorded() if r.at is not None and r.day == around.today and r.batch is None]
    return [r for r in recent if r.at is not None and around.now - r.at <= STILL_ON_THE_SCALE]


def total_of(amount: Amount, before: Recorded) -> Amount | None:
    """The reading as a mass: a bare number has the unit of what was read off before."""
    if amount.doubt is not None or amount.kind not in ("mass", "bare"):
        return None
    told = before.amount
    if amount.kind == "mass":
        return amount
    if told is None or told.kind != "mass" or not told.value or told.grams is None:
        return None
    if told.unit in OUNCES and amount.value > MOST_OUNCES:
        return None
    grams = amount.value * told.grams / told.value
    return replace(amount, kind="mass", unit=told.unit, grams=grams, text=f"{amount.text} {told.unit}")


def _leads(message: Message, weight: Chunk) -> bool:
    """Whether only words that announce a reading stand before the number; without any, the number is in ounces."""
    words = message.line.plain[message.chunks[0].start : weight.start]
    announced = all(word in pack()["reading_now"] or word in pack()["beside_reading"] for word in words)
    ounces = weight.amount is not None and weight.amount.kind == "bare" and weight.amount.value <= MOST_OUNCES
    return announced and (ounces or any(word in pack()["reading_now"] for word in words))


def _added(message: Message, weight: Chunk) -> Message | None:
    """What is said to be on top, behind 'with' or 'after adding' next to the number."""
    line, at = message.line.plain, weight.end
    end = pack()["with_on_top"].end(line, at)
    chunks = [c for c in message.chunks if end is not None and c.start >= end]
    return message.part(message.index(chunks[0]), len(message.chunks)) if chunks else None
