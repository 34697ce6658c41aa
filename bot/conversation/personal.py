"""The person: body weight, reminders, settings."""

from __future__ import annotations

from dataclasses import replace
from zoneinfo import ZoneInfo

from bot.conversation import saying
from bot.conversation.asks import Ask, Choice, Refuse
from bot.conversation.exchange import Exchange
from bot.language.meanings import AskReminderTime, BodyWeight, SetReminder, SetSetting
from bot.store import facts, people
from domain import quantities
from domain.bodyweight import check_body_weight
from domain.errors import DomainError
from domain.quantities import Region
from domain.targets import check_height


def save_body_weight(meaning: BodyWeight, ex: Exchange) -> Ask | Refuse | None:
    kg = meaning.kg
    if kg is None:
        if ex.books.person.region is Region.US:
            pounds = replace(meaning, unit="lb", kg=quantities.grams(meaning.value, "lb") / 1000)
            kilos = replace(meaning, unit="kg", kg=meaning.value)
            return Ask(
                "unit",
                f"{meaning.value:g}: pounds or kilograms?",
                meaning,
                (Choice("pounds", pounds), Choice("kilograms", kilos)),
            )
        if ex.books.person.region is Region.UK:
            kilos = replace(meaning, unit="kg", kg=meaning.value)
            pounds = replace(meaning, unit="lb", kg=quantities.grams(meaning.value, "lb") / 1000)
            stones = replace(meaning, unit="st", kg=quantities.grams(meaning.value, "st") / 1000)
            return Ask(
                "unit",
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
        return Refuse("That day is still to come.", "future")
    day = meaning.when.day or ex.books.today
    facts.save_body_weight(ex.books, kg, day)
    ex.note({"type": "body_weight", "kg": kg, "day": day.isoformat()})
    told = (
        f"{kg:.1f} kg"
        if meaning.unit in (None, "kg")
        else f"{kg:.1f} kg ({kg * 1000 / quantities.grams(1, 'lb'):.1f} lb)"
    )
    ex.say(f"Body weight {saying.day(day, ex.books.today)}: {told}.")
    return None


def set_reminder(meaning: SetReminder, ex: Exchange) -> Ask | Refuse | None:
    facts.save_reminder(ex.books, meaning.what, meaning.time)
    ex.note({"type": "reminder_set", "what": meaning.what, "time": meaning.time})
    ex.say(
        f"The {meaning.what} reminder is off."
        if meaning.time is None
        else f"The {meaning.what} reminder is set to {meaning.time}."
    )
    return None


def ask_reminder_time(meaning: AskReminderTime, ex: Exchange) -> Ask:
    choices = tuple(Choice(t, SetReminder(what=meaning.what, time=t)) for t in ("20:00", "20:30", "21:00"))
    return Ask(
        "reminder_time",
        f"At what time shall the {meaning.what} reminder come?",
        meaning,
        (*choices, Choice("off", SetReminder(what=meaning.what, time=None))),
    )


def set_setting(meaning: SetSetting, ex: Exchange) -> Ask | Refuse | None:
    refused = _impossible(meaning)
    if refused is not None:
        return refused
    if meaning.name == "region":
        people.update(ex.books.conn, ex.books.person.id, region=Region(meaning.value))
    elif meaning.name == "timezone":
        people.update(ex.books.conn, ex.books.person.id, timezone=ZoneInfo(meaning.value))
    facts.save_setting(ex.books, meaning.name, meaning.value)
    ex.note({"type": "setting_changed", "name": meaning.name, "value": meaning.value})
    ex.say(SETTINGS[meaning.name].format(meaning.value))
    return None


SETTINGS = {
    "region": "Your region is {} now.",
    "timezone": "Your time zone is {} now.",
    "sex": "I compute a target with the equation's {} form from now on.",
    "height_cm": "Height: {} cm.",
    "born": "Noted: born about {}.",
}


def _impossible(meaning: SetSetting) -> Refuse | None:
    """A height or an age that nobody has."""
    try:
        if meaning.name == "height_cm":
            check_height(float(meaning.value))
    except DomainError as error:
        return Refuse(str(error))
    return None
