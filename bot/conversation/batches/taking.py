"""Boxes, pieces and shares of a batch: eaten by the writer, or gone without being on anybody's day."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import ceil
from typing import Literal

from bot import batch_events
from bot.conversation import saying
from bot.conversation.batches.finding import batch_of, boxed, cooked, cooked_weight_of
from bot.conversation.batches.portions import TakenOut, as_item, boxes_of, judge_taken, pieces_of, settle
from bot.conversation.batches.remaining import close
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse, Then
from bot.conversation.records.measuring import mass, weight_of
from bot.conversation.records.recording import record_portion
from bot.kinds import About, Confirmed, Why
from bot.language.batch_meanings import CloseBatch
from bot.language.portion_meanings import GiveAway, GiveBack, ReduceBatch, TakeBoxes, TakePieces, TakeShare
from bot.language.told import Amount, BatchRef, Item
from bot.store import batches, journal, kitchens, questions
from domain.batch_steps import Draw, Place
from domain.batches import OVER_DRAW_SLACK_G, Batch
from domain.draws import NoSuchBox, NotLoose, Of, WhichBox, WholeOrLeft, by_boxes, by_weight, pick_boxes, share_g
from domain.weighins import Evidence

FUTURE = "That is in the future. I record what has been eaten, so tell me once you have eaten it."


def take_boxes(meaning: TakeBoxes, ex: Exchange) -> Ask | Refuse | None:
    """Records whole boxes, or a box less what was left in it, which is loose then."""
    batch = batch_of(meaning.batch, meaning, ex, boxed)
    if not isinstance(batch, Batch):
        return batch
    early = _too_early(meaning, batch)
    if early is not None:
        return early
    item = as_item(batch, meaning.which, meaning.when)
    taken = boxes_of(batch, meaning.which, meaning.when, meaning)
    if not isinstance(taken, TakenOut):
        return taken
    if meaning.left_g is not None:
        if not 0 <= meaning.left_g < taken.grams:
            return Refuse(f"You can't have {saying.grams(meaning.left_g)} left of {saying.grams(taken.grams)}.")
        ate = taken.grams - meaning.left_g
        one = len(taken.boxes) == 1
        how = f"{taken.how}{saying.grams(taken.grams)} less {saying.grams(meaning.left_g)} left, "
        taken = replace(taken, grams=ate, evidence=Evidence.WEIGHED, how=how, boxes=taken.boxes if one else ())
        item = replace(item, amount=mass(ate))
    if meaning.others is not None:
        item = replace(item, others_g=weight_of(meaning.others))
    if meaning.fraction < 1:
        item, taken = _part_of_a_box(item, taken, meaning, ex)
    return _recorded(replace(item, confirmed=meaning.confirmed), batch, taken, ex)


def _part_of_a_box(item: Item, taken: TakenOut, meaning: TakeBoxes, ex: Exchange) -> tuple[Item, TakenOut]:
    """The writer's part of one box; the other part is loose for whoever logs it, or gone to somebody who does not."""
    others_g = taken.grams * (1 - meaning.fraction)
    member = logs_too(meaning.rest_to, ex)
    if meaning.rest_to and member is None:
        return replace(item, others_g=others_g), taken
    if member is not None:
        ex.say(f"{saying.grams(others_g)} of that box is left for {member} to log.")
    how = f"{saying.times(meaning.fraction)} of a box, "
    mine = replace(taken, grams=taken.grams - others_g, evidence=Evidence.WEIGHED, how=how)
    return replace(item, amount=mass(mine.grams)), mine


