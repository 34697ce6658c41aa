"""Opening a batch, from what is told or from an earlier batch's ingredients."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.conversation import event_of, saying
from bot.conversation.batches.cooking import cook
from bot.conversation.batches.finding import lines_named, no_such_ingredient
from bot.conversation.batches.ingredients import (
    Pantry,
    Told,
    Unweighed,
    figures_question,
    in_place_of,
    ingredient,
    pantry,
)
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse, Then
from bot.kinds import About, Why
from bot.language.batch_meanings import AddIngredients, CookAgain, CookBatch, OpenBatch, RecipeChange
from bot.language.told import BatchRef, Item
from bot.store import batches
from domain.batch_steps import Ingredient
from domain.batches import Batch
from domain.errors import DomainError
from domain.recipes import factor_for, scaled
from domain.weighins import check_batch_weight

MAX_NAME = 60
HALF = 0.5
MOST_RECIPES = 200
"""Batches among which an earlier one is looked for."""


def open_batch(meaning: OpenBatch, ex: Exchange) -> Ask | Refuse | Then | None:
    """Opens a batch with all that has a weight; asks once about what has none, and about unknown foods."""
    if not meaning.items and meaning.name is None:
        text = "What went in, and how much? For example: new batch chilli: 800 g raw beef mince, 400 g canned tomatoes"
        return Ask(About.INGREDIENTS, text, meaning)
    found = pantry(meaning.items, ex)
    if isinstance(found, Refuse):
        return found
    if meaning.items and not found.ingredients and meaning.name is None:
        return _nothing_weighed(meaning, found)
    try:
        if found.ingredients:
            check_batch_weight(sum(i.raw_g for i in found.ingredients))
    except DomainError as error:
        return Refuse(str(error))
    heaviest = max(found.ingredients, key=lambda i: (i.group != "drinks", i.raw_g), default=None)
    name = meaning.name or (heaviest.food if heaviest is not None else "")
    opened = _open(name, found.ingredients, ex)
    if not found.ingredients and not found.missing:
        ex.say(f"{saying.first_up(saying.batch(opened))} is open. Tell me what goes in, all at once or line by line.")
    else:
        _say_open(opened, found.to_taste, ex)
    return _then(opened, found, meaning, ex)


def _then(opened: Batch, found: Pantry, meaning: OpenBatch, ex: Exchange) -> Ask | Refuse | Then | None:
    """What is still to ask: the weights that are missing, the foods that are not known, the cooked weight."""
    asked = question_about(opened, found.told, found, from_start=True)
    if asked is not None:
        ex.ask(asked)
    if meaning.cooked is not None and opened.ingredients:
        return cook(CookBatch(batch=BatchRef(number=opened.number), amount=meaning.cooked), ex)
    if asked is None and opened.ingredients:
        ex.say("Tell me its weight when it is cooked, without the pot.")
    return None


def question_about(batch: Batch, told: Sequence[Told], found: Pantry, *, from_start: bool) -> Ask | None:
    """One question about everything that is missing from what went in: weights first, else the foods."""
    if not found.missing:
        return figures_question(batch, told)
    first, others = found.missing[0], found.missing[1:]
    assert first.question is not None
    pending = AddIngredients(
        batch=BatchRef(number=batch.number), items=tuple(each.item for each in found.missing), from_start=from_start
    )
    text = first.question.text
    if others:
        text = f"{text} And {saying.listed([each.item.text for each in others])}?"
    choices = tuple(
        Choice(
            c.words, AddIngredients(batch=pending.batch, items=(c.meaning, *pending.items[1:]), from_start=from_start)
        )
        for c in first.question.choices
        if isinstance(c.meaning, Item)
    )
    return Ask(_OF_INGREDIENT.get(first.question.about, first.question.about), text, pending, choices)


_OF_INGREDIENT = {
    About.AMOUNT: About.INGREDIENT_AMOUNT,
    About.FOOD: About.INGREDIENT_FOOD,
    About.TARE: About.INGREDIENT_TARE,
}
"""Question kinds about a food and the kinds used when the food is an ingredient."""


def _nothing_weighed(meaning: OpenBatch, found: Pantry) -> Ask:
    """The question about the only ingredients there are, with the whole batch as the pending meaning."""
    first = next((each for each in found.missing), None)
    if first is None or first.question is None:
        return Ask(About.INGREDIENTS, "What else went in, and how much?", meaning)
    at = meaning.items.index(first.item)
    choices = tuple(
        Choice(
            c.words,
            OpenBatch(
                name=meaning.name,
                items=(*meaning.items[:at], c.meaning, *meaning.items[at + 1 :]),
                cooked=meaning.cooked,
            ),
        )
        for c in first.question.choices
        if isinstance(c.meaning, Item)
    )
    return Ask(_OF_INGREDIENT.get(first.question.about, first.question.about), first.question.text, meaning, choices)


def _open(name: str, ingredients: Sequence[Ingredient], ex: Exchange) -> Batch:
    number = batches.open_batch(ex.books, name[:MAX_NAME], ingredients)
    opened = batches.get(ex.books, number)
    assert opened is not None
    ex.note(event_of.batch_opened(opened))
    return opened


def _say_open(opened: Batch, to_taste: Sequence[str], ex: Exchange) -> None:
    total = f", {saying.grams(opened.raw_g)} in all" if len(opened.ingredients) > 1 else ""
    taste = f" {saying.first_up(saying.listed(to_taste))} to taste: not counted." if to_taste else ""
    what = f": {saying.ingredients(opened)}{total}" if opened.ingredients else ""
    ex.say(f"{saying.first_up(saying.batch(opened))} is open{what}.{taste}")


def cook_again(meaning: CookAgain, ex: Exchange) -> Ask | Refuse | None:
    """Opens a batch with an earlier one's ingredients, scaled and changed as said."""
    old = _earlier(meaning, ex)
    if not isinstance(old, Batch):
        return old
    factor = meaning.factor if meaning.factor is not None else 1.0
    try:
        if meaning.to is not None:
            of = _factor(meaning.to, old, ex)
            if isinstance(of, Refuse):
                return of
            factor = of
        ingredients = list(scaled(old.ingredients, factor))
        base = Batch.opened(old.number, old.name, ingredients)
        changed = _changed(base, meaning.changes, ex)
        if isinstance(changed, Refuse):
            return changed
        check_batch_weight(sum(i.raw_g for i in changed.ingredients))
    except DomainError as error:
        return Refuse(str(error))
    opened = _open(meaning.name or old.name, changed.ingredients, ex)
    times = "" if factor == 1 else ", half of it" if factor == HALF else f", {factor:.3g} times"
    total = f"{saying.ingredients(opened)}, {saying.grams(opened.raw_g)} in all"
    ex.say(f"{saying.first_up(saying.batch(opened))} is open, from {saying.batch(old)}{times}: {total}.")
    asked = question_about(opened, changed.told, changed, from_start=True)
    if asked is None:
        ex.say("Tell me its weight when it is cooked, without the pot.")
    return asked


