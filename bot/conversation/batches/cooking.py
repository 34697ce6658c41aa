"""Cooked weights, poured-off fat, and the recount of portions that follows from them."""

from __future__ import annotations

from dataclasses import replace

from bot import batch_events, events
from bot.conversation import event_of, ounces, saying
from bot.conversation.batches.finding import WaitsForWeight, batch_of, uncooked
from bot.conversation.batches.recounting import recount
from bot.conversation.days.cautions import STORAGE
from bot.conversation.exchange import Exchange
from bot.conversation.kitchen import rooms
from bot.conversation.outcomes import Ask, Choice, Refuse, Then
from bot.conversation.questions.stored import decode
from bot.conversation.records.judging import known_tare
from bot.conversation.records.measuring import mass, weight_of
from bot.kinds import About, CautionKind, Confirmed
from bot.language.batch_meanings import CookBatch, PourOff
from bot.language.meanings import Meaning
from bot.language.portion_meanings import CountPieces, GiveAway, ReduceBatch, SplitBatch
from bot.language.told import BatchRef, Item
from bot.store import batches, facts, questions
from bot.store.questions import StoredQuestion
from domain import edible
from domain.batch_steps import Added, Weighed
from domain.batches import OVER_DRAW_SLACK_G, Batch, MoreFatThanWentIn, drained_overstatement, yield_doubt
from domain.errors import DomainError
from domain.foods import State
from domain.weighins import check_batch_weight

WATERY = frozenset({"water", "stock", "broth", "bouillon", "milk", "wine", "beer", "soup"})
"""Words for ingredients by which a pot can weigh more than what else went in."""
MOST_GAIN = 1.5
"""A pot without water that weighs so many times what went in was weighed with something else."""
LEAST_LEFT = 0.25
"""A pot that weighs less than so much of what went in was weighed wrong, or is not the one that is meant."""
WORTH_SAYING = 0.15
"""Relative difference in energy between a batch and the table's cooked row above which the reply mentions it."""


def cook(meaning: CookBatch, ex: Exchange) -> Ask | Refuse | Then:
    """Saves the cooked weight, or asks when it looks wrong. Returns what waited for it."""
    batch = batch_of(meaning.batch, meaning, ex, uncooked)
    if not isinstance(batch, Batch):
        return batch
    net = _net(meaning, batch, ex)
    if isinstance(net, (Ask, Refuse)):
        return net
    said = CookBatch(batch=BatchRef(number=batch.number), amount=mass(net), confirmed=meaning.confirmed)
    if not batch.ingredients:
        text = f"Nothing has gone into {saying.batch(batch)} yet. What went in, and how much?"
        return Ask(About.INGREDIENTS, text, said)
    if added_since(batch) and batch.loose_g >= 1:
        return _save_anew(batch, net, ex)
    if meaning.now and batch.cooked_g is not None and net <= batch.left_g + OVER_DRAW_SLACK_G:
        return _what_is_there(batch, net, said, ex)
    if batch.cooked_g is not None and Confirmed.AGAIN not in meaning.confirmed:
        yes = replace(said, confirmed=(*said.confirmed, Confirmed.AGAIN))
        text = f"{saying.first_up(saying.batch(batch))} already weighed {saying.grams(batch.cooked_g)} cooked. Correct it to {saying.grams(net)}?"
        return Ask(
            About.CORRECT_COOKED, text, said, (Choice(f"yes, {saying.grams(net)}", yes), Choice("no, keep it", None))
        )
    doubt = _doubt(batch, net)
    if doubt is not None and Confirmed.YIELD not in meaning.confirmed:
        yes = replace(said, confirmed=(*said.confirmed, Confirmed.YIELD))
        return Ask(
            About.YIELD,
            f"{doubt} Is {saying.grams(net)} right, without the pot?",
            said,
            (Choice(f"yes, {saying.grams(net)}", yes), Choice("no, I'll weigh again", None)),
        )
    return _save_cooked(batch, net, ex)


def _what_is_there(batch: Batch, net: float, said: CookBatch, ex: Exchange) -> Ask | Then:
    """Asks what became of what is no longer in the pot; says so where nothing is missing."""
    if net >= batch.left_g - OVER_DRAW_SLACK_G:
        ex.say(f"{saying.grams(net)} is left of {saying.batch(batch)}, as on record.")
        return Then(())
    gone, ref = batch.left_g - net, BatchRef(number=batch.number)
    told = saying.grams(gone)
    text = f"{saying.grams(net)} is left of {saying.batch(batch)}, {told} less than on record. Who had the {told}?"
    choices = (
        Choice(saying.choice(f"I ate {told}"), Item(text=told, amount=mass(gone), batch=ref)),
        Choice(saying.choice(f"others had {told}"), GiveAway(batch=ref, why="given away", amount=mass(gone))),
        Choice("no, it was cooked", replace(said, confirmed=(*said.confirmed, Confirmed.AGAIN))),
    )
    return Ask(About.CORRECT_COOKED, text, said, choices)


def added_since(batch: Batch) -> bool:
    """Whether something went into the pot after it was last weighed."""
    weighed = [at for at, step in enumerate(batch.steps) if isinstance(step, Weighed)]
    return bool(weighed) and any(isinstance(step, Added) for step in batch.steps[weighed[-1] :])


