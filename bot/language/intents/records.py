"""Fixes, questions about what is on record, and usual things: from readings to meanings."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import cast

from bot.language.asked import AmountFor, Eaten, Keeping, Per100, TotalOf
from bot.language.grammar import Reading
from bot.language.items import items
from bot.language.meanings import (
    Amount,
    Change,
    DeleteSeveral,
    Item,
    Meaning,
    Name,
    SaveMeasure,
    Sheet,
    WhatIf,
    When,
    Which,
)
from bot.language.message import Message
from bot.language.moments import Moment, together
from bot.language.slots import Words
from bot.language.stance import without_excluded
from bot.language.told import BatchRef
from bot.language.usual import Combination, MeansBy, Repeat, VesselHolds

MOST_AT_ONCE = 50
"""Weigh-ins that one range of numbers may take off."""


def _when(reading: Reading, message: Message) -> When:
    """What the moments of a reading say together."""
    told = [value for key in ("when", "more") if isinstance(value := reading.values.get(key), Moment)]
    return together(told, message.around)


def _day(reading: Reading, message: Message) -> date | None:
    return _when(reading, message).day


def _name(reading: Reading, key: str) -> Name | None:
    return cast("Name | None", reading.values.get(key))


def delete_several(reading: Reading, message: Message) -> Meaning | None:
    """Several weigh-ins at once: numbers, a range of them, a meal, a day, foods."""
    values = reading.values
    if "first" in values:
        first = cast(int, values["first"])
        if "last" in values:
            last = cast(int, values["last"])
            return DeleteSeveral(numbers=tuple(range(first, last + 1))) if 0 <= last - first < MOST_AT_ONCE else None
        told = [cast(int, values[key]) for key in ("first", "second", "third", "fourth") if key in values]
        return DeleteSeveral(numbers=tuple(told))
    when = _when(reading, message)
    if when.future:
        return None
    names = tuple(name for name in (_name(reading, "food"), _name(reading, "other")) if name is not None)
    day = when.day if when.day is not None or names else message.around.today
    return DeleteSeveral(names=names, day=day, meal=when.meal)


def change(reading: Reading, message: Message) -> Meaning | None:
    """A fix that names its day, its food, another food, or how much it is off."""
    values = reading.values
    when = _when(reading, message)
    if when.future:
        return None
    amount = cast("Amount | None", values.get("amount"))
    by = cast("Amount | None", values.get("by"))
    if by is not None:
        sign = cast(int, values["direction"])
        by = replace(by, value=sign * by.value, grams=None if by.grams is None else sign * by.grams)
    old, new = _name(reading, "old"), _name(reading, "name")
    number = cast("int | None", values.get("hash"))
    batch = cast("BatchRef | None", values.get("batch"))
    name = None if number is not None else old or _name(reading, "food")
    if batch is not None:
        name = Name(text=batch.text)
    which = Which(number=number, name=name, day=when.day, meal=when.meal)
    was = cast("Amount | None", values.get("was"))
    told = items(message) if was is None and by is None and new is None and old is None else []
    otherwise = told[0] if len(told) == 1 and told[0].amount == amount else None
    return Change(which=which, amount=amount, was=was, name=new, by=by, otherwise=otherwise)


def two_changes(reading: Reading, message: Message) -> list[Meaning] | None:
    """'the brie was 24 and the grapes 130': a fix of each food, or a weigh-in where it is not on record."""
    told = items(message)
    pairs = (("food", "weight"), ("other", "more"))
    if len(told) != len(pairs):
        return None
    day = _day(reading, message)
    return [
        Change(which=Which(name=_name(reading, food), day=day), amount=cast(Amount, reading[weight]), otherwise=item)
        for (food, weight), item in zip(pairs, told, strict=True)
    ]


def total_of(reading: Reading, message: Message) -> Meaning | None:
    """A nutrient's total of a day or of a meal."""
    when = _when(reading, message)
    return None if when.future else TotalOf(nutrient=str(reading["nutrient"]), day=when.day, meal=when.meal)


def eaten(reading: Reading, message: Message) -> Meaning | None:
    """What was eaten on a day, at a meal, of a food."""
    when = _when(reading, message)
    meal = cast("str | None", reading.values.get("meal")) or when.meal
    name = _name(reading, "food")
    if when.future:
        return None
    if meal is None and name is None:
        return Sheet(span="day", day=when.day or message.around.today)
    return Eaten(day=when.day, meal=meal, name=name)


