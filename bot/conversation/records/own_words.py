"""What a person's own words stand for: foods, several foods together, and what a vessel holds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import msgspec

from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.known import Known
from bot.conversation.outcomes import Then
from bot.conversation.records.measuring import mass
from bot.kinds import Remembered
from bot.language.surroundings import OwnWords
from bot.language.told import Amount, Item, Name, When
from bot.store import memory
from bot.store.memory import Memory

MEALS = frozenset({"breakfast", "lunch", "dinner", "snack"})
MOST_AT_ONCE = 12
"""Most combinations that one message may tell of; a larger number is a slip or grams."""


def told(known: Known) -> OwnWords:
    """What the language has to know of a person's words."""
    said = known.memory
    return OwnWords(
        foods=tuple((word, food) for (what, word), food in said.items() if what == Remembered.KIND),
        combinations=tuple(word for what, word in said if what == Remembered.COMBINATION),
        vessels=tuple(word for what, word in said if what == Remembered.VESSEL),
    )


def encoded(items: Sequence[Item]) -> str:
    """The items of a combination as they are kept; when they were eaten is no part of it."""
    return msgspec.json.encode([replace(item, when=When(), changes=None) for item in items]).decode()


def combination(word: str, known: Known) -> tuple[Item, ...]:
    """The items that a word of the person's stands for; none where it stands for nothing."""
    kept = known.memory.get((Remembered.COMBINATION, word.casefold()))
    return () if kept is None else tuple(msgspec.json.decode(kept, type=list[Item]))


def meant(item: Item, ex: Exchange) -> Item | Then:
    """The item, or the items of the combination that it names ('my shake', '2 shakes')."""
    items = spelt_out(item, ex)
    return item if items == [item] else Then(tuple(items))


def spelt_out(item: Item, ex: Exchange) -> list[Item]:
    """The items that an item stands for: itself, or those of a combination, so many times as told."""
    name = item.name
    if name is None or not name.combination or name.unknown:
        return [item]
    items = combination(name.combination, ex.known)
    times = _times(item.amount, items)
    if times is None:
        return [item]
    say_first_use(name.combination, ex)
    return [replace(multiplied(each, times), when=item.when) for each in items]


def say_first_use(word: str, ex: Exchange) -> None:
    """Says the first time that a combination is recorded as the person told it."""
    value = ex.known.memory[Remembered.COMBINATION, word.casefold()]
    if memory.first_use(ex.books, Memory(Remembered.COMBINATION, word, value)):
        usual = "usual " if word in MEALS else ""
        ex.say(f"Your {usual}{word}, as you told me:")


def _times(amount: Amount | None, items: Sequence[Item]) -> float | None:
    """How many of a combination an amount is: a count, or a weight where all of its items have one; None: unclear."""
    if amount is None:
        return 1.0
    if amount.doubt is not None:
        return None
    if amount.kind in ("count", "bare", "measure") and 0 < amount.value <= MOST_AT_ONCE:
        return amount.value
    weights = [each.amount.grams for each in items if each.amount is not None and each.amount.grams is not None]
    grams = amount.value if amount.kind == "bare" else amount.grams
    return grams / sum(weights) if grams is not None and len(weights) == len(items) else None


def multiplied(item: Item, times: float) -> Item:
    """The item with so many times its amount."""
    amount = item.amount
    if amount is None or times == 1:
        return item
    if amount.kind == "mass" and amount.grams is not None:
        return replace(item, amount=mass(amount.grams * times), measure=None, waste_g=None, peeled_g=None)
    value = amount.value * times
    unit = f" {amount.unit}" if amount.unit else ""
    return replace(item, amount=replace(amount, value=value, text=f"{value:g}{unit}"), measure=None)


def meant_note(name: Name, food: str, ex: Exchange) -> str | None:
    """What the person's own word means, the first time that it decides a food; None afterwards."""
    word = name.text.casefold()
    if ex.known.memory.get((Remembered.KIND, word)) != food:
        return None
    new = memory.first_use(ex.books, Memory(Remembered.KIND, word, food))
    return f"{saying.first_up(word)} is {food}, as you told me." if new else None
