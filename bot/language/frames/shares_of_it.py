"""Frames for the share of the last weigh-in that somebody else had, or that was all the writer had of it."""

from __future__ import annotations

from bot.language.chunks import Kind
from bot.language.fix_meanings import Change, Which
from bot.language.frames.eaters import Eaters
from bot.language.frames.fix_scene import SOON, Fix
from bot.language.meanings import Meaning, NotMine
from bot.language.scene import Scene
from bot.language.surroundings import Recorded
from bot.language.told import is_share

MOST_CHUNKS = 16
NOT_OF_IT: tuple[Kind, ...] = ("hash", "energy", "macro", "price", "tare", "part", "batch")


def share_told(scene: Scene) -> float | None:
    """The only number of a short message, if it is a share of what was told before ('about a third of it')."""
    message = scene.message
    if len(message.chunks) > MOST_CHUNKS or len(scene.amounts) != 1 or scene.named or message.of(*NOT_OF_IT):
        return None
    amount = scene.amounts[0].amount
    if message.asks or message.has_any(message.words.negations) or scene.cue("condition", "another_helping"):
        return None
    return amount.value if amount is not None and is_share(amount) else None


def of_the_last(fix: Fix) -> list[Meaning] | None:
    """'my roommate ate half of it', 'only ate two thirds of that': the last weigh-in is that share of itself."""
    share = share_told(fix.scene)
    each = _meant(fix)
    if share is None or each is None or each.batch is not None or not fix.is_recent(each, SOON):
        return None
    eaters = Eaters(fix.scene)
    theirs = eaters.person is not None and eaters.cue("took_it", "gave_it", "for_another", "is_gone")
    if theirs and not eaters.mine:
        return [Change(which=Which(number=each.number), share=1 - share)]
    if eaters.person is not None:
        return None
    left, ate = eaters.cue("is_gone", "left_uneaten"), eaters.cue("ate_some")
    if left and not ate:
        return [Change(which=Which(number=each.number), share=1 - share)]
    if ate and not left and (fix.matched or eaters.cue("of_it")):
        return [Change(which=Which(number=each.number), share=share)]
    return None


def _meant(fix: Fix) -> Recorded | None:
    """The weigh-in that 'it' or 'the pizza' is; None if a food is named that is eaten by itself."""
    if fix.new or len(fix.matched) > 1 or fix.message.of("moment"):
        return None
    if not fix.matched:
        return None if fix.message.of("food") else fix.all[-1]
    mention = fix.matched[0]
    return mention.latest if fix.behind("the_recorded", mention.start) and mention.is_clear else None


def others_share(scene: Scene) -> list[Meaning] | None:
    """'my roommate ate half of it' where nothing on record can be meant: it is nobody's weigh-in."""
    if share_told(scene) is None or scene.foods:
        return None
    eaters = Eaters(scene)
    theirs = eaters.person is not None and not eaters.mine and eaters.cue("took_it", "gave_it")
    return [NotMine(why="others")] if theirs else None
