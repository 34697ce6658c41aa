"""What went into a pot, told late or told wrong: added, corrected, left out, swapped, bones taken off, renamed."""

from __future__ import annotations

from bot.conversation import event_of, saying
from bot.conversation.batches import elsewhere
from bot.conversation.batches.cooking import cook
from bot.conversation.batches.finding import batch_of, line_of, lines_named, uncooked
from bot.conversation.batches.ingredients import Pantry, Told, Unweighed, in_place_of, pantry
from bot.conversation.batches.opening import MAX_NAME, question_about
from bot.conversation.batches.recounting import recount
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse, Then
from bot.conversation.records.measuring import weight_of
from bot.kinds import About
from bot.language.batch_meanings import (
    AddIngredients,
    CookBatch,
    CorrectIngredient,
    RemoveIngredient,
    RenameBatch,
    SwapIngredient,
    TakeOutRefuse,
)
from bot.language.told import BatchRef, Item
from bot.store import batches
from domain.batch_steps import Corrected, Ingredient, Removed
from domain.batches import Batch
from domain.errors import DomainError
from domain.weighins import check_batch_weight


def add(meaning: AddIngredients, ex: Exchange) -> Ask | Refuse | Then | None:
    """Puts more into the pot; portions taken before keep their figures unless it was in from the start."""
    batch = batch_of(meaning.batch, meaning, ex, uncooked)
    if not isinstance(batch, Batch):
        return batch
    if (meaning.unsaid or meaning.joined) and not elsewhere.goes_in(meaning, batch, ex):
        return elsewhere.eaten(batch, meaning.items, ex)
    found = pantry(meaning.items, ex)
    if isinstance(found, Refuse):
        return found
    try:
        if found.ingredients:
            check_batch_weight(batch.raw_g + sum(i.raw_g for i in found.ingredients))
    except DomainError as error:
        return Refuse(str(error))
    now = batch
    if found.ingredients:
        batches.add(ex.books, batch.number, found.ingredients, from_start=meaning.from_start)
        now = _now(batch, ex)
        ex.share(event_of.batch_changed(now), _added(batch, now, found, meaning))
        if meaning.from_start:
            recount(now, ex)
        if meaning.unsaid and not batches.was_empty(ex.books, batch.number):
            elsewhere.went_in(ex)
    asked = question_about(now, found.told, found, from_start=meaning.from_start)
    if asked is not None:
        ex.ask(asked)
    elif not found.ingredients:
        ex.say(f"{saying.first_up(saying.listed(found.to_taste))} to taste: not counted.")
    if meaning.cooked is not None and found.ingredients:
        return cook(CookBatch(batch=BatchRef(number=batch.number), amount=meaning.cooked, tare=meaning.tare), ex)
    return None


def _now(batch: Batch, ex: Exchange) -> Batch:
    found = batches.get(ex.books, batch.number)
    assert found is not None
    return found


def _added(before: Batch, now: Batch, found: Pantry, meaning: AddIngredients) -> str:
    what = saying.listed([_told(each) for each in found.told])
    line = f"{saying.first_up(saying.batch(now))}: {what} added, {saying.grams(now.raw_g)} in all."
    if before.cooked_g is not None and not meaning.from_start and meaning.cooked is None:
        line += f" It weighs {saying.grams(now.left_g)} now"
        line += "; portions taken before stay as they are." if before.taken_g else "."
    return line


def _told(told: Told) -> str:
    each = told.ingredient
    return f"{saying.grams(each.raw_g)} {saying.food_in_state(each.food, each.state, each.method, each.group)}"


def correct(meaning: CorrectIngredient, ex: Exchange) -> Ask | Refuse | None:
    """Puts an ingredient right from the start: its weight, its food or its state."""
    batch = batch_of(meaning.batch, meaning, ex, lambda b: bool(lines_named(meaning.name, b, ex)))
    if not isinstance(batch, Batch):
        return batch
    line = line_of(meaning.name, batch, meaning, ex)
    if isinstance(line, Refuse) and meaning.item.amount is not None:
        return _not_in_it(meaning, batch, line)
    if not isinstance(line, int):
        return line
    return _put_right(batch, line, meaning.item, meaning, ex)


def _not_in_it(meaning: CorrectIngredient, batch: Batch, refusal: Refuse) -> Ask:
    """Asks whether an ingredient that is corrected and not there was forgotten."""
    item = meaning.item
    name = item.name if item.name is not None else meaning.name
    amount = item.amount
    assert amount is not None
    more = AddIngredients(
        batch=BatchRef(number=batch.number),
        items=(Item(text=item.text, amount=amount, name=name, state=item.state, method=item.method),),
        from_start=True,
    )
    text = f"{refusal.text.removesuffix(' Nothing is changed.')} Was {amount.text} {name.text} in it too?"
    return Ask(
        About.WHICH_INGREDIENT, text, meaning, (Choice(saying.choice(f"yes, {amount.text}"), more), Choice("no", None))
    )


