"""The life of a batch: opened, cooked, poured off, boxed, reduced, closed."""

from __future__ import annotations

from dataclasses import replace

from bot import events
from bot.conversation import event_of, saying
from bot.conversation.batches.portions import batch_of, say_left
from bot.conversation.exchange import Exchange
from bot.conversation.kitchen import rooms
from bot.conversation.outcomes import Ask, Choice, Refuse, Then, decode
from bot.conversation.records.judging import known_tare, net_of_tare
from bot.conversation.records.measuring import amount_doubt, mass, measured, weight_of
from bot.conversation.records.naming import food_of
from bot.kinds import About, CautionKind, Confirmed, Ending, Topic
from bot.language.meanings import (
    Amount,
    BatchRef,
    CloseBatch,
    CookBatch,
    Item,
    Left,
    Meaning,
    OpenBatch,
    PourOff,
    ReduceBatch,
    SplitBatch,
)
from bot.store import batches, facts, kitchens, questions, weighins
from domain import edible
from domain.batches import Batch, Ingredient, drained_overstatement, yield_doubt
from domain.errors import DomainError
from domain.foods import State
from domain.weighins import check_batch_weight

WORTH_SAYING = 0.15
"""How far a share's energy may be from the table's cooked entry before the reply says so (domain rules)."""
MAX_NAME = 60
STORAGE = "Leftovers keep 3 to 4 days in the fridge (USDA FSIS); cool them within two hours. When in doubt, ask your local food authority."


def open_batch(meaning: OpenBatch, ex: Exchange) -> Ask | Refuse | Then | None:
    """Opens a batch when every ingredient is certain; asks about the first one that is not."""
    if not meaning.items:
        text = "What went in, and how much? For example: new batch chilli: 800 g raw beef mince, 400 g canned tomatoes"
        return Ask(About.INGREDIENTS, text, meaning)
    ingredients: list[Ingredient] = []
    for i, item in enumerate(meaning.items):
        found = _ingredient(item, ex)
        if isinstance(found, Refuse):
            return found
        if isinstance(found, Ask):
            return _about_ingredient(meaning, i, found)
        ingredients.append(found)
    try:
        check_batch_weight(sum(i.raw_g for i in ingredients))
    except DomainError as error:
        return Refuse(str(error))
    name = (meaning.name or max(ingredients, key=lambda i: i.raw_g).food)[:MAX_NAME]
    number = batches.open_batch(ex.books, name, ingredients)
    opened = batches.get(ex.books, number)
    assert opened is not None
    ex.note(event_of.batch_opened(opened))
    inside = saying.listed(
        [f"{saying.grams(i.raw_g)} {saying.food_in_state(i.food, i.state, i.method, i.group)}" for i in ingredients]
    )
    ex.say(
        f"{saying.batch(opened).capitalize()} is open: {inside}"
        + (f", {saying.grams(opened.raw_g)} in all." if len(ingredients) > 1 else ".")
    )
    if meaning.cooked is not None:
        return cook(CookBatch(batch=BatchRef(number=number), amount=meaning.cooked), ex)
    ex.say("Tell me its weight when it is cooked, without the pot.")
    return None


_OF_INGREDIENT = {
    About.AMOUNT: About.INGREDIENT_AMOUNT,
    About.DRINK: About.INGREDIENT_DRINK,
    About.FOOD: About.INGREDIENT_FOOD,
    About.TARE: About.INGREDIENT_TARE,
}
"""What a question about a food becomes when the food is an ingredient."""


def _about_ingredient(meaning: OpenBatch, i: int, ask: Ask) -> Ask:
    """The question about one ingredient, with the whole batch waiting for it."""
    choices = tuple(
        Choice(
            c.words,
            replace(meaning, items=(*meaning.items[:i], c.meaning, *meaning.items[i + 1 :]))
            if isinstance(c.meaning, Item)
            else None,
        )
        for c in ask.choices
    )
    return Ask(_OF_INGREDIENT[ask.about], ask.text, meaning, choices)


