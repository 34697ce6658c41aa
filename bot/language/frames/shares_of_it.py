"""Frames for the share of the last weigh-in that somebody else had, or that was all the writer had of it."""

from __future__ import annotations

from bot.language.chunks import Kind
from bot.language.fix_meanings import Change, Delete, Which
from bot.language.frames.fix_scene import SOON, Fix
from bot.language.frames.serving import seen
from bot.language.meanings import Meaning, NotMine
from bot.language.portion_meanings import GiveAway, TakeBoxes, WhichBoxes
from bot.language.scene import Scene
from bot.language.surroundings import Recorded
from bot.language.told import Amount, BatchRef, is_share

MOST_CHUNKS = 16
ROUNDED = 1.0
"""Grams that the record of a box may be off from the box."""
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
    eaters = seen(fix.scene.message)
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


def rest_of_the_box(fix: Fix) -> list[Meaning] | None:
    """'ate two thirds of it, gave the rest to Mark' right after a box of a batch: part of that box, not of the pot."""
    share, each = share_told(fix.scene), _meant(fix)
    if share is None or each is None or each.batch is None or not fix.is_recent(each, SOON):
        return None
    batch = next((b for b in fix.message.around.batches if b.number == each.batch), None)
    a_box = batch is not None and batch.box_g is not None and abs(each.grams - batch.box_g) < ROUNDED
    told = seen(fix.scene.message)
    gone = next((start for start, _ in told.places("a_rest")), None)
    first = fix.scene.amounts[0].end
    if not a_box or gone is None or gone < first or not (told.cue("ate_some") or told.mine) or not told.cue("of_it"):
        return None
    lost = told.cue("came_to_grief")
    if not lost and told.person is None:
        return None
    ref, which = BatchRef(number=each.batch, text=f"batch {each.batch}"), WhichBoxes(count=1)
    who = "" if lost else told.who
    # The box is opened again as a part of one: a smaller weight by itself would leave it whole.
    taken = TakeBoxes(batch=ref, which=which, fraction=share, rest_to=who, when=told.when)
    again: list[Meaning] = [Delete(which=Which(number=each.number)), taken]
    if who:
        return again
    grams = each.grams * (1 - share)
    left = Amount(kind="mass", value=grams, unit="g", grams=grams, text=f"{grams:g} g")
    return [*again, GiveAway(batch=ref, why="thrown out" if lost else "given away", amount=left)]


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
    eaters = seen(scene.message)
    theirs = eaters.person is not None and not eaters.mine and eaters.cue("took_it", "gave_it")
    return [NotMine(why="others")] if theirs else None
