"""What is left of a batch: boxes, reductions, closing, and questions about it."""

from __future__ import annotations

from math import ceil

from bot import events
from bot.conversation import saying
from bot.conversation.batches.portions import batch_of, settle
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Refuse
from bot.conversation.records.measuring import weight_of
from bot.kinds import About, Ending, Topic
from bot.language.meanings import Amount, BatchRef, CloseBatch, Left, ReduceBatch, SplitBatch
from bot.store import batches
from domain.batch_steps import Boxed, Draw
from domain.batches import Batch
from domain.draws import by_boxes, equal_boxes, pick_boxes
from domain.errors import DomainError


def split(meaning: SplitBatch, ex: Exchange) -> Ask | Refuse | None:
    """Divides what is left into equal boxes."""
    batch = batch_of(meaning.batch, meaning, ex)
    if not isinstance(batch, Batch):
        return batch
    if batch.cooked_g is None:
        return Ask(
            About.COOKED_WEIGHT,
            f"{saying.batch(batch).capitalize()} has no cooked weight yet. What did it weigh cooked, without the pot?",
            meaning,
        )
    try:
        box_g = equal_boxes(batch.then(Boxed((), anew=True)), meaning.boxes)
    except DomainError as error:
        return Refuse(str(error), says_so=batch.left_g <= 0)
    batches.box(ex.books, batch.number, [None] * meaning.boxes, anew=bool(batch.boxes))
    ex.note(events.BatchBoxed(batch=batch.number, boxes=meaning.boxes, box_g=box_g))
    ex.say(
        f"{saying.batch(batch).capitalize()}: {meaning.boxes} boxes of {saying.grams(box_g)}. Take one with: a box from batch {batch.number}."
    )
    return None


def reduce(meaning: ReduceBatch, ex: Exchange) -> Ask | Refuse | None:
    """Records food that left the batch without being eaten; closes the batch when nothing is left."""
    batch = batch_of(meaning.batch, meaning, ex)
    if not isinstance(batch, Batch):
        return batch
    if batch.cooked_g is None:
        return Ask(
            About.COOKED_WEIGHT,
            f"{saying.batch(batch).capitalize()} has no cooked weight yet. What did it weigh cooked, without the pot?",
            meaning,
        )
    draw = _reduced(meaning, batch)
    if isinstance(draw, Refuse):
        return draw
    grams = draw.grams
    over = batch.over_draw_g(grams)
    if grams <= 0 or over > 5:
        return Refuse(
            f"{saying.grams(grams)} can't leave {saying.batch(batch)}: {saying.grams(batch.left_g)} are left."
        )
    if batch.closes_after(grams):
        return close(CloseBatch(batch=BatchRef(number=batch.number), how="discarded"), ex)
    batches.reduce(ex.books, batch.number, draw, meaning.why)
    ex.note(events.BatchReduced(batch=batch.number, grams=grams, why=meaning.why))
    ex.say(f"{saying.grams(grams)} of {saying.batch(batch)} {meaning.why}: on nobody's day.")
    settle(batch.number, ex)
    return None


def _reduced(meaning: ReduceBatch, batch: Batch) -> Draw | Refuse:
    if meaning.boxes is not None:
        try:
            boxes = pick_boxes(batch, ceil(meaning.boxes))
        except DomainError:
            return Refuse(f"{saying.batch(batch).capitalize()} has not that many boxes left.")
        draw = by_boxes(batch, [box.number for box in boxes])
        return draw if meaning.boxes == len(boxes) else Draw(draw.grams * meaning.boxes / len(boxes))
    amount: Amount | None = meaning.amount
    if amount is None:
        return Draw(batch.left_g)
    return Draw(weight_of(amount))


def close(meaning: CloseBatch, ex: Exchange) -> Ask | Refuse | None:
    """Closes the batch and says how much of it nobody logged."""
    batch = batch_of(meaning.batch, meaning, ex)
    if not isinstance(batch, Batch):
        return batch
    left = batch.left_g if batch.cooked_g is not None else 0.0
    batches.close(ex.books, batch.number, left, meaning.how)
    ex.note(events.BatchClosed(batch=batch.number, left_g=left, how=Ending(meaning.how)))
    rest = (
        f" {saying.grams(left)} of it were never logged."
        if left > 5 and meaning.how == "finished"
        else f" {saying.grams(left)} went."
        if left > 5
        else ""
    )
    ex.say(f"{saying.batch(batch).capitalize()} is closed ({meaning.how}).{rest}")
    return None


def left(meaning: Left, ex: Exchange) -> Ask | Refuse | None:
    """Answers what is left of a batch."""
    batch = batch_of(meaning.batch, meaning, ex)
    if isinstance(batch, Ask):
        return batch
    if isinstance(batch, Refuse):
        ex.say(batch.text)
    elif batch.cooked_g is None:
        ex.say(f"{saying.batch(batch).capitalize()} has no cooked weight yet; {saying.grams(batch.raw_g)} went in.")
    else:
        boxes = f", {len(batch.boxes)} of {batch.boxes_packed} boxes" if batch.boxes_packed else ""
        ex.say(f"Left in {saying.batch(batch)}: {saying.grams(batch.left_g)} of {saying.grams(batch.cooked_g)}{boxes}.")
    ex.note(events.Answered(about=Topic.LEFT))
    return None


def say_contents(ref: BatchRef, ex: Exchange) -> None:
    """Answers what went into a batch and how much is left; answers for each when several share the name."""
    ex.note(events.Answered(about=Topic.CONTENTS))
    numbers = ref.candidates if ref.number is None else (ref.number,)
    found = [batch for number in numbers if (batch := batches.get(ex.books, number)) is not None and not batch.closed]
    if not found:
        refusal = batch_of(ref, Left(batch=ref), ex)
        assert isinstance(refusal, Refuse)
        ex.say(refusal.text)
    for batch in found:
        total = f", {saying.grams(batch.raw_g)} in all" if len(batch.ingredients) > 1 else ""
        left = (
            "" if batch.cooked_g is None else f" {saying.grams(batch.left_g)} of {saying.grams(batch.cooked_g)} left."
        )
        ex.say(f"{saying.first_up(saying.batch(batch))}: {saying.ingredients(batch)}{total}.{left}")
