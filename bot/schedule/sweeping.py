"""Sweeps the schedule: a notification, the record that its day is done and the next due moment commit together.

Each slice of what is due is one short transaction, so that nobody's message waits long for it. Two processes on one
database never both send, because the record's key allows one row for each day. What is more than two hours late is not
sent any more.
"""

from __future__ import annotations

import logging
import time
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from datetime import time as clock_time
from typing import Final

from sqlalchemy import Connection
from sqlalchemy.exc import SQLAlchemyError

from bot.conversation.days import notifications
from bot.messages import Turn
from bot.schedule.arranging import following
from bot.schedule.times import Occurrence, latest, within
from bot.store import schedules
from bot.store.books import Books
from bot.store.delivery import outbox
from bot.store.engine import Store
from bot.store.people import Person
from bot.store.reminder_context import ReminderContext, reminder_contexts
from bot.store.schedules import SNOOZES
from bot.store.schedules import Due as DueRow

logger = logging.getLogger(__name__)

DAY: Final = timedelta(days=1)
LATE: Final = timedelta(hours=2)
MOST_A_DAY: Final = 3
NIGHT: Final = (clock_time(22), clock_time(7))
"""Nothing late is sent at night, only what a person has set for the night themselves."""
SLICE_S: Final = 0.004
"""Seconds of composing after which a transaction takes nothing more; a week's sheet takes some of them."""
AT_MOST: Final = 8
"""What one transaction takes. Half of it would slow the sweep more than it helps those who wait."""
PAUSE_S: Final = 0.002
"""The least number of seconds between two transactions, in which others get the database."""


@dataclass(frozen=True, slots=True)
class Due:
    """A notification that was put into the outbox, and for whom."""

    person: Person
    place: str
    turn: Turn


def sweep(store: Store, channel: str, now: datetime, *, shown: bool = False) -> list[Due]:
    """Sends what is due for the channel's people at `now` into the outbox, until nothing is; returns what that was.

    With `shown` the caller shows it itself, and it counts as sent.
    """
    return [sent for slice_ in slices(store, channel, now, shown=shown) for sent in slice_]


def slices(store: Store, channel: str, now: datetime, *, shown: bool = False) -> Iterator[list[Due]]:
    """The same a transaction at a time.

    Between two of them it sleeps as long as the last one took, so that others get the database.
    """
    while True:
        began = time.perf_counter()
        taken = take(store, channel, now, shown=shown)
        if taken is None:
            return
        time.sleep(max(PAUSE_S, time.perf_counter() - began))
        yield taken


def take(store: Store, channel: str, now: datetime, *, shown: bool = False) -> list[Due] | None:
    """One transaction's worth of what is due; None when nothing is."""
    with store.transaction() as conn:
        found = schedules.due(conn, channel, now, AT_MOST)
        if not found:
            return None
        since = now.date() - notifications.USUAL_DAYS - DAY
        seen = reminder_contexts(conn, [due.scheduled.person_id for due in found], since)
        came = schedules.dealt_with(conn, [due.scheduled for due in found])
        done: list[_Dealt] = []
        began = time.perf_counter()
        for due in found:
            done.append(_deal_with(conn, due, seen[due.scheduled.person_id], came, now))
            if time.perf_counter() - began > SLICE_S:
                break
        _write(conn, channel, done, now, shown)
        return [Due(dealt.person, dealt.due.place, dealt.turn) for dealt in done if dealt.turn is not None]


def next_due(store: Store, channel: str, upto: datetime) -> datetime | None:
    """When the next thing is due for the channel's people, at the latest at `upto`; None when nothing is by then."""
    with store.transaction() as conn:
        return schedules.earliest(conn, channel, upto)


@dataclass(frozen=True, slots=True)
class _Dealt:
    """What becomes of something that was due on a day: the notification if there is one, and when it is due next.

    `state` is None when the day has been dealt with before.
    """

    due: DueRow
    person: Person
    day: date
    state: str | None
    turn: Turn | None
    next: Occurrence | None


def _deal_with(
    conn: Connection, due: DueRow, context: ReminderContext, came: frozenset[tuple[int, date]], now: datetime
) -> _Dealt:
    books = Books(conn=conn, person=context.person, inbound_id=0, at=now)
    which = _which(due, context.person, now)
    before = (due.scheduled.id, which.day) in came
    state, turn = (None, None) if before else _judge(books, due, context, which)
    if state == "sent":
        # The next one in the same slice must count this one.
        context.sent[which.day] = context.sent.get(which.day, 0) + 1
    scheduled = due.scheduled
    coming = following(books, scheduled.kind, scheduled.time, scheduled.weekdays, which.day)
    return _Dealt(due, context.person, which.day, state, turn, coming)


def _write(conn: Connection, channel: str, done: list[_Dealt], now: datetime, shown: bool) -> None:
    """Writes what was decided. The unique key has the last word: a day that came twice rolls all of it back."""
    schedules.note(conn, [(d.due.scheduled, d.day, d.state) for d in done if d.state is not None], now)
    schedules.advance(
        conn,
        [(d.due.scheduled.id, d.next.moment if d.next else None, d.next.day if d.next else None) for d in done],
    )
    rows = []
    for dealt in done:
        if dealt.turn is None:
            continue
        reply = dealt.turn.replies[0]
        rows.append(
            outbox.ScheduledNotification(
                place=dealt.due.place,
                person_id=dealt.person.id,
                text=reply.text,
                choices=reply.choices,
                question_ref=reply.question_ref,
                picture=reply.picture,
                actions=tuple((action.words, action.does) for action in reply.actions),
            )
        )
    outbox.put_scheduled(conn, channel, rows, now if shown else None)


def _which(due: DueRow, person: Person, now: datetime) -> Occurrence:
    """The latest occurrence that is due: after an outage the earlier days are skipped."""
    scheduled = due.scheduled
    assert scheduled.next_due is not None
    assert scheduled.next_date is not None
    first = Occurrence(scheduled.next_date, scheduled.next_due)
    if scheduled.kind in (*SNOOZES, "good"):
        return first
    last = latest(now, clock_time.fromisoformat(scheduled.time), scheduled.weekdays, person.timezone)
    return first if last is None or last.day < first.day else last


def _judge(books: Books, due: DueRow, context: ReminderContext, which: Occurrence) -> tuple[str, Turn | None]:
    """(what becomes of it, the message if there is one)."""
    if due.blocked:
        return "unreachable", None
    if books.at - which.moment > LATE:
        return "late", None
    if _quiet(books, context, which):
        return "quiet", None
    if context.sent.get(which.day, 0) >= MOST_A_DAY:
        return "enough", None
    try:
        turn = notifications.reminder(due.scheduled.kind, books, context)
    except SQLAlchemyError:
        raise
    except Exception as error:
        # A failure in one person's records must not stop everybody else's notifications.
        logger.error("schedule %d: %s", due.scheduled.id, type(error).__name__)
        return "failed", None
    return ("unneeded", None) if turn is None else ("sent", turn)


def _quiet(books: Books, context: ReminderContext, which: Occurrence) -> bool:
    """Whether it would come in the person's quiet hours, or late at night."""
    clock = books.local.time()
    if context.quiet is not None and context.quiet != "off":
        first, _, last = context.quiet.partition("-")
        return within(clock, clock_time.fromisoformat(first), clock_time.fromisoformat(last))
    planned = which.moment.astimezone(books.person.timezone).time()
    return within(clock, *NIGHT) and not within(planned, *NIGHT)