def _ingredient(item: Item, ex: Exchange) -> Ingredient | Ask | Refuse:
    """One ingredient; it counts raw (or as sold) unless another state is said."""
    if item.amount is None or item.name is None:
        what = item.name.text if item.name else item.text
        return Ask(About.AMOUNT, f"How much {what} went in?", item)
    doubt = amount_doubt(item, item.amount)
    if doubt is not None:
        return doubt
    entry = food_of(item, item.name, ex.larder)
    if isinstance(entry, Ask):
        return entry
    row = entry.food.row(item.state, item.method) if item.state else entry.food.row(State.RAW) or entry.food.row()
    row = row or entry.food.row()
    assert row is not None
    got = measured(
        replace(item, confirmed=(*item.confirmed, Confirmed.WEIGHT)),
        item.amount,
        entry,
        row,
        ex.larder,
        ex.books.person.region,
    )
    if isinstance(got, Ask):
        return got
    net = net_of_tare(item, got.grams, entry.food.name, ex)
    if not isinstance(net, float):
        return net
    try:
        if item.waste_g is not None:
            net = edible.without_waste(net, item.waste_g)
        elif item.whole and not got.edible:
            net = edible.edible_portion(net, row.refuse)
        check_batch_weight(net)
    except DomainError as error:
        return Refuse(str(error))
    return Ingredient(entry.food.name, row.state, net, row.per_100g.for_grams(net), entry.food.group, row.method)


def cook(meaning: CookBatch, ex: Exchange) -> Ask | Refuse | Then:
    """Saves the cooked weight, asks first when it looks wrong, and completes the portions that waited for it."""
    batch = batch_of(meaning.batch, meaning, ex)
    if not isinstance(batch, Batch):
        return batch
    net = _net(meaning, batch, ex)
    if not isinstance(net, float):
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
    """A second opinion: the batch's energy beside the table's cooked entry."""
    only = batch.sole_food
    entry = ex.larder.food(only.food) if only is not None else None
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
    """Portions already taken, counted anew on what is known of the batch now; others hear of theirs by letter.

    What those have taken who left the kitchen since stays as they took it along.
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
    """What waited for this batch's cooked weight and goes on now: portions, boxes, what was given away.

    What was asked about in private goes on there, also when the weight is told in a group.
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
    """Takes poured-off fat off the batch's energy; portions already taken are recounted."""
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


def split(meaning: SplitBatch, ex: Exchange) -> Ask | Refuse | None:
    """Puts what is left into equal boxes."""
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
        box_g = batch.split(meaning.boxes)
    except DomainError as error:
        return Refuse(str(error), says_so=batch.left_g <= 0)
    batches.box(ex.books, batch.number, meaning.boxes, box_g)
    ex.note(events.BatchBoxed(batch=batch.number, boxes=meaning.boxes, box_g=box_g))
    ex.say(
        f"{saying.batch(batch).capitalize()}: {meaning.boxes} boxes of {saying.grams(box_g)}. Take one with: a box from batch {batch.number}."
    )
    return None


def reduce(meaning: ReduceBatch, ex: Exchange) -> Ask | Refuse | None:
    """What left the batch and stands on nobody's day; when it is all that is left and was thrown out, the batch closes."""
    batch = batch_of(meaning.batch, meaning, ex)
    if not isinstance(batch, Batch):
        return batch
    if batch.cooked_g is None:
        return Ask(
            About.COOKED_WEIGHT,
            f"{saying.batch(batch).capitalize()} has no cooked weight yet. What did it weigh cooked, without the pot?",
            meaning,
        )
    grams = _reduced(meaning, batch)
    if isinstance(grams, Refuse):
        return grams
    over = batch.over_draw_g(grams)
    if grams <= 0 or over > 5:
        return Refuse(
            f"{saying.grams(grams)} can't leave {saying.batch(batch)}: {saying.grams(batch.left_g)} are left."
        )
    if batch.closes_after(grams):
        return close(CloseBatch(batch=BatchRef(number=batch.number), how="discarded"), ex)
    batches.reduce(ex.books, batch.number, grams, meaning.why, boxes=round(meaning.boxes or 0))
    ex.note(events.BatchReduced(batch=batch.number, grams=grams, why=meaning.why))
    ex.say(f"{saying.grams(grams)} of {saying.batch(batch)} {meaning.why}: on nobody's day.")
    say_left(batch.number, ex)
    return None


def _reduced(meaning: ReduceBatch, batch: Batch) -> float | Refuse:
    if meaning.boxes is not None:
        if batch.box_g is None or meaning.boxes > batch.boxes_left:
            return Refuse(f"{saying.batch(batch).capitalize()} has not that many boxes left.")
        return meaning.boxes * batch.box_g
    amount: Amount | None = meaning.amount
    if amount is None:
        return batch.left_g
    return weight_of(amount)


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
        boxes = f", {batch.boxes_left} of {batch.boxes.count} boxes" if batch.boxes is not None else ""
        ex.say(f"Left in {saying.batch(batch)}: {saying.grams(batch.left_g)} of {saying.grams(batch.cooked_g)}{boxes}.")
    ex.note(events.Answered(about=Topic.LEFT))
    return None
