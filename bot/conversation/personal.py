"""The person: body weight, targets, reminders, settings."""

from __future__ import annotations

from dataclasses import replace
from zoneinfo import ZoneInfo

from bot.conversation import saying
from bot.conversation.asks import Ask, Choice, Refuse
from bot.conversation.exchange import Exchange
from bot.language.meanings import AskReminderTime, BodyWeight, SetReminder, SetSetting, SetTarget
from bot.store import facts, people
from bot.store.facts import Target
from domain import quantities
from domain.bodyweight import check_body_weight
from domain.errors import DomainError
from domain.quantities import Region

LOW_TARGET_KCAL = 1200.0
"""Below this a target is kept only after a second yes: the upper end of the usual low-calorie diet for women
(NHLBI Practical Guide, NIH 00-4084); no sex is known here, so the lower of the two floors asks."""
CAUTION_TARGET = "That is below what is usual without medical care. Please talk to your doctor or dietitian before you keep to it."


def save_body_weight(meaning: BodyWeight, ex: Exchange) -> Ask | Refuse | None:
    kg = meaning.kg
    if kg is None:
        if ex.books.person.region is Region.US:
            pounds = replace(meaning, unit="lb", kg=quantities.grams(meaning.value, "lb") / 1000)
            kilos = replace(meaning, unit="kg", kg=meaning.value)
            return Ask("unit", f"{meaning.value:g}: pounds or kilograms?", meaning, (Choice("pounds", pounds), Choice("kilograms", kilos)))
        if ex.books.person.region is Region.UK:
            kilos = replace(meaning, unit="kg", kg=meaning.value)
            pounds = replace(meaning, unit="lb", kg=quantities.grams(meaning.value, "lb") / 1000)
            stones = replace(meaning, unit="st", kg=quantities.grams(meaning.value, "st") / 1000)
            return Ask("unit", f"{meaning.value:g}: kilograms, stones or pounds?", meaning, (Choice("kilograms", kilos), Choice("stones", stones), Choice("pounds", pounds)))
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
    told = f"{kg:.1f} kg" if meaning.unit in (None, "kg") else f"{kg:.1f} kg ({kg * 1000 / quantities.grams(1, 'lb'):.1f} lb)"
    ex.say(f"Body weight {saying.day(day, ex.books.today)}: {told}.")
    return None


def set_target(meaning: SetTarget, ex: Exchange) -> Ask | Refuse | None:
    figures = [v for v in (meaning.kcal, meaning.protein_g, meaning.fat_g, meaning.carbohydrate_g) if v is not None]
    if any(v <= 0 for v in figures) or (meaning.kcal or 0) > 20_000:
        return Refuse("A target is above zero and below 20,000 kcal.")
    if meaning.kcal is not None and meaning.kcal < LOW_TARGET_KCAL and "low" not in meaning.confirmed:
        ex.note({"type": "caution", "kind": "low_target"})
        yes = replace(meaning, confirmed=(*meaning.confirmed, "low"))
        return Ask("low_target", f"{saying.kcal(meaning.kcal)} a day: {CAUTION_TARGET} Keep it all the same?", meaning, (Choice("yes, keep it", yes), Choice("no", None)))
    before = facts.target(ex.books, ex.books.today) or Target()
    new = Target(
        kcal=meaning.kcal if meaning.kcal is not None else before.kcal,
        protein_g=meaning.protein_g if meaning.protein_g is not None else before.protein_g,
        fat_g=meaning.fat_g if meaning.fat_g is not None else before.fat_g,
        carbohydrate_g=meaning.carbohydrate_g if meaning.carbohydrate_g is not None else before.carbohydrate_g,
    )
    facts.save_target(ex.books, new)
    ex.note({"type": "target_set", "kcal": new.kcal, "protein_g": new.protein_g, "fat_g": new.fat_g, "carbohydrate_g": new.carbohydrate_g})
    ex.say(f"Target from today on: {target_line(new)}. Earlier days keep theirs.")
    return None


def target_line(target: Target) -> str:
    """'2,100 kcal, protein 160 g'."""
    parts = [saying.kcal(target.kcal)] if target.kcal is not None else []
    macros = (("protein", target.protein_g), ("fat", target.fat_g), ("carbs", target.carbohydrate_g))
    parts.extend(f"{word} {value:.0f} g" for word, value in macros if value is not None)
    return ", ".join(parts)


def set_reminder(meaning: SetReminder, ex: Exchange) -> Ask | Refuse | None:
    facts.save_reminder(ex.books, meaning.what, meaning.time)
    ex.note({"type": "reminder_set", "what": meaning.what, "time": meaning.time})
    ex.say(f"The {meaning.what} reminder is off." if meaning.time is None else f"The {meaning.what} reminder is set to {meaning.time}.")
    return None


def ask_reminder_time(meaning: AskReminderTime, ex: Exchange) -> Ask:
    choices = tuple(Choice(t, SetReminder(what=meaning.what, time=t)) for t in ("20:00", "20:30", "21:00"))
    return Ask("reminder_time", f"At what time shall the {meaning.what} reminder come?", meaning, (*choices, Choice("off", SetReminder(what=meaning.what, time=None))))


def set_setting(meaning: SetSetting, ex: Exchange) -> Ask | Refuse | None:
    if meaning.name == "region":
        people.update(ex.books.conn, ex.books.person.id, region=Region(meaning.value))
    else:
        people.update(ex.books.conn, ex.books.person.id, timezone=ZoneInfo(meaning.value))
    facts.save_setting(ex.books, meaning.name, meaning.value)
    ex.note({"type": "setting_changed", "name": meaning.name, "value": meaning.value})
    ex.say(f"Your {'time zone' if meaning.name == 'timezone' else 'region'} is {meaning.value} now.")
    return None
