"""What a coach keeps about clients for themselves: notes, a flag, groups. Read and written by that coach alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from sqlalchemy import bindparam, delete, insert, select

from bot.store.books import Books
from bot.store.schema import remark

Kind = Literal["note", "flag", "group"]


@dataclass(frozen=True, slots=True)
class Remark:
    """One remark about a client; the text of a group is its name."""

    client_id: int
    kind: Kind
    text: str
    at: datetime


_OF_COACH = (
    select(remark.c.client_id, remark.c.kind, remark.c.text, remark.c.at)
    .where(remark.c.coach_id == bindparam("of_coach"))
    .order_by(remark.c.id)
)
_ADD = insert(remark)
_DROP = delete(remark).where(
    remark.c.coach_id == bindparam("of_coach"),
    remark.c.client_id == bindparam("of_client"),
    remark.c.kind == bindparam("of_kind"),
)
_DROP_ONE = _DROP.where(remark.c.text == bindparam("of_text"))
_DROP_ALL = delete(remark).where(
    remark.c.coach_id == bindparam("of_coach"), remark.c.client_id == bindparam("of_client")
)


def mine(books: Books) -> Sequence[Remark]:
    """All remarks of the person's own, the oldest first."""
    return [Remark(*row) for row in books.conn.execute(_OF_COACH, {"of_coach": books.person.id})]


def add(books: Books, client_id: int, kind: Kind, text: str) -> None:
    """Keeps a remark about a client."""
    row = {"coach_id": books.person.id, "client_id": client_id, "kind": kind, "text": text, "at": books.at}
    books.conn.execute(_ADD, row)


def drop(books: Books, client_id: int, kind: Kind, text: str | None = None) -> int:
    """Removes the person's remarks of that kind about a client, or the one with that text; returns how many."""
    values: dict[str, object] = {"of_coach": books.person.id, "of_client": client_id, "of_kind": kind}
    if text is None:
        return books.conn.execute(_DROP, values).rowcount
    return books.conn.execute(_DROP_ONE, values | {"of_text": text}).rowcount


def drop_all(books: Books, coach_id: int, client_id: int) -> None:
    """Removes all that a coach keeps about a client, when the coaching of the two ends."""
    books.conn.execute(_DROP_ALL, {"of_coach": coach_id, "of_client": client_id})
