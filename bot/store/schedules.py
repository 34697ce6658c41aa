"""When each notification is due next, and what became of each day on which one was due."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import Connection, bindparam, func, insert, select, update

from bot.store.people import Person
from bot.store.schema import address, schedule, unasked
from bot.store.statements import upsert

SNOOZES = ("snooze 1", "snooze 2")
"""The kinds of a repeated reminder: with the reminder itself, the three notifications that a day may have."""
USUAL_TIMES = {
    "evening": "20:30",
    "week": "19:00",
    "good": "17:00",
    "cook": "11:00",
    "digest": "07:30",
    "usual": "07:30",
}
"""The local time of each reminder for which the person has named none."""


@dataclass(frozen=True, slots=True)
class Scheduled:
    """One kind of notification to one person: HH:MM local, weekdays as digits, and when it is due next.

    `next_due` is in UTC, None when it is off; `next_date` is the day on the person's calendar that it is for.
    """

    id: int
    person_id: int
    kind: str
    time: str
    weekdays: str
    next_due: datetime | None
    next_date: date | None


@dataclass(frozen=True, slots=True)
class Due:
    """Something that is due, and where in the channel it goes; `blocked` when nothing can be delivered there."""

    scheduled: Scheduled
    place: str
    blocked: bool


_COLUMNS = (
    schedule.c.id,
    schedule.c.person_id,
    schedule.c.kind,
    schedule.c.time,
    schedule.c.weekdays,
    schedule.c.next_due,
    schedule.c.next_date,
)
_OF_PERSON = select(*_COLUMNS).where(schedule.c.person_id == bindparam("of_person"))
# An expression keeps SQLite from using the index on the channel: it would start from all addresses of the channel
# instead of the few rows that are due.
_HERE = (address.c.person_id == schedule.c.person_id) & (address.c.channel + "" == bindparam("of_channel"))
# SQLite has no row locks; its write transactions exclude each other as a whole.
_DUE = (
    select(*_COLUMNS, address.c.key, address.c.blocked_at.is_not(None))
    .join(address, _HERE)
    .where(schedule.c.next_due <= bindparam("now"))
    .order_by(schedule.c.next_due, schedule.c.id)
    .limit(bindparam("at_most"))
    .with_for_update(skip_locked=True, of=schedule)
)
_EARLIEST = (
    select(schedule.c.next_due)
    .join(address, _HERE)
    .where(schedule.c.next_due <= bindparam("now"))
    .order_by(schedule.c.next_due)
    .limit(1)
)
_SET = ("time", "weekdays", "next_due", "next_date")
_PUT = upsert(schedule, key=["person_id", "kind"], columns=_SET)
_ADVANCE = (
    update(schedule)
    .where(schedule.c.id == bindparam("of_id"))
    .values(next_due=bindparam("moment"), next_date=bindparam("day"))
)
_DEALT_WITH = select(unasked.c.schedule_id, unasked.c.local_date).where(
    unasked.c.schedule_id.in_(bindparam("ids", expanding=True)), unasked.c.local_date >= bindparam("since")
)
_NOTE = insert(unasked)
_LAST_DAYS = (
    select(schedule.c.kind, func.max(unasked.c.local_date))
    .join(unasked, unasked.c.schedule_id == schedule.c.id)
    .where(schedule.c.person_id == bindparam("of_person"))
    .group_by(schedule.c.kind)
)

_LAST_SENT = (
    select(unasked.c.at)
    .join(schedule, unasked.c.schedule_id == schedule.c.id)
    .where(
        schedule.c.person_id == bindparam("of_person"),
        schedule.c.kind == bindparam("of_kind"),
        unasked.c.state == "sent",
    )
    .order_by(unasked.c.local_date.desc())
    .limit(1)
)


def of_person(conn: Connection, person_id: int) -> dict[str, Scheduled]:
    """What is scheduled for a person, by kind."""
    return {row[2]: Scheduled(*row) for row in conn.execute(_OF_PERSON, {"of_person": person_id})}


def put(
    conn: Connection, to: Person, kind: str, time: str, weekdays: str, next_due: datetime | None, next_date: date | None
) -> None:
    """Schedules one kind of notification to a person, and replaces what was scheduled of that kind."""
    values = {
        "person_id": to.id,
        "kind": kind,
        "time": time,
        "weekdays": weekdays,
        "next_due": next_due,
        "next_date": next_date,
    }
    conn.execute(_PUT[conn.dialect.name], values)


def due(conn: Connection, channel: str, now: datetime, at_most: int) -> list[Due]:
    """What is due for the people of a channel, the longest overdue first; locked until the transaction ends."""
    rows = conn.execute(_DUE, {"of_channel": channel, "now": now, "at_most": at_most})
    return [Due(Scheduled(*row[:-2]), row[-2], row[-1]) for row in rows]


def earliest(conn: Connection, channel: str, upto: datetime) -> datetime | None:
    """The moment of what is due first in a channel, at the latest at `upto`; None when nothing is."""
    moment: datetime | None = conn.execute(_EARLIEST, {"of_channel": channel, "now": upto}).scalar()
    return moment


def advance(conn: Connection, moves: Sequence[tuple[int, datetime | None, date | None]]) -> None:
    """Sets when each is due next: (id, moment, day)."""
    values = [{"of_id": of_id, "moment": moment, "day": day} for of_id, moment, day in moves]
    conn.execute(_ADVANCE, values)


def dealt_with(conn: Connection, scheduled: Sequence[Scheduled]) -> frozenset[tuple[int, date]]:
    """(id, day) of the days that have been dealt with, from the earliest on which one of these is due."""
    since = min(each.next_date for each in scheduled if each.next_date is not None)
    rows = conn.execute(_DEALT_WITH, {"ids": [each.id for each in scheduled], "since": since})
    return frozenset((schedule_id, day) for schedule_id, day in rows)


def note(conn: Connection, days: Sequence[tuple[Scheduled, date, str]], at: datetime) -> None:
    """Records what became of days; IntegrityError when one of them has been dealt with before."""
    if days:
        conn.execute(
            _NOTE,
            [
                {"schedule_id": of.id, "person_id": of.person_id, "local_date": day, "state": state, "at": at}
                for of, day, state in days
            ],
        )


def last_sent(conn: Connection, person_id: int, kind: str) -> datetime | None:
    """When a notification of that kind was last sent to the person; None when never."""
    moment: datetime | None = conn.execute(_LAST_SENT, {"of_person": person_id, "of_kind": kind}).scalar()
    return moment


def last_days(conn: Connection, person_id: int) -> dict[str, date]:
    """The last day that has been dealt with, by kind."""
    return {row[0]: row[1] for row in conn.execute(_LAST_DAYS, {"of_person": person_id})}
