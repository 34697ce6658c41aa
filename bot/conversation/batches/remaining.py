"""How a batch ends, what is left of it, and what is in it."""

from __future__ import annotations

from bot import batch_events, events
from bot.conversation import ounces, saying
from bot.conversation.batches.finding import batch_of
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Refuse
from bot.kinds import Ending, Topic
from bot.language.batch_meanings import CloseBatch, Left
from bot.language.told import BatchRef
from bot.store import batches
from domain.batches import Batch


def close(meaning: CloseBatch, ex: Exchange) -> Ask | Refuse | None:
    """Closes the batch and says how much of it nobody logged."""
    batch = batch_of(meaning.batch, meaning, ex)
    if not isinstance(batch, Batch):
        return batch
    left = batch.left_g if batch.cooked_g is not None else 0.0
    batches.close(ex.books, batch.number, left, meaning.how)
    ex.note(batch_events.BatchClosed(batch=batch.number, left_g=left, how=Ending(meaning.how)))
    rest = (
        f" Nobody logged the remaining {saying.grams(left)}."
        if left > 5 and meaning.how == "finished"
        else f" It still held {saying.grams(left)}."
        if left > 5
        else ""
    )
    ex.say(f"{saying.first_up(saying.batch(batch))} is closed ({meaning.how}).{rest}")
    return None


def left(meaning: Left, ex: Exchange) -> Ask | Refuse | None:
    """Answers what is left of a batch."""
    batch = batch_of(meaning.batch, meaning, ex)
    if isinstance(batch, Ask):
        return batch
    if isinstance(batch, Refuse):
        ex.say(batch.text)
    elif batch.cooked_g is None:
        ex.say(f"{saying.first_up(saying.batch(batch))} has no cooked weight yet; {saying.grams(batch.raw_g)} went in.")
    else:
        whole = ounces.beside(batch.cooked_g, ex)
        ex.say(f"Left in {saying.batch(batch)}: {ounces.beside(batch.left_g, ex)} of {whole}{saying.divided(batch)}.")
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
