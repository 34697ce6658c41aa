"""What was asked about a batch, with the answer in its place."""

from __future__ import annotations

from dataclasses import replace

from bot.kinds import About
from bot.language.batch_meanings import AddIngredients, CookBatch, CorrectIngredient, SwapIngredient
from bot.language.meanings import Meaning
from bot.language.portion_meanings import BoxUp, SplitBatch
from bot.language.told import Amount, Item, TareRef


def with_weight(pending: Meaning, weight: Amount) -> Meaning | None:
    """The pending meaning with the weight that was asked for; None when it takes none."""
    match pending:
        case AddIngredients(items=(first, *others)):
            # The first is the one that was asked about.
            return replace(pending, items=(replace(first, amount=weight, two_masses=False), *others))
        case CorrectIngredient() | SwapIngredient():
            return replace(pending, item=replace(pending.item, amount=weight))
        case BoxUp():
            return replace(pending, each=weight)
        case SplitBatch():
            return replace(pending, boxes=int(weight.value))
        case _:
            return None


def vessel_asked(about: About, pending: Meaning) -> TareRef | None:
    """The vessel whose weight is asked for; None when it is another question."""
    match pending:
        case CookBatch(tare=tare) | Item(tare=tare) if about is About.TARE:
            return tare
        case AddIngredients(items=(Item(tare=tare), *_)) if about is About.INGREDIENT_TARE:
            return tare
        case _:
            return None


def with_vessel(pending: Meaning, grams: float) -> Meaning:
    """The pending meaning with the vessel's weight."""
    match pending:
        case CookBatch(tare=TareRef() as tare) | Item(tare=TareRef() as tare):
            return replace(pending, tare=replace(tare, grams=grams))
        case AddIngredients(items=(Item(tare=TareRef() as tare) as first, *others)):
            return replace(pending, items=(replace(first, tare=replace(tare, grams=grams)), *others))
        case _:
            return pending


def with_food(about: About, pending: Meaning, said: Item) -> CorrectIngredient | None:
    """The ingredient whose figures were open, with the food that it is; None when it is another question."""
    if not isinstance(pending, CorrectIngredient) or about is not About.INGREDIENT_FOOD or said.name is None:
        return None
    return replace(pending, item=replace(said, batch=None))
