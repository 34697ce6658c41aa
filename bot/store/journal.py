"""What each message changed, and undoing it.

Undo writes rows of its own for weigh-ins and marks everything else as undone. It adds no journal entry, so that what
it wrote is never undone in turn.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import bindparam, select, update

from bot.kinds import Fact, JournalKind, VersionKind
from bot.store import batches, facts, weighins
from bot.store.books import Books
from bot.store.schema import MAX_INTEGER, batch, batch_event, journal, tare
from bot.store.weighins import StoredWeighIn


@dataclass(frozen=True, slots=True)
class Entry:
    """One change that a message made; `ref` is the id of the row written."""

    id: int
    inbound_id: int
    kind: JournalKind
    ref: int


@dataclass(frozen=True, slots=True)
class Details:
    """What there is to know about an entry before it is undone.

    For a weigh-in: as it stands `now` (None when removed) and as it stood `before` the entry (None when it did not).
    For a batch: its number, the `event`'s kind (None for its opening) and grams. `name` is the batch's for an opening,
    and what a fact is about.
    """

    now: StoredWeighIn | None = None
    before: StoredWeighIn | None = None
    batch: int | None = None
    event: str | None = None
    grams: float | None = None
    name: str | None = None


@dataclass(frozen=True, slots=True)
class Undone:
    """What undoing one entry did.

    For a weigh-in: how it stood `before` the undo and how it stands `now`, None where it does not stand. Both are the
    same when the weigh-in was left alone, because somebody has changed it since. For a batch: its number. `name` is
    the batch's for an opening, the event's kind for an event, and what a fact is about.
    """

    kind: JournalKind
    ref: int
    now: StoredWeighIn | None = None
    before: StoredWeighIn | None = None
    batch: int | None = None
    name: str | None = None


_MINE = (journal.c.person_id == bindparam("of_person")) & journal.c.undone_by.is_(None)
_newest = select(journal.c.inbound_id).where(_MINE).order_by(journal.c.inbound_id.desc()).limit(1).scalar_subquery()
_LAST = (
    select(journal.c.id, journal.c.inbound_id, journal.c.kind, journal.c.ref)
    .where(_MINE, journal.c.inbound_id == _newest)
    .order_by(journal.c.id.desc())
)
_OF_MESSAGE = (
    select(journal.c.id, journal.c.inbound_id, journal.c.kind, journal.c.ref)
    .where(_MINE, journal.c.inbound_id == bindparam("of_inbound"))
    .order_by(journal.c.id.desc())
)
_OF_FACT = select(journal.c.id, journal.c.inbound_id, journal.c.kind, journal.c.ref).where(
    _MINE, journal.c.kind == bindparam("of_kind"), journal.c.ref == bindparam("of_ref")
)
_KITCHENS = {
    "batch_opened": select(batch.c.kitchen_id).where(batch.c.id == bindparam("of_row")),
    "batch_event": select(batch.c.kitchen_id)
    .join(batch_event, batch_event.c.batch_id == batch.c.id)
    .where(batch_event.c.id == bindparam("of_row")),
    "tare": select(tare.c.kitchen_id).where(tare.c.id == bindparam("of_row")),
}
"""Whose kitchen an entry of that kind is about."""
_TAKE = update(journal).where(_MINE, journal.c.id == bindparam("of_id")).returning(journal.c.id)


def last(books: Books) -> list[Entry]:
    """What the person's newest message with changes that still stand has changed; newest entry first."""
    return [_entry(row) for row in books.conn.execute(_LAST, {"of_person": books.person.id})]


def of_message(books: Books, inbound_id: int) -> list[Entry]:
    """What a message of the person's has changed and still stands; newest entry first."""
    if not 0 < inbound_id <= MAX_INTEGER:
        return []
    values = {"of_person": books.person.id, "of_inbound": inbound_id}
    return [_entry(row) for row in books.conn.execute(_OF_MESSAGE, values)]


def of_fact(books: Books, kind: Fact, ref: int) -> Entry | None:
    """The entry for a fact's row, or None when it is not the person's or was taken back."""
    values = {"of_person": books.person.id, "of_kind": kind, "of_ref": ref}
    row = books.conn.execute(_OF_FACT, values).one_or_none()
    return None if row is None else _entry(row)


