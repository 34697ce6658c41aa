"""Amounts that can be and that hardly anybody eats: asked about once before they are recorded."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from bot.conversation import saying
from bot.conversation.outcomes import Ask, Choice
from bot.kinds import About, Confirmed
from bot.language.told import Item
from domain.weighins import WeighIn

MOST_KCAL: Final = 5_000.0
"""Energy of one weigh-in above which it is asked about: two days' food of most adults."""
MOST_SODIUM_MG: Final = 40_000.0
"""Sodium of one weigh-in above which it is asked about: 100 g of salt, twenty times the 5 g a day that WHO (2012)
gives as the most (from memory)."""


def too_much(item: Item, weigh_in: WeighIn) -> Ask | None:
    """The question whether so much was eaten at once; None for what people eat, or once they have said so."""
    held = weigh_in.nutrients
    if held is None or Confirmed.MUCH in item.confirmed:
        return None
    if held.kcal <= MOST_KCAL and (held.sodium_mg or 0.0) <= MOST_SODIUM_MG:
        return None
    amount = saying.grams(weigh_in.as_weighed_g)
    yes = replace(item, confirmed=(*item.confirmed, Confirmed.MUCH))
    text = f"{amount} of {weigh_in.food} is more than people eat at once. Was it that much? If not, how many grams?"
    return Ask(About.MUCH, text, item, (Choice(saying.choice(f"yes, {amount}"), yes), Choice("no", None)))
