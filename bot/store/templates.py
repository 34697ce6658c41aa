"""Templates: words that a coach sends again and again, by a name of their own. Read and written by that coach alone."""

from __future__ import annotations

from sqlalchemy import bindparam, delete, insert, select

from bot.store.books import Books
from bot.store.schema import template

_MINE = (
    select(template.c.name, template.c.text)
    .where(template.c.coach_id == bindparam("of_coach"))
    .order_by(template.c.name)
)
_DROP = delete(template).where(template.c.coach_id == bindparam("of_coach"), template.c.name == bindparam("of_name"))
_ADD = insert(template)


def mine(books: Books) -> dict[str, str]:
    """The person's templates by name, in the order of the names."""
    return {row.name: row.text for row in books.conn.execute(_MINE, {"of_coach": books.person.id})}


def save(books: Books, name: str, text: str) -> None:
    """Keeps a template; it takes the place of one with that name."""
    drop(books, name)
    books.conn.execute(_ADD, {"coach_id": books.person.id, "name": name, "text": text, "at": books.at})


def drop(books: Books, name: str) -> bool:
    """Removes a template; returns whether there was one."""
    return books.conn.execute(_DROP, {"of_coach": books.person.id, "of_name": name}).rowcount > 0
