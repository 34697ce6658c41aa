"""Opening a batch."""

from __future__ import annotations

from dataclasses import replace

from bot.conversation import event_of, saying
from bot.conversation.batches.cooking import cook
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse, Then
from bot.conversation.records.judging import net_of_tare
from bot.conversation.records.measuring import amount_doubt, measured
from bot.conversation.records.naming import food_of
from bot.kinds import About, Confirmed
from bot.language.meanings import BatchRef, CookBatch, Item, OpenBatch
from bot.store import batches
from domain import edible
from domain.batches import Ingredient
from domain.errors import DomainError
from domain.foods import State
from domain.weighins import check_batch_weight

MAX_NAME = 60


def open_batch(meaning: OpenBatch, ex: Exchange) -> Ask | Refuse | Then | None:
    """Opens a batch when every ingredient is certain; otherwise asks about the first one that is not."""
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
    ex.say(
        f"{saying.batch(opened).capitalize()} is open: {saying.ingredients(opened)}"
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
"""Question kinds about a food and the kinds used when the food is an ingredient."""


def _about_ingredient(meaning: OpenBatch, i: int, ask: Ask) -> Ask:
    """The question about one ingredient, with the whole batch as the pending meaning."""
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
    """One ingredient, raw or as sold unless another state is given."""
    if item.amount is None or item.name is None:
        what = item.name.text if item.name else item.text
        return Ask(About.AMOUNT, f"How much {what} went in?", item)
    doubt = amount_doubt(item, item.amount)
    if doubt is not None:
        return doubt
    entry = food_of(item, item.name, ex.known)
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
        ex.known,
        ex.books.person.region,
    )
    if isinstance(got, Ask):
        return got
    net = net_of_tare(item, got.grams, entry.food.name, ex)
    if isinstance(net, (Ask, Refuse)):
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
