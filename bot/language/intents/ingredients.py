"""What goes into a batch and what is put right about it: from readings to meanings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import cast

from bot.language.batch_meanings import (
    AddIngredients,
    CorrectIngredient,
    RemoveIngredient,
    SwapIngredient,
    TakeOutRefuse,
)
from bot.language.grammar import Reading
from bot.language.intents.readings import (
    amount_of,
    asks,
    batches_meant,
    foods_of,
    has_ingredient,
    of_mine,
    one_cooking,
    pot_of,
    records_nothing,
    says,
)
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.name_tables import lemmas_of
from bot.language.pack import pack, plain
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount, BatchRef, Item, Name, TareRef
from bot.language.words import Words
from domain import reference
from domain.foods import State

LEAST_MANY = 50.0
MOST_UNKNOWN = 3
"""Words that the name of an ingredient may have which no table has."""


def add_ingredients(reading: Reading, message: Message) -> Meaning | None:
    """What went into a batch; an unnamed one is the one on the stove."""
    told = foods_of(reading, message, "one" if "one" in reading.values else "items")
    ref = one_cooking(message) if "cooking" in reading.values else pot_of(reading)
    if not told or ref is None or not message.around.batches or records_nothing(message):
        return None
    if says(message, "filled_boxes") and says(message, "a_box"):
        return None
    if "one" in reading.values and len(told) > 1:
        return None
    if any(i.amount is None for i in told) and not all(i.amount is None for i in told):
        return None
    which = "pot" in reading.values and ref == BatchRef() and one_cooking(message) is None
    if which and len(message.around.batches) > 1:
        return None
    if "filling" in reading.values and not any(b.filling for b in message.around.cooking):
        return None
    if _dipped(message, ref) or says(message, "orders_change"):
        return None
    early = bool(reading.values.get("from_start")) or says(message, "from_start")
    return AddIngredients(
        batch=ref,
        items=tuple(in_grams(told)),
        from_start=early,
        cooked=amount_of(reading, "cooked"),
        tare=cast("TareRef | None", reading.values.get("pan")),
        joined="cooking" in reading.values and not early and not _says_where(message),
    )


def _says_where(message: Message) -> bool:
    """Whether it is said that something went into a pot: 'and' or 'plus' alone say no such thing."""
    return says(message, "in_it", "in_the_pot", "going_in", "puts_in", "on_top", "forgot")


def _dipped(message: Message, ref: BatchRef) -> bool:
    """Whether it is told as in a pot that is cooked, and nothing says that it was put there: 'dipped bread in it'."""
    raw = any(not b.cooked for b in batches_meant(message, ref))
    said = [plain(word) for word in message.said]
    if raw or pack()["on_my_plate"].found(said):
        return not raw
    within = any(said[n - 1] == "in" or said[n - 2 : n] == ["in", "the"] for n in range(1, len(said)))
    return within and not says(message, "puts_in", "going_in", "also_first", "forgot", "from_start", "too")


def correct_ingredient(reading: Reading, message: Message) -> Meaning | None:
    """An ingredient told wrong: its amount or its state."""
    name = cast(Name, reading["thing"])
    ref = one_cooking(message) if "cooking" in reading.values else pot_of(reading)
    if ref is None or asks(message) or not message.around.batches or not _is_name(message, name):
        return None
    if "cooking" in reading.values and (message.of("moment", "batch") or not has_ingredient(message, ref, name)):
        return None
    amount = amount_of(reading, "amount")
    if amount is None and reading.values.get("state") is None:
        return None
    if not _stands_apart(reading, message):
        return None
    state, method = cast("tuple[object, str]", reading.values.get("state") or (None, ""))
    item = Item(text=message.text, amount=amount, state=state, method=method)  # type: ignore[arg-type]
    return CorrectIngredient(batch=ref, name=name, item=item)


def _stands_apart(reading: Reading, message: Message) -> bool:
    """Whether what follows a correction is a remark of its own: 'less' or 'each' right behind an amount is none."""
    words = cast("Words | None", reading.values.get("tail"))
    if words is None:
        return True
    said = [plain(token.text) for token in message.line.tokens[words.start : words.end]]
    return not pack()["amount_goes_on"].end(said, 0) and of_mine(reading, message)


def remove_ingredient(reading: Reading, message: Message) -> Meaning | None:
    """Ingredients that were never in it."""
    names = tuple(cast(Name, reading[key]) for key in ("thing", "other") if reading.values.get(key) is not None)
    ref = one_cooking(message) if "cooking" in reading.values else pot_of(reading)
    if ref is None or asks(message) or not message.around.batches:
        return None
    if not all(_is_name(message, name) for name in names):
        return None
    if "cooking" in reading.values and not all(has_ingredient(message, ref, name) for name in names):
        return None
    return RemoveIngredient(batch=ref, names=names)


def swap_ingredient(reading: Reading, message: Message) -> Meaning | None:
    """Another food in place of an ingredient."""
    told = foods_of(reading, message, "item")
    old = cast(Name, reading["old"])
    ref = cast("BatchRef | None", reading.values.get("pot")) or one_cooking(message)
    if len(told) != 1 or ref is None or asks(message):
        return None
    return SwapIngredient(batch=ref, name=old, item=told[0])


def take_out_refuse(reading: Reading, message: Message) -> Meaning | None:
    """Bones and the like by their weight."""
    amount = amount_of(reading)
    if amount is None or asks(message) or not message.around.batches:
        return None
    return TakeOutRefuse(batch=pot_of(reading), part=str(reading["part"]), amount=amount)


def _is_name(message: Message, name: Name) -> bool:
    """Whether it is a food, or a few words that no list has."""
    if name.foods or name.kinds:
        return True
    words = name.text.split()
    return len(words) <= MOST_UNKNOWN and not any(message.words.knows(word) for word in words)


def into_the_pot(told: Sequence[Item], message: Message) -> AddIngredients | None:
    """A list of foods while a dish is being put together: what goes into it, unless it tells of eating."""
    filling = [b for b in message.around.batches if b.filling] or _kept_filling(told, message)
    if len(filling) != 1 or message.when.meal or message.when.day or message.has_any(message.words.eating):
        return None
    if says(message, "portioned"):
        return None
    if len(filling[0].weights) < 2 and lemmas_of(filling[0].name) in [lemmas_of(n) for n in filling[0].ingredients]:
        return None  # one food cooked by itself
    told = _to_taste(told)
    if not told or not all(i.name is not None and i.state is not State.COOKED for i in told):
        return None
    if any(i.batch is not None and i.batch.sure for i in told):
        return None
    inside = {lemmas_of(name) for name in filling[0].ingredients}
    if any(
        i.name is not None and any(lemmas_of(food) in inside for food in (*i.name.foods, i.name.text)) for i in told
    ):
        # What is in it already goes in twice less often than it is eaten beside it.
        return None
    items = tuple(in_grams([replace(item, batch=None) for item in told]))
    ref = BatchRef(candidates=(filling[0].number,))
    return AddIngredients(batch=ref, items=items, unsaid=True)


def _to_taste(told: Sequence[Item]) -> list[Item]:
    """The foods of a list, spices without a weight included; none where another food has none, or nothing a weight."""
    found: list[Item] = []
    for item in told:
        spice = item.name if item.amount is not None else item.name and seasoning(item.name, among_others=True)
        if spice is None:
            return []
        found.append(replace(item, name=spice))
    return found if any(item.amount is not None for item in found) else []


def seasoning(name: Name, *, among_others: bool) -> Name | None:
    """The spice that a name means; 'pepper' among other seasonings is the spice and no vegetable."""
    table = reference.load()
    kinds = table.kinds[name.kinds].kinds if name.kinds is not None else ()
    among = [food for food in (*name.foods, *kinds) if food in table.foods and table.foods[food].group == "spices"]
    return Name(text=name.text, foods=(among[0],)) if among and (name.foods or among_others) else None


def _kept_filling(told: Sequence[Item], message: Message) -> list[KnownBatch]:
    """The pot filled line by line before something eaten was told, if this is hardly eaten as it is."""
    pots = [b for b in message.around.batches if b.interrupted]
    return pots if all(map(hardly_eaten_so, told)) else []


def hardly_eaten_so(item: Item) -> bool:
    """Whether a food, as it was told, needs cooking: raw meat, dry pulses, spices, onions."""
    if item.name is None or item.state is State.COOKED:
        return False
    said = [plain(word) for word in lemmas_of(item.name.text)]
    return pack()["needs_cooking"].found(said) or (item.state is State.RAW and pack()["eaten_cooked"].found(said))


def in_grams(told: Sequence[Item]) -> list[Item]:
    """The ingredients with a small number of what is not counted as grams, where others are told in grams too.

    'olive oil 20, paprika 6, lemon juice 40 g': by itself 'paprika 6' may be six pinches.
    """
    weighed = any(i.amount is not None and (i.amount.kind == "mass" or _many(i.amount)) for i in told)
    return [_in_grams(item) if weighed else item for item in told]


def _many(amount: Amount) -> bool:
    """Whether a number by itself is more than anybody counts into a pot."""
    return amount.kind == "bare" and amount.value >= LEAST_MANY


def _in_grams(item: Item) -> Item:
    amount = item.amount
    if amount is None or amount.kind != "bare" or amount.doubt is not None or item.name is None:
        return item
    foods = [reference.load().foods.get(name) for name in item.name.foods]
    counted = not foods or any(food is None or food.countable for food in foods)
    if counted and not _many(amount):
        return item
    return replace(item, amount=Amount(kind="mass", value=amount.value, unit="g", grams=amount.value, text=amount.text))
