"""Erasing a person.

Which rows that concerns follows from the tables' foreign keys: rows that refer to the person are deleted; rows that
others share, and that refer to the person or to one of their messages, are made to refer to a placeholder. A table that
is added later is covered as soon as it refers to `person`.
"""

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import Column, Connection, Select, Table, delete, exists, func, insert, select, update

from bot.store import batches, people, schema
from bot.store.books import Books
from bot.store.delivery import inbox
from bot.store.delivery.inbox import ERASED_BODY, NewRow, NoWords
from bot.store.ownership import retention
from bot.store.people import PLACEHOLDER_CHANNEL, Person
from domain.batch_steps import Taken
from domain.quantities import Region

_person, _inbound, _outbox, _batch = schema.person, schema.inbound, schema.outbox, schema.batch
_event, _weigh_in, _tare, _coaching = schema.batch_event, schema.weigh_in, schema.tare, schema.coaching

KEPT = frozenset({_event.c.person_id})
"""References to a person in rows that others share: these rows stay, and refer to the placeholder."""

# Where the journal's entries of that kind point to.
_WRITTEN: dict[str, Table] = {
    "weigh_in": _weigh_in,
    "weigh_in_changed": _weigh_in,
    "weigh_in_removed": _weigh_in,
    "batch_opened": _batch,
    "batch_event": _event,
    "tare": _tare,
}


def references_to(target: Table) -> Iterator[Column[Any]]:
    """Every column that refers to a row of the table, those of the tables that hang on others first."""
    for table in reversed(schema.metadata.sorted_tables):
        yield from (column for column in table.c if any(key.column.table is target for key in column.foreign_keys))


def erase(conn: Connection, person: Person, at: datetime, foods: Collection[str]) -> None:
    """Removes the person from the database, with everything they said and recorded, and their names.

    Batches and vessels of a kitchen stay as long as they are also somebody else's; what the person took from such a
    batch becomes grams that left it, and what has its name from them gets another: of `foods`, which nobody has made
    up, or a description. Messages of theirs that have not been handled go as well.
    """
    gone = _Gone(conn, person)
    heir = placeholder(conn)
    names = _names(conn, person)
    others = _acquainted(conn, person)
    shared, abandoned = _kitchens(conn, person)
    given: set[str] = set()
    for kitchen_id in shared:
        given |= _rename_batches(gone, kitchen_id, names, foods) | _rename_tares(gone, kitchen_id, names)
    _what_left(conn, _taken_from(gone, shared), heir, at)
    rooms = _rooms(conn, shared)
    for place in _rooms(conn, abandoned):
        _unsent(conn, (_outbox.c.channel == place[0]) & (_outbox.c.place == place[1]))
    _rows_of_person(gone, heir)
    for kitchen_id in abandoned:
        _contents(conn, kitchen_id)
    _messages(gone, heir)
    for table, kinds in _by_table().items():
        _lost_entries(conn, table, kinds)
    if names is not None:
        retention.erase_said(conn, others, names)
        retention.erase_told(conn, others, rooms, names)
    if given:
        retention.erase_told(conn, others, rooms, _any_of(given))
    conn.execute(delete(schema.address).where(schema.address.c.person_id == person.id))
    conn.execute(delete(_person).where(_person.c.id == person.id))
    conn.execute(delete(schema.kitchen).where(schema.kitchen.c.id.in_(abandoned)))


@dataclass(frozen=True, slots=True)
class Placeholder:
    """The ids of the person and of the message to which rows refer that outlive those who wrote them."""

    person_id: int
    inbound_id: int


_PLACEHOLDER_KEY = "nobody"
_LONG_AGO = datetime(1970, 1, 1, tzinfo=UTC)
_PLACEHOLDER_MESSAGE = select(_inbound.c.id).where(
    _inbound.c.channel == PLACEHOLDER_CHANNEL, _inbound.c.update_key == _PLACEHOLDER_KEY
)


def placeholder(conn: Connection) -> Placeholder:
    """The placeholder, made when the first person is erased."""
    person = people.find(conn, PLACEHOLDER_CHANNEL, _PLACEHOLDER_KEY)
    if person is None:
        person = people.add(conn, PLACEHOLDER_CHANNEL, _PLACEHOLDER_KEY, "", Region.METRIC, ZoneInfo("UTC"))
    new = NewRow(PLACEHOLDER_CHANNEL, _PLACEHOLDER_KEY, _PLACEHOLDER_KEY, NoWords(answer=""), None, _LONG_AGO)
    made = inbox.receive(conn, new)
    if made is not None:
        inbox.done(conn, made)
        return Placeholder(person.id, made)
    return Placeholder(person.id, conn.execute(_PLACEHOLDER_MESSAGE).scalar_one())