def take_pieces(meaning: TakePieces, ex: Exchange) -> Ask | Refuse | Then | None:
    """Records pieces; what was left of them is on nobody's day."""
    batch = batch_of(meaning.batch, meaning, ex, _in_pieces(meaning.word))
    if not isinstance(batch, Batch):
        return batch
    early = _too_early(meaning, batch)
    if early is not None:
        return early
    if not batch.pot.piece and meaning.pieces is not None and meaning.pieces < 1:
        share = TakeShare(batch=BatchRef(number=batch.number), fraction=meaning.pieces, of=None, when=meaning.when)
        return take_share(share, ex)
    word = meaning.word or batch.pot.piece or "piece"
    text = (
        f"the last {word}s"
        if meaning.pieces is None
        else f"{meaning.pieces:g} {word}{'' if meaning.pieces == 1 else 's'}"
    )
    item = Item(
        text=text,
        amount=Amount(kind="count", value=meaning.pieces or batch.pieces_left or 0, unit=batch.pot.piece, text=text),
        batch=BatchRef(number=batch.number, text=f"batch {batch.number}"),
        when=meaning.when,
        confirmed=meaning.confirmed,
    )
    if not batch.pot.piece:
        # A word for a measure of the person's own, perhaps.
        amount = Amount(kind="count", value=meaning.pieces or 1, unit=meaning.word, text=text)
        return Then((replace(item, amount=amount),))
    taken = pieces_of(batch, meaning.pieces, text, item)
    if not isinstance(taken, TakenOut):
        return taken
    if meaning.left_g is None:
        return _recorded(item, batch, taken, ex)
    if not 0 <= meaning.left_g < taken.grams:
        return Refuse(f"You can't have {saying.grams(meaning.left_g)} left of {saying.grams(taken.grams)}.")
    ate = replace(taken, grams=taken.grams - meaning.left_g, evidence=Evidence.WEIGHED, pieces=None)
    ate = replace(ate, how=f"{taken.how}{saying.grams(taken.grams)} less {saying.grams(meaning.left_g)} left, ")
    left_over = Draw(meaning.left_g)
    over = batch.over_draw_g(taken.grams)
    item = replace(item, amount=mass(ate.grams))
    if over <= OVER_DRAW_SLACK_G:
        batches.reduce(ex.books, batch.number, left_over, "left over")
        ex.note(batch_events.BatchReduced(batch=batch.number, grams=meaning.left_g, why="left over"))
    return _recorded(item, batches.get(ex.books, batch.number) or batch, ate, ex)


def take_share(meaning: TakeShare, ex: Exchange) -> Ask | Refuse | None:
    """Records a share of all of a batch or of what is left."""
    batch = batch_of(meaning.batch, meaning, ex, cooked)
    if not isinstance(batch, Batch):
        return batch
    early = _too_early(meaning, batch)
    if early is not None:
        return early
    grams = _share_of(meaning, batch, lambda of: replace(meaning, batch=BatchRef(number=batch.number), of=of))
    if not isinstance(grams, float):
        return grams
    if grams <= 0:
        return Refuse(f"There is nothing left of {saying.batch(batch)}.")
    words = meaning.text or saying.times(meaning.fraction)
    item = Item(
        text=words,
        amount=mass(grams),
        batch=BatchRef(number=batch.number, text=f"batch {batch.number}"),
        when=meaning.when,
        confirmed=meaning.confirmed,
    )
    if meaning.fraction >= 1 and batch.boxes and meaning.of != "loose":
        return _all_of_it(item, batch, ex)
    return _recorded(item, batch, TakenOut(grams, Evidence.WEIGHED, f"{words}, "), ex)


def _all_of_it(item: Item, batch: Batch, ex: Exchange) -> Ask | Refuse | None:
    """The rest of a batch that is in boxes too: what is loose, or all of it."""
    loose_g, left_g = batch.loose_g, batch.left_g
    if loose_g > OVER_DRAW_SLACK_G and Confirmed.OVER not in item.confirmed:
        sure = (*item.confirmed, Confirmed.OVER)
        choices = (
            Choice(
                saying.choice(f"{saying.grams(loose_g)} not in boxes"),
                replace(item, amount=mass(loose_g), confirmed=sure),
            ),
            Choice(
                saying.choice(f"{saying.grams(left_g)}, boxes too"), replace(item, amount=mass(left_g), confirmed=sure)
            ),
        )
        text = f"The rest of {saying.batch(batch)}: the {saying.grams(loose_g)} not in boxes, or the boxes too?"
        return Ask(About.BOX, text, item, choices)
    all_of_it = replace(item, confirmed=(*item.confirmed, Confirmed.OVER))
    return _recorded(all_of_it, batch, TakenOut(left_g, Evidence.WEIGHED, f"{item.text}, "), ex)


