"""Frames for a box that the writer carried off and ate, or ate a part of."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Chunk
from bot.language.frames.serving import Serving, seen
from bot.language.frames.stretch import grams_of
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.portion_meanings import GiveAway, TakeBoxes, WhichBoxes
from bot.language.scene import Scene
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount, BatchRef

MOST_BETWEEN = 4
"""Tokens between a word for leaving something and its weight: 'left maybe about 60 g'."""
SAME = 0.01
"""Shares of a box that add up to one, nearly."""


def own_box(scene: Scene) -> list[Meaning] | None:
    """'took a box to work, just had it', 'a box, left 60 g of it', 'half a tub, the other half went in the bin'."""
    told = seen(scene.message)
    ref, batch = _boxed(told)
    if ref is None or batch is None or not batch.boxes or not told.boxes or told.unreal or scene.foods:
        return None
    if (
        any(told.is_person(n) for n in told.at)
        or told.cue("not_to_me", "freezing_them", "dividing_up")
        or _denied(told)
    ):
        return None
    count = next((b.count for b in told.boxes if b.count is not None), None)
    if count is not None and count.amount is not None and count.amount.value not in (1, *_shares(told)):
        return None
    which = WhichBoxes(count=1, place=told.source)
    left = _left_of_it(told)
    if left is not None and left.amount is not None:
        fits = batch.box_g is None or grams_of(left.amount) < batch.box_g
        if not fits or not told.spent(left, count):
            return None
        eaten = TakeBoxes(batch=ref, which=which, left_g=grams_of(left.amount), when=told.when)
        return [eaten, *([_lost(ref, grams_of(left.amount))] if told.cue("came_to_grief") else [])]
    if told.shares and told.cue("came_to_grief"):
        return _rest_lost(told, ref, batch, which)
    if told.cue("came_to_grief") or not told.spent(count) or not told.cue("ate_it_too"):
        return None
    return [TakeBoxes(batch=ref, which=which, when=told.when)]


def _boxed(told: Serving) -> tuple[BatchRef | None, KnownBatch | None]:
    """The batch whose box it is: the one named, or the only one in boxes."""
    only = told.only_boxed
    ref = told.ref or (BatchRef(candidates=(only.number,)) if only is not None and not told.scene.named else None)
    return ref, None if ref is None else told.known(ref)


def _denied(told: Serving) -> bool:
    return told.message.has_any(told.message.words.negations)


def _shares(told: Serving) -> Sequence[float]:
    return [c.amount.value for c in told.shares if c.amount is not None]


def _left_of_it(told: Serving) -> Chunk | None:
    """The one weight that was left of the box: 'left about 60 g of it', '60 g of it left over'."""
    if len(told.weights) != 1:
        return None
    weight = told.weights[0]
    before = [told.word(n) for n in range(weight.start - MOST_BETWEEN, weight.start)]
    behind = [told.word(n) for n in range(weight.end, weight.end + MOST_BETWEEN + 2)]
    said = pack()["left_uneaten"].found(before) or pack()["was_left"].found(behind)
    return weight if said else None


def _rest_lost(told: Serving, ref: BatchRef, batch: KnownBatch, which: WhichBoxes) -> list[Meaning] | None:
    """'half a tub of dal, the other half went in the bin': a part of one box eaten, the other thrown out."""
    shares = _shares(told)
    if not told.spent(*told.shares, *told.counts) or batch.box_g is None:
        return None
    both = len(shares) == 1 or (len(shares) == 2 and abs(sum(shares) - 1) < SAME)
    lost_at = min((start for start, _ in told.places("came_to_grief")), default=0)
    if not both or told.shares[0].start > lost_at or not told.cue("the_other_part", "a_rest"):
        return None
    eaten = TakeBoxes(batch=ref, which=which, fraction=shares[0], when=told.when)
    return [eaten, _lost(ref, batch.box_g * (1 - shares[0]))]


def _lost(ref: BatchRef, grams: float) -> GiveAway:
    """What was thrown out of an open box."""
    return GiveAway(
        batch=ref, why="thrown out", amount=Amount(kind="mass", value=grams, unit="g", grams=grams, text=f"{grams:g} g")
    )
