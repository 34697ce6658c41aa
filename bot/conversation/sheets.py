"""Totals: the day against the target, the week in words, and the line that ends a reply."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from bot.conversation import events, saying
from bot.conversation.exchange import Exchange
from bot.language.meanings import Sheet
from bot.store import facts, questions, weighins
from bot.store.weighins import StoredWeighIn
from domain.nutrients import Nutrients, Total, total
from domain.weighins import weighed_share

MEALS = ("breakfast", "lunch", "dinner", "snack")
MOST_LINES = 40
"""Weigh-ins that a day sheet lists one by one; nobody reads more on a phone."""


def day_total(stored: Sequence[StoredWeighIn]) -> Total:
    """The sum of what has figures; a weight without figures makes it 'at least'."""
    return total([s.weigh_in.nutrients for s in stored if s.weigh_in.nutrients is not None])


def _at_least(stored: Sequence[StoredWeighIn]) -> str:
    return "at least " if any(s.weigh_in.nutrients is None for s in stored) else ""


def tail(ex: Exchange) -> str | None:
    """'860 kcal left today' or 'Today 412 kcal': the line that ends a reply after the totals moved."""
    if not ex.changed_days:
        return None
    day = max(ex.changed_days)
    kcal, unknown = weighins.energy_on(ex.books, day)
    name = saying.day(day, ex.books.today)
    target = facts.target(ex.books, day)
    so_far = f"{name[0].upper()}{name[1:]}: {'at least ' if unknown else ''}{saying.kcal(kcal)}"
    if target is None or target.kcal is None:
        return f"{so_far}."
    left = target.kcal - kcal
    return f"{so_far}, {saying.kcal(left)} left." if left >= 0 else f"{so_far}, {saying.kcal(-left)} over the target."


def show(meaning: Sheet, ex: Exchange) -> None:
    if meaning.span == "day":
        _day(meaning.day, ex)
    else:
        _week(meaning.day, ex)


def _day(day: date, ex: Exchange) -> None:
    stored = weighins.on_day(ex.books, day)
    sums = day_total(stored)
    waiting = questions.waiting(ex.books)
    name = saying.day(day, ex.books.today)
    ex.note(events.sheet("day", day.isoformat(), sums, len(waiting)))
    if not stored:
        ex.say(f"Nothing is on record for {name}.")
    else:
        ex.say(f"{name[0].upper()}{name[1:]}: {_at_least(stored)}{saying.figures(sums.nutrients)}{_fibre(sums)}.")
        _list(stored, ex)
    _against_target(day, sums.nutrients, ex)
    share = weighed_share([s.weigh_in for s in stored])
    if share is not None:
        ex.say(f"Weighed: {share:.0%} of the energy.")
    for question in waiting[:4]:
        ex.say(f"Still waiting: {question.text}")


def _fibre(sums: Total) -> str:
    fibre = sums.nutrients.fibre_g
    if fibre is None:
        return ""
    return f", fibre {'at least ' if 'fibre_g' in sums.incomplete else ''}{fibre:.0f} g"


def _list(stored: Sequence[StoredWeighIn], ex: Exchange) -> None:
    """By meal where meals were said, in the order of the day."""
    order = {meal: i for i, meal in enumerate(MEALS)}
    ordered = sorted(stored, key=lambda s: (order.get(s.meal or "", len(MEALS)), s.eaten_at, s.number))
    heading: str | None = None
    several = any(s.meal for s in ordered)
    for s in ordered[:MOST_LINES]:
        meal = (s.meal or "other").capitalize()
        if several and meal != heading:
            heading = meal
            ex.say(f"{meal}:")
        kcal = saying.kcal(s.weigh_in.nutrients.kcal) if s.weigh_in.nutrients else "no figures"
        batch = f" (batch {s.weigh_in.batch})" if s.weigh_in.batch is not None else ""
        ex.say(f"#{s.number} {s.weigh_in.food}{batch}, {saying.grams(s.weigh_in.edible_g)}: {kcal}")
    if len(ordered) > MOST_LINES:
        ex.say(f"… and {len(ordered) - MOST_LINES} more.")


def _against_target(day: date, eaten: Nutrients, ex: Exchange) -> None:
    target = facts.target(ex.books, day)
    if target is None:
        return
    pairs = (("protein", target.protein_g, eaten.protein_g), ("fat", target.fat_g, eaten.fat_g), ("carbs", target.carbohydrate_g, eaten.carbohydrate_g))
    parts = []
    if target.kcal is not None:
        left = target.kcal - eaten.kcal
        parts.append(f"{saying.kcal(abs(left))} {'left' if left >= 0 else 'over'} of {saying.kcal(target.kcal)}")
    parts.extend(f"{word} {abs(goal - had):.0f} g {'left' if goal >= had else 'over'}" for word, goal, had in pairs if goal is not None)
    if parts:
        ex.say(f"Target: {', '.join(parts)}.")


def _week(day: date, ex: Exchange) -> None:
    """The seven days that end on `day`: means over the days with anything on record."""
    first = day - timedelta(days=6)
    stored = weighins.between(ex.books, first, day)
    by_day: dict[date, list[StoredWeighIn]] = {}
    for s in stored:
        by_day.setdefault(s.day, []).append(s)
    sums = day_total(stored)
    ex.note(events.sheet("week", day.isoformat(), sums, questions.count(ex.books)))
    if not by_day:
        ex.say(f"Nothing is on record from {saying.day(first, ex.books.today)} to {saying.day(day, ex.books.today)}.")
        return
    mean = sums.nutrients.times(1 / len(by_day))
    ex.say(f"Seven days to {saying.day(day, ex.books.today)}, {len(by_day)} of them logged. A logged day holds on average {_at_least(stored)}{saying.figures(mean)}.")
    for each in sorted(by_day):
        ex.say(f"{each:%A}: {saying.kcal(day_total(by_day[each]).nutrients.kcal)}")
    share = weighed_share([s.weigh_in for s in stored])
    if share is not None:
        ex.say(f"Weighed: {share:.0%} of the energy.")
    weights = facts.body_weights(ex.books, first, day)
    if weights:
        mean_kg = sum(kg for _, kg in weights) / len(weights)
        ex.say(f"Body weight: {mean_kg:.1f} kg, mean of {len(weights)} {'value' if len(weights) == 1 else 'values'}.")
