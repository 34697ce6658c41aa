"""What a word or a food has always been of late, so that it need not be asked again."""

from __future__ import annotations

from datetime import timedelta

from bot.conversation.exchange import Exchange
from bot.conversation.known import KnownFood
from bot.conversation.records.finding import LOOKED_BACK
from bot.language.told import Name
from bot.store import weighins
from bot.store.weighins import StoredWeighIn
from domain import reference
from domain.foods import State

OFTEN = 2
"""Weigh-ins that make it what it always is."""


def kind_of(name: Name, ex: Exchange) -> KnownFood | None:
    """The one kind of a generic word that the person has had in the last days, more than once; None for several."""
    kinds = reference.load().kinds.get(name.kinds) if name.kinds is not None else None
    if kinds is None:
        return None
    had = [each.weigh_in.food for each in _of_late(ex) if each.weigh_in.food in kinds.kinds]
    return ex.known.food(had[-1]) if len(had) >= OFTEN and len(set(had)) == 1 else None


def state_of(food: str, ex: Exchange) -> State | None:
    """The one state in which the person has weighed a food in the last days, more than once; None for several."""
    states = [each.weigh_in.state for each in _of_late(ex) if each.weigh_in.food == food]
    return states[-1] if len(states) >= OFTEN and len(set(states)) == 1 else None


def _of_late(ex: Exchange) -> list[StoredWeighIn]:
    """The weigh-ins of the last days that have figures and came from no batch."""
    today = ex.books.today
    stored = weighins.between(ex.books, today - LOOKED_BACK, today + timedelta(days=1))
    told = [each for each in stored if each.weigh_in.batch is None and each.weigh_in.nutrients is not None]
    return sorted(told, key=lambda each: each.number)
