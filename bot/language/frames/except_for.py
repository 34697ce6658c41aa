"""Frames for what was different about the foods recorded together just now: 'except I put in 60 g of oats'."""

from __future__ import annotations

from datetime import datetime, timedelta

from bot.language.fix_meanings import Change, Delete, Which
from bot.language.intents.readings import kept_and_left_out
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.recalling import meant, named_by
from bot.language.scene import Scene
from bot.language.surroundings import Recorded

JUST_NOW = timedelta(hours=1)


def except_for(scene: Scene) -> list[Meaning] | None:
    """'except I went down to 2 oz on the blueberries', 'but no honey on it': a part of what was told just before."""
    message = scene.message
    if not _begins_to_differ(scene) or message.asks or message.when.future or scene.named or scene.cue("condition"):
        return None
    told = _told_together(scene)
    if len(told) < 2 or message.of("hash", "energy", "macro", "price", "tare"):
        return None
    if message.has_any(message.words.people) or scene.cue("more_people"):
        return None
    kept, without = kept_and_left_out(message)
    gone = [found[-1] for name in without if (found := meant(name, told))]
    foods, amounts = kept.of("food"), kept.of("amount")
    if not foods and not amounts and gone and len(gone) == len(without):
        return [Delete(which=Which(number=each.number)) for each in gone]
    if len(foods) != 1 or len(amounts) != 1 or without:
        return None
    of = meant(named_by(message, foods[0]), told)
    amount = amounts[0].amount
    if len(of) != 1 or amount is None or amount.doubt is not None or amount.kind == "loose":
        return None
    return [Change(which=Which(number=of[0].number), amount=amount)]


def _begins_to_differ(scene: Scene) -> bool:
    """Whether it goes on from what was said before: 'except …', 'but …', 'minus …'."""
    line, first = scene.message.line.plain, scene.message.chunks[0].start
    return first == 0 and pack()["goes_on_to_differ"].end(line, 0) is not None


def _told_together(scene: Scene) -> list[Recorded]:
    """What the last message recorded for today, and what was eaten within the hour."""
    around = scene.message.around
    recorded = around.recorded()
    if not recorded:
        return []
    last = max(each.message for each in recorded)
    today = [each for each in recorded if each.day == around.today]
    return [each for each in today if each.message == last or _just_now(each.at, around.now)]


def _just_now(at: datetime | None, now: datetime) -> bool:
    return at is not None and timedelta() <= now - at <= JUST_NOW
