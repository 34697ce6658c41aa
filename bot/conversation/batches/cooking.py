"""Cooked weights, poured-off fat, and the recount of portions that follows from them."""

from __future__ import annotations

from dataclasses import replace

from bot import events
from bot.conversation import event_of, saying
from bot.conversation.batches.portions import batch_of
from bot.conversation.days.cautions import STORAGE
from bot.conversation.exchange import Exchange
from bot.conversation.kitchen import rooms
from bot.conversation.outcomes import Ask, Choice, Refuse, Then
from bot.conversation.questions.stored import decode
from bot.conversation.records.judging import known_tare
from bot.conversation.records.measuring import mass, weight_of
from bot.kinds import About, CautionKind, Confirmed
from bot.language.meanings import BatchRef, CookBatch, Item, Meaning, PourOff, ReduceBatch, SplitBatch
from bot.store import batches, facts, kitchens, questions, weighins
from domain import edible
from domain.batches import Batch, drained_overstatement, yield_doubt
from domain.errors import DomainError
from domain.foods import State
from domain.weighins import check_batch_weight

WORTH_SAYING = 0.15
"""Relative difference in energy between a batch and the table's cooked row above which the reply mentions it."""


def cook(meaning: CookBatch, ex: Exchange) -> Ask | Refuse | Then:
    """Saves the cooked weight, or asks when it looks wrong. Returns what waited for it."""
    batch = batch_of(meaning.batch, meaning, ex)
    if not isinstance(batch, Batch):
        return batch
    net = _net(meaning, batch, ex)
    if isinstance(net, (Ask, Refuse)):
        return net
    said = CookBatch(batch=BatchRef(number=batch.number), amount=mass(net), confirmed=meaning.confirmed)
    if batch.cooked_g is not None and Confirmed.AGAIN not in meaning.confirmed:
        yes = replace(said, confirmed=(*said.confirmed, Confirmed.AGAIN))
        text = f"{saying.batch(batch).capitalize()} already weighed {saying.grams(batch.cooked_g)} cooked. Correct it to {saying.grams(net)}?"
        return Ask(
            About.CORRECT_COOKED, text, said, (Choice(f"yes, {saying.grams(net)}", yes), Choice("no, keep it", None))
        )
    doubt = yield_doubt(batch, net)
    if doubt is not None and Confirmed.YIELD not in meaning.confirmed:
        yes = replace(said, confirmed=(*said.confirmed, Confirmed.YIELD))
        return Ask(
            About.YIELD,
            f"{doubt.sentence} ({doubt.source}) Is {saying.grams(net)} right, without the pot?",
            said,
            (Choice(f"yes, {saying.grams(net)}", yes), Choice("no, I'll weigh again", None)),
        )
    return _save_cooked(batch, net, ex)


def _net(meaning: CookBatch, batch: Batch, ex: Exchange) -> float | Ask | Refuse:
    amount = meaning.amount
    if amount.doubt == "point" and amount.other is not None:
        choices = tuple(Choice(f"{v:g} g", replace(meaning, amount=mass(v))) for v in (amount.other, amount.value))
        return Ask(
            About.COOKED_WEIGHT, f"Is {amount.text} {amount.value:g} or {amount.other:,.0f} g?", meaning, choices
        )
    if amount.doubt == "range":
        return Ask(
            About.COOKED_WEIGHT,
            f"{amount.text} reads like a range. What did {saying.batch(batch)} weigh cooked?",
            meaning,
        )
    gross = weight_of(amount)
    tare = known_tare(meaning.tare, ex) if meaning.tare is not None else None
    if tare is not None and tare.grams is None:
        return Ask(
            About.TARE,
            f"How much does the {tare.name} weigh empty? Then I take it off the {saying.grams(gross)}.",
            replace(meaning, tare=tare),
        )
    try:
        net = edible.net(gross, tare.grams) if tare is not None and tare.grams is not None else gross
        check_batch_weight(net)
    except DomainError as error:
        return Refuse(str(error))
    return net


def _save_cooked(batch: Batch, net: float, ex: Exchange) -> Then:
    batches.cook(ex.books, batch.number, net)
    cooked = batches.get(ex.books, batch.number)
    assert cooked is not None
    ex.note(event_of.batch_cooked(cooked))
    ex.say(
        f"{saying.batch(cooked).capitalize()} weighs {saying.grams(net)} cooked, {cooked.yield_:.0%} of raw: 100 g of it count as {saying.grams(100 * cooked.raw_factor)} raw."
    )
    _say_overstatement(cooked, ex)
    recount(cooked, ex)
    if batch.cooked_g is None and facts.first_time(ex.books, "storage"):
        ex.say(STORAGE)
        ex.note(events.Cautioned(kind=CautionKind.STORAGE))
    return complete_waiting(batch.number, ex)