@dataclass(frozen=True, slots=True)
class _Gone:
    """The person, while they are being erased."""

    conn: Connection
    person: Person

    @property
    def messages(self) -> Select[int]:
        """The ids of all messages of theirs, in any channel."""
        return select(_inbound.c.id).where(
            exists().where(
                schema.address.c.person_id == self.person.id,
                schema.address.c.channel == _inbound.c.channel,
                schema.address.c.key == _inbound.c.person_key,
            )
        )

    @property
    def addresses(self) -> list[tuple[str, str]]:
        """(channel, key) of each of their addresses."""
        of_them = select(schema.address.c.channel, schema.address.c.key).where(
            schema.address.c.person_id == self.person.id
        )
        return [(channel, key) for channel, key in self.conn.execute(of_them)]


def _names(conn: Connection, person: Person) -> re.Pattern[str] | None:
    """What the person is called, by themselves and by those who asked them in, as whole words."""
    called = select(_coaching.c.called).where(_coaching.c.client_id == person.id)
    invited = select(schema.invite.c.called).where(schema.invite.c.used_by == person.id)
    names = {person.name, *conn.execute(called).scalars(), *filter(None, conn.execute(invited).scalars())}
    # A single letter can't be searched for: it is in every other text.
    long = {name.strip() for name in names if len(name.strip()) > 1}
    return _any_of(long) if long else None


def _any_of(names: Collection[str]) -> re.Pattern[str]:
    words = sorted((re.escape(name) for name in names), key=len, reverse=True)
    return re.compile(rf"(?<!\w)(?:{'|'.join(words)})(?!\w)", re.IGNORECASE)


def _acquainted(conn: Connection, person: Person) -> list[int]:
    """Those who may have written about the person, or have been told about them."""
    mates = select(_person.c.id).where(_person.c.kitchen_id == person.kitchen_id)
    ate_with = _weigh_in.alias("ate_with")
    guests = (
        select(_weigh_in.c.person_id)
        .distinct()
        .join(ate_with, ate_with.c.batch_id == _weigh_in.c.batch_id)
        .where(ate_with.c.person_id == person.id)
    )
    coaches = select(_coaching.c.coach_id).where(_coaching.c.client_id == person.id)
    clients = select(_coaching.c.client_id).where(_coaching.c.coach_id == person.id)
    found = {row for statement in (mates, guests, coaches, clients) for row in conn.execute(statement).scalars()}
    return sorted(found - {person.id})


def _kitchens(conn: Connection, person: Person) -> tuple[list[int], list[int]]:
    """(kitchens that the person shares with others, kitchens that nobody else has a part in)."""
    taken_from = (
        select(_batch.c.kitchen_id)
        .join(_weigh_in, _weigh_in.c.batch_id == _batch.c.id)
        .where(_weigh_in.c.person_id == person.id)
    )
    worked_on = (
        select(_batch.c.kitchen_id)
        .join(_event, _event.c.batch_id == _batch.c.id)
        .where(_event.c.person_id == person.id)
    )
    theirs = _Gone(conn, person).messages
    opened = select(_batch.c.kitchen_id).where(_batch.c.inbound_id.in_(theirs))
    told = select(_tare.c.kitchen_id).where(_tare.c.inbound_id.in_(theirs))
    found = {person.kitchen_id}
    for statement in (taken_from, worked_on, opened, told):
        found.update(conn.execute(statement).scalars())
    lived_in = select(_person.c.kitchen_id).where(_person.c.kitchen_id.in_(found), _person.c.id != person.id)
    eaten_from = (
        select(_batch.c.kitchen_id)
        .join(_weigh_in, _weigh_in.c.batch_id == _batch.c.id)
        .where(_batch.c.kitchen_id.in_(found), _weigh_in.c.person_id != person.id)
    )
    shared = {*conn.execute(lived_in).scalars(), *conn.execute(eaten_from).scalars()}
    return sorted(shared), sorted(found - shared)


def _rooms(conn: Connection, kitchens: Collection[int]) -> list[tuple[str, str]]:
    """(channel, place) of the groups that are these kitchens' rooms."""
    rooms = select(schema.room.c.channel, schema.room.c.place).where(schema.room.c.kitchen_id.in_(kitchens))
    return [(channel, place) for channel, place in conn.execute(rooms)]


