"""Fixes, questions about what is on record, and usual things: from readings to meanings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import cast

from bot.language.asked import AmountFor, Eaten, Keeping, Per100, Sheet, TotalOf, WhatIf
from bot.language.batch_meanings import PutElsewhere
from bot.language.fact_meanings import SaveMeasure
from bot.language.fix_meanings import Change, DeleteSeveral, OnTheScale, Which
from bot.language.grammar import Reading
from bot.language.intents.keep import measure
from bot.language.intents.readings import items_of, kept_and_left_out, moments_of, part_of
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.recalling import corrects
from bot.language.stance import without_excluded
from bot.language.text import singular
from bot.language.told import Amount, BatchRef, Item, Name, When
from bot.language.usual import Combination, ForgetWord, MeansBy, Repeat, VesselHolds
from bot.language.words import Words

MOST_AT_ONCE = 50
"""Weigh-ins that one range of numbers may take off."""


def _when(reading: Reading, message: Message) -> When:
    """What the moments of a reading say together."""
    return moments_of(reading, message, "when", "more")


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
    own = {*message.around.words.combinations, *(word for word, _ in message.around.words.foods)}
    if message.has("forget my") and any(name.text in own for name in names):
        return None  # what the word means is to be forgotten
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
        if all(by.grams != each.grams for each in message.amounts):
            return None  # '112 g cheddar, left half': it has become what was eaten of it
        sign = cast(int, values["direction"])
        by = replace(by, value=sign * by.value, grams=None if by.grams is None else sign * by.grams)
    old, new = _name(reading, "old"), _name(reading, "name")
    number = cast("int | None", values.get("hash"))
    batch = cast("BatchRef | None", values.get("batch"))
    name = None if number is not None else old or _name(reading, "food")
    if batch is not None:
        name = Name(text=batch.text)
    asked_for = amount is None and by is None and new is None
    if asked_for and name is not None and "to" in name.text.split():
        return None  # 'change last to …'
    which = Which(number=number, name=name, day=when.day, meal=when.meal)
    was = cast("Amount | None", values.get("was"))
    told = items(message) if was is None and by is None and new is None and old is None else []
    otherwise = told[0] if amount is not None and len(told) == 1 and told[0].amount == amount else None
    return Change(which=which, amount=amount, was=was, name=new, by=by, otherwise=otherwise, corrects=corrects(message))


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


def on_the_scale(reading: Reading, message: Message) -> Meaning | None:
    """What the scale shows once something more is on it."""
    told = items_of(reading, message, "added")
    if len(told) != 1 or told[0].name is None or told[0].amount is not None:
        return None
    return OnTheScale(total=cast(Amount, reading["weight"]), item=told[0])


def put_elsewhere(reading: Reading, message: Message) -> Meaning | None:
    """What was told last went into the pot on the stove after all, or was eaten."""
    return PutElsewhere(pot=bool(reading.values["pot"])) if message.around.cooking else None


def total_of(reading: Reading, message: Message) -> Meaning | None:
    """A nutrient's total of a day or of a meal."""
    when = _when(reading, message)
    return None if when.future else TotalOf(nutrient=str(reading["nutrient"]), day=when.day, meal=when.meal)


def eaten(reading: Reading, message: Message) -> Meaning | None:
    """What was eaten on a day, at a meal, of a food."""
    when = _when(reading, message)
    meal = cast("str | None", reading.values.get("meal")) or when.meal
    name = _name(reading, "food")
    if when.future or (meal is None and message.when.unclear is not None):
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
    told = items_of(reading, message, "words")
    measured = bool(told) and all(i.amount is not None and (i.name is not None or i.batch is not None) for i in told)
    return WhatIf(items=tuple(told), text=message.text) if measured else None


def repeat(reading: Reading, message: Message) -> Meaning | None:
    """A meal, a day or foods once more, with what is different this time."""
    when = _when(reading, message)
    if when.future:
        return None
    changes: tuple[Item, ...] = ()
    without: tuple[Name, ...] = ()
    if reading.values.get("changes") is not None:
        part = part_of(reading, message, "changes")
        if part is None:
            return None
        if _is_itself_usual(part):
            return None
        kept, without = kept_and_left_out(part)
        changes = tuple(items(kept)) if kept.of("amount", "food", "batch") else ()
        told = [i for i in changes if i.amount is not None and (i.name is not None or i.batch is not None)]
        if not (changes or without) or len(told) < len(changes):
            return None
        if any(i.name is not None and i.name.unknown and i.name.foods for i in changes):
            return None  # 'meaning rye bread 60': a word before a food that is none of it
    names = _repeated(reading, message)
    if names is None or message.asks:
        return None
    meal = cast("str | None", reading.values.get("meal")) or when.meal
    day = when.day if when.day != message.around.today or not pack()["usual_one"].found(message.line.plain) else None
    return Repeat(meal=meal, day=day, names=names, changes=changes, without=without, when=When(meal=meal))


