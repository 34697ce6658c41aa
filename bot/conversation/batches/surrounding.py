"""The kitchen's batches as what is said refers to them."""

from __future__ import annotations

from collections.abc import Collection
from datetime import timedelta

from bot.conversation.batches.cooking import added_since
from bot.conversation.batches.finding import spoken_of, words_for
from bot.conversation.exchange import Exchange
from bot.kinds import BatchStep, JournalKind
from bot.language.surroundings import KnownBatch
from bot.store import batches, cooking, journal
from domain.batch_steps import CountedOut, Reduced
from domain.batches import Batch

AT_THE_POT = timedelta(minutes=20)
"""So long after something went into a pot a further food is taken to go into it too."""
IN_FOCUS = timedelta(hours=8)
"""So long after the writer told something of a batch a portion without a name may be of it."""
TOGETHER = timedelta(minutes=10)
"""Batches of which something was told within so long are spoken of together."""
OF_BATCHES = frozenset({JournalKind.BATCH_OPENED, JournalKind.BATCH_EVENT})
PUT_IN = (BatchStep.ADDED, BatchStep.CORRECTED, BatchStep.REMOVED)
GIVEN_AWAY = "given away"
"""Why food left a batch that somebody had of it."""
MOST_STEPS = 4
"""Latest steps of a batch among which somebody's helping can be put right."""
MOST_CLOSED = 60
"""Batches that are over, of which the latest can be cooked again by name."""


def known_batches(ex: Exchange) -> tuple[KnownBatch, ...]:
    """The open batches, with what words can refer to: ingredients, pieces, boxes, whether they are on the stove."""
    if not ex.known.own.batches:
        return ()
    last_in = cooking.last_in(ex.books)
    zone = ex.books.person.timezone
    filling, spoken, focus = _filling(ex), spoken_of(ex), _in_focus(ex)
    found = []
    for batch in batches.open_batches(ex.books):
        is_cooked = batch.cooked_g is not None
        since = None if is_cooked else last_in.get(batch.number)
        at_the_pot = since is not None and ex.books.at - since <= AT_THE_POT
        found.append(
            KnownBatch(
                batch.number,
                batch.name,
                is_cooked,
                None if since is None else since.astimezone(zone),
                batch.number == filling and at_the_pot,
                filling is None and at_the_pot and batches.was_empty(ex.books, batch.number),
                tuple(word for each in batch.ingredients for word in words_for(each, ex)),
                _pieces(batch),
                batch.pot.piece,
                len(batch.boxes),
                boxed=bool(batch.boxes_packed),
                raw_g=batch.raw_g,
                left_g=batch.left_g if is_cooked else None,
                untouched=is_cooked and batch.taken_g + batch.reduced_g <= 0,
                box_g=_box_g(batch),
                spoken=batch.number == spoken,
                focus=batch.number in focus and is_cooked,
                stirred=added_since(batch),
                given_g=_given_g(batch) if is_cooked else (),
                weights=_weights(batch, ex),
            )
        )
    return tuple(found)


def _given_g(batch: Batch) -> tuple[float, ...]:
    """What others had by the latest steps, portions of the writer's own among them."""
    lately = batch.steps[-MOST_STEPS:]
    given = [
        step.draw.grams
        for step in lately
        if isinstance(step, Reduced) and step.why == GIVEN_AWAY and not (step.draw.pieces or step.draw.boxes)
    ]
    back = any(isinstance(step, Reduced) and step.draw.grams < 0 for step in lately)
    return () if back else tuple(given)


def _weights(batch: Batch, ex: Exchange) -> tuple[tuple[tuple[str, ...], float], ...]:
    """What each ingredient is called, and how much of it went in."""
    return tuple((tuple(words_for(each, ex)), each.raw_g) for each in batch.ingredients)


def _in_focus(ex: Exchange) -> frozenset[int]:
    """The batches that the writer spoke of last, within some hours; several if they were told of together."""
    told = cooking.last_told(ex.books)
    latest = max(told.values(), default=None)
    if latest is None or ex.books.at - latest > IN_FOCUS:
        return frozenset()
    return frozenset(number for number, at in told.items() if latest - at <= TOGETHER)


def _filling(ex: Exchange) -> int | None:
    """The batch that the writer's latest change put something into."""
    entries = journal.last(ex.books)
    if not entries or not all(entry.kind in OF_BATCHES for entry in entries):
        return None
    details = journal.details(ex.books, entries[0])
    return details.batch if details.event in (None, *PUT_IN) else None


def _pieces(batch: Batch) -> float | None:
    """How many pieces are left, or were counted out before the batch was weighed."""
    if batch.pieces_left is not None:
        return batch.pieces_left
    return next((step.pieces for step in reversed(batch.steps) if isinstance(step, CountedOut)), None)


def _box_g(batch: Batch) -> float | None:
    """What each box holds, where all hold the same."""
    weights = {round(box.grams, 2) for box in batch.boxes}
    return batch.boxes[0].grams if len(weights) == 1 else None


def closed_batches(ex: Exchange) -> tuple[KnownBatch, ...]:
    """The latest of those that are over."""
    still_open = {batch.number for batch in ex.known.own.batches}
    return tuple(
        KnownBatch(number, name, cooked=True)
        for number, name in batches.names(ex.books, MOST_CLOSED)
        if number not in still_open
    )


def contents(ex: Exchange, numbers: Collection[int]) -> tuple[KnownBatch, ...]:
    """The batches of these numbers that are over, with what went into them."""
    found = [batches.get(ex.books, number) for number in numbers]
    return tuple(
        KnownBatch(
            batch.number,
            batch.name,
            cooked=True,
            ingredients=tuple(word for each in batch.ingredients for word in words_for(each, ex)),
            weights=_weights(batch, ex),
        )
        for batch in found
        if batch is not None and batch.closed
    )
