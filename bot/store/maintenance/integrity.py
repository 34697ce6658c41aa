"""Checks a database for states that cannot occur if everything went as it should."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from sqlalchemy import Connection, Select, and_, case, exists, func, or_, select

from bot.kinds import VersionKind
from bot.store import schema
from bot.store.schema import NUTRIENTS, metadata

UNHANDLED_AFTER = timedelta(minutes=10)
"""A message that waits longer than this is stuck."""
UNSENT_AFTER = timedelta(days=2)
"""Sending is tried for two days."""
SET_ASIDE_FOR = timedelta(days=30)
"""For so long a message that was set aside is reported."""

_weigh_in, _batch, _event = schema.weigh_in, schema.batch, schema.batch_event


@dataclass(frozen=True, slots=True)
class Problem:
    """A problem: its kind, what it is, and in how many rows."""

    kind: str
    what: str
    count: int


def problems(conn: Connection, now: datetime) -> list[Problem]:
    """Everything that is wrong, in the database's file, its references, its chains and sums, its queues."""
    checks = (_file, _orphans, _chains, _sums, _batches, _queues)
    return [problem for check in checks for problem in check(conn, now) if problem.count]


def counts(conn: Connection) -> dict[str, int]:
    """How many rows each table has."""
    tables = metadata.sorted_tables
    return {table.name: conn.execute(select(func.count()).select_from(table)).scalar_one() for table in tables}


def _file(conn: Connection, _now: datetime) -> Iterator[Problem]:
    if conn.dialect.name != "sqlite":
        return
    said = [row[0] for row in conn.exec_driver_sql("PRAGMA integrity_check") if row[0] != "ok"]
    yield Problem("file", f"SQLite finds the file damaged: {'; '.join(said)[:200]}", len(said))
    broken = conn.exec_driver_sql("PRAGMA foreign_key_check").all()
    yield Problem("file", "SQLite finds references to rows that are not there", len(broken))


def _orphans(conn: Connection, _now: datetime) -> Iterator[Problem]:
    for table in metadata.sorted_tables:
        for key in table.foreign_keys:
            target = key.column.table.alias()
            there = exists().where(target.c[key.column.name] == key.parent)
            lost = select(func.count()).select_from(table).where(key.parent.is_not(None), ~there)
            yield Problem(
                "orphan", f"{key.parent} leads to no {key.column.table.name}", conn.execute(lost).scalar_one()
            )


def _chains(conn: Connection, _now: datetime) -> Iterator[Problem]:
    before = _weigh_in.alias("before")
    replaced = before.c.id == _weigh_in.c.replaces
    strange = or_(before.c.person_id != _weigh_in.c.person_id, before.c.number != _weigh_in.c.number)
    yield _count(conn, "chain", "a version replaces one of another weigh-in", replaced, strange)
    yield _count(conn, "chain", "a version replaces a later one", _weigh_in.c.replaces >= _weigh_in.c.id)
    after = _weigh_in.alias("after")
    heads = (
        select(_weigh_in.c.person_id)
        .where(~exists().where(after.c.replaces == _weigh_in.c.id))
        .group_by(_weigh_in.c.person_id, _weigh_in.c.number)
        .having(func.count() > 1)
        .subquery()
    )
    torn = conn.execute(select(func.count()).select_from(heads)).scalar_one()
    yield Problem("chain", "a weigh-in stands in several versions at once", torn)


def _count(conn: Connection, kind: str, what: str, *where: Any) -> Problem:
    return Problem(kind, what, conn.execute(select(func.count(_weigh_in.c.id)).where(*where)).scalar_one())


def _sums(conn: Connection, _now: datetime) -> Iterator[Problem]:
    columns = [_weigh_in.c[name] for name in NUTRIENTS]
    grams = (_weigh_in.c.as_weighed_g, _weigh_in.c.edible_g, _weigh_in.c.basis_g)
    yield _count(conn, "amount", "a weight is zero or less", or_(*(column <= 0 for column in grams)))
    yield _count(conn, "amount", "a figure is less than nothing", or_(*(column < 0 for column in columns)))
    by_chain, by_query = _energy_by_chain(conn), _energy_by_query(conn)
    off = [key for key in by_chain | by_query if abs(by_chain.get(key, 0.0) - by_query.get(key, 0.0)) > 1e-6]
    yield Problem("sum", "a day's energy differs between its weigh-ins and its sum", len(off))


def _energy_by_chain(conn: Connection) -> dict[tuple[int, date], float]:
    """kcal of each person's days, from the last version of each weigh-in."""
    columns = (_weigh_in.c.person_id, _weigh_in.c.number, _weigh_in.c.kind, _weigh_in.c.day, _weigh_in.c.kcal)
    newest = {(row[0], row[1]): row for row in conn.execute(select(*columns).order_by(_weigh_in.c.id))}
    found: defaultdict[tuple[int, date], float] = defaultdict(float)
    for person_id, _, kind, day, kcal in newest.values():
        if kind != VersionKind.REMOVED.value:
            found[person_id, day] += kcal or 0.0
    return found


def _energy_by_query(conn: Connection) -> dict[tuple[int, date], float]:
    """The same as the day sheet adds it up."""
    later = _weigh_in.alias("later")
    current: Select[int, date, float] = (
        select(_weigh_in.c.person_id, _weigh_in.c.day, func.coalesce(func.sum(_weigh_in.c.kcal), 0.0))
        .where(_weigh_in.c.kind != VersionKind.REMOVED.value, ~exists().where(later.c.replaces == _weigh_in.c.id))
        .group_by(_weigh_in.c.person_id, _weigh_in.c.day)
    )
    return {(person_id, day): kcal for person_id, day, kcal in conn.execute(current)}


def _batches(conn: Connection, _now: datetime) -> Iterator[Problem]:
    newest = (
        select(_event.c.kind)
        .where(
            _event.c.batch_id == _batch.c.id,
            _event.c.kind.in_(("closed", "reopened")),
            _event.c.undone_by.is_(None),
        )
        .order_by(_event.c.id.desc())
        .limit(1)
        .scalar_subquery()
    )
    closed = case((newest == "closed", True), else_=False)
    wrong = select(func.count()).select_from(_batch).where(_batch.c.closed != closed)
    yield Problem("batch", "a batch is open or closed against what happened to it", conn.execute(wrong).scalar_one())
    kitchen = schema.kitchen
    beyond = select(func.count()).where(_batch.c.kitchen_id == kitchen.c.id, _batch.c.number > kitchen.c.batches)
    yield Problem("batch", "a batch has a number that may be given again", conn.execute(beyond).scalar_one())


def _queues(conn: Connection, now: datetime) -> Iterator[Problem]:
    inbound, outbox, update = schema.inbound, schema.outbox, schema.arrival
    stuck = and_(inbound.c.state == "waiting", inbound.c.said_at < now - UNHANDLED_AFTER)
    aside = and_(inbound.c.state == "set_aside", inbound.c.said_at > now - SET_ASIDE_FOR)
    unread = and_(update.c.state != "read", update.c.came_at < now - UNHANDLED_AFTER)
    unsent = and_(outbox.c.state.in_(("pending", "sending")), outbox.c.not_before < now - UNSENT_AFTER)
    for table, where, what in (
        (inbound, stuck, "a message waits to be handled"),
        (inbound, aside, "a message could not be handled and was set aside"),
        (update, unread, "an update was not or could not be read"),
        (outbox, unsent, "a text has not been sent for days"),
    ):
        yield Problem("queue", what, conn.execute(select(func.count()).select_from(table).where(where)).scalar_one())
