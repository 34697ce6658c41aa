"""What goes into a new pot, as its ingredients are told."""

from __future__ import annotations

from dataclasses import replace

from bot.language.frames.pot_names import STOPS
from bot.language.frames.spans import Span
from bot.language.intents.ingredients import in_grams
from bot.language.items import items
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.told import Item, Name
from domain import reference

MOST_BEFORE_EATING = 3
"""Chunks between 'nobody' and its verb."""
LEAST_RAW_G = 350.0
"""What goes in at least of a dish of which something is raw."""
MEATS = frozenset({"meat", "poultry", "fish"})


def told_in(body: Message, head_name: str) -> list[Item] | None:
    """The ingredients; None if it says something else."""
    told = [replace(i, batch=None) if i.name is not None else i for i in items(body)]
    told = [i for i in told if i.amount is not None or i.name is not None]
    if len(told) == 1 and told[0].name is None and head_name:
        told = [replace(told[0], name=body.vocabulary.resolve(head_name.split(), head_name))]
    if told and told[0].name is None and told[0].state is not None and head_name:
        told[0] = replace(told[0], name=body.vocabulary.resolve(head_name.split(), head_name))
    told = [_of_the_dish(_with_its_words(item, body), head_name, body) for item in told]
    if any(i.name is None or i.others_g or i.shared or i.several for i in told):
        return None
    return in_grams(told)


def _with_its_words(item: Item, body: Message) -> Item:
    """An ingredient; if no known food is named, with the words beside its weight as its name."""
    if item.name is not None or item.amount is None:
        return item
    said = item.amount.text.lower().split()
    left = [w for w in item.text.lower().split() if w not in said and w not in body.words.states]
    name = " ".join(w for w in left if w.isalpha() and plain(w) not in pack()["ends_pot_name"])
    return replace(item, name=Name(text=name)) if name else item


def _of_the_dish(item: Item, dish: str, body: Message) -> Item:
    """An ingredient told by a part alone: the 'boneless thighs' of a chicken adobo are chicken thighs."""
    name = item.name
    if not dish or name is None or not name.text or name.foods or name.kinds is not None:
        return item
    amount = item.amount.text.lower().split() if item.amount is not None else []
    words = [word.strip(",.;()") for word in item.text.lower().split()]
    said = [w for w in words if w.isalpha() and w not in amount and w not in body.words.states]
    first = name.text.split()[0]
    whole = said[said.index(first) :] if first in said else said
    for word in dish.split():
        for part in (whole, name.text.split()):
            found = body.vocabulary.resolve([word, *part], f"{word} {' '.join(part)}")
            if found.foods and not found.unknown:
                return replace(item, name=found)
    return item


def is_of_food(item: Item) -> bool:
    """Whether it is of a known food, or told with a unit: '500 of them' may be anything."""
    named = item.name is not None and bool(item.name.foods or item.name.kinds)
    return named or (item.amount is not None and any(letter.isalpha() for letter in item.amount.text))


def grams_in(item: Item) -> float:
    """The weight of an ingredient, in grams; a number without a unit counts as grams."""
    amount = item.amount
    assert amount is not None
    return amount.grams if amount.grams is not None else amount.value


def is_cooked_first(item: Item) -> bool:
    """Whether it is so much meat or fish that it is only going to be cooked."""
    table, name = reference.load(), item.name
    if name is None or item.amount is None or grams_in(item) < LEAST_RAW_G:
        return False
    kinds = table.kinds[name.kinds].kinds if name.kinds is not None and name.kinds in table.kinds else ()
    groups = {table.foods[food].group for food in (*name.foods, *kinds) if food in table.foods}
    return bool(groups) and groups <= MEATS


def nobody_eats(message: Message) -> list[Span]:
    """'nobody is eating them like that', 'im not eating it raw': so it goes into a pot."""
    line, found = message.line, list[Span]()
    for n, chunk in enumerate(message.chunks):
        if plain(chunk.text.lower()) not in pack()["nobody_or_not"]:
            continue
        behind = message.chunks[n + 1 : n + 1 + MOST_BEFORE_EATING]
        eats = next((c for c in behind if plain(c.text.lower()) in pack()["eating_so"]), None)
        if eats is None:
            continue
        rest = [c for c in message.chunks if c.start >= eats.end]
        stop = next((i for i, c in enumerate(rest) if c.text in STOPS or c.kind == "newline"), len(rest))
        if not any(c.kind in ("food", "amount", "batch") for c in rest[:stop]):
            first = chunk.start - (line.plain[chunk.start - 1] in pack()["before_nobody"])
            found.append(Span(max(first, message.chunks[0].start), rest[stop - 1].end if stop else eats.end))
    return found
