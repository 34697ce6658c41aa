"""Foods told while a batch is being filled: decide whether they are ingredients or were eaten, and move them on request."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.conversation import saying
from bot.conversation.context import surroundings
from bot.conversation.exchange import Exchange
from bot.conversation.known import KnownFood
from bot.conversation.outcomes import Refuse, Then
from bot.conversation.records import undoing
from bot.conversation.records.naming import food_of
from bot.kinds import BatchStep, JournalKind
from bot.language.batch_meanings import AddIngredients, PutElsewhere
from bot.language.message import read
from bot.language.told import BatchRef, Item
from bot.language.understand import meanings_of
from bot.store import cooking, journal
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
NOTHING = "There is nothing to move. Say the food with its weight again."


def goes_in(items: Sequence[Item], ex: Exchange) -> bool:
    """Whether foods told without a place are more likely ingredients than eaten beside the batch."""
    return any(_cooked_with(item, ex) for item in items)


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
    ex.say(f"Taken as eaten, not put into {saying.batch(batch)}. If it went in, say: in the pot")
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