def _doubt(batch: Batch, net: float) -> str | None:
    """What is odd about a cooked weight; None when nothing is."""
    doubt = yield_doubt(batch, net)
    if doubt is not None:
        return f"{doubt.sentence} ({doubt.source})"
    found = net / batch.raw_g
    watery = any(WATERY & set(each.food.lower().split()) for each in batch.ingredients)
    dry = any(each.group in saying.DRY_GROUPS and each.state is State.RAW for each in batch.ingredients)
    if batch.sole_food is not None or (found >= LEAST_LEFT and (watery or dry or found <= MOST_GAIN)):
        return None
    why = "hardly anything of it" if found < LEAST_LEFT else "with no water in it that I know of"
    return f"{saying.grams(net)} cooked from {saying.grams(batch.raw_g)} raw is {found:.0%}, {why}."


def _save_anew(batch: Batch, net: float, ex: Exchange) -> Then:
    """Saves what the pot holds now that something went in after it was cooked."""
    batches.weigh(ex.books, batch.number, net)
    now = batches.get(ex.books, batch.number)
    assert now is not None
    ex.note(event_of.batch_cooked(now))
    ex.say(
        f"{saying.first_up(saying.batch(now))} weighs {saying.grams(net)} now: 100 g of it count as {saying.grams(100 * now.raw_factor)} raw."
        + (" Portions taken before stay as they are." if now.taken_g else "")
    )
    recount(now, ex)
    return complete_waiting(batch.number, ex)


def _net(meaning: CookBatch, batch: Batch, ex: Exchange) -> float | Ask | Refuse:
    amount = meaning.amount
    if amount is None:
        text = f"What does {saying.batch(batch)} weigh now that it is cooked, without the pot?"
        return Ask(About.COOKED_WEIGHT, text, CookBatch(batch=BatchRef(number=batch.number)))
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
        f"{saying.first_up(saying.batch(cooked))} weighs {ounces.beside(net, ex)} cooked, {cooked.yield_:.0%} of raw: 100 g of it count as {saying.grams(100 * cooked.raw_factor)} raw."
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


def complete_waiting(number: int, ex: Exchange) -> Then:
    """What waited for this batch's cooked weight and can be handled now: portions, boxes, food given away.

    What was asked about in private is handled in private, also when the weight comes in a group.
    """
    following: list[Meaning] = []
    for question in questions.waiting(ex.books):
        pending, _ = decode(question.subject)
        if _is_settled(question, pending, number):
            questions.dropped(ex.books, question.id)
            continue
        if question.about is not About.COOKED_WEIGHT or not isinstance(pending, WaitsForWeight):
            continue
        if pending.batch is None or _number_of(pending.batch) != number:
            continue
        questions.answered(ex.books, question.id)
        told = _on_its_day(pending, question, ex)
        if rooms.asked_here(question, ex):
            following.append(told)
        else:
            ex.send(ex.books.person.id, told)
    return Then(tuple(following))


def _on_its_day(pending: WaitsForWeight, question: StoredQuestion, ex: Exchange) -> WaitsForWeight:
    """What waited, with the time it was told: a weight that comes the next day moves no portion to that day."""
    if isinstance(pending, (SplitBatch, ReduceBatch, CountPieces, GiveAway)):
        return pending
    when, told = pending.when, question.asked_at.astimezone(ex.books.at.tzinfo)
    if when.day is not None or when.moment is not None or told.date() == ex.books.at.date():
        return pending
    return replace(pending, when=replace(when, moment=told))


def _number_of(ref: BatchRef) -> int | None:
    return ref.number or (ref.candidates[0] if len(ref.candidates) == 1 else None)


def _is_settled(question: StoredQuestion, pending: Meaning, number: int) -> bool:
    """Whether it asks for what a cooked weight of that batch needs, which came another way."""
    asks = question.about in (About.TARE, About.YIELD, About.COOKED_WEIGHT)
    return asks and isinstance(pending, CookBatch) and _number_of(pending.batch) == number


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
        if meaning.fat:
            batch.check_pour(grams)
    except MoreFatThanWentIn as error:
        return _more_than_fat(meaning, batch, grams, error.fat_g)
    except DomainError as error:
        return Refuse(str(error))
    batches.drain(ex.books, batch.number, grams, fat=meaning.fat)
    drained = batches.get(ex.books, batch.number)
    assert drained is not None
    ex.note(batch_events.BatchDrained(batch=batch.number, fat_g=grams if meaning.fat else 0.0))
    if not meaning.fat:
        ex.say(f"{saying.grams(grams)} of liquid poured off {saying.batch(batch)}; it takes no energy with it.")
    else:
        ex.say(
            f"{saying.grams(grams)} of fat poured off {saying.batch(batch)}: {saying.kcal(grams * 9)} less. "
            "Its cooked weight is counted without that fat."
        )
    recount(drained, ex)
    return None


def _more_than_fat(meaning: PourOff, batch: Batch, grams: float, fat_g: float) -> Ask:
    """Asks what was poured off when it is more than the fat there was."""
    here = replace(meaning, batch=BatchRef(number=batch.number))
    choices = [Choice("liquid, not fat", replace(here, fat=False)), Choice("nothing, leave it", None)]
    if fat_g >= 1:
        choices.insert(0, Choice(saying.choice(f"{saying.grams(fat_g)} of it fat"), replace(here, amount=mass(fat_g))))
    return Ask(
        About.POURED_OFF,
        f"{saying.grams(grams)} is more fat than there is in {saying.batch(batch)}, {saying.grams(fat_g)}. How much of it was fat?",
        here,
        tuple(choices),
    )
