"""Which recorded weigh-in a fix or a question is about: by number, food, day, meal, or simply the last."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Refuse
from bot.kinds import Why
from bot.language.fix_meanings import Which
from bot.language.recalling import means
from bot.language.told import Name
from bot.store import weighins
from bot.store.weighins import StoredWeighIn

LOOKED_BACK = timedelta(days=14)
"""How far back a food that is named without a day is looked for, where nothing of it is on record today."""


def find(which: Which, ex: Exchange, *, today_only: bool = False) -> StoredWeighIn | Refuse | None:
    """The weigh-in that a correction is about; None without any weigh-in.

    `today_only`: a food named without its day is looked for today and no further back.
    """
    if which.number is not None:
        found = weighins.get(ex.books, which.number)
        shown = f"#{which.number}" if which.number < 10**9 else "with that number"
        return found if found is not None else Refuse(f"You have no weigh-in {shown}.", Why.NO_SUCH_WEIGH_IN)
    if which.name is None and which.day is None and which.meal is None:
        return weighins.latest(ex.books)
    return _one_of(of_day(which, ex), which, ex, today_only=today_only)


def of_day(which: Which, ex: Exchange) -> list[StoredWeighIn]:
    """The weigh-ins of a day (today if none is named) that have the food and the meal, in the order of the day."""
    return matching(weighins.on_day(ex.books, which.day or ex.books.today), which)


def matching(stored: Sequence[StoredWeighIn], which: Which) -> list[StoredWeighIn]:
    """Those of the weigh-ins that have the food and the meal."""
    return [
        each
        for each in stored
        if (which.meal is None or each.meal == which.meal) and (which.name is None or is_named(which.name, each))
    ]


def is_named(name: Name, stored: StoredWeighIn) -> bool:
    """Whether a name can mean the food (or batch) of a weigh-in."""
    return means(name, stored.weigh_in.food)


def _one_of(
    found: Sequence[StoredWeighIn], which: Which, ex: Exchange, *, today_only: bool
) -> StoredWeighIn | Refuse | None:
    name = which.name
    if not found and name is not None and which.day is None and not today_only:
        today = ex.books.today
        found = matching(weighins.between(ex.books, today - LOOKED_BACK, today), which)
        found = [each for each in found if each.day == found[-1].day]
    if not found:
        what = name.text if name is not None else which.meal or "weigh-in"
        return Refuse(f"There is no {what} on record {_day(which, ex)}.", Why.NO_SUCH_WEIGH_IN)
    foods = {each.weigh_in.food for each in found}
    if name is not None and len(foods) > 1:
        exact = [each for each in found if each.weigh_in.food in name.foods]
        if not exact:
            shown = saying.listed([f"#{each.number} {each.weigh_in.food}" for each in found])
            day = saying.first_up(_day(which, ex).removeprefix("for "))
            return Refuse(f"Which {name.text}? {day} has {shown}. Say it with its number.", Why.NO_SUCH_WEIGH_IN)
        found = exact
    return max(found, key=lambda each: each.number)


def _day(which: Which, ex: Exchange) -> str:
    """'today', 'for Wednesday 4 March'."""
    if which.day is None or which.day == ex.books.today:
        return "today"
    return f"for {saying.day(which.day, ex.books.today)}"
