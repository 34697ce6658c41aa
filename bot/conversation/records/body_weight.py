"""Body weight: a person's own, never one of food."""

from __future__ import annotations

from dataclasses import replace

from bot import events
from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.kinds import About, Why
from bot.language.meanings import BodyWeight
from bot.store import facts
from domain import quantities
from domain.bodyweight import check_body_weight
from domain.errors import DomainError
from domain.quantities import Region


def save_body_weight(meaning: BodyWeight, ex: Exchange) -> Ask | Refuse | None:
    """Keeps a body weight for its day; a number without a unit is asked about where units differ."""
    kg = meaning.kg
    if kg is None:
        if ex.books.person.region is Region.US:
            pounds = replace(meaning, unit="lb", kg=quantities.grams(meaning.value, "lb") / 1000)
            kilos = replace(meaning, unit="kg", kg=meaning.value)
            return Ask(
                About.UNIT,
                f"{meaning.value:g}: pounds or kilograms?",
                meaning,
                (Choice("pounds", pounds), Choice("kilograms", kilos)),
            )
        if ex.books.person.region is Region.UK:
            kilos = replace(meaning, unit="kg", kg=meaning.value)
            pounds = replace(meaning, unit="lb", kg=quantities.grams(meaning.value, "lb") / 1000)
            stones = replace(meaning, unit="st", kg=quantities.grams(meaning.value, "st") / 1000)
            return Ask(
                About.UNIT,
                f"{meaning.value:g}: kilograms, stones or pounds?",
                meaning,
                (Choice("kilograms", kilos), Choice("stones", stones), Choice("pounds", pounds)),
            )
        kg = meaning.value
    try:
        check_body_weight(kg)
    except DomainError as error:
        return Refuse(str(error))
    if meaning.when.future:
        return Refuse("That day is still to come.", Why.FUTURE)
    day = meaning.when.day or ex.books.today
    facts.save_body_weight(ex.books, kg, day)
    ex.note(events.BodyWeightSaved(kg=kg, day=day))
    told = saying.body_weight(kg, ex.books.person.region)
    ex.say(f"Body weight {saying.day(day, ex.books.today)}: {told}.")
    return None
