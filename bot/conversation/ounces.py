"""Weights of a batch beside grams in ounces, for people whose scale shows them."""

from __future__ import annotations

from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.language.message import Message
from bot.store import facts
from domain import quantities
from domain.quantities import Region

UNITS = frozenset({"oz", "lb"})
TYPED = "typed ounces"
"""Key under which the store notes that somebody has weighed in ounces."""


def note(message: Message, ex: Exchange) -> None:
    """Notes in which unit the message tells its weights, if it tells any."""
    if ex.books.person.region is not Region.US:
        return
    units = {amount.unit for amount in message.amounts if amount.kind == "mass"}
    if units & UNITS:
        facts.first_time(ex.books, TYPED)
    ex.in_ounces = bool(units & UNITS) if units else None


def beside(grams: float, ex: Exchange) -> str:
    """'1,843 g (65 oz)' for somebody who weighs in ounces, '1,843 g' for others and where grams were typed."""
    told = saying.grams(grams)
    if ex.in_ounces is None:
        ex.in_ounces = ex.books.person.region is Region.US and facts.was_first_time(ex.books, TYPED)
    return f"{told} ({round(grams / quantities.grams(1, 'oz'), 1):,g} oz)" if ex.in_ounces else told