def _earlier(meaning: CookAgain, ex: Exchange) -> Batch | Refuse:
    """The batch whose recipe is meant: of several of one name the latest."""
    ref = meaning.batch
    numbers = [ref.number] if ref.number is not None else sorted(ref.candidates, reverse=True)
    if not numbers and not ref.text:
        numbers = [number for number, _ in batches.names(ex.books, 1)]
    for number in numbers:
        found = batches.get(ex.books, number)
        if found is not None and found.ingredients:
            return found
    called = f"“{ref.text}”" if ref.text else "an earlier batch"
    return Refuse(f"I have no recipe for {called}. Say recipes to see what there is.", Why.NO_SUCH_BATCH)


def _factor(to: Item, old: Batch, ex: Exchange) -> float | Refuse:
    """How many times the recipe is cooked when one ingredient weighs that much."""
    found = pantry((to,), ex)
    if isinstance(found, Refuse):
        return found
    if to.name is None or not found.ingredients:
        return Refuse(f"I can't scale {saying.batch(old)} by “{to.text}”: give one ingredient and its weight.")
    lines = lines_named(to.name, old, ex)
    if not lines:
        return no_such_ingredient(to.name, old)
    return factor_for(old.lines[lines[0]], found.ingredients[0].raw_g)


def _changed(base: Batch, changes: Sequence[RecipeChange], ex: Exchange) -> Pantry | Refuse:
    """The recipe's ingredients with what is left out, swapped or added this time."""
    kept: dict[int, Told] = {line: Told(each) for line, each in base.lines.items()}
    added: list[Told] = []
    unweighed: list[Unweighed] = []
    for change in changes:
        again = _other_weight(change, base, ex)
        lines = lines_named(change.name, base, ex) if change.name is not None else []
        if change.name is not None and not lines:
            return no_such_ingredient(change.name, base)
        if again is not None:
            kept[again[0]] = again[1]
        elif change.item is None:
            kept = {line: told for line, told in kept.items() if line not in lines}
        else:
            item = change.item
            told = in_place_of(base.lines[lines[0]], item, ex) if lines else ingredient(item, ex)
            if isinstance(told, Refuse):
                return told
            if isinstance(told, Unweighed):
                unweighed.append(told)
            elif lines:
                kept[lines[0]] = told
            else:
                added.append(told)
    return Pantry((*kept.values(), *added), tuple(unweighed))


def _other_weight(change: RecipeChange, base: Batch, ex: Exchange) -> tuple[int, Told] | None:
    """'With 600 g lentils': another weight of the lentils that are in it, by line; None for another food."""
    item = change.item
    if change.name is not None or item is None or item.name is None or item.amount is None or item.state is not None:
        return None
    lines = lines_named(item.name, base, ex)
    if len(lines) != 1:
        return None
    told = in_place_of(base.lines[lines[0]], replace(item, name=None), ex)
    return (lines[0], told) if isinstance(told, Told) else None
