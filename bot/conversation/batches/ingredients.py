"""What goes into a pot: its weight counts at once, its figures when the food is known."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.known import KnownFood
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.conversation.records.judging import net_of_tare
from bot.conversation.records.measuring import amount_doubt, mass, measured, weight_of
from bot.conversation.records.naming import food_of
from bot.kinds import About, Confirmed
from bot.language.batch_meanings import CorrectIngredient
from bot.language.told import BatchRef, Item, Name
from domain import edible, reference
from domain.batch_steps import Ingredient
from domain.batches import Batch
from domain.errors import DomainError
from domain.foods import FoodRow, State
from domain.weighins import check_batch_weight

SEASONING_KCAL = 5.0
"""Under so much energy in 100 g, and with every spice, an amount 'to taste' needs no weight."""
MOST_APART = 1.1
"""Up to this factor between the heaviest and the lightest kind a volume of any of them weighs the same."""
MOST_ASKED = 3
"""Foods offered for an ingredient that is not known."""


@dataclass(frozen=True, slots=True)
class Told:
    """One ingredient as it was told, and the question about its food where its figures are not known."""

    ingredient: Ingredient
    question: Ask | None = None


@dataclass(frozen=True, slots=True)
class Unweighed:
    """An ingredient that can't be counted yet, and the question for its weight; without one it needs no weight."""

    item: Item
    question: Ask | None


@dataclass(frozen=True, slots=True)
class Pantry:
    """Everything that a message puts into a pot."""

    told: tuple[Told, ...]
    unweighed: tuple[Unweighed, ...]

    @property
    def ingredients(self) -> tuple[Ingredient, ...]:
        """Those whose weight is known."""
        return tuple(each.ingredient for each in self.told)

    @property
    def missing(self) -> tuple[Unweighed, ...]:
        """Those whose weight has to be asked for."""
        return tuple(each for each in self.unweighed if each.question is not None)

    @property
    def to_taste(self) -> tuple[str, ...]:
        """Those that count for nothing, by name."""
        return tuple(
            each.item.name.text for each in self.unweighed if each.question is None and each.item.name is not None
        )


def pantry(items: Sequence[Item], ex: Exchange) -> Pantry | Refuse:
    """The ingredients of a message; refused when the weight of any is impossible."""
    told: list[Told] = []
    unweighed: list[Unweighed] = []
    for item in items:
        found = ingredient(item, ex)
        if isinstance(found, Refuse):
            return found
        if isinstance(found, Told):
            told.append(found)
        else:
            unweighed.append(found)
    return Pantry(tuple(told), tuple(unweighed))


def ingredient(item: Item, ex: Exchange) -> Told | Unweighed | Refuse:
    """One ingredient, raw or as sold unless another state is said."""
    amount = item.amount
    if item.name is None:
        return Unweighed(item, Ask(About.AMOUNT, f"{item.text}: of what, and how much?", item))
    doubt = amount_doubt(item, amount) if amount is not None else None
    if isinstance(doubt, Refuse):
        return doubt
    entry = food_of(item, item.name, ex.known)
    if amount is None:
        weightless = isinstance(entry, KnownFood) and _seasoning(entry)
        return Unweighed(
            item, None if weightless else Ask(About.AMOUNT, f"How many grams of {item.name.text} went in?", item)
        )
    if doubt is not None:
        return Unweighed(item, doubt)
    if item.several or item.two_masses:
        return Unweighed(item, Ask(About.AMOUNT, f"How many grams of {item.name.text} went in?", item))
    if isinstance(entry, Ask):
        return _unknown(item, item.name, entry, ex)
    return _known(item, entry, ex)


def row_for(entry: KnownFood, state: State | None, method: str) -> FoodRow:
    """The figures that an ingredient counts by: raw or dry ones unless another state is said."""
    food = entry.food
    row = food.row(state, method) if state is not None else food.row(State.RAW)
    row = row or food.row()
    assert row is not None, "every food has a row"
    return row


def of_weight(grams: float, entry: KnownFood, row: FoodRow) -> Ingredient:
    """So many grams of a food."""
    return Ingredient(entry.food.name, row.state, grams, row.per_100g.for_grams(grams), entry.food.group, row.method)


def in_place_of(old: Ingredient, item: Item, ex: Exchange) -> Told | Unweighed | Refuse:
    """What an ingredient really was: what `item` leaves out (food, state, weight) is as it was told."""
    amount = item.amount if item.amount is not None else mass(old.raw_g)
    if item.name is not None:
        return ingredient(replace(item, amount=amount), ex)
    entry = ex.known.food(old.food)
    state = item.state if item.state is not None else old.state
    if entry is None:
        same = Item(text=item.text, amount=amount, name=Name(text=old.food), state=state)
        found = _unknown(same, Name(text=old.food), Ask(About.FOOD, "", same), ex)
        return Told(found.ingredient) if isinstance(found, Told) else found
    named = Name(text=old.food, foods=(old.food,))
    method = item.method if item.state is not None else old.method
    return ingredient(replace(item, amount=amount, name=named, state=state, method=method), ex)


