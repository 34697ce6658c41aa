"""Who shares a kitchen, moving from one to another, and the group chat that belongs to a kitchen."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, bindparam, delete, func, insert, select, update

from bot.store.books import Books
from bot.store.invites import KITCHEN
from bot.store.schema import batch, invite, kitchen, person, room, tare


@dataclass(frozen=True, slots=True)
class Member:
    """Somebody of a kitchen."""

    id: int
    name: str


@dataclass(frozen=True, slots=True)
class Brought:
    """A batch that somebody brought along, under its old number and its new one."""

    name: str
    old: int
    new: int
    closed: bool


_MEMBERS = (
    select(person.c.id, person.c.name).where(person.c.kitchen_id == bindparam("of_kitchen")).order_by(person.c.id)
)
_HOLD = select(kitchen.c.batches).where(kitchen.c.id == bindparam("of_kitchen")).with_for_update()
_NEW = insert(kitchen).returning(kitchen.c.id)
_MOVE_PERSON = update(person).where(person.c.id == bindparam("of_person"))
_BATCHES = (
    select(batch.c.id, batch.c.name, batch.c.number, batch.c.closed)
    .where(batch.c.kitchen_id == bindparam("of_kitchen"), batch.c.undone_by.is_(None))
    .order_by(batch.c.number)
)
_MOVE_BATCH = update(batch).where(batch.c.id == bindparam("of_batch"))
_SET_COUNTER = update(kitchen).where(kitchen.c.id == bindparam("of_kitchen"))
_TARES = select(tare.c.name, tare.c.grams).where(
    tare.c.id.in_(
        select(func.max(tare.c.id))
        .where(tare.c.kitchen_id == bindparam("of_kitchen"), tare.c.undone_by.is_(None))
        .group_by(tare.c.name)
    )
)
_MOVE_TARE = update(tare).where(tare.c.kitchen_id == bindparam("of_kitchen"), tare.c.name == bindparam("of_name"))
_JOINED = select(func.max(invite.c.used_at, type_=invite.c.used_at.type)).where(
    invite.c.used_by == bindparam("of_person"),
    invite.c.purpose == KITCHEN,
    # Answered, not only shown.
    invite.c.expires_at == invite.c.used_at,
)
_ROOM = select(room.c.channel, room.c.place).where(room.c.kitchen_id == bindparam("of_kitchen")).limit(1)
_WHOSE = select(room.c.kitchen_id).where(
    room.c.channel == bindparam("of_channel"), room.c.place == bindparam("of_place")
)
_CLOSE_ROOM = delete(room).where(room.c.kitchen_id == bindparam("of_kitchen"))
_REMOVE_ROOM = delete(room).where(room.c.channel == bindparam("of_channel"), room.c.place == bindparam("of_place"))
_MOVE_ROOM = update(room).where(room.c.channel == bindparam("of_channel"), room.c.place == bindparam("of_place"))


def members(conn: Connection, kitchen_id: int) -> list[Member]:
    """The people of a kitchen."""
    return [Member(*row) for row in conn.execute(_MEMBERS, {"of_kitchen": kitchen_id})]


def others(books: Books) -> list[Member]:
    """Those who share the person's kitchen with them."""
    return [member for member in members(books.conn, books.person.kitchen_id) if member.id != books.person.id]


def is_bare(books: Books) -> bool:
    """Whether the person's kitchen has neither a batch, also a closed one, nor a vessel."""
    here = {"of_kitchen": books.person.kitchen_id}
    return books.conn.execute(_BATCHES, here).first() is None and books.conn.execute(_TARES, here).first() is None


