"""What may not have been eaten as told, or hardly by anybody: asked about once before it is recorded."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from bot.conversation import saying
from bot.conversation.outcomes import Ask, Choice
from bot.kinds import About, Confirmed
from bot.language.told import Item
from domain import reference
from domain.labels import SALT_PER_SODIUM
from domain.weighins import WeighIn

MOST_KCAL: Final = 5_000.0
"""Energy of one weigh-in above which it is asked about: two days' food of most adults."""
MOST_SODIUM_MG: Final = 40_000.0
"""Sodium of one weigh-in above which it is asked about: 100 g of salt, twenty times the 5 g a day that WHO (2012)
gives as the most (from memory)."""


MOST_SPOONED_G: Final = 150.0
"""Weight of one weigh-in of sugar, fat or a spice above which it is asked about: ten tablespoons."""
PURE: Final = 0.9
"""The share of a food that is sugar or fat from which on it is eaten by the spoon: sugar and oil, and no dates or nuts."""
BY_THE_PINCH: Final = "spices"


def _is_spooned(weigh_in: WeighIn) -> bool:
    """Whether it is a food that people eat by the spoon only: nearly all of it is sugar or fat, or it is a spice."""
    held, food = weigh_in.nutrients, reference.load().foods.get(weigh_in.food)
    if held is None or food is None:
        return False
    salt_g = (held.sodium_mg or 0.0) / 1000 * SALT_PER_SODIUM
    pure = max(held.fat_g, held.sugars_g or 0.0, salt_g) >= PURE * weigh_in.edible_g
    return pure or food.group == BY_THE_PINCH


def too_much(item: Item, weigh_in: WeighIn) -> Ask | None:
    """The question whether so much was eaten at once; None for what people eat, or once they have said so."""
    held = weigh_in.nutrients
    if held is None or Confirmed.MUCH in item.confirmed:
        return None
    much = held.kcal > MOST_KCAL or (held.sodium_mg or 0.0) > MOST_SODIUM_MG
    if not much and not (weigh_in.edible_g > MOST_SPOONED_G and _is_spooned(weigh_in)):
        return None
    amount = saying.grams(weigh_in.as_weighed_g)
    yes = replace(item, confirmed=(*item.confirmed, Confirmed.MUCH))
    text = f"{amount} of {weigh_in.food} is more than people eat at once. Was it that much? If not, how many grams?"
    return Ask(About.MUCH, text, item, (Choice(saying.choice(f"yes, {amount}"), yes), Choice("no", None)))


def not_eaten(item: Item) -> Ask | None:
    """The question whether it was eaten, where words beside it may say that it was not."""
    if not item.unsure:
        return None
    told = "" if item.amount is None else saying.spaced(item.amount.text)
    name = "" if item.name is None else item.name.text
    return Ask(
        About.EATEN,
        f"Did you eat the {f'{told} {name}'.strip() or item.text}?",
        item,
        (Choice("yes", replace(item, unsure=False)), Choice("no", None)),
    )