def _rename_batches(gone: _Gone, kitchen_id: int, names: re.Pattern[str] | None, foods: Collection[str]) -> set[str]:
    """Calls the kitchen's batches that have their name from the person, or of them, after their main ingredient.

    Returns the names that are gone.
    """
    given: set[str] = set()
    mine = set(
        gone.conn.execute(
            select(_batch.c.id).where(_batch.c.kitchen_id == kitchen_id, _batch.c.inbound_id.in_(gone.messages))
        ).scalars()
    )
    heads = select(_batch.c.id, _batch.c.name).where(_batch.c.kitchen_id == kitchen_id)
    for batch_id, name in gone.conn.execute(heads).all():
        if batch_id in mine or (names is not None and names.search(name)):
            given |= _rename_batch(gone.conn, batch_id, name, foods)
    return given


def _rename_batch(conn: Connection, batch_id: int, old: str, foods: Collection[str]) -> set[str]:
    item = schema.batch_ingredient
    of_batch = item.c.batch_id == batch_id
    ingredients = conn.execute(
        select(item.c.position, item.c.food, item.c.food_group).where(of_batch).order_by(item.c.raw_g.desc())
    ).all()
    plain = [(position, food if food in foods else group or "food") for position, food, group in ingredients]
    for position, food in plain:
        conn.execute(update(item).where(of_batch, item.c.position == position).values(food=food))
    name = plain[0][1] if plain else "food"
    conn.execute(update(_batch).where(_batch.c.id == batch_id).values(name=name))
    conn.execute(update(_weigh_in).where(_weigh_in.c.batch_id == batch_id).values(food=name))
    renamed = (_event.c.batch_id == batch_id) & (_event.c.kind == "renamed")
    conn.execute(update(_event).where(renamed).values(why=name, was=name))
    return {food for food in (old, *(food for _, food, _ in ingredients)) if food.strip() and food not in foods}


def _rename_tares(gone: _Gone, kitchen_id: int, names: re.Pattern[str] | None) -> set[str]:
    """Describes the kitchen's vessels that have their name from the person, or of them. Returns the names gone."""
    given: set[str] = set()
    mine = set(
        gone.conn.execute(
            select(_tare.c.id).where(_tare.c.kitchen_id == kitchen_id, _tare.c.inbound_id.in_(gone.messages))
        ).scalars()
    )
    told = select(_tare.c.id, _tare.c.name, _tare.c.grams).where(_tare.c.kitchen_id == kitchen_id)
    for tare_id, name, grams in gone.conn.execute(told).all():
        if tare_id in mine or (names is not None and names.search(name)):
            gone.conn.execute(update(_tare).where(_tare.c.id == tare_id).values(name=f"vessel of {grams:.0f} g"))
            given |= {name} if name.strip() else set()
    return given


def _taken_from(gone: _Gone, kitchens: Collection[int]) -> list[dict[str, Any]]:
    """What the person has taken from shared batches, as rows of grams that left them in its place."""
    mine = _weigh_in.c.person_id == gone.person.id
    found = (
        select(_batch.c.id, _batch.c.kitchen_id, _batch.c.number)
        .distinct()
        .join(_weigh_in, _weigh_in.c.batch_id == _batch.c.id)
        .where(_batch.c.kitchen_id.in_(kitchens), mine)
    )
    rows = []
    for batch_id, kitchen_id, number in gone.conn.execute(found).all():
        first = (
            select(_weigh_in.c.number, func.min(_weigh_in.c.id).label("row"))
            .where(mine, _weigh_in.c.batch_id == batch_id)
            .group_by(_weigh_in.c.number)
        )
        since = {found.number: found.row for found in gone.conn.execute(first)}
        books = Books(gone.conn, replace(gone.person, kitchen_id=kitchen_id), 0, datetime.now(UTC))
        batch = batches.get(books, number)
        for step in batch.steps if batch is not None else ():
            if isinstance(step, Taken) and step.portion[0] == gone.person.id:
                place = {"batch_id": batch_id, "after_row": since[step.portion[1]] - 1}
                rows.append({**place, **batches.draw_values(step.draw)})
    return rows


def _what_left(conn: Connection, before: Collection[dict[str, Any]], heir: Placeholder, at: datetime) -> None:
    """Records what the person had taken as grams that left the batch, so that what is left of it stays right."""
    whose = {"kind": "reduced", "why": "taken", "person_id": heir.person_id, "inbound_id": heir.inbound_id, "at": at}
    for row in before:
        conn.execute(insert(_event).values(row | whose))