def _is_itself_usual(changes: Message) -> bool:
    """Whether the first of the changes is what is usual: 'usual coffee, and 2 shortbreads'."""
    first = changes.chunks[0]
    return first.kind == "food" and changes.word_before(first) in pack()["attributive"]


def _repeated(reading: Reading, message: Message) -> tuple[Name, ...] | None:
    """The foods that are repeated; None where something else is told among them."""
    named = [name for name in (_name(reading, "food"), _name(reading, "more_food")) if name is not None]
    if reading.values.get("foods") is not None:
        part = part_of(reading, message, "foods")
        if part is not None and any(c.moment is not None and c.moment.meal for c in part.of("moment")[:1]):
            return None  # 'breakfast and tea as yesterday' is more than the tea
        told = items_of(reading, message, "foods")
        if not told or any(i.name is None or i.name.unknown or i.amount is not None or i.several for i in told):
            return None
        named.extend(i.name for i in told if i.name is not None)
    return tuple(named)


def means_by(reading: Reading, message: Message) -> Meaning | None:
    """What a word of the person's means: a food, or several with their amounts."""
    word = _name(reading, "word")
    name = _name(reading, "name")
    if word is None or message.asks:
        return None
    if name is not None:
        new = word.text != name.text and word.text not in message.words.meals
        # 'my favourite is cheddar', 'toast is my breakfast' say nothing about a word.
        known = bool(word.foods or word.kinds or word.combination)
        return MeansBy(word=word.text, name=name) if new and known else None
    part = part_of(reading, message, "means")
    told = items(without_excluded(part)) if part is not None else []
    if not told or any(i.name is None or i.name.unknown for i in told):
        return None
    only = told[0].name
    if len(told) == 1 and told[0].amount is None and only is not None:
        return MeansBy(word=word.text, name=only) if only.text != word.text and (only.foods or only.kinds) else None
    return None if any(i.amount is None for i in told) else Combination(word=word.text, items=tuple(told))


def combination(reading: Reading, message: Message) -> Meaning | None:
    """Several foods with their amounts under one word, told beforehand or while they are eaten."""
    meal, word = cast("str | None", reading.values.get("meal")), _name(reading, "word")
    eaten = bool(reading.values.get("eaten"))
    part = part_of(reading, message, "items")
    if part is None or message.asks:
        return None
    told = items(part)
    if any((i.name is None and i.batch is None) or i.amount is None for i in told):
        return None
    if meal is not None:
        return Combination(word=meal, items=_at(told, meal), eaten=eaten) if told else None
    least = 1 if eaten else 2
    if word is None or len(told) < least or set(word.text.split()) & message.words.meals.keys():
        return None
    if set(word.text.split()) & (message.words.people | message.words.pronouns):
        return None
    if not eaten and singular(word.text.split()[-1]) in message.words.loose_units:
        return None
    return Combination(word=word.text, items=tuple(told), eaten=eaten)


def _at(told: Sequence[Item], meal: str) -> tuple[Item, ...]:
    """The items, of that meal where none is said."""
    return tuple(i if i.when.meal is not None else replace(i, when=replace(i.when, meal=meal)) for i in told)


def vessel_holds(reading: Reading, message: Message) -> Meaning | None:
    """What a vessel of the person's holds, as a volume."""
    amount, words = cast(Amount, reading["amount"]), cast(Words, reading["word"])
    if amount.kind != "volume" or amount.doubt is not None or message.asks:
        return None
    return VesselHolds(word=words.text.lower(), amount=amount)


def forget_word(reading: Reading, message: Message) -> Meaning | None:
    """A word that is no longer to mean anything of its own."""
    told = reading["word"]
    word = told.text if isinstance(told, (Name, Words)) else str(told)
    if any(sign.isdigit() for sign in message.text) and "tail" not in reading.values:
        return None  # 'forget my 200 g rice' is about a weigh-in
    return ForgetWord(word=word, habit=bool(reading.values.get("habit")))


def save_measure(reading: Reading, message: Message) -> Meaning | None:
    """What one measure, or one piece of a food of the person's weighs."""
    if "measure" in reading.values:
        return measure(reading, message)
    name, amount = _name(reading, "food"), cast(Amount, reading["weight"])
    if name is None or message.asks or amount.doubt is not None:
        return None
    piece = str(reading.values.get("piece", "slice" if "slice" in message.text.lower() else "piece"))
    return SaveMeasure(name=name, measure=piece, count=1, amount=amount)
