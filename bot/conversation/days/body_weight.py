"""Body weight: saved for a day, shown over time, and what intake and body weight together imply."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from bot import events, fact_events
from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.conversation.settings import pausing
from bot.kinds import About, Remembered, Topic, Why
from bot.language.asked import Trend
from bot.language.fact_meanings import BodyWeight
from bot.store import days, facts, memory
from bot.store.books import Books
from bot.store.memory import Memory
from domain import quantities
from domain.bodyweight import LEAST_KG, MOST_KG, check_body_weight, trend
from domain.energy_balance import LEAST_DAYS, energy_balance
from domain.errors import DomainError
from domain.quantities import Region

UNIT_NAMES = {"kg": "kilograms", "st": "stones", "lb": "pounds"}
UNITS: dict[Region, tuple[str, ...]] = dict.fromkeys(Region, ("kg",)) | {
    Region.UK: ("kg", "st", "lb"),
    Region.US: ("lb", "kg"),
}
"""The units in which people of a region weigh themselves, the likeliest first."""
FROM_THE_LATEST = 0.1
"""Relative difference from the latest weight on record up to which a number is a weight in some unit."""
SHOWN = 14
"""Daily values that are listed one by one."""
SPAN = timedelta(days=90)
BALANCE_SPAN = timedelta(days=41)
"""Six weeks: long enough for a line through noisy values, short enough to describe the present."""


def save_body_weight(meaning: BodyWeight, ex: Exchange) -> Ask | Refuse | None:
    """Saves a body weight; asks for the unit where the region uses several and the record does not tell it."""
    kg = meaning.kg
    if kg is None:
        units = _units(meaning.value, ex)
        if len(units) > 1:
            return _which_unit(meaning, units)
        kg = _kg(meaning.value, units[0] if units else "kg")
    try:
        check_body_weight(kg)
    except DomainError:
        told = f"{meaning.value:g} {meaning.unit or 'kg'}"
        return Refuse(f"{told} can't be right as a body weight. What did the scale say? For example: {_example(ex)}.")
    if meaning.when.future:
        return Refuse("That day is in the future.", Why.FUTURE)
    day = meaning.when.day or ex.books.today
    facts.save_body_weight(ex.books, kg, day)
    several = len(UNITS[ex.books.person.region]) > 1 or meaning.unit != "kg"
    if meaning.unit is not None and several and memory.recall(ex.books, Remembered.BODY_UNIT, "") is None:
        memory.keep(ex.books, Remembered.BODY_UNIT, "", meaning.unit)
    ex.note(fact_events.BodyWeightSaved(kg=kg, day=day))
    told = saying.body_weight(kg, ex.books.person.region)
    ex.say(f"Body weight {saying.day(day, ex.books.today)}: {told}.")
    return None


def _example(ex: Exchange) -> str:
    return "I weigh 180 lb" if ex.books.person.region is Region.US else "I weigh 82 kg"


def latest_body_weight(books: Books) -> float | None:
    """The latest body weight of the last 90 days in kg; None without one."""
    told = facts.body_weights(books, books.today - SPAN, books.today)
    return max(told)[1] if told else None


def _units(value: float, ex: Exchange) -> list[str]:
    """The units that a number without one may be in: that of the record, or the possible ones of the region."""
    latest = latest_body_weight(ex.books)
    if latest is not None:
        near = [unit for unit in UNIT_NAMES if abs(_kg(value, unit) - latest) <= FROM_THE_LATEST * latest]
        if len(near) == 1:
            return near
    remembered = ex.known.remembered(Remembered.BODY_UNIT, "")
    if remembered is not None and _can_be(value, remembered):
        if memory.first_use(ex.books, Memory(Remembered.BODY_UNIT, "", remembered)):
            ex.say(f"{value:g} {remembered}, as last time.")
        return [remembered]
    return _possible(value, ex.books.person.region)


def _kg(value: float, unit: str) -> float:
    return quantities.grams(value, unit) / 1000


def _possible(value: float, region: Region) -> list[str]:
    """The units of the region, the likeliest first, in which the number can be a person's weight."""
    return [unit for unit in UNITS[region] if _can_be(value, unit)]