def _rows_of_person(gone: _Gone, heir: Placeholder) -> None:
    _files_of(gone)
    for column in references_to(_person):
        theirs = column == gone.person.id
        if column in KEPT:
            gone.conn.execute(update(column.table).where(theirs).values({column: heir.person_id}))
        elif column.table is _outbox:
            _unsent(gone.conn, theirs)
        elif column.table is not schema.address:
            gone.conn.execute(delete(column.table).where(theirs))
    # Row ids may be reused, and these say which weigh-ins came before the boxing.
    newest = gone.conn.execute(select(_weigh_in.c.id).order_by(_weigh_in.c.id.desc()).limit(1)).scalar() or 0
    gone.conn.execute(update(_event).where(_event.c.after_row > newest).values(after_row=newest))


def _files_of(gone: _Gone) -> None:
    """Takes files of their records out of messages to their coaches: they name whose they are."""
    whose = re.compile(rf'"client_id":{gone.person.id}\b')
    rows = gone.conn.execute(select(_outbox.c.id, _outbox.c.document).where(_outbox.c.document.is_not(None))).all()
    found = [row_id for row_id, document in rows if whose.search(document)]
    gone.conn.execute(update(_outbox).where(_outbox.c.id.in_(found)).values(document=None))


def _unsent(conn: Connection, which: Any) -> None:
    """Deletes outbox rows; one that is being sent is emptied, and deleted once that is recorded."""
    sending = _outbox.c.state == "sending"
    left: dict[str, Any] = {"kind": "farewell", "text": "", "choices": "[]"}
    left |= dict.fromkeys(("person_id", "inbound_id", "error", "picture", "document", "actions", "buttons"))
    conn.execute(update(_outbox).where(which, sending).values(left))
    conn.execute(delete(_outbox).where(which, ~sending))


def _contents(conn: Connection, kitchen_id: int) -> None:
    """Deletes what is in a kitchen that nobody else has a part in."""
    in_it = select(_batch.c.id).where(_batch.c.kitchen_id == kitchen_id)
    for table in (_event, schema.batch_ingredient):
        conn.execute(delete(table).where(table.c.batch_id.in_(in_it)))
    for column in references_to(schema.kitchen):
        if column.table is not _person:
            conn.execute(delete(column.table).where(column == kitchen_id))


def _messages(gone: _Gone, heir: Placeholder) -> None:
    """Deletes what the person said and was told; what others have of it comes from the placeholder."""
    _unsent(gone.conn, _outbox.c.inbound_id.in_(gone.messages))
    for column in references_to(_inbound):
        if column.table is not _outbox:
            theirs = column.in_(gone.messages)
            gone.conn.execute(update(column.table).where(theirs).values({column: heir.inbound_id}))
    for channel, key in gone.addresses:
        _unsent(gone.conn, (_outbox.c.channel == channel) & _outbox.c.place.in_([key, f"tap:{key}"]))
        _updates(gone.conn, channel, key)
    _requests(gone)
    gone.conn.execute(delete(_inbound).where(_inbound.c.id.in_(gone.messages)))


def _requests(gone: _Gone) -> None:
    """Empties the requests that their messages made of others: these hold their words, and are named after them."""
    theirs = {str(message) for message in gone.conn.execute(gone.messages).scalars()}
    requests = select(_inbound.c.id, _inbound.c.update_key).where(_inbound.c.kind == "errand")
    for row_id, update_key in gone.conn.execute(requests).all():
        if update_key.split(":")[1] in theirs:
            emptied = {"update_key": f"errand::{row_id}", "body": ERASED_BODY, "state": "done", "error": None}
            gone.conn.execute(update(_inbound).where(_inbound.c.id == row_id).values(emptied))


def _updates(conn: Connection, channel: str, key: str) -> None:
    """Deletes updates from there that are unread or unreadable; all that identifies them is the key in their body."""
    here = (schema.arrival.c.channel == channel) & (schema.arrival.c.body != "")
    whole = re.compile(rf"(?<!\w){re.escape(key)}(?!\w)")
    rows = conn.execute(select(schema.arrival.c.id, schema.arrival.c.body).where(here)).all()
    found = [update_id for update_id, body in rows if whole.search(body)]
    conn.execute(delete(schema.arrival).where(schema.arrival.c.id.in_(found)))


def _by_table() -> dict[Table, list[str]]:
    found: dict[Table, list[str]] = {}
    for kind, table in _WRITTEN.items():
        found.setdefault(table, []).append(kind)
    return found


def _lost_entries(conn: Connection, table: Table, kinds: list[str]) -> None:
    """Deletes journal entries of others about records that are gone."""
    journal = schema.journal
    there = exists().where(table.c.id == journal.c.ref)
    conn.execute(delete(journal).where(journal.c.kind.in_(kinds), ~there))
