"""Portions of batches: computed on the raw basis, limited to what is left, pending until the cooked weight is known."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil

from bot import events
from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.conversation.records.judging import Judged, net_of_tare
from bot.conversation.records.measuring import amount_doubt, mass, weight_of
from bot.kinds import About, Confirmed, Ending, Why
from bot.language.meanings import (
    Amount,
    BatchRef,
    CloseBatch,
    CookBatch,
    Item,
    Left,
    Name,
    PourOff,
    ReduceBatch,
    SplitBatch,
)
from bot.store import batches, weighins
from bot.store.weighins import StoredWeighIn
from domain.batch_steps import Reopened
from domain.batches import OVER_DRAW_SLACK_G, Batch
from domain.draws import NoSuchBox, WhichBox, pick_boxes
from domain.errors import DomainError
from domain.foods import State
from domain.weighins import Evidence, WeighIn, check_weight

OfBatch = Item | CookBatch | PourOff | SplitBatch | ReduceBatch | CloseBatch | Left
"""The meanings that name a batch."""
BOX_WORDS = frozenset({"box", "portion", "tub", "container", "serving", "packet", "jar", "bag"})


def batch_of(ref: BatchRef, pending: OfBatch, ex: Exchange) -> Batch | Ask | Refuse:
    """The open batch that is meant; a question when several match, a refusal that lists the open ones when none does."""
    if ref.number is not None:
        found = batches.get(ex.books, ref.number)
        if found is None or found.closed:
            return _no_batch(ref, found, ex)
        return found
    if len(ref.candidates) == 1:
        only = batches.get(ex.books, ref.candidates[0])
        return only if only is not None and not only.closed else _no_batch(ref, only, ex)
    if not ref.candidates:
        return _no_batch(ref, None, ex)
    open_ones = [b for b in batches.open_batches(ex.books) if b.number in ref.candidates]
    choices = tuple(
        Choice(saying.choice(f"batch {b.number} {b.name}"), _with_batch(pending, b.number)) for b in open_ones[:4]
    )
    return Ask(About.BATCH, "Which batch?", pending, choices)


def _with_batch(pending: OfBatch, number: int) -> OfBatch:
    return replace(pending, batch=BatchRef(number=number, text=f"batch {number}"))


def _no_batch(ref: BatchRef, closed: Batch | None, ex: Exchange) -> Refuse:
    open_ones = batches.open_batches(ex.books)
    named = (
        f"batch {ref.number}"
        if ref.number is not None and ref.number < 10**9
        else f"“{ref.text}”"
        if ref.text
        else "such batch"
    )
    what = (
        f"{saying.batch(closed).capitalize()} is closed."
        if closed is not None
        else f"There is no open {named}."
        if ref.text or ref.number
        else "No batch is open."
    )
    if open_ones:
        what += f" Open: {saying.listed([saying.batch(b) for b in open_ones[:8]])}."
    else:
        what += " To open one: new batch: 1200 g raw chicken breast."
    return Refuse(what, Why.NO_SUCH_BATCH, says_so=True)


def judge_portion(item: Item, ex: Exchange) -> tuple[Batch, Judged] | Ask | Refuse:
    """Whether a portion can be recorded, needs a question, or is refused."""
    assert item.batch is not None
    if not item.batch.sure and item.name is not None and Confirmed.BATCH not in item.confirmed:
        return _batch_or_food(item, item.batch, item.name)
    batch = _of_left_kitchen(item, ex) or _without_changed(item, ex) or batch_of(item.batch, item, ex)
    if not isinstance(batch, Batch):
        return batch
    if item.when.future:
        return Refuse("That time is still to come. I record what was eaten; tell me when it has been.", Why.FUTURE)
    grams = _portion_grams(item, batch, ex)
    if not isinstance(grams, _Amount):
        return grams
    weighed, evidence, how = grams.grams, grams.evidence, grams.how
    if batch.cooked_g is None:
        return Ask(
            About.COOKED_WEIGHT,
            f"{saying.batch(batch).capitalize()} has no cooked weight yet. What did it weigh cooked, without the pot? "
            f"Your {saying.grams(weighed)} wait for it.",
            item,
        )
    mine = weighed - (item.others_g or 0)
    if mine <= 0:
        return Refuse(
            f"{saying.grams(item.others_g or 0)} for others is not less than the {saying.grams(weighed)} in all."
        )
    over = batch.over_draw_g(weighed)
    if over > OVER_DRAW_SLACK_G and Confirmed.OVER not in item.confirmed:
        return _over_draw(item, batch, weighed)
    share = batch.share(mine)
    if item.others_g and grams.boxes:
        # The box is open: what is the writer's was not boxed by itself.
        evidence = Evidence.WEIGHED
    weigh_in = WeighIn(
        batch.name,
        State.COOKED,
        mine,
        mine,
        share.basis_g,
        State.RAW,
        evidence,
        share.nutrients,
        batch.number,
        grams.boxes,
    )
    if item.others_g:
        how = f"{saying.grams(weighed)} less {saying.grams(item.others_g)} for others, "
    told = f"{how}{saying.grams(mine)} counts as {saying.grams(share.basis_g)} raw"
    return batch, Judged(weigh_in, told, saying.batch(batch))


def left_kitchen(stored: StoredWeighIn) -> Refuse:
    """The refusal to recompute a portion of a batch in a kitchen that the person has left."""
    return Refuse(
        f"#{stored.number} came from batch {stored.weigh_in.batch} ({stored.weigh_in.food}) of a kitchen that you have left, so it can only stay or go: delete #{stored.number}. Nothing is changed.",
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


@dataclass(frozen=True, slots=True)
class _Amount:
    """What was taken: grams, by which evidence, in which words, and the numbers of the boxes."""

    grams: float
    evidence: Evidence
    how: str
    boxes: tuple[int, ...] = ()


def _portion_grams(item: Item, batch: Batch, ex: Exchange) -> _Amount | Ask | Refuse:
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
    if amount.kind == "bare" and 0 < amount.value < 1 and batch.cooked_g is not None:
        part = amount.value * batch.left_g
        return Ask(
            About.AMOUNT,
            f"{amount.text.capitalize()} of what? Weighed grams are best.",
            item,
            (Choice(f"{saying.grams(part)} of what's left", replace(item, amount=mass(part))),),
        )
    if amount.kind in ("volume", "measure", "count"):
        own = ex.known.measures.get((batch.name, amount.unit))
        if own is None:
            return Ask(
                About.AMOUNT,
                f"{amount.text} of {saying.batch(batch)} has no weight that I know. How many grams was it?",
                item,
            )
        return _Amount(amount.value * own, Evidence.OWN_MEASURE, f"{amount.text}, ")
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
            return Refuse(f"{saying.grams(item.waste_g)} left over is not less than the {saying.grams(gross)} taken.")
    return _Amount(net, Evidence.WEIGHED, f"{amount.text} less the {item.tare.name}, " if item.tare else "")


def _boxes(item: Item, amount: Amount, batch: Batch) -> _Amount | Ask | Refuse:
    if not batch.boxes_packed:
        return Ask(About.AMOUNT, f"{saying.batch(batch).capitalize()} is not in boxes. How many grams was it?", item)
    count = amount.value
    try:
        boxes = pick_boxes(batch, ceil(count))
    except NoSuchBox as error:
        return Refuse(str(error), Why.NO_BOX_LEFT)
    except WhichBox as error:
        choices = (Choice(saying.grams(box.grams), replace(item, amount=mass(box.grams))) for box in error.boxes[:4])
        return Ask(About.AMOUNT, str(error), item, tuple(choices))
    grams = sum(box.grams for box in boxes)
    if count != len(boxes):
        return _Amount(grams * count / len(boxes), Evidence.BOXED, f"{amount.text}, ")
    return _Amount(grams, Evidence.BOXED, f"{amount.text}, ", tuple(box.number for box in boxes))


def _over_draw(item: Item, batch: Batch, grams: float) -> Ask:
    left = batch.left_g
    as_typed = replace(item, confirmed=(*item.confirmed, Confirmed.OVER))
    choices = [Choice(f"yes, {saying.grams(grams)}", as_typed)]
    if left > 0:
        choices.append(Choice(f"{saying.grams(left)}, all of it", replace(item, amount=mass(left), tare=None)))
    return Ask(
        About.OVER_DRAW,
        f"Only {saying.grams(left)} are left of {saying.batch(batch)}. Was it really {saying.grams(grams)}?",
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
        ex.note(events.BatchClosed(batch=now.number, left_g=now.left_g, how=Ending.FINISHED))
        ex.say(f"That was the last of {saying.batch(now)}; it is closed.")
        return
    boxes = f", {len(now.boxes)} of {now.boxes_packed} boxes" if now.boxes_packed else ""
    ex.say(f"Left in {saying.batch(now)}: {saying.grams(now.left_g)}{boxes}.")
