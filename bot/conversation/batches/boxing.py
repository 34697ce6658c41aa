"""How a batch is divided: into pieces and into boxes, and where these are kept."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from bot import batch_events
from bot.conversation import ounces, saying
from bot.conversation.batches.finding import batch_of, boxed, cooked, cooked_weight_of, uncooked
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse, Then
from bot.conversation.questions.stored import decode
from bot.conversation.records.measuring import mass, weight_of
from bot.kinds import About, Why
from bot.language.batch_meanings import CookBatch
from bot.language.portion_meanings import BoxUp, CountPieces, MoveBoxes, SplitBatch, WhichBoxes
from bot.language.portion_meanings import Place as PlaceWord
from bot.language.told import Amount, BatchRef, Item
from bot.store import batches, questions, weighins
from domain.batch_steps import Boxed, Place
from domain.batches import Batch
from domain.draws import NoSuchBox, NotLoose, WhichBox, equal_boxes, fill_boxes, pick_boxes
from domain.errors import DomainError

MOST_BOXES = 99
LEAST_LOOSE_G = 1.0
"""Grams below which nothing of a batch is outside its boxes."""


def split(meaning: SplitBatch, ex: Exchange) -> Ask | Refuse | None:
    """Divides what is left into equal boxes."""
    batch = batch_of(meaning.batch, meaning, ex, cooked)
    if not isinstance(batch, Batch):
        return batch
    if meaning.boxes is None:
        pending = replace(meaning, batch=BatchRef(number=batch.number, text=f"batch {batch.number}"))
        choices = tuple(Choice(_boxes(count), replace(pending, boxes=count)) for count in range(1, 5))
        return Ask(About.BOX_COUNT, f"How many boxes of equal weight for {saying.batch(batch)}?", pending, choices)
    if batch.cooked_g is None:
        return cooked_weight_of(batch, meaning)
    return _equally(batch, meaning.boxes, None, ex, anew=bool(batch.boxes))


def _awaited_g(batch: Batch, ex: Exchange) -> tuple[float, float]:
    """(what portions took that surely are of the batch, what others may have taken), all waiting for an answer."""
    sure_g, maybe_g = 0.0, 0.0
    for question in questions.waiting(ex.books):
        pending, choices = decode(question.subject)
        if not isinstance(pending, Item) or pending.amount is None or pending.amount.kind != "mass":
            continue
        old = None if pending.changes is None else weighins.get(ex.books, pending.changes)
        if old is not None and old.weigh_in.open is None:
            continue
        if _is_of(pending, batch):
            sure_g += weight_of(pending.amount)
        elif any(isinstance(choice, Item) and _is_of(choice, batch) for choice in choices):
            maybe_g += weight_of(pending.amount)
    return sure_g, maybe_g


def _is_of(item: Item, batch: Batch) -> bool:
    ref = item.batch
    return ref is not None and (ref.number == batch.number or ref.candidates == (batch.number,))


def _equally(batch: Batch, count: int, place: Place | None, ex: Exchange, *, anew: bool) -> Ask | Refuse | None:
    sure_g, maybe_g = (0.0, 0.0) if anew else _awaited_g(batch, ex)
    loose_g = batch.loose_g - sure_g
    if 0 < maybe_g < loose_g:
        return _with_or_without(batch, count, (loose_g - maybe_g, loose_g), place)
    try:
        if 0 < sure_g < batch.loose_g:
            filled = fill_boxes(batch, [loose_g / count] * count)
            batches.box(ex.books, batch.number, filled, place)
            _say_boxed(batch, filled, place, ex)
            return None
        box_g = equal_boxes(batch.then(Boxed((), anew=True)) if anew else batch, count)
    except DomainError as error:
        return Refuse(str(error), says_so=batch.left_g <= 0)
    batches.box(ex.books, batch.number, [None] * count, place, anew=anew)
    _say_boxed(batch, [box_g] * count, place, ex)
    return None


def _with_or_without(batch: Batch, count: int, totals: Sequence[float], place: Place | None) -> Ask:
    """Asks what is in the boxes while a portion waits that may be of this batch."""
    pending = BoxUp(batch=BatchRef(number=batch.number), boxes=count, place=None if place is None else place.value)
    choices = tuple(
        Choice(saying.choice(f"{count} of {saying.grams(total / count)}"), replace(pending, each=mass(total / count)))
        for total in totals
    )
    text = f"Whether {saying.grams(totals[1] - totals[0])} came from {saying.batch(batch)} is still an open question."
    return Ask(About.BOX_WEIGHT, f"{text} How many grams are in each box?", pending, choices)


def _say_boxed(batch: Batch, weights: Sequence[float], place: Place | None, ex: Exchange) -> None:
    grouped = Counter(weights)
    for box_g, count in grouped.items():
        ex.note(batch_events.BatchBoxed(batch=batch.number, boxes=count, box_g=box_g))
    now = batches.get(ex.books, batch.number)
    assert now is not None
    told = saying.listed([f"{_boxes(count)} of {ounces.beside(box_g, ex)}" for box_g, count in grouped.items()])
    where = f" in the {place.value}" if place is not None else ""
    loose = f", {ounces.beside(now.loose_g, ex)} not in boxes" if now.loose_g >= LEAST_LOOSE_G else ""
    ex.say(
        f"{saying.first_up(saying.batch(batch))}: {told}{where}{loose}. Take one with: a box from batch {batch.number}."
    )


def _boxes(count: int) -> str:
    return f"{count} box" if count == 1 else f"{count} boxes"


def box_up(meaning: BoxUp, ex: Exchange) -> Ask | Refuse | None:
    """Fills boxes from what is loose: equal ones, or of the weights that were said."""
    batch = batch_of(meaning.batch, meaning, ex, cooked)
    if not isinstance(batch, Batch):
        return batch
    if batch.cooked_g is None:
        return cooked_weight_of(batch, meaning)
    count = meaning.boxes if meaning.boxes is not None else len(meaning.weights) or 1
    if not 0 < count <= MOST_BOXES:
        return Refuse(f"A batch can be split into 1 to {MOST_BOXES} boxes, not {count}.")
    place = None if meaning.place is None else Place(meaning.place)
    if meaning.each is not None:
        weights = [weight_of(meaning.each)] * count
    elif meaning.weights:
        weights = [weight_of(amount) for amount in meaning.weights]
    else:
        return _equally(batch, count, place, ex, anew=False)
    try:
        filled = fill_boxes(batch, weights)
    except NotLoose as error:
        return _too_much(meaning, batch, sum(weights), error.loose_g)
    except DomainError as error:
        return Refuse(str(error))
    batches.box(ex.books, batch.number, filled, place)
    _say_boxed(batch, filled, place, ex)
    return None


def _too_much(meaning: BoxUp, batch: Batch, wanted_g: float, loose_g: float) -> Ask | Refuse:
    """Asks what is in the boxes when they would hold more than there is."""
    if loose_g < LEAST_LOOSE_G:
        return Refuse(f"All of {saying.batch(batch)} is in boxes.")
    what = f"{saying.first_up(saying.batch(batch))} has {saying.grams(loose_g)} not in boxes"
    if meaning.each is None or meaning.boxes is None:
        return Refuse(f"{what}, less than {saying.grams(wanted_g)}.")
    equal = replace(meaning, batch=BatchRef(number=batch.number), each=None)
    fits = int(loose_g // weight_of(meaning.each))
    choices = [Choice(saying.choice(f"{meaning.boxes} of {saying.grams(loose_g / meaning.boxes)}"), equal)]
    if fits:
        choices.append(
            Choice(
                f"{_boxes(fits)} of {saying.grams(weight_of(meaning.each))}",
                replace(equal, boxes=fits, each=meaning.each),
            )
        )
    return Ask(
        About.BOX_WEIGHT,
        f"{what}, not {saying.grams(wanted_g)}. How many grams are in each box?",
        replace(meaning, batch=BatchRef(number=batch.number)),
        tuple(choices),
    )


def move(meaning: MoveBoxes, ex: Exchange) -> Ask | Refuse | None:
    """Moves boxes, or what is loose, to the fridge or the freezer."""
    batch = batch_of(meaning.batch, meaning, ex, boxed if meaning.which is not None else cooked)
    if not isinstance(batch, Batch):
        return batch
    if batch.cooked_g is None:
        return cooked_weight_of(batch, meaning)
    to = Place(meaning.to)
    if meaning.which is not None:
        return _move_boxes(meaning, meaning.which, batch, to, ex)
    if batch.loose_g < 1 and batch.boxes:
        return _move_boxes(meaning, WhichBoxes(count=None), batch, to, ex)
    batches.move(ex.books, batch.number, None, to)
    ex.note(batch_events.BatchMoved(batch=batch.number, boxes=None, to=to.value))
    ex.say(f"{saying.grams(batch.loose_g)} of {saying.batch(batch)} is in the {to.value} now.")
    return None


def _move_boxes(meaning: MoveBoxes, which: WhichBoxes, batch: Batch, to: Place, ex: Exchange) -> Ask | Refuse | None:
    if not batch.boxes:
        return _fill_first(batch, which.count or 1, meaning.to)
    numbers = which.numbers
    elsewhere = [box for box in batch.boxes if box.place is not to]
    about_g = None if which.amount is None else weight_of(which.amount)
    if not numbers and which.count is not None and which.count == len(elsewhere) and about_g is None:
        numbers = tuple(box.number for box in elsewhere)
    if not numbers:
        # What goes to one place was in the other.
        source = Place.FRIDGE if to is Place.FREEZER else Place.FREEZER
        try:
            numbers = tuple(box.number for box in pick_boxes(batch, which.count, source, about_g))
        except NoSuchBox as error:
            return Refuse(str(error), Why.NO_BOX_LEFT)
        except WhichBox as error:
            ref = BatchRef(number=batch.number)
            choices = tuple(
                Choice(
                    saying.grams(box.grams),
                    replace(meaning, batch=ref, which=replace(which, amount=mass(box.grams))),
                )
                for box in error.boxes[:4]
            )
            return Ask(About.BOX, str(error), meaning, choices)
    batches.move(ex.books, batch.number, numbers, to)
    ex.note(batch_events.BatchMoved(batch=batch.number, boxes=len(numbers), to=to.value))
    what = f"{len(numbers)} box is" if len(numbers) == 1 else f"{len(numbers)} boxes are"
    ex.say(f"{what} in the {to.value} now, of {saying.batch(batch)}.")
    return None


def _fill_first(batch: Batch, count: int, place: PlaceWord) -> Ask | Refuse:
    """Asks what is in boxes that were never filled before they were moved."""
    if batch.loose_g <= 0:
        return Refuse(f"There is nothing left of {saying.batch(batch)}.")
    pending = BoxUp(batch=BatchRef(number=batch.number), boxes=count, place=place)
    choice = Choice(saying.choice(f"{saying.grams(batch.loose_g / count)}, all of it"), pending)
    each = "it" if count == 1 else "each"
    text = f"{_boxes(count)} of {saying.batch(batch)}: how many grams in {each}?"
    return Ask(About.BOX_WEIGHT, text, pending, (choice,))


def count_pieces(meaning: CountPieces, ex: Exchange) -> Ask | Refuse | Then | None:
    """Divides a batch into pieces of equal weight; what they weigh together is its cooked weight."""
    batch = batch_of(meaning.batch, meaning, ex, uncooked)
    if not isinstance(batch, Batch):
        return batch
    if meaning.pieces < 1:
        return Refuse("A batch has at least one piece.")
    ref = BatchRef(number=batch.number)
    total = _weight_of_all(meaning)
    if total is not None and (batch.cooked_g is None or abs(weight_of(total) - batch.loose_g) > batch.loose_g * SAME):
        weighed = CookBatch(batch=ref, amount=total, tare=meaning.tare)
        return Then((weighed, replace(meaning, batch=ref, amount=None, each=None)))
    if batch.cooked_g is not None and batch.loose_g <= 0:
        return Refuse(f"There is nothing left of {saying.batch(batch)} to divide.")
    batches.count_out(ex.books, batch.number, meaning.pieces, meaning.word)
    now = batches.get(ex.books, batch.number)
    assert now is not None
    ex.note(batch_events.BatchPieces(batch=now.number, pieces=meaning.pieces, piece_g=now.piece_g, piece=meaning.word))
    pieces = saying.pieces(meaning.pieces, meaning.word)
    if now.piece_g is None:
        ex.say(f"{saying.first_up(saying.batch(now))} makes {pieces}. Tell me what they weigh together when cooked.")
    else:
        ex.say(f"{saying.first_up(saying.batch(now))}: {pieces} of {saying.grams(now.piece_g)} each.")
    return None


SAME = 0.01
"""Weights of all pieces that differ by no more say the same."""


def _weight_of_all(meaning: CountPieces) -> Amount | None:
    if meaning.amount is not None:
        return meaning.amount
    if meaning.each is None:
        return None
    each = weight_of(meaning.each)
    return mass(each * meaning.pieces, f"{meaning.pieces} x {saying.grams(each)}")
