"""Updates as a server delivered them: committed before they are confirmed, read afterwards."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import Connection, bindparam, delete, or_, select, update

from bot.kinds import UpdateState
from bot.store.columns import is_just
from bot.store.schema import arrival as update_table
from bot.store.statements import Prepared, insert_or_ignore

KEEP_READ = timedelta(days=2)
"""How long the key of an update is kept. A server that restarts its numbering does so after a longer pause than this
(a week, core.telegram.org/bots/api#update), so that a new update is never taken for an old one."""

KEEP_UNREADABLE = timedelta(days=30)
"""How long an unreadable update is kept for an operator to look at."""


@dataclass(frozen=True, slots=True)
class StoredUpdate:
    """One update as it came, and when (UTC)."""

    id: int
    update_key: str
    body: str
    came_at: datetime


_STORE = Prepared(insert_or_ignore(update_table))
# Locked: another process that reads at the same time waits for these rows, which keeps the order.
_NEXT = Prepared(
    select(update_table.c.id, update_table.c.update_key, update_table.c.body, update_table.c.came_at)
    .where(update_table.c.channel == bindparam("of_channel"), is_just(update_table.c.state, UpdateState.WAITING.value))
    .order_by(update_table.c.id)
    .limit(bindparam("at_most"))
    .with_for_update()
)
_SET = update(update_table).where(
    update_table.c.id == bindparam("of_id"), is_just(update_table.c.state, UpdateState.WAITING.value)
)
_READ = Prepared(_SET.values(state=UpdateState.READ.value, body=""))
_UNREADABLE = _SET.values(state=UpdateState.UNREADABLE.value, error=bindparam("what")).returning(update_table.c.id)
_FORGET = delete(update_table).where(
    or_(
        (update_table.c.state == UpdateState.READ.value) & (update_table.c.came_at < bindparam("read_before")),
        (update_table.c.state == UpdateState.UNREADABLE.value)
        & (update_table.c.came_at < bindparam("unreadable_before")),
    )
)


def store(conn: Connection, channel: str, updates: Sequence[tuple[str, str]], came_at: datetime) -> int:
    """Stores updates, each a key and a body. Returns how many are new; the others were stored before."""
    each = {"channel": channel, "came_at": came_at, "state": UpdateState.WAITING.value}
    rows = [each | {"update_key": update_key, "body": body} for update_key, body in updates]
    return _STORE.each(conn, rows)


def next_waiting(conn: Connection, channel: str, limit: int = 1) -> list[StoredUpdate]:
    """The next updates to read, in the order of arrival, for this transaction alone."""
    return [StoredUpdate(*row) for row in _NEXT.all(conn, {"of_channel": channel, "at_most": limit})]


def read(conn: Connection, stored: Sequence[StoredUpdate]) -> None:
    """Marks updates as read and drops their content."""
    _READ.each(conn, [{"of_id": each.id} for each in stored])


def unreadable(conn: Connection, update_id: int, error: str) -> bool:
    """Sets an update aside with its content; False when it was no longer waiting."""
    return conn.execute(_UNREADABLE, {"of_id": update_id, "what": error}).scalar() is not None


def forget(conn: Connection, now: datetime) -> None:
    """Deletes the rows whose retention period is over."""
    conn.execute(_FORGET, {"read_before": now - KEEP_READ, "unreadable_before": now - KEEP_UNREADABLE})
