"""The frame for all that is left of a cooked batch, in whatever words: eaten up, given to somebody, thrown out."""

from __future__ import annotations

from bot.language.frames.serving import Serving, core, seen
from bot.language.frames.takers import rests_named
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.portion_meanings import ReduceBatch, TakeShare
from bot.language.pots import one_of
from bot.language.scene import Scene
from bot.language.surroundings import KnownBatch

NEAR = 5
"""Tokens between 'the last' and the word for pieces."""


def all_that_is_left(scene: Scene) -> list[Meaning] | None:
    """'housemate got whatever soup was still in the tub', 'finished the soup, every drop'."""
    told = seen(core(scene.message))
    ref = told.ref
    batch = None if ref is None else told.known(ref)
    if (
        ref is None
        or batch is None
        or not batch.cooked
        or not batch.left_g
        or told.scene.foods
        or (told.boxes and batch.boxes)
    ):
        return None
    pieces = _last_pieces(told, batch)
    finished = _finished(told)
    if not (pieces or finished or told.rest or rests_named(told)) or (told.numbers and not pieces):
        return None
    if _not_yet(told) or told.message.of("hash", "energy", "macro", "price", "tare"):
        return None
    if told.person is not None and told.mine:
        return None
    if told.cue("came_to_grief", "the_bin"):
        return [ReduceBatch(batch=ref, amount=None, why="discarded")]
    if told.person is not None:
        return [ReduceBatch(batch=ref, amount=None, why="given away", who=told.who)]
    if told.mentioned or not (told.mine or finished or told.when.meal or told.cue("eating_it", "just_now")):
        return None
    return [TakeShare(batch=ref, fraction=1.0, of="left", text="the rest", when=told.when)]


def _finished(told: Serving) -> bool:
    """'finished the soup', 'emptied that pot of soup': ended by eating, right before the name."""
    ends = [end for _, end in told.places("finished_it")]
    return any(
        end <= start and all(told.word(n) in pack()["before_a_place"] for n in range(end, start))
        for end in ends
        for _, start, _ in told.scene.named
    )


def _last_pieces(told: Serving, batch: KnownBatch) -> bool:
    """'the final two squares': as many pieces as there are left, called the last."""
    if not batch.pieces or len(told.numbers) != 1:
        return False
    amount = told.numbers[0].amount
    if amount is None or amount.value != batch.pieces or amount.kind == "mass":
        return False
    near = range(told.numbers[0].start - 2, told.numbers[0].end + NEAR)
    piece = any(one_of(told.message.line.text(n)) == batch.piece for n in near if n in told.at) or any(
        map(told.named_at, near)
    )
    return piece and told.cue("the_final_ones")


def _not_yet(told: Serving) -> bool:
    """Whether it is asked, planned, denied or supposed; 'is going to Bea' tells where it goes."""
    words = told.message.words
    if told.message.asks or told.cue("condition", "later_on", "negation") or told.message.has_any(words.negations):
        return True
    gone = {start for start, end in told.places("not_yet_had") if told.is_person(end) or told.goes_to(end)}
    return any(start not in gone for start, _ in told.places("not_yet_had")) or (told.unreal and not gone)
