"""The person rather than the food: body weight, targets, reminders, settings."""

from __future__ import annotations

from bot.language.ahead import from_day
from bot.language.aims import about_me, computing
from bot.language.labels import figures
from bot.language.meanings import (
    Amount,
    BodyWeight,
    Meaning,
    NotMine,
    SetTarget,
)
from bot.language.message import Message
from bot.language.scheduling import scheduling
from domain import quantities
from domain.bodyweight import LEAST_KG, MOST_KG


def personal_topic(message: Message) -> list[Meaning] | None:
    """Body weight, a target, a reminder or a setting, if that is what a sentence is about."""
    for topic in (computing, about_me, scheduling, target, _body_weight):
        found = topic(message)
        if found is not None:
            return [found]
    return None


def target(message: Message) -> SetTarget | None:
    """What the person aims at for a day: 'target 2100 kcal protein 160'."""
    keyword = message.has(
        "target", "targets", "goal", "goals", "budget", "macros", "aim", "aiming", "daily target", "limit", "allowance"
    )
    energy = [c.amount for c in message.of("energy") if c.amount is not None]
    if message.asks or not keyword or message.of("food"):
        return None
    macros = figures(message)
    kcal = energy[0].value if energy else _bare_kcal(message)
    if kcal is None and not macros:
        return None
    if not energy and not macros and message.has("weight", "kg", "lb", "stone"):
        return None
    return SetTarget(
        kcal=kcal,
        protein_g=macros.get("protein_g"),
        fat_g=macros.get("fat_g"),
        carbohydrate_g=macros.get("carbohydrate_g"),
        day=from_day(message),
    )


LEAST_BARE_KCAL = 500.0


def _bare_kcal(message: Message) -> float | None:
    """'set my target to 2100': a bare number that can only be energy."""
    bare = [a.value for a in message.amounts if a.kind == "bare" and a.value >= LEAST_BARE_KCAL]
    return bare[0] if bare else None


def _body_weight(message: Message) -> Meaning | None:
    foods = message.of("food", "batch", "tare", "hash")
    if foods or message.asks or message.of("state"):
        return None
    amount = _body_amount(message)
    if amount is None:
        return None
    value, unit, kg = amount
    cued = message.has(*message.words.phrases["body_weight"])
    if message.has_any(message.words.people) and not message.has("my weight", "i weigh"):
        return NotMine(why="others") if cued and message.has_any(message.words.people) else None
    if unit in ("g", "oz", "mg"):
        return None
    plausible = kg is not None and LEAST_KG <= kg <= MOST_KG
    if message.has(*message.words.phrases["weight_change"]) or message.has(*message.words.phrases["weight_aim"]):
        if unit in ("kg", "lb", "st") and not (
            message.has("my weight is", "i weigh", "weight today") and not message.has("want", "goal")
        ):
            return NotMine(why="body_change")
        return None
    if _of_something(message) and not (cued and plausible):
        return None
    if not cued and (unit is None or not plausible):
        return None
    return BodyWeight(value=value, unit=unit, kg=kg, when=message.when)


def _of_something(message: Message) -> bool:
    """Whether the weight is of a thing: an unknown word, or 'of', right behind it ('82 kg zibbernax')."""
    last = message.of("amount")[-1]
    after = message.chunks[message.index(last) + 1 : message.index(last) + 2]
    return (
        bool(after)
        and after[0].kind == "word"
        and (after[0].text.lower() == "of" or not message.words.knows(after[0].text.lower()))
    )


def _body_amount(message: Message) -> tuple[float, str | None, float | None] | None:
    """(value, unit, kg): stones and pounds add up, also '12 st 13'."""
    amounts = message.amounts
    weights = [a for a in amounts if a.kind in ("mass", "bare")]
    if not weights or len(amounts) > 2 or weights[0].doubt in ("range", "negative"):
        return None
    first = weights[0]
    if first.kind == "bare":
        return (first.value, None, None) if len(weights) == 1 else None
    if first.grams is None:
        return None
    grams = first.grams
    unit = first.unit
    if unit == "g" and first.text and any(s in first.text.lower() for s in ("st", "stone", "kg", "kilo")):
        unit = "st" if "st" in first.text.lower() else "kg"
    if unit == "st" and len(weights) == 2 and weights[1].kind == "bare" and weights[1].value < 14:
        grams += quantities.grams(weights[1].value, "lb")
    elif len(weights) > 1:
        return None
    return first.value, unit, grams / 1000


def bare_amount(message: Message) -> Amount | None:
    """The amount of a message that holds nothing else of meaning."""
    told = message.amounts
    if len(told) != 1 or message.of("food", "batch", "state", "energy", "macro", "hash", "part", "whole"):
        return None
    unknown = [c for c in message.of("word") if not message.words.knows(c.text.lower())]
    return None if unknown else told[0]
