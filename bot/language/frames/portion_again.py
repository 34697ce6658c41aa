"""Frames for the portion of a batch just recorded: what it was instead, and what went back into the pot."""

from __future__ import annotations

from datetime import timedelta

from bot.language.chunks import Chunk
from bot.language.frames.fix_scene import SAME_SITTING, Fix, as_new, changed
from bot.language.frames.off_by import by_grams
from bot.language.frames.serving import seen
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.stance import how_it_is_said
from bot.language.surroundings import Recorded

MOST_CHUNKS = 9
"""A longer message tells more than what a portion was."""
MOST_TIMES = 2.5
"""A correction is at most so many times as large or as small as what is on record."""
SOON = SAME_SITTING


def portion_was(scene: Scene) -> list[Meaning] | None:
    """'chile verde was 11oz' right after a portion of 10 oz: not another one."""
    told = _one_weight(scene)
    if told is None or told.amount is None or scene.message.when.meal or not scene.named:
        return None
    words = [scene.message.line.plain[n] for n in range(scene.named[-1][2], told.start)]
    was = len(words) == 1 and words[0] in pack()["was_then"]
    fix = Fix(scene, scene.message.around.recorded())
    each = _latest(scene, fix, SOON) if was else None
    grams = None if each is None else as_new(told.amount, each).grams
    if each is None or grams is None or not each.grams / MOST_TIMES <= grams <= each.grams * MOST_TIMES:
        return None
    return [changed(each, told.amount, fix)]


def put_back(scene: Scene) -> list[Meaning] | None:
    """'then I put 50 g of the dal back': so much less was eaten of the portion just recorded."""
    told = _one_weight(scene)
    if told is None or told.amount is None or not _goes_back(scene, told):
        return None
    fix = Fix(scene, scene.message.around.recorded())
    each = _latest(scene, fix, SOON)
    grams = None if each is None else as_new(told.amount, each).grams
    if each is None or grams is None or not 0 < grams < each.grams:
        return None
    return [by_grams(each, -grams)]


def _goes_back(scene: Scene, told: Chunk) -> bool:
    """Whether 'back' stands behind the weight and ends what is said of it: 'put 50 g of it back in the pot'."""
    line, message = scene.message.line, scene.message
    for start, end in ((s, e) for s, e in pack()["puts_back"].places(line.plain) if s >= told.end):
        parted = any(c.kind == "sign" and told.end <= c.start < start for c in message.chunks)
        behind = line.plain[end] if end < message.chunks[-1].end else ""
        if not parted and (not behind.isalpha() or behind in pack()["into_pot"]):
            return True
    return False


def _one_weight(scene: Scene) -> Chunk | None:
    """The one weight told, if it has happened and nobody else had it."""
    message = scene.message
    if len(message.chunks) > MOST_CHUNKS or scene.asks or scene.foods or not message.around.batches:
        return None
    if len(scene.amounts) != 1 or len(scene.masses) != 1 or message.of("hash", "energy", "macro", "price", "tare"):
        return None
    if how_it_is_said(message) is not None or scene.cue("negation", "i_ate", "gave_away", "a_box", "another_time"):
        return None
    return None if seen(message).person is not None else scene.amounts[0]


def _latest(scene: Scene, fix: Fix, within: timedelta) -> Recorded | None:
    """The latest portion of the batch that is named, else of any, if it was told just now."""
    if any(not b.cooked for b in scene.batches) or (scene.named and not scene.batches):
        return None
    numbers = {b.number for b in scene.batches}
    portions = [e for e in fix.recorded if e.batch is not None and (not numbers or e.batch in numbers)]
    each = portions[-1] if portions else None
    if each is None or each.at is None or scene.message.around.now - each.at > within:
        return None
    return each if fix.is_recent(each, within) else None