def _share_of(
    meaning: TakeShare | GiveAway, batch: Batch, of_it: Callable[[Literal["whole", "left"]], TakeShare | GiveAway]
) -> float | Ask:
    """Grams of the share; a question when it may be of all of it or of what is left."""
    fraction = 1.0 if meaning.fraction is None else meaning.fraction
    try:
        return float(share_g(batch, fraction, None if meaning.of is None else Of(meaning.of)))
    except WholeOrLeft as error:
        words = saying.times(fraction)
        choices = (
            Choice(saying.choice(f"{saying.grams(error.whole_g)}, of all"), of_it("whole")),
            Choice(saying.choice(f"{saying.grams(error.left_g)}, of the rest"), of_it("left")),
        )
        text = f"{words} of all of {saying.batch(batch)}, or of the {saying.grams(batch.left_g)} that is left?"
        return Ask(About.WHOLE_OR_LEFT, text, meaning, choices)


def _in_pieces(word: str) -> Callable[[Batch], bool]:
    def fits(batch: Batch) -> bool:
        return bool(batch.pot.piece) and (not word or batch.pot.piece == word)

    return fits


def _too_early(meaning: TakeBoxes | TakePieces | TakeShare, batch: Batch) -> Ask | Refuse | None:
    if meaning.when.future:
        return Refuse(FUTURE, Why.FUTURE)
    if batch.cooked_g is None:
        return cooked_weight_of(batch, meaning, "Then I record your portion.")
    return None


def _recorded(item: Item, batch: Batch, taken: TakenOut, ex: Exchange) -> Ask | Refuse | None:
    judged = judge_taken(item, batch, taken, ex)
    if not isinstance(judged, tuple):
        return judged
    record_portion(item, *judged, ex)
    return None


def give_away(meaning: GiveAway, ex: Exchange) -> Ask | Refuse | None:
    """Records what left a batch and is on nobody's day; closes the batch when nothing is left."""
    fits = _in_pieces("") if meaning.pieces is not None else boxed if meaning.boxes is not None else cooked
    batch = batch_of(meaning.batch, meaning, ex, fits)
    if not isinstance(batch, Batch):
        return batch
    left_to_them = _left_to_them(meaning.who, batch, ex)
    if left_to_them is not None:
        return left_to_them
    if batch.cooked_g is None:
        return cooked_weight_of(batch, meaning)
    draw = _given(meaning, batch)
    if not isinstance(draw, Draw):
        return draw
    return reduced(draw, batch, meaning.why, meaning.who, ex)


def logs_too(who: str, ex: Exchange) -> str | None:
    """The name of the one of the same kitchen who is meant: they log what they eat themselves."""
    said = {word.removesuffix("'s") for word in who.casefold().split()}
    return next((m.name for m in kitchens.others(ex.books) if m.name.casefold().split()[0] in said), None)


def _left_to_them(who: str, batch: Batch, ex: Exchange) -> Refuse | None:
    """The refusal to take off what one of the same kitchen had, who logs it."""
    member = logs_too(who, ex)
    if member is None:
        return None
    return Refuse(f"{member} logs from {saying.batch(batch)} too, so I leave it to them and take nothing off.")


def reduce(meaning: ReduceBatch, ex: Exchange) -> Ask | Refuse | None:
    """Records food that left the batch without being eaten; closes the batch when nothing is left."""
    batch = batch_of(meaning.batch, meaning, ex, cooked)
    if not isinstance(batch, Batch):
        return batch
    left_to_them = _left_to_them(meaning.who, batch, ex)
    if left_to_them is not None:
        return left_to_them
    if batch.cooked_g is None:
        return cooked_weight_of(batch, meaning)
    if _of_something_else(meaning.batch, ex, rest=meaning.amount is None and meaning.boxes is None):
        rest = replace(meaning, batch=BatchRef(number=batch.number))
        choices = (Choice(saying.choice(f"batch {batch.number} {batch.name}"), rest), Choice("something else", None))
        what = "The rest of what?" if meaning.amount is None else f"{meaning.amount.text} of what?"
        return Ask(About.BATCH, what, meaning, choices)
    if meaning.boxes is not None:
        draw = _boxes(batch, meaning.boxes, None, None)
    elif meaning.amount is None:
        draw = Draw(batch.left_g)
    else:
        draw = _loose(weight_of(meaning.amount), batch)
    return draw if isinstance(draw, Refuse) else reduced(draw, batch, meaning.why, "", ex)