def _put_right(
    batch: Batch, line: int, item: Item, meaning: CorrectIngredient | SwapIngredient, ex: Exchange
) -> Ask | Refuse | None:
    old = batch.lines[line]
    found = in_place_of(old, item, ex)
    if isinstance(found, Refuse):
        return found
    if isinstance(found, Unweighed):
        question = found.question
        return None if question is None else Ask(About.INGREDIENT_AMOUNT, question.text, meaning)
    new = found.ingredient
    if new == old:
        ex.say(f"{saying.first_up(saying.batch(batch))} already has {_told(found)} in it.")
        return None
    try:
        batch.check(Corrected(line, new))
        check_batch_weight(batch.then(Corrected(line, new)).raw_g)
    except DomainError as error:
        return Refuse(str(error))
    batches.correct(ex.books, batch.number, line, new)
    now = _now(batch, ex)
    line_of_it = (
        f"{saying.first_up(saying.batch(now))}: {_told(found)}{_was(old, new)}, {saying.grams(now.raw_g)} in all."
    )
    ex.share(event_of.batch_changed(now), line_of_it)
    recount(now, ex)
    asked = question_about(now, (found,), Pantry((found,), ()), from_start=True)
    if asked is not None and old.nutrients is not None:
        return asked
    return None


def _was(old: Ingredient, new: Ingredient) -> str:
    """', not 160 g', ', not turkey mince': what it was taken for before."""
    if old.food != new.food and old.nutrients is None:
        return f" for {old.food}"
    if old.food != new.food:
        return f", not {old.food}"
    if old.raw_g != new.raw_g:
        return f", not {saying.grams(old.raw_g)}"
    return f", not {saying.state_said(old.state, old.method, old.group) or 'as sold'}"


def remove(meaning: RemoveIngredient, ex: Exchange) -> Ask | Refuse | None:
    """Takes out what was never in it."""
    batch = batch_of(meaning.batch, meaning, ex, lambda b: all(lines_named(name, b, ex) for name in meaning.names))
    if not isinstance(batch, Batch):
        return batch
    lines: list[int] = []
    for name in meaning.names:
        line = line_of(name, batch, meaning, ex)
        if not isinstance(line, int):
            return line
        lines.append(line)
    try:
        batch.check_removal(lines)
        batch.check(*(Removed(line) for line in lines))
    except DomainError as error:
        return Refuse(str(error))
    for line in lines:
        batches.remove(ex.books, batch.number, line)
    now = _now(batch, ex)
    gone = saying.listed([f"{saying.grams(batch.lines[line].raw_g)} {batch.lines[line].food}" for line in lines])
    without = f"{saying.first_up(saying.batch(now))}: {gone} taken out, {saying.grams(now.raw_g)} in all."
    ex.share(event_of.batch_changed(now), without)
    recount(now, ex)
    return None


def swap(meaning: SwapIngredient, ex: Exchange) -> Ask | Refuse | None:
    """Another food in place of an ingredient."""
    batch = batch_of(meaning.batch, meaning, ex, lambda b: bool(lines_named(meaning.name, b, ex)))
    if not isinstance(batch, Batch):
        return batch
    line = line_of(meaning.name, batch, meaning, ex)
    return line if not isinstance(line, int) else _put_right(batch, line, meaning.item, meaning, ex)


def take_refuse_out(meaning: TakeOutRefuse, ex: Exchange) -> Ask | Refuse | None:
    """Takes bones or shells off by their weight."""
    batch = batch_of(meaning.batch, meaning, ex)
    if not isinstance(batch, Batch):
        return batch
    line: int | None = meaning.line
    if line is None and meaning.name is not None:
        found = line_of(meaning.name, batch, meaning, ex)
        if not isinstance(found, int):
            return found
        line = found
    grams = weight_of(meaning.amount)
    try:
        batch.check_refuse(grams, line)
    except DomainError as error:
        return Refuse(str(error))
    batches.take_refuse_out(ex.books, batch.number, grams, line)
    now = _now(batch, ex)
    text = f"{saying.grams(grams)} of {meaning.part} taken out of {saying.batch(now)}"
    if now.cooked_g is not None:
        text += f", which leaves {saying.grams(now.cooked_g)} cooked"
    ex.share(event_of.batch_changed(now), f"{text}.")
    if now.cooked_g is not None:
        ex.note(event_of.batch_cooked(now))
    recount(now, ex)
    return None


def rename(meaning: RenameBatch, ex: Exchange) -> Ask | Refuse | None:
    """Gives a batch another name."""
    batch = batch_of(meaning.batch, meaning, ex)
    if not isinstance(batch, Batch):
        return batch
    name = meaning.name.strip()[:MAX_NAME]
    if not name:
        return Refuse("A batch needs a name of at least one letter.")
    batches.rename(ex.books, batch.number, name)
    now = _now(batch, ex)
    ex.share(event_of.batch_changed(now), f"Batch {batch.number} is called {name} now; it was {batch.name}.")
    return None