def _seasoning(entry: KnownFood) -> bool:
    return entry.food.group == "spices" or all(row.per_100g.kcal < SEASONING_KCAL for row in entry.food.rows)


def _unknown(item: Item, name: Name, question: Ask, ex: Exchange) -> Told | Unweighed | Refuse:
    amount = item.amount
    assert amount is not None
    if amount.kind == "volume":
        grams = _grams_of_any_kind(item, name, ex)
        amount = amount if grams is None else replace(amount, kind="mass", grams=grams)
    if amount.kind not in ("mass", "bare"):
        text = f"How many grams was the {amount.text} {name.text}?"
        return Unweighed(item, Ask(About.AMOUNT, text, item))
    net = net_of_tare(item, weight_of(amount), name.text, ex)
    if isinstance(net, Ask):
        return Unweighed(item, net)
    if isinstance(net, Refuse):
        return net
    try:
        if item.waste_g is not None:
            net = edible.without_waste(net, item.waste_g)
        check_batch_weight(net)
    except DomainError as error:
        return Refuse(str(error))
    state = item.state if item.state is not None else State.AS_SOLD
    return Told(Ingredient(name.text, state, net, None, "", item.method), question)


def _grams_of_any_kind(item: Item, name: Name, ex: Exchange) -> float | None:
    """What a volume weighs whichever kind it was: stock of any meat weighs the same; None if the kinds differ."""
    kinds = reference.load().kinds.get(name.kinds or "")
    found = []
    for food in kinds.kinds if kinds is not None else name.foods:
        entry = ex.known.food(food)
        if entry is None or item.amount is None:
            continue
        row = row_for(entry, item.state, item.method)
        got = measured(item, item.amount, entry, row, ex.known, ex.books.person.region)
        if not isinstance(got, Ask):
            found.append(got.grams)
    alike = bool(found) and max(found) <= MOST_APART * min(found)
    return sum(found) / len(found) if alike else None


def _known(item: Item, entry: KnownFood, ex: Exchange) -> Told | Unweighed | Refuse:
    assert item.amount is not None
    row = row_for(entry, item.state, item.method)
    weighed = replace(item, confirmed=(*item.confirmed, Confirmed.WEIGHT))
    got = measured(weighed, item.amount, entry, row, ex.known, ex.books.person.region)
    if isinstance(got, Ask):
        return Unweighed(item, got)
    net = net_of_tare(item, got.grams, entry.food.name, ex)
    if isinstance(net, Ask):
        return Unweighed(item, net)
    if isinstance(net, Refuse):
        return net
    try:
        if item.waste_g is not None:
            net = edible.without_waste(net, item.waste_g)
        elif item.whole and not got.edible:
            net = edible.edible_portion(net, row.refuse)
        check_batch_weight(net)
    except DomainError as error:
        return Refuse(str(error))
    return Told(of_weight(net, entry, row))


def figures_question(batch: Batch, told: Sequence[Told]) -> Ask | None:
    """The one question about ingredients whose figures are open; its choices are for the heaviest of them."""
    open_ones = sorted((each for each in told if each.question is not None), key=lambda each: -each.ingredient.raw_g)
    if not open_ones:
        return None
    first = open_ones[0]
    assert first.question is not None
    called = first.ingredient.food
    text = f"{saying.first_up(called)}, {saying.grams(first.ingredient.raw_g)}: which food is it?"
    if len(open_ones) > 1:
        others = saying.listed([each.ingredient.food for each in open_ones[1:]])
        text += f" I have no figures for {others} either; tell me which foods they are when you know."
    text += " Until then portions of the batch count as “at least”."
    pending = CorrectIngredient(
        batch=BatchRef(number=batch.number), name=Name(text=called), item=Item(text=called), line=_line(batch, first)
    )
    choices = [
        Choice(choice.words, replace(pending, item=Item(text=choice.words, name=choice.meaning.name)))
        for choice in first.question.choices
        if isinstance(choice.meaning, Item)
        and choice.meaning.name is not None
        and choice.meaning.name.foods
        and Confirmed.WEIGHT_ONLY not in choice.meaning.confirmed
    ]
    return Ask(
        About.INGREDIENT_FOOD,
        text,
        pending,
        (*choices[:MOST_ASKED], Choice(Confirmed.WEIGHT_ONLY.value, None)),
    )


def _line(batch: Batch, told: Told) -> int | None:
    return next((line for line, each in reversed(list(batch.lines.items())) if each == told.ingredient), None)