def _entry(row: Sequence[Any]) -> Entry:
    entry_id, inbound_id, kind, ref = row
    return Entry(entry_id, inbound_id, JournalKind(kind), ref)


def is_elsewhere(books: Books, entry: Entry) -> bool:
    """Whether what the entry changed belongs to a kitchen that the person has left; a weigh-in is always their own."""
    statement = _KITCHENS.get(entry.kind)
    if statement is None:
        return False
    return books.conn.execute(statement, {"of_row": entry.ref}).scalar() != books.person.kitchen_id


def details(books: Books, entry: Entry) -> Details:
    """What the conversation needs to decide about an entry, and to tell of it."""
    if entry.kind.startswith("weigh_in"):
        before = weighins.replaced_by(books, entry.ref)
        return Details(now=_standing(books, entry.ref)[0], before=before)
    if entry.kind is JournalKind.BATCH_OPENED:
        number, name = batches.opening(books, entry.ref)
        return Details(batch=number, name=name)
    if entry.kind is JournalKind.BATCH_EVENT:
        number, event, grams = batches.event(books, entry.ref)
        return Details(batch=number, event=event, grams=grams)
    return Details(name=facts.name_of(books, entry.kind, entry.ref))


def undo(books: Books, entries: Sequence[Entry]) -> list[Undone]:
    """Undoes entries in the order given (newest first, as `last` gives them).

    What is not the person's, or undone already, is passed over; so are portions of those who have left the kitchen.
    """
    done = []
    for entry in entries:
        values = {"of_person": books.person.id, "of_id": entry.id, "undone_by": books.inbound_id}
        if books.conn.execute(_TAKE, values).scalar() is not None and not _out_of_reach(books, entry):
            done.append(_undo(books, entry))
    return done


def _out_of_reach(books: Books, entry: Entry) -> bool:
    return entry.kind.startswith("weigh_in") and weighins.is_out_of_reach(books, entry.ref)


def _undo(books: Books, entry: Entry) -> Undone:
    if entry.kind.startswith("weigh_in"):
        return _undo_weigh_in(books, entry)
    if entry.kind is JournalKind.BATCH_OPENED:
        number, name = batches.opening(books, entry.ref)
        batches.undo_opening(books, entry.ref)
        return Undone(entry.kind, entry.ref, batch=number, name=name)
    if entry.kind is JournalKind.BATCH_EVENT:
        number, event, _ = batches.event(books, entry.ref)
        batches.undo_event(books, entry.ref)
        return Undone(entry.kind, entry.ref, batch=number, name=event)
    facts.undo(books, entry.kind, entry.ref)
    return Undone(entry.kind, entry.ref, name=facts.name_of(books, entry.kind, entry.ref))


def _undo_weigh_in(books: Books, entry: Entry) -> Undone:
    standing, newest = _standing(books, entry.ref)
    old = weighins.replaced_by(books, entry.ref)
    now = standing
    if old is None:
        if standing is not None:
            weighins.supersede(books, VersionKind.REMOVED, standing, standing)
            now = None
    elif entry.kind is JournalKind.WEIGH_IN_REMOVED:
        if standing is None:
            now = weighins.supersede(books, VersionKind.RESTORED, newest, old)
    elif standing is not None and _alike(standing, weighins.version(books, entry.ref)):
        now = weighins.supersede(books, VersionKind.CHANGED, standing, old)
    return Undone(entry.kind, entry.ref, now=now, before=standing)


def _standing(books: Books, row_id: int) -> tuple[StoredWeighIn | None, StoredWeighIn]:
    """The weigh-in of which the row is a version: as it stands, None when it was removed; and its newest row."""
    version = weighins.version(books, row_id)
    newest = version and weighins.newest_row(books, version.person_id, version.number)
    if not newest:
        raise LookupError(f"no weigh-in in row {row_id}")
    row, kind = newest
    return (None if kind is VersionKind.REMOVED else row), row


def _alike(one: StoredWeighIn, other: StoredWeighIn | None) -> bool:
    """Whether two versions say the same; rows that an undo wrote repeat what they restore."""
    if other is None:
        return False
    return (one.weigh_in, one.eaten_at, one.day, one.meal) == (other.weigh_in, other.eaten_at, other.day, other.meal)
