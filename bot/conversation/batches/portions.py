"""Portions of batches: computed on the raw basis, limited to what is left, pending until the cooked weight is known."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil

from bot import batch_events
from bot.conversation import ounces, saying
from bot.conversation.batches.finding import batch_of, cooked, cooked_weight_of
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.conversation.records.judging import Judged, net_of_tare
from bot.conversation.records.measuring import amount_doubt, mass, weight_of
from bot.kinds import About, Confirmed, Ending, Why
from bot.language.portion_meanings import TakeBoxes, WhichBoxes
from bot.language.told import Amount, BatchRef, Item, Name, When
from bot.store import batches, weighins
from bot.store.weighins import StoredWeighIn
from domain.batch_steps import Place, Reopened, Taken
from domain.batches import OVER_DRAW_SLACK_G, Batch, Share
from domain.draws import NoPieces, NoSuchBox, NotLoose, WhichBox, by_boxes, by_pieces, by_weight, pick_boxes
from domain.errors import DomainError
from domain.foods import State
from domain.weighins import Evidence, WeighIn, check_weight

BOX_WORDS = frozenset({"box", "portion", "tub", "container", "serving", "packet", "jar", "bag"})
PIECE_WORDS = frozenset({"", "piece", "slice", "square", "wedge"})
"""Words for the pieces of any batch."""


def judge_portion(item: Item, ex: Exchange) -> tuple[Batch, Judged] | Ask | Refuse:
    """Whether a portion can be recorded, needs a question, or is refused."""
    assert item.batch is not None
    told = item.batch.sure or Confirmed.BATCH in item.confirmed or _is_one_of_its_boxes(item, item.batch, ex)
    if not told and item.name is not None:
        return _batch_or_food(item, item.batch, item.name)
    batch = _of_left_kitchen(item, ex) or _without_changed(item, ex) or batch_of(item.batch, item, ex, cooked)
    if not isinstance(batch, Batch):
        return batch
    if item.when.future:
        return Refuse(
            "That is in the future. I record what has been eaten, so tell me once you have eaten it.", Why.FUTURE
        )
    if batch.cooked_g is None:
        return _without_weight(item, batch, ex)
    taken = _taken(item, batch, ex)
    return taken if not isinstance(taken, TakenOut) else judge_taken(item, batch, taken, ex)


def _without_weight(item: Item, batch: Batch, ex: Exchange) -> Ask | Refuse:
    """The question for the cooked weight; the amount's own comes first where it needs none of the batch's."""
    amount = item.amount
    if amount is None or amount.kind in ("mass", "bare"):
        found = _taken(item, batch, ex)
        if not isinstance(found, TakenOut):
            return found
        return cooked_weight_of(batch, item, f"Then I record your {saying.grams(found.grams)}.")
    return cooked_weight_of(batch, item, "Then I record your portion.")


@dataclass(frozen=True, slots=True)
class TakenOut:
    """What was taken: grams, by which evidence, in which words, as which boxes or how many pieces."""

    grams: float
    evidence: Evidence
    how: str
    boxes: tuple[int, ...] = ()
    pieces: float | None = None


def judge_taken(item: Item, batch: Batch, taken: TakenOut, ex: Exchange) -> tuple[Batch, Judged] | Ask | Refuse:
    """Whether what was taken can be recorded, needs a question, or is refused."""
    weighed, evidence = taken.grams, taken.evidence
    others = item.others_g or 0
    mine = weighed - others
    if mine <= 0:
        return Refuse(f"{saying.grams(others)} for others leaves nothing of the {saying.grams(weighed)}.")
    over = batch.over_draw_g(weighed)
    if over > OVER_DRAW_SLACK_G and Confirmed.OVER not in item.confirmed:
        return _over_draw(item, batch, weighed)
    if not taken.boxes and Confirmed.OVER not in item.confirmed:
        try:
            by_weight(batch, weighed)
        except NotLoose as error:
            return _which_box(item, batch, weighed, error.loose_g)
    boxes, pieces = taken.boxes, taken.pieces
    if others and boxes:
        # The box is open: what is the writer's was not boxed by itself.
        evidence = Evidence.WEIGHED
        boxes = boxes if len(boxes) == 1 else ()
    weigh_in = WeighIn(
        batch.name, State.COOKED, mine, mine, 0.0, State.RAW, evidence, None, batch.number, boxes, pieces
    )
    share = _share(batch, weigh_in, item, ex)
    weigh_in = replace(weigh_in, basis_g=share.basis_g, nutrients=share.nutrients)
    how = taken.how
    if others:
        how = f"{how}{saying.grams(weighed)} less {saying.grams(others)} for others, "
    told = f"{how}{ounces.beside(mine, ex)} counts as {saying.grams(share.basis_g)} raw"
    return batch, Judged(weigh_in, told, saying.batch(batch), at_least=not share.complete)


def _share(batch: Batch, weigh_in: WeighIn, item: Item, ex: Exchange) -> Share:
    """What the portion counts as once it is taken, a changed one at its own place among what happened to the batch."""
    portion, after = _NEW, batch.then(Taken(_NEW, weigh_in.draw))
    old = weighins.get(ex.books, item.changes) if item.changes is not None else None
    now = batches.get(ex.books, batch.number) if old is not None and old.weigh_in.batch == batch.number else None
    if old is not None and now is not None:
        portion = (old.person_id, old.number)
        after = now.drawing(portion, weigh_in.draw)
    found = after.portion(portion)
    assert found is not None
    return found[1]


_NEW = (0, 0)
"""Stands for the portion that is about to be recorded."""


def _which_box(item: Item, batch: Batch, grams: float, loose_g: float) -> Ask:
    """Asks which box was opened when more was taken than is loose."""
    ref = BatchRef(number=batch.number)
    kinds = {round(box.grams, 1): box for box in reversed(batch.boxes) if box.grams >= grams}
    choices = [
        Choice(
            saying.choice(f"from a {saying.grams(box.grams)} box"),
            TakeBoxes(
                batch=ref, which=WhichBoxes(count=1, numbers=(box.number,)), when=item.when, left_g=box.grams - grams
            ),
        )
        for box in sorted(kinds.values(), key=lambda box: box.number)[:3]
    ]
    choices.append(
        Choice(
            saying.choice(f"{saying.grams(grams)} from all of it"),
            replace(item, batch=ref, confirmed=(*item.confirmed, Confirmed.OVER)),
        )
    )
    loose = f"Only {saying.grams(loose_g)} of {saying.batch(batch)} is not in boxes."
    if loose_g < 1:
        loose = f"All of {saying.batch(batch)} is in boxes."
    return Ask(
        About.BOX,
        f"{loose} Which box did the {saying.grams(grams)} come from?",
        item,
        tuple(choices),
    )


def left_kitchen(stored: StoredWeighIn) -> Refuse:
    """The refusal to recompute a portion of a batch in a kitchen that the person has left."""
    return Refuse(
        f"#{stored.number} came from batch {stored.weigh_in.batch} ({stored.weigh_in.food}) of a kitchen that you have left, so it can't be changed, only deleted: delete #{stored.number}. Nothing is changed.",
        Why.LEFT_KITCHEN,
        says_so=True,
    )


def _of_left_kitchen(item: Item, ex: Exchange) -> Refuse | None:
    old = weighins.get(ex.books, item.changes) if item.changes is not None else None
    return left_kitchen(old) if old is not None and weighins.has_left(ex.books, old) else None


def _without_changed(item: Item, ex: Exchange) -> Batch | None:
    """For a correction of a portion: its batch, open or closed, without that portion."""
    old = weighins.get(ex.books, item.changes) if item.changes is not None else None
    if (
        old is None
        or old.weigh_in.batch is None
        or item.batch is None
        or old.weigh_in.batch not in (item.batch.number, *item.batch.candidates)
    ):
        return None
    batch = batches.get(ex.books, old.weigh_in.batch)
    if batch is None:
        return None
    return batch.without((old.person_id, old.number)).then(Reopened())


def _is_one_of_its_boxes(item: Item, ref: BatchRef, ex: Exchange) -> bool:
    """Whether a box of it is told and the one batch that can be meant is in boxes."""
    boxed = item.amount is not None and item.amount.unit in BOX_WORDS
    if not boxed or len(ref.candidates) != 1:
        return False
    batch = batches.get(ex.books, ref.candidates[0])
    return batch is not None and bool(batch.boxes)


def _batch_or_food(item: Item, ref: BatchRef, name: Name) -> Ask:
    """Asks whether the batch or the plain food of the same name is meant."""
    from_batch = replace(item, batch=replace(ref, sure=True), confirmed=(*item.confirmed, Confirmed.BATCH))
    number = ref.candidates[0] if len(ref.candidates) == 1 else None
    label = f"from batch {number}" if number is not None else "from the batch"
    other = replace(item, batch=None)
    return Ask(
        About.BATCH,
        f"{name.text.capitalize()}: {label}, or other {name.text}?",
        item,
        (Choice(label, from_batch), Choice(saying.choice(f"other {name.text}"), other)),
    )


def _taken(item: Item, batch: Batch, ex: Exchange) -> TakenOut | Ask | Refuse:
    """The amount."""
    amount = item.amount
    if amount is None:
        return Ask(About.AMOUNT, f"How many grams from {saying.batch(batch)}?", item)
    doubt = amount_doubt(item, amount)
    if doubt is not None:
        return doubt
    if item.shared:
        return Ask(
            About.SHARE,
            f"You shared {amount.text} from {saying.batch(batch)}: how many grams were yours?",
            replace(item, shared=False),
        )
    if amount.kind in ("count", "measure") and amount.unit in BOX_WORDS:
        return _boxes(item, amount, batch)
    if amount.kind in ("count", "measure") and amount.unit in (*PIECE_WORDS, batch.pot.piece) and batch.piece_g:
        return pieces_of(batch, amount.value, amount.text, item)
    if amount.kind == "bare" and 1 <= amount.value <= len(batch.boxes) and amount.value == int(amount.value):
        return _grams_or_boxes(item, amount, batch)
    if amount.kind == "bare" and 0 < amount.value < 1 and batch.cooked_g is not None:
        part = amount.value * batch.left_g
        return Ask(
            About.AMOUNT,
            f"{amount.text.capitalize()} of what? A weight is best.",
            item,
            (Choice(f"{saying.grams(part)} of what's left", replace(item, amount=mass(part))),),
        )
    if amount.kind in ("volume", "measure", "count"):
        own = ex.known.measures.get((batch.name, amount.unit))
        if own is None:
            return Ask(
                About.AMOUNT,
                f"I don't know what {saying.spaced(amount.text)} of {saying.batch(batch)} weighs. How many grams was it?",
                item,
            )
        return TakenOut(amount.value * own, Evidence.OWN_MEASURE, f"{amount.text}, ")
    return _weighed(item, amount, batch, ex)


def _grams_or_boxes(item: Item, amount: Amount, batch: Batch) -> Ask:
    """Asks what a number counts that has no unit, where so many boxes are there."""
    count = int(amount.value)
    boxes = TakeBoxes(batch=BatchRef(number=batch.number), which=WhichBoxes(count=count), when=item.when)
    said = f"{count} {'box' if count == 1 else 'boxes'}"
    choices = (Choice(said, boxes), Choice(f"{count} g", replace(item, amount=mass(count))))
    return Ask(About.AMOUNT, f"{amount.text} of {saying.batch(batch)}: boxes or grams?", item, choices)


def _weighed(item: Item, amount: Amount, batch: Batch, ex: Exchange) -> TakenOut | Ask | Refuse:
    gross = weight_of(amount)
    net = net_of_tare(item, gross, batch.name, ex)
    if isinstance(net, (Ask, Refuse)):
        return net
    try:
        check_weight(net - (item.others_g or 0) if net > (item.others_g or 0) else net)
    except DomainError as error:
        return Refuse(str(error))
    if item.waste_g is not None:
        net -= item.waste_g
        if net <= 0:
            return Refuse(
                f"{saying.grams(item.waste_g)} left over leaves nothing eaten of the {saying.grams(gross)} taken."
            )
    return TakenOut(net, Evidence.WEIGHED, f"{amount.text} less the {item.tare.name}, " if item.tare else "")


def _boxes(item: Item, amount: Amount, batch: Batch) -> TakenOut | Ask | Refuse:
    which = WhichBoxes(count=ceil(amount.value))
    found = boxes_of(batch, which, item.when, item)
    if not isinstance(found, TakenOut):
        return found
    count = len(found.boxes)
    if amount.value == count:
        return replace(found, how=f"{amount.text}, ")
    part = replace(found, grams=found.grams * amount.value / count, how=f"{amount.text}, ")
    # A single box is open then, and its rest is loose.
    return replace(part, evidence=Evidence.WEIGHED) if count == 1 else replace(part, boxes=())


def boxes_of(batch: Batch, which: WhichBoxes, when: When, pending: Item | TakeBoxes) -> TakenOut | Ask | Refuse:
    """The boxes that are meant, whole; a question when they differ in weight, a refusal when there are not so many."""
    if not batch.boxes_packed:
        return Ask(
            About.AMOUNT,
            f"{saying.first_up(saying.batch(batch))} is not in boxes. How many grams was it?",
            as_item(batch, which, when),
        )
    numbers = which.numbers
    if not numbers:
        place = None if which.place is None else Place(which.place)
        about_g = None if which.amount is None else weight_of(which.amount)
        try:
            numbers = tuple(box.number for box in pick_boxes(batch, which.count, place, about_g))
        except NoSuchBox as error:
            loose = f"No boxes are left; {saying.grams(batch.loose_g)} of {batch.name} is."
            return Refuse(loose if not batch.boxes and batch.loose_g >= 1 else str(error), Why.NO_BOX_LEFT)
        except WhichBox as error:
            return _one_of(error, batch, which, when, pending)
    try:
        draw = by_boxes(batch, numbers)
    except NoSuchBox as error:
        return Refuse(str(error), Why.NO_BOX_LEFT)
    said = "a box" if len(numbers) == 1 else f"{len(numbers)} boxes"
    return TakenOut(draw.grams, Evidence.BOXED, f"{said}, ", draw.boxes)


def _one_of(error: WhichBox, batch: Batch, which: WhichBoxes, when: When, pending: Item | TakeBoxes) -> Ask:
    taking = pending if isinstance(pending, TakeBoxes) else TakeBoxes(batch=BatchRef(), which=which, when=when)
    choices = tuple(
        Choice(
            saying.grams(box.grams),
            replace(
                taking,
                batch=BatchRef(number=batch.number),
                which=replace(which, count=1, numbers=(box.number,), amount=None),
            ),
        )
        for box in error.boxes[:4]
    )
    return Ask(About.BOX, str(error), taking, choices)


def as_item(batch: Batch, which: WhichBoxes, when: When) -> Item:
    """Boxes as an item that is kept with the weigh-in, so that it can be changed later."""
    count = which.count or len(which.numbers) or 1
    text = "a box" if count == 1 else f"{count} boxes"
    amount = Amount(kind="count", value=count, unit="box", text=text)
    ref = BatchRef(number=batch.number, text=f"batch {batch.number}")
    return Item(text=text, amount=amount, batch=ref, when=when)


def pieces_of(batch: Batch, pieces: float | None, text: str, item: Item) -> TakenOut | Ask | Refuse:
    """So many pieces of a batch (None: all that are left), less what was left over."""
    try:
        draw = by_pieces(batch, pieces)
    except NoPieces:
        return Ask(
            About.AMOUNT, f"{saying.first_up(saying.batch(batch))} is not in pieces. How many grams was it?", item
        )
    if draw.grams <= 0:
        return Refuse(f"No {batch.pot.piece or 'piece'} of {saying.batch(batch)} is left.")
    return TakenOut(draw.grams, Evidence.COUNTED, f"{text}, ", pieces=draw.pieces)


def _over_draw(item: Item, batch: Batch, grams: float) -> Ask:
    left = batch.left_g
    as_typed = replace(item, confirmed=(*item.confirmed, Confirmed.OVER))
    choices = [Choice(f"yes, {saying.grams(grams)}", as_typed)]
    if left > 0:
        choices.append(Choice(f"{saying.grams(left)}, all of it", replace(item, amount=mass(left), tare=None)))
    return Ask(
        About.OVER_DRAW,
        f"Only {saying.grams(left)} is left of {saying.batch(batch)}. Was it really {saying.grams(grams)}?",
        item,
        tuple(choices),
    )


def give_back(stored: StoredWeighIn, ex: Exchange) -> None:
    """Updates the batch that a removed weigh-in came from, unless it belongs to a kitchen that the person has left."""
    if stored.weigh_in.batch is not None and not weighins.has_left(ex.books, stored):
        settle(stored.weigh_in.batch, ex)


def settle(number: int, ex: Exchange) -> None:
    """Reopens or closes a batch after a change to its portions, and says how much is left."""
    now = batches.get(ex.books, number)
    if now is None or now.cooked_g is None:
        return
    if now.closed and not now.closes_after(0):
        batches.reopen(ex.books, number)
    if not (now.closed and now.closes_after(0)):
        say_left(now, ex)


def say_left(now: Batch, ex: Exchange) -> None:
    """Says how much is left of a batch; closes it when nothing worth weighing is."""
    if now.closes_after(0):
        batches.close(ex.books, now.number, now.left_g, "finished")
        ex.note(batch_events.BatchClosed(batch=now.number, left_g=now.left_g, how=Ending.FINISHED))
        ex.say(f"That was the last of {saying.batch(now)}; it is closed.")
        return
    ex.say(f"Left in {saying.batch(now)}: {ounces.beside(now.left_g, ex)}{saying.divided(now)}.")
