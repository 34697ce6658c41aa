"""Foods told while a batch is being filled: decide whether they are ingredients or were eaten, and move them on request."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from bot.conversation import saying
from bot.conversation.batches.finding import spoken_of
from bot.conversation.batches.surrounding import AT_THE_POT
from bot.conversation.context import surroundings
from bot.conversation.exchange import Exchange
from bot.conversation.known import KnownFood
from bot.conversation.outcomes import Refuse, Then
from bot.conversation.records import undoing
from bot.conversation.records.naming import food_of
from bot.kinds import BatchStep, JournalKind
from bot.language.batch_meanings import AddIngredients, PutElsewhere
from bot.language.message import read
from bot.language.pack import pack
from bot.language.told import BatchRef, Item
from bot.language.understand import meanings_of
from bot.store import batches, cooking, journal
from bot.store.delivery import inbox
from bot.store.delivery.inbox import Say
from bot.store.journal import Entry
from domain.batches import Batch

COOKED_WITH = frozenset(
    {"vegetables", "meat", "poultry", "fish", "pulses", "grains", "fats", "spices", "condiments", "sausages"}
)
"""Groups of foods that are mostly ingredients; foods of other groups are as often eaten on their own."""
POURED_IN = frozenset({"stock", "broth", "milk", "wine", "water"})
"""Words in the names of drinks that are cooked with."""
SAVOURY = frozenset({"meat", "poultry", "fish", "sausages", "pulses", "vegetables"})
"""Groups of foods of which one makes a dish a savoury one."""
EATEN_ALONE = frozenset({"breads", "sweets", "meals", "soups"})
"""Groups of foods that are eaten as they are, and go into no savoury pot."""
MOST_BESIDE_G = 250.0
"""Grams of such a food that one eats at once at most."""
STILL_FILLING = timedelta(hours=1)
"""So long after the last ingredient another one may follow, if nothing else was told since."""
NOTHING = "There is nothing to move. Say the food with its weight again."


def goes_in(meaning: AddIngredients, batch: Batch, ex: Exchange) -> bool:
    """Whether foods told without a place are more likely ingredients than eaten beside the batch."""
    if _long_ago(batch, ex):
        return False
    if meaning.joined and spoken_of(ex) != batch.number:
        return any(_cooked_with(item, ex) and not _is_dairy(item, ex) for item in meaning.items)
    if meaning.joined or batches.was_empty(ex.books, batch.number):
        return any(not _eaten_by_itself(item, batch, ex) for item in meaning.items)
    return any(_cooked_with(item, ex) for item in meaning.items)


def _long_ago(batch: Batch, ex: Exchange) -> bool:
    """Whether nothing went in for so long that a food is the next meal's; sooner where something else was told since."""
    last_in = cooking.last_in(ex.books).get(batch.number)
    if last_in is None:
        return False
    return ex.books.at - last_in > (STILL_FILLING if spoken_of(ex) == batch.number else AT_THE_POT)


def _eaten_by_itself(item: Item, batch: Batch, ex: Exchange) -> bool:
    """Whether a food told line by line is of a kind that such a dish hardly holds, and no more than one eats at once."""
    entry = None if item.name is None else food_of(item, item.name, ex.known)
    if not isinstance(entry, KnownFood) or not batch.ingredients:
        return False
    food, words = entry.food, set(entry.food.name.split())
    if food.group == "drinks":
        return not POURED_IN & words
    grams = item.amount.grams or item.amount.value if item.amount is not None else 0.0
    savoury = any(each.group in SAVOURY for each in batch.ingredients)
    if grams > MOST_BESIDE_G or words & pack()["fruit_in_pots"].words:
        return False
    with_refuse = item.whole is True or item.waste_g is not None
    return (food.group == "fruit" and (savoury or with_refuse)) or (food.group in EATEN_ALONE and savoury)


def _is_dairy(item: Item, ex: Exchange) -> bool:
    entry = None if item.name is None else food_of(item, item.name, ex.known)
    return isinstance(entry, KnownFood) and entry.food.group == "dairy"


def _cooked_with(item: Item, ex: Exchange) -> bool:
    entry = None if item.name is None else food_of(item, item.name, ex.known)
    if not isinstance(entry, KnownFood):
        # An unknown food, or one whose kinds differ, is rarely eaten beside a batch without saying so.
        return True
    food = entry.food
    weighed = (item.amount is not None and item.amount.kind in ("mass", "volume")) or not item.number_first
    if food.group == "dairy":
        return weighed
    return food.group in COOKED_WITH or (food.group == "drinks" and bool(POURED_IN & set(food.name.split())))


def eaten(batch: Batch, items: Sequence[Item], ex: Exchange) -> Then:
    """Has the foods recorded as eaten, and says so first."""
    ex.went = "day"
    ex.say(f"Recorded as eaten, not added to {saying.batch(batch)}. If it went in, say: in the pot")
    return Then(tuple(items))


def went_in(ex: Exchange) -> None:
    """Says how to take out an ingredient that was put in by default."""
    ex.went = "pot"
    ex.say("If you ate it instead, say: I ate it")


def put(meaning: PutElsewhere, ex: Exchange) -> Then | Refuse:
    """Undoes what was recorded last and records it in the other place."""
    entries = journal.last(ex.books)
    batch = max(cooking.last_in(ex.books).items(), key=lambda item: item[1], default=(None, None))[0]
    told = _told(entries, ex) if entries and _fits(entries, meaning, ex) else []
    if not told or (meaning.pot and batch is None):
        return Refuse(NOTHING)
    undone = undoing.take_back(entries, ex)
    if isinstance(undone, Refuse):
        return undone
    if meaning.pot:
        return Then((AddIngredients(batch=BatchRef(number=batch), items=tuple(told)),))
    return Then(tuple(told))


def _fits(entries: Sequence[Entry], meaning: PutElsewhere, ex: Exchange) -> bool:
    """Whether the entries are weigh-ins that can go into a pot, or ingredients that can have been eaten."""
    if meaning.pot:
        return all(entry.kind is JournalKind.WEIGH_IN for entry in entries)
    return all(
        entry.kind is JournalKind.BATCH_EVENT and journal.details(ex.books, entry).event == BatchStep.ADDED
        for entry in entries
    )


def _told(entries: Sequence[Entry], ex: Exchange) -> list[Item]:
    """The foods of that message, read as if no batch were open; empty if it contained anything else."""
    row = inbox.get(ex.books.conn, entries[0].inbound_id)
    if row is None or not isinstance(row.content, Say):
        return []
    found = meanings_of(read(row.content.text, replace(surroundings(ex, ()), batches=())))
    items = [meaning for meaning in found if isinstance(meaning, Item)]
    return items if len(items) == len(found) else []
