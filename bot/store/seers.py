"""Who sees something of a person's."""

from dataclasses import dataclass

from sqlalchemy import bindparam, func, select

from bot.store.books import Books
from bot.store.schema import coaching, person, room


@dataclass(frozen=True, slots=True)
class Seers:
    """The names of the coaches who see the records, of those who share the kitchen, and in how many groups it talks."""

    coaches: tuple[str, ...]
    kitchen: tuple[str, ...]
    rooms: int


_COACHES = (
    select(person.c.name)
    .join(coaching, coaching.c.coach_id == person.c.id)
    .where(coaching.c.client_id == bindparam("of_person"), coaching.c.ended_at.is_(None))
    .order_by(coaching.c.id)
)
_KITCHEN = (
    select(person.c.name)
    .where(person.c.kitchen_id == bindparam("of_kitchen"), person.c.id != bindparam("of_person"))
    .order_by(person.c.id)
)
_ROOMS = select(func.count()).where(room.c.kitchen_id == bindparam("of_kitchen"))


def seers(books: Books) -> Seers:
    """Who sees something of the person's at the moment."""
    values = {"of_person": books.person.id, "of_kitchen": books.person.kitchen_id}
    return Seers(
        coaches=tuple(books.conn.execute(_COACHES, values).scalars()),
        kitchen=tuple(books.conn.execute(_KITCHEN, values).scalars()),
        rooms=books.conn.execute(_ROOMS, values).scalar_one(),
    )
