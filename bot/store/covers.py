"""Requests that a colleague covers a coach's clients, until the client has answered; and what a cover leaves."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from sqlalchemy import Connection, bindparam, delete, exists, insert, select, update

from bot.store.books import Books
from bot.store.coaching import stands
from bot.store.schema import coaching, cover_request, remark


@dataclass(frozen=True, slots=True)
class CoverRequest:
    """One client who is to be covered by a colleague, None as long as nobody has taken the invitation."""

    id: int
    invite_id: int
    coach_id: int
    client_id: int
    colleague_id: int | None
    last_day: date


_FIELDS = select(
    cover_request.c.id,
    cover_request.c.invite_id,
    cover_request.c.coach_id,
    cover_request.c.client_id,
    cover_request.c.colleague_id,
    cover_request.c.last_day,
)
_OF_INVITE = _FIELDS.where(cover_request.c.invite_id == bindparam("of_invite")).order_by(cover_request.c.id)
_ONE = _FIELDS.where(cover_request.c.id == bindparam("of_id"), cover_request.c.client_id == bindparam("of_person"))
_ADD = insert(cover_request)
_TAKE = (
    update(cover_request)
    .where(cover_request.c.invite_id == bindparam("of_invite"))
    .values(colleague_id=bindparam("colleague"))
)
_DROP = delete(cover_request).where(cover_request.c.id == bindparam("of_id"))
_DROP_OF_COACH = delete(cover_request).where(cover_request.c.coach_id == bindparam("of_coach"))
_OUTDATED = delete(cover_request).where(cover_request.c.last_day < bindparam("day"))
_OF_NOBODY = delete(remark).where(
    ~exists().where(
        coaching.c.coach_id == remark.c.coach_id,
        coaching.c.client_id == remark.c.client_id,
        stands(bindparam("now")),
    )
)


def ask(books: Books, invite_id: int, client_ids: Iterable[int], last_day: date) -> None:
    """Stores which clients the person, a coach, wants covered by the colleague who accepts the invitation."""
    row = {"invite_id": invite_id, "coach_id": books.person.id, "last_day": last_day}
    books.conn.execute(_ADD, [row | {"client_id": client_id} for client_id in client_ids])


def of_invite(books: Books, invite_id: int) -> list[CoverRequest]:
    """The requests that belong to an invitation."""
    return [CoverRequest(*row) for row in books.conn.execute(_OF_INVITE, {"of_invite": invite_id})]


def take(books: Books, invite_id: int) -> None:
    """The person is the colleague who has taken the invitation."""
    books.conn.execute(_TAKE, {"of_invite": invite_id, "colleague": books.person.id})


def of_client(books: Books, request_id: int) -> CoverRequest | None:
    """A request about the person; None when it is about somebody else or settled."""
    row = books.conn.execute(_ONE, {"of_id": request_id, "of_person": books.person.id}).one_or_none()
    return None if row is None else CoverRequest(*row)


def drop(books: Books, request_id: int) -> None:
    """Removes a request that is settled."""
    books.conn.execute(_DROP, {"of_id": request_id})


def withdraw(books: Books) -> None:
    """Removes all requests of the person, a coach."""
    books.conn.execute(_DROP_OF_COACH, {"of_coach": books.person.id})


def forget(conn: Connection, now: datetime) -> None:
    """Removes requests whose last day is over, and what coaches keep about those who are not their clients any more."""
    conn.execute(_OUTDATED, {"day": now.date() - timedelta(days=1)})
    conn.execute(_OF_NOBODY, {"now": now})
