"""What channels delivered, exactly as it came: stored before it is confirmed, read afterwards."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import Connection, bindparam, delete, or_, select, update

from bot.store.columns import is_just
from bot.store.prepared import Prepared
from bot.store.schema import arrival
from bot.store.unique import insert_all_new

KEEP_READ = timedelta(days=2)
"""How long it is remembered that an update came. A server that numbers its updates anew does so after a longer pause
than this (a week, core.telegram.org/bots/api#update), so that a new one is never taken for an old one."""

KEEP_UNREADABLE = timedelta(days=30)
"""How long what could not be read is kept for a person to look at."""


@dataclass(frozen=True, slots=True)
class Arrival:
    """One update as it came, and when (UTC)."""

    id: int
    update_key: str
    body: str
    came_at: datetime


_STORE = Prepared(insert_all_new(arrival))
# Whoever reads at the same time waits for these rows, and so comes after them: what is read keeps its order.
_NEXT = Prepared(
    select(arrival.c.id, arrival.c.update_key, arrival.c.body, arrival.c.came_at)
    .where(arrival.c.channel == bindparam("of_channel"), is_just(arrival.c.state, "waiting"))
    .order_by(arrival.c.id)
    .limit(bindparam("at_most"))
    .with_for_update()
)
_SET = update(arrival).where(arrival.c.id == bindparam("of_id"), is_just(arrival.c.state, "waiting"))
_READ = Prepared(_SET.values(state="read", body=""))
_UNREADABLE = _SET.values(state="unreadable", error=bindparam("what")).returning(arrival.c.id)
_FORGET = delete(arrival).where(
    or_(
        (arrival.c.state == "read") & (arrival.c.came_at < bindparam("read_before")),
        (arrival.c.state == "unreadable") & (arrival.c.came_at < bindparam("unreadable_before")),
    )
)


def store(conn: Connection, channel: str, updates: Sequence[tuple[str, str]], came_at: datetime) -> int:
    """Stores updates, each a key and a body. Returns how many are new; the others came before."""
    each = {"channel": channel, "came_at": came_at, "state": "waiting"}
    rows = [each | {"update_key": update_key, "body": body} for update_key, body in updates]
    return _STORE.each(conn, rows)


def next_waiting(conn: Connection, channel: str, limit: int = 1) -> list[Arrival]:
    """What is to be read next, in the order it came, for this transaction alone."""
    return [Arrival(*row) for row in _NEXT.all(conn, {"of_channel": channel, "at_most": limit})]


def read(conn: Connection, arrivals: Sequence[Arrival]) -> None:
    """Notes that they are read, and drops their content."""
    _READ.each(conn, [{"of_id": each.id} for each in arrivals])


def unreadable(conn: Connection, arrival_id: int, error: str) -> bool:
    """Sets it aside with its content; False when it was not waiting any more."""
    return conn.execute(_UNREADABLE, {"of_id": arrival_id, "what": error}).scalar() is not None


def forget(conn: Connection, now: datetime) -> None:
    """Deletes the rows whose time is over."""
    conn.execute(_FORGET, {"read_before": now - KEEP_READ, "unreadable_before": now - KEEP_UNREADABLE})
