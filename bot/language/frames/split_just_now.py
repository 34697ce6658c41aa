"""The frame for a dish told just now that several shared alike: 'four of us split the guacamole evenly'."""

from __future__ import annotations

from bot.language.company import heads, sharers
from bot.language.fix_meanings import Change, Which
from bot.language.frames.fix_scene import SOON, Fix
from bot.language.frames.serving import Serving, seen
from bot.language.frames.stretch import of_kitchens
from bot.language.meanings import Meaning
from bot.language.message import read
from bot.language.pack import pack
from bot.language.scene import Scene

MOST_CHUNKS = 16


def split_just_now(scene: Scene) -> list[Meaning] | None:
    """Each weigh-in of the message before is the writer's part of itself.

    It names what they shared as that message did ('the guac'), or calls it 'it'; the foods may have other names.
    """
    message = scene.message
    if len(message.chunks) > MOST_CHUNKS or message.asks or scene.named or not scene.cue("shared_it", "equally"):
        return None
    told = seen(message)
    number = None if told.unreal or told.cue("negation", "condition") else sharers(told)
    if number is None or any(c not in heads(told) for c in scene.amounts) or message.of("hash", "energy", "macro"):
        return None
    recorded = message.around.recorded()
    if not recorded or not Fix(scene, recorded).is_recent(recorded[-1], SOON):
        return None
    dish = [each for each in recorded if each.message == recorded[-1].message]
    if any(each.batch is not None for each in dish) or not _is_named_there(told):
        return None
    return [Change(which=Which(number=each.number), share=1 / number) for each in dish]


def _is_named_there(told: Serving) -> bool:
    """Whether each word that may name what was shared stands in the message before."""
    before = told.message.around.said_before()
    if not before:
        return False
    there = set(read(before[0], told.message.around).line.lemmas)
    line = told.message.line
    small = ("shared_it", "equally", "split_alike", "of_us", "us_all", "the_writer")
    names = [
        line.lemmas[n]
        for c in told.message.chunks
        if c.kind in ("word", "food")
        for n in range(c.start, c.end)
        if line.tokens[n].kind == "word"
        and (c.kind == "food" or not (line.words.knows(line.text(n)) or of_kitchens(line.text(n))))
        and not any(line.plain[n] in pack()[name] for name in small)
        and not told.is_person(n)
    ]
    return all(name in there for name in names)