def _can_be(value: float, unit: str) -> bool:
    return LEAST_KG <= _kg(value, unit) <= MOST_KG


def _which_unit(meaning: BodyWeight, units: Sequence[str]) -> Ask:
    names = [UNIT_NAMES[unit] for unit in units]
    choices = [
        Choice(name, replace(meaning, unit=unit, kg=_kg(meaning.value, unit)))
        for unit, name in zip(units, names, strict=True)
    ]
    return Ask(About.UNIT, f"{meaning.value:g}: {saying.listed(names, 'or')}?", meaning, tuple(choices))


def show(meaning: Trend, ex: Exchange) -> None:
    """Shows the trend that was asked for; records nothing."""
    ex.note(events.Answered(about=Topic(meaning.of)))
    if meaning.of == "body_weight":
        _body_weight(ex)
    else:
        _energy_balance(ex)


def _body_weight(ex: Exchange) -> None:
    today = ex.books.today
    weights = dict(facts.body_weights(ex.books, today - SPAN, today))
    latest = trend(weights)
    region = ex.books.person.region
    if latest is None:
        ex.say("No body weight is on record for the last 90 days. For example: I weigh 82.4 kg")
        return
    averaged = f" (average of the last {latest.days} values)" if latest.days > 1 else ""
    ex.say(f"Body weight: {saying.body_weight(latest.mean, region)}{averaged}.")
    before = trend({day: kg for day, kg in weights.items() if day <= today - timedelta(days=28)})
    if before is not None and before.days > 2:
        change = saying.body_weight(latest.mean - before.mean, region, sign=True)
        ex.say(
            f"Four weeks ago the average of {before.days} values was {saying.body_weight(before.mean, region)}: {change}."
        )
    first = min(weights)
    if before is None and first < max(weights):
        change = saying.body_weight(weights[max(weights)] - weights[first], region, sign=True)
        ex.say(f"{change} since {saying.day(first, today)}.")
    for day in sorted(weights)[-SHOWN:]:
        ex.say(f"{saying.first_up(saying.day(day, today))}: {saying.body_weight(weights[day], region)}")


def _energy_balance(ex: Exchange) -> None:
    last = ex.books.today - timedelta(days=1)  # today is not over
    first = last - BALANCE_SPAN
    logged = pausing.without_pauses(days.by_day(ex.books, first, last), ex.books)
    eaten = {day: row.kcal for day, row in logged.items() if not row.unknown}
    weights = pausing.without_pauses(dict(facts.body_weights(ex.books, first, last)), ex.books)
    found = energy_balance(eaten, weights)
    if found is None:
        ex.say(
            f"For that I need {LEAST_DAYS} days with all food and {LEAST_DAYS} with a body weight within six weeks; "
            f"there are {len(eaten)} and {len(weights)}."
        )
        return
    region = ex.books.person.region
    week = saying.body_weight(found.kg_per_week, region, sign=True)
    error = saying.body_weight(found.kg_per_week_error, region, sign=True).replace("+", "")
    low, high = found.spent_kcal - found.spent_error_kcal, found.spent_kcal + found.spent_error_kcal
    ex.say(
        f"You ate {saying.kcal(found.eaten_kcal)} a day (average of {found.days_eaten} days), and your weight changed by "
        f"{week} a week, give or take {error} ({found.days_weighed} values)."
    )
    spent = saying.kcal(found.spent_kcal)
    ex.say(f"Together that says you use about {spent} a day, 95 % interval {low:,.0f} to {high:,.0f}.")
    ex.say(
        "This is a line fitted through body weights at 7,700 kcal a kilogram, not a measurement: water alone can move "
        "the scale by a kilogram, and food that was not logged makes the figure too small. It is not advice to eat less."
    )