def join(books: Books, kitchen_id: int) -> tuple[list[Brought], dict[str, str]]:
    """Moves the person into a kitchen.

    Who was alone in their own brings its batches along, under the next numbers there, and its vessels. Returns the
    batches, and the vessels that go by a new name there, old name to new: another one there has theirs.
    """
    conn, left = books.conn, books.person.kitchen_id
    counted: int = conn.execute(_HOLD, {"of_kitchen": kitchen_id}).scalar_one()
    brings = not others(books)
    conn.execute(_MOVE_PERSON, {"of_person": books.person.id, "kitchen_id": kitchen_id})
    if not brings:
        return [], {}
    brought = []
    for new, (row, name, old, closed) in enumerate(conn.execute(_BATCHES, {"of_kitchen": left}).all(), counted + 1):
        conn.execute(_MOVE_BATCH, {"of_batch": row, "kitchen_id": kitchen_id, "number": new})
        brought.append(Brought(name, old, new, closed))
    conn.execute(_SET_COUNTER, {"of_kitchen": kitchen_id, "batches": counted + len(brought)})
    conn.execute(_CLOSE_ROOM, {"of_kitchen": left})
    return brought, _bring_tares(conn, left, kitchen_id)


def _bring_tares(conn: Connection, left: int, kitchen_id: int) -> dict[str, str]:
    there = {row[0]: row[1] for row in conn.execute(_TARES, {"of_kitchen": kitchen_id})}
    renamed = {}
    for name, grams in conn.execute(_TARES, {"of_kitchen": left}).all():
        if there.get(name) == grams:
            continue
        new = _free_name(name, there)
        conn.execute(_MOVE_TARE, {"of_kitchen": left, "of_name": name, "kitchen_id": kitchen_id, "name": new})
        there[new] = grams
        if new != name:
            renamed[name] = new
    return renamed


def _free_name(name: str, taken: dict[str, float]) -> str:
    if name not in taken:
        return name
    which = 2
    while (found := f"other {name}" if which == 2 else f"other {name} {which}") in taken:
        which += 1
    return found


def leave(books: Books) -> None:
    """Moves the person into a new kitchen of their own, whose batches are numbered on from the old one's.

    So no number that the person knows from there ever comes to mean another batch.
    """
    conn = books.conn
    counted = conn.execute(_HOLD, {"of_kitchen": books.person.kitchen_id}).scalar_one()
    own = conn.execute(_NEW, {"batches": counted}).scalar_one()
    conn.execute(_MOVE_PERSON, {"of_person": books.person.id, "kitchen_id": own})


def joined_at(books: Books) -> datetime | None:
    """When the person last came into a kitchen by an invitation, or None."""
    moment: datetime | None = books.conn.execute(_JOINED, {"of_person": books.person.id}).scalar()
    return moment


def room_of(conn: Connection, kitchen_id: int) -> tuple[str, str] | None:
    """(channel, place) of the group that is the kitchen's room, or None."""
    row = conn.execute(_ROOM, {"of_kitchen": kitchen_id}).one_or_none()
    return None if row is None else (row[0], row[1])


def kitchen_of_room(conn: Connection, channel: str, place: str) -> int | None:
    """The kitchen whose room that group is, or None."""
    return conn.execute(_WHOSE, {"of_channel": channel, "of_place": place}).scalar()


def open_room(books: Books, channel: str, place: str) -> None:
    """Links a group that is not linked yet to the person's kitchen as its room, in place of any other."""
    books.conn.execute(_CLOSE_ROOM, {"of_kitchen": books.person.kitchen_id})
    values = {"channel": channel, "place": place, "kitchen_id": books.person.kitchen_id}
    books.conn.execute(insert(room), values)


def close_room(books: Books) -> bool:
    """Removes the kitchen's room; False when it had none."""
    return books.conn.execute(_CLOSE_ROOM, {"of_kitchen": books.person.kitchen_id}).rowcount > 0


def remove_room(conn: Connection, channel: str, place: str) -> None:
    """Removes a room to which nothing can be sent any more."""
    conn.execute(_REMOVE_ROOM, {"of_channel": channel, "of_place": place})


def move_room(conn: Connection, channel: str, place: str, new_place: str) -> None:
    """Records that a group has another place in its channel now."""
    if kitchen_of_room(conn, channel, new_place) is None:
        conn.execute(_MOVE_ROOM, {"of_channel": channel, "of_place": place, "place": new_place})