def amount_for(reading: Reading, message: Message) -> Meaning | None:
    """How much of something holds so much of a nutrient or so much energy."""
    weight = cast("Amount | None", reading.values.get("weight"))
    value = cast(float, reading.values.get("number", 0.0)) if weight is None else weight.grams or weight.value
    nutrient = str(reading.values.get("nutrient", "kcal"))
    return AmountFor(
        nutrient=nutrient,
        value=value,
        name=_name(reading, "food"),
        batch=cast("BatchRef | None", reading.values.get("batch")),
    )


def per_100(reading: Reading, message: Message) -> Meaning | None:
    """What 100 g of a batch hold."""
    return Per100(nutrient=str(reading["nutrient"]), batch=cast("BatchRef | None", reading.values.get("batch")))


def keeping(reading: Reading, message: Message) -> Meaning | None:
    """Whether or how long a food keeps; a batch is asked about as such."""
    if message.of("batch") and not message.has("how long"):
        return None
    said = message.text.lower()
    place = next((place for place in ("freezer", "fridge") if place in said), "")
    return Keeping(name=_name(reading, "thing"), day=_day(reading, message), place=place)


def figures_of(reading: Reading, message: Message) -> Meaning | None:
    """'calories in 100 g cooked rice', 'macros for 100 g oats': what they would be; nothing is recorded."""
    words = cast(Words, reading["words"])
    part = message.between(words.start, words.end)
    told = items(part) if part is not None else []
    measured = bool(told) and all(i.amount is not None and (i.name is not None or i.batch is not None) for i in told)
    return WhatIf(items=tuple(told), text=message.text) if measured else None


def repeat(reading: Reading, message: Message) -> Meaning | None:
    """A meal or a day once more, with what is different this time."""
    when = _when(reading, message)
    if when.future:
        return None
    changes: tuple[Item, ...] = ()
    without: tuple[Name, ...] = ()
    words = cast("Words | None", reading.values.get("changes"))
    if words is not None:
        part = message.between(words.start, words.end)
        if part is None:
            return None
        kept = without_excluded(part)
        left = [c for c in part.of("food") if c not in kept.chunks]
        without = tuple(
            message.vocabulary.resolve([t.text for t in message.tokens[c.start : c.end]], c.text.lower()) for c in left
        )
        changes = tuple(items(kept)) if kept.of("amount", "food", "batch") else ()
        told = [i for i in changes if i.amount is not None and (i.name is not None or i.batch is not None)]
        if not (changes or without) or len(told) < len(changes):
            return None
    meal = cast("str | None", reading.values.get("meal")) or when.meal
    return Repeat(
        meal=meal, day=when.day, name=_name(reading, "food"), changes=changes, without=without, when=When(meal=meal)
    )


def means_by(reading: Reading, message: Message) -> Meaning | None:
    """What a word of the person's means."""
    word, name = _name(reading, "word"), _name(reading, "name")
    if word is None or name is None or word.text == name.text or message.asks:
        return None
    return MeansBy(word=word.text, name=name)


def combination(reading: Reading, message: Message) -> Meaning | None:
    """Several foods with their amounts under one word."""
    words, word = cast(Words, reading["items"]), _name(reading, "word")
    part = message.between(words.start, words.end)
    told = items(part) if part is not None else []
    if word is None or len(told) < 2 or any(i.name is None or i.amount is None for i in told):
        return None
    return Combination(word=word.text, items=tuple(told))


def vessel_holds(reading: Reading, message: Message) -> Meaning | None:
    """What a vessel of the person's holds, as a volume."""
    amount, words = cast(Amount, reading["amount"]), cast(Words, reading["word"])
    if amount.kind != "volume":
        return None
    return VesselHolds(word=words.text.lower(), amount=amount)


def save_measure(reading: Reading, message: Message) -> Meaning | None:
    """What one piece of a food of the person's weighs."""
    name, amount = _name(reading, "food"), cast(Amount, reading["weight"])
    if name is None or message.asks or amount.doubt is not None:
        return None
    measure = str(reading.values.get("piece", "slice" if "slice" in message.text.lower() else "piece"))
    return SaveMeasure(name=name, measure=measure, count=1, amount=amount)