def given_back(meaning: GiveBack, ex: Exchange) -> Ask | Refuse | None:
    """Puts what others left over back to the batch, so that who eats it takes it from there; no more than they got."""
    batch = batch_of(meaning.batch, meaning, ex, cooked)
    if not isinstance(batch, Batch):
        return batch
    grams = min(weight_of(meaning.amount), batch.reduced_g)
    if batch.cooked_g is None or grams <= 0:
        return None
    if batch.closed:
        batches.reopen(ex.books, batch.number)
    batches.reduce(ex.books, batch.number, Draw(-grams), GIVEN_BACK)
    ex.note(batch_events.BatchReduced(batch=batch.number, grams=-grams, why=GIVEN_BACK))
    if meaning.alone:
        ex.say(f"{saying.grams(grams)} less of {saying.batch(batch)} went to others.")
        settle(batch.number, ex)
    return None


GIVEN_BACK = "given back"
"""Why a batch holds more again: its grams count below zero among what left it."""


def _of_something_else(ref: BatchRef, ex: Exchange, rest: bool) -> bool:
    """Whether 'it' may be a food that was recorded last, or 'the rest of it' what was asked about last."""
    if replace(ref, sure=True) != BatchRef():
        return False
    entries = journal.last(ex.books)
    now = journal.details(ex.books, entries[0]).now if entries else None
    if now is not None and now.weigh_in.batch is None:
        return True
    if not rest:
        return False
    last = 0 if ex.last is None else ex.last.inbound_id
    return any(question.inbound_id > last for question in questions.waiting(ex.books))


def _given(meaning: GiveAway, batch: Batch) -> Draw | Ask | Refuse:
    if meaning.boxes is not None:
        which = meaning.boxes
        count = len(which.numbers) or which.count
        return _boxes(batch, count, which.place, None if which.amount is None else weight_of(which.amount))
    if meaning.pieces is not None:
        nobody = Item(text="")
        taken = pieces_of(batch, meaning.pieces, "", nobody)
        if isinstance(taken, Ask):
            return Refuse(f"{saying.first_up(saying.batch(batch))} is not in pieces: tell me the grams.")
        return taken if isinstance(taken, Refuse) else Draw(taken.grams, pieces=taken.pieces, whole=True)
    if meaning.amount is not None:
        return _loose(weight_of(meaning.amount), batch)
    if meaning.fraction is None:
        return Draw(batch.left_g)
    grams = _share_of(meaning, batch, lambda of: replace(meaning, batch=BatchRef(number=batch.number), of=of))
    return grams if isinstance(grams, Ask) else Draw(grams)


def _loose(grams: float, batch: Batch) -> Draw | Refuse:
    try:
        return by_weight(batch, grams)
    except NotLoose as error:
        return Refuse(f"{error} Say which box it was.")


def _boxes(batch: Batch, count: float | None, place: str | None, about_g: float | None) -> Draw | Refuse:
    whole = None if count is None else ceil(count)
    try:
        boxes = pick_boxes(batch, whole, None if place is None else Place(place), about_g)
    except NoSuchBox as error:
        return Refuse(str(error), Why.NO_BOX_LEFT)
    except WhichBox as error:
        weights = saying.listed([saying.grams(box.grams) for box in error.boxes], "or")
        return Refuse(f"{error} Say its weight: {weights}.")
    draw = by_boxes(batch, [box.number for box in boxes])
    if count is None or count == len(boxes):
        return draw
    grams = draw.grams * count / len(boxes)
    return Draw(grams, draw.boxes) if len(boxes) == 1 else Draw(grams)


def reduced(draw: Draw, batch: Batch, why: str, who: str, ex: Exchange) -> Refuse | Ask | None:
    """Takes food off a batch that nobody's day holds; all that was left of it closes it."""
    grams = draw.grams
    over = batch.over_draw_g(grams)
    if grams <= 0 or over > OVER_DRAW_SLACK_G:
        pieces = batch.pieces_left
        shown = f" ({saying.pieces(pieces, batch.pot.piece)})" if draw.pieces is not None and pieces is not None else ""
        return Refuse(
            f"{saying.grams(grams)} can't be taken from {saying.batch(batch)}: only {saying.grams(batch.left_g)}{shown} is left."
        )
    if batch.closes_after(grams):
        return close(CloseBatch(batch=BatchRef(number=batch.number), how="discarded"), ex)
    batches.reduce(ex.books, batch.number, draw, why)
    ex.note(batch_events.BatchReduced(batch=batch.number, grams=grams, why=why))
    to = f" to {saying.as_told_back(who)}" if who and why == "given away" else ""
    ex.say(f"{saying.grams(grams)} of {saying.batch(batch)} {why}{to}. It counts for nobody.")
    settle(batch.number, ex)
    return None