def _say_overstatement(batch: Batch, ex: Exchange) -> None:
    """Compares the batch's energy with the table's cooked row and mentions a large difference."""
    only = batch.sole_food
    entry = ex.known.food(only.food) if only is not None else None
    row = entry.food.row(State.COOKED) if entry is not None else None
    if only is None or row is None or only.state is not State.RAW:
        return
    off = drained_overstatement(batch, row)
    if off is None or abs(off) <= WORTH_SAYING:
        return
    here = batch.share(100).nutrients.kcal
    hint = (
        " If fat was poured off, weigh it and tell me."
        if off > 0 and entry is not None and entry.food.group in ("meat", "poultry")
        else ""
    )
    ex.say(
        f"By the raw figures 100 g of it hold {saying.kcal(here)}; the table's cooked entry says {saying.kcal(row.per_100g.kcal)}.{hint}"
    )


def recount(batch: Batch, ex: Exchange) -> None:
    """Recounts portions already taken by what is now known of the batch; tells other members about theirs.

    Portions of people who have left the kitchen stay as they are.
    """
    person = ex.books.person
    here = {member.id for member in kitchens.members(ex.books.conn, person.kitchen_id)}
    theirs: dict[int, list[str]] = {}
    for old in weighins.portions(ex.books, batch.number):
        share = batch.share(old.weigh_in.edible_g)
        new = replace(old.weigh_in, basis_g=share.basis_g, nutrients=share.nutrients)
        if new == old.weigh_in or old.person_id not in here:
            continue
        stored = weighins.change(ex.books, old, new, old.eaten_at, old.day, old.meal, old.said)
        counted = f"#{stored.number} recounted: {saying.grams(new.edible_g)} counts as {saying.grams(share.basis_g)} raw, {saying.kcal(share.nutrients.kcal)}."
        if stored.person_id != person.id:
            theirs.setdefault(stored.person_id, []).append(counted)
            continue
        ex.note(event_of.changed(stored, person.name, was=old.number))
        ex.say(counted)
        ex.changed_days.add(stored.day)
    for person_id, lines in theirs.items():
        ex.tell(person_id, "\n".join([f"{person.name} corrected {saying.batch(batch)}.", *lines]))


def complete_waiting(number: int, ex: Exchange) -> Then:
    """What waited for this batch's cooked weight and can be handled now: portions, boxes, food given away.

    What was asked about in private is handled in private, also when the weight comes in a group.
    """
    following: list[Meaning] = []
    for question in questions.waiting(ex.books):
        if question.about is not About.COOKED_WEIGHT:
            continue
        pending, _ = decode(question.subject)
        if not isinstance(pending, (Item, SplitBatch, ReduceBatch)) or pending.batch is None:
            continue
        only = pending.batch.candidates[0] if len(pending.batch.candidates) == 1 else None
        if (pending.batch.number or only) != number:
            continue
        questions.answered(ex.books, question.id)
        if rooms.asked_here(question, ex):
            following.append(pending)
        else:
            ex.send(ex.books.person.id, pending)
    return Then(tuple(following))


def pour_off(meaning: PourOff, ex: Exchange) -> Ask | Refuse | None:
    """Subtracts poured-off fat from the batch's energy and recounts portions already taken."""
    batch = batch_of(meaning.batch, meaning, ex)
    if not isinstance(batch, Batch):
        return batch
    grams = weight_of(meaning.amount)
    try:
        check_batch_weight(grams)
        if batch.fat_off_g + grams >= batch.raw_g:
            raise DomainError(
                f"{saying.grams(grams)} can't be poured off {saying.batch(batch)}: it was {saying.grams(batch.raw_g)} raw."
            )
    except DomainError as error:
        return Refuse(str(error))
    batches.drain(ex.books, batch.number, grams)
    ex.note(events.BatchDrained(batch=batch.number, fat_g=grams))
    drained = batches.get(ex.books, batch.number)
    assert drained is not None
    ex.say(
        f"{saying.grams(grams)} of fat taken off {saying.batch(batch)}: {saying.kcal(grams * 9)} less in it. Its cooked weight is what is left without that fat."
    )
    if drained.cooked_g is not None:
        recount(drained, ex)
    return None
