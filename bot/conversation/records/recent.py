"""What is on record of the last days, as what is said refers to it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import timedelta
from functools import cache

import msgspec

from bot.conversation.exchange import Exchange
from bot.conversation.records.finding import LOOKED_BACK
from bot.language.surroundings import Recorded
from bot.language.told import Item
from bot.store import weighins
from bot.store.weighins import StoredWeighIn

MOST_PIECES = 24
"""Up to this a number without a unit may be of pieces."""


def recorded(ex: Exchange) -> Callable[[], Sequence[Recorded]]:
    """Reads the person's weigh-ins of the last days when it is called first, in the order of their numbers."""

    @cache
    def read() -> Sequence[Recorded]:
        today = ex.books.today
        stored = weighins.between(ex.books, today - LOOKED_BACK, today + timedelta(days=1))
        return tuple(_recorded(each, ex) for each in sorted(stored, key=lambda each: each.number))

    return read


def _recorded(stored: StoredWeighIn, ex: Exchange) -> Recorded:
    item = msgspec.json.decode(stored.said, type=Item)
    told = stored.weigh_in
    return Recorded(
        number=stored.number,
        food=told.food,
        day=stored.day,
        grams=told.as_weighed_g,
        edible_g=told.edible_g,
        state=told.state.value,
        meal=stored.meal,
        at=stored.eaten_at.astimezone(ex.books.person.timezone),
        batch=told.batch,
        word=item.name.text.lower() if item.name is not None else "",
        amount=item.amount,
        pieces=_pieces(item),
        waste_g=item.waste_g,
        kcal=told.nutrients.kcal if told.nutrients is not None else None,
        message=stored.inbound_id,
    )


def _pieces(item: Item) -> float | None:
    """How many pieces were told, also beside their weight: '3 sausages, 180 g in all'."""
    for told in (item.amount, item.measure):
        if told is not None and told.times is not None:
            return told.times
        if told is not None and told.kind in ("count", "bare") and told.value <= MOST_PIECES:
            return told.value
    return None
