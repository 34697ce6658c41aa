"""What is eaten again: a meal, a day or a food taken from an earlier day, with what is different this time."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, time, timedelta

from bot import events
from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Outcome, Then
from bot.conversation.records.finding import is_named
from bot.conversation.records.fixes import item_of
from bot.language.meanings import Item
from bot.language.usual import Repeat
from bot.store import weighins
from bot.store.weighins import StoredWeighIn

USUAL_DAYS = timedelta(days=21)
"""How far back a usual meal is looked for."""
MEAL_HOURS = {
    "breakfast": (time(4), time(11)),
    "lunch": (time(11), time(16)),
    "dinner": (time(16, 30), time(23)),
}
"""When a weigh-in without a meal of its own counts as part of one, by the person's own clock."""
MOST_TOGETHER = 3
"""Weigh-ins of one message that are one thing together; with more it was a meal."""
AROUND = timedelta(hours=2, minutes=30)
"""'Same as yesterday' means what was eaten at about this time."""


def repeat(meaning: Repeat, ex: Exchange) -> Outcome:
    """The repeated items with their changes, to be recorded one by one."""
    found = _found(meaning, ex)
    kept = [each for each in found if not any(is_named(name, each) for name in meaning.without)]
    if not kept:
        ex.note(events.NotUnderstood())
        ex.say(f"{_missing(meaning, ex)} Tell me the foods with their weights this once.")
        return None
    changes = list(meaning.changes)
    items: list[Item] = []
    for stored in kept:
        again = replace(item_of(stored, ex), when=meaning.when, changes=None)
        change = next((c for c in changes if c.name is not None and is_named(c.name, stored)), None)
        if change is not None:
            changes.remove(change)
            again = _changed(again, change)
        items.append(again)
    return Then((*items, *(replace(change, when=meaning.when) for change in changes)))


def _changed(again: Item, change: Item) -> Item:
    """The repeated item with the amount, state and kind that are said this time."""
    name = (
        change.name if change.name is not None and len(change.name.foods) == 1 and again.batch is None else again.name
    )
    if change.amount is None:
        return replace(again, name=name)
    return replace(
        again,
        name=name,
        amount=change.amount,
        measure=change.measure,
        state=change.state if change.state is not None else again.state,
        number_first=change.number_first,
        waste_g=change.waste_g,
        peeled_g=change.peeled_g,
        cooked_g=None,
        tare=change.tare,
        two_masses=change.two_masses,
        others_g=change.others_g,
    )


def _found(meaning: Repeat, ex: Exchange) -> list[StoredWeighIn]:
    """The weigh-ins that are repeated, in the order they were eaten."""
    today = ex.books.today
    if meaning.day is not None:
        return _of_day(weighins.on_day(ex.books, meaning.day), meaning, ex)
    before = weighins.between(ex.books, today - USUAL_DAYS, today - timedelta(days=1))
    if meaning.name is not None:
        return _told_with(_usual_amount([each for each in before if is_named(meaning.name, each)]), before)
    by_day: dict[date, list[StoredWeighIn]] = {}
    for each in before:
        by_day.setdefault(each.day, []).append(each)
    meals = [meal for _, stored in sorted(by_day.items()) if (meal := _of_day(stored, meaning, ex))]
    return _usual_meal(meals)


def _of_day(stored: Sequence[StoredWeighIn], meaning: Repeat, ex: Exchange) -> list[StoredWeighIn]:
    """What of a day is meant: a food, a meal, or what was eaten at about this time; else all of it."""
    if meaning.name is not None:
        return [each for each in stored if is_named(meaning.name, each)][-1:]
    if meaning.meal is not None:
        said = [each for each in stored if each.meal == meaning.meal]
        return said or [each for each in stored if each.meal is None and _at_hours_of(each, meaning.meal, ex)]
    zone, now = ex.books.person.timezone, ex.books.local
    minutes = now.hour * 60 + now.minute
    near = []
    for each in stored:
        at = each.eaten_at.astimezone(zone)
        if abs(at.hour * 60 + at.minute - minutes) <= AROUND / timedelta(minutes=1):
            near.append(each)
    return near or list(stored)


def _at_hours_of(stored: StoredWeighIn, meal: str, ex: Exchange) -> bool:
    """Whether a weigh-in without a meal of its own was eaten at the hours of one."""
    if meal not in MEAL_HOURS:
        return False
    first, last = MEAL_HOURS[meal]
    return first <= stored.eaten_at.astimezone(ex.books.person.timezone).time() < last


def _told_with(usual: Sequence[StoredWeighIn], before: Sequence[StoredWeighIn]) -> list[StoredWeighIn]:
    """A usual drink with what was told in one breath with it ('coffee with 45 g milk'); a meal's food comes alone."""
    if not usual or usual[0].meal is not None:
        return list(usual)
    together = [each for each in before if each.inbound_id == usual[0].inbound_id]
    return together if len(together) <= MOST_TOGETHER else list(usual)


def _usual_meal(meals: Sequence[list[StoredWeighIn]]) -> list[StoredWeighIn]:
    """The latest of the meals that have the foods most often eaten together."""
    if not meals:
        return []
    foods = [frozenset(each.weigh_in.food for each in meal) for meal in meals]
    often = Counter(foods)
    most = max(often.values())
    return next(meal for meal, of in zip(reversed(meals), reversed(foods), strict=True) if often[of] == most)


def _usual_amount(stored: Sequence[StoredWeighIn]) -> list[StoredWeighIn]:
    """The latest weigh-in of a food in the amount that is most often eaten."""
    if not stored:
        return []
    often = Counter(round(each.weigh_in.as_weighed_g) for each in stored)
    most = max(often.values())
    return [next(each for each in reversed(stored) if often[round(each.weigh_in.as_weighed_g)] == most)]


def _missing(meaning: Repeat, ex: Exchange) -> str:
    what = meaning.name.text if meaning.name is not None else meaning.meal or "meal"
    if meaning.day is None:
        return f"I know no usual {what} of yours yet."
    return f"No {what} is on record for {saying.day(meaning.day, ex.books.today)}."
