"""The program's safeguards, each with a way to take it out: a simulation that does not notice is not worth much."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Sequence
from datetime import datetime, timedelta
from itertools import count
from typing import Any

import pytest
from sqlalchemy import bindparam, func, select
from telegram.error import BadRequest

from bot.app import Tarebook
from bot.channels.telegram import client, intake, leadership, sending, serving
from bot.store import coaching, schedules
from bot.store.columns import is_just
from bot.store.delivery import inbox, lease, outbox, updates
from bot.store.engine import Connection
from bot.store.schema import inbound
from bot.store.statements import Prepared

from .clock import HOST
from .database import die

Alter = Callable[[pytest.MonkeyPatch], None]


def _unique_updates(patch: pytest.MonkeyPatch) -> None:
    key, numbers = intake._key, count()
    patch.setattr(intake, "_key", lambda bot_id, body: f"{key(bot_id, body)}~{next(numbers)}")


def _unique_messages(patch: pytest.MonkeyPatch) -> None:
    values, numbers = inbox._values, count()
    patch.setattr(
        inbox, "_values", lambda new: values(new) | {"update_key": f"{values(new)['update_key']}~{next(numbers)}"}
    )


def _store_before_confirming(patch: pytest.MonkeyPatch) -> None:
    keep = serving.Service._keep
    tasks = set()

    async def at_leisure(service: serving.Service, bodies: Sequence[str], stop: asyncio.Event) -> None:
        tasks.add(asyncio.get_running_loop().create_task(keep(service, bodies, stop)))

    patch.setattr(serving.Service, "_keep", at_leisure)


def _one_transaction(patch: pytest.MonkeyPatch) -> None:
    done = inbox.done

    def later(conn: Connection, *row_ids: int) -> None:
        connection: Any = conn.connection.driver_connection
        if row_ids:
            connection.execute("COMMIT")
            machine: Any = HOST.get()
            if machine is not None and machine.faults.strikes("killed before commit"):
                die(machine)
            connection.execute("BEGIN IMMEDIATE")
        done(conn, *row_ids)

    patch.setattr(inbox, "done", later)


def _order_by_person(patch: pytest.MonkeyPatch) -> None:
    newest = (
        select(func.max(inbound.c.id))
        .where(is_just(inbound.c.state, "waiting"), inbound.c.channel == bindparam("of_channel"))
        .group_by(inbound.c.person_key)
        .limit(bindparam("at_most"))
    )
    patch.setattr(inbox, "_NEXT", Prepared(inbox._ROW.where(inbound.c.id.in_(newest))))
    patch.setattr(inbox, "_CLAIM", Prepared(inbox._GET.where(is_just(inbound.c.state, "waiting"))))


def _lease(patch: pytest.MonkeyPatch) -> None:
    for name in ("take", "renew", "holds"):
        patch.setattr(lease, name, lambda *_, **__: True)


def _outbox_mark(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(outbox, "sending", lambda _conn, row_ids: set(row_ids))


def _again_after_crash(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(sending, "AGAIN_AFTER_CRASH", frozenset())


def _reminder_not_again(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(sending, "AGAIN_AFTER_CRASH", sending.AGAIN_AFTER_CRASH | {"reminder"})


def _once_a_day(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(schedules, "note", lambda *_: None)
    patch.setattr(schedules, "dealt_with", lambda *_: frozenset())


def _waiting_when_told(patch: pytest.MonkeyPatch) -> None:
    failed = outbox.failed

    def at_once(conn: Connection, row_id: int, tries: int, error: str, not_before: datetime) -> None:
        failed(conn, row_id, tries, error, not_before - timedelta(hours=1))

    patch.setattr(outbox, "failed", at_once)


def _unreadable_answers(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(client, "UnreadableAnswer", BadRequest)


def _unreadable_updates(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(updates, "unreadable", lambda *_: False)


def _clock_set_back(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(leadership.Leadership, "_unrenewed", lambda *_: False)


def _longest_wait(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(outbox, "LONGEST_WAIT", timedelta(days=1000))


def _consent(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(coaching, "end", lambda *_: None)


def _retry_of_handling(patch: pytest.MonkeyPatch) -> None:
    handle = Tarebook.handle

    def once(tarebook: Tarebook, take: Any, *how: Any, **more: Any) -> Any:
        def losing(conn: Connection) -> Any:
            taken = take(conn)
            inbox.done(conn, *(row.id for row in taken.rows))
            return taken

        with tarebook.transaction() as conn:
            taken = losing(conn)
        return handle(tarebook, lambda _conn: taken, *how, **more)

    patch.setattr(Tarebook, "handle", once)


SAFEGUARDS: dict[str, Alter] = {
    "an update is stored once": _unique_updates,
    "a message is handled once": _unique_messages,
    "an update is stored before it is confirmed": _store_before_confirming,
    "records and 'done' commit together": _one_transaction,
    "a row is done only when it is handled": _retry_of_handling,
    "a person's messages are handled in order": _order_by_person,
    "one process holds the lease": _lease,
    "a row is marked before it is sent": _outbox_mark,
    "an interrupted reply is sent again": _again_after_crash,
    "an interrupted reminder is not": _reminder_not_again,
    "a notification comes once a day": _once_a_day,
    "the server's wish for silence is kept": _waiting_when_told,
    "an unreadable answer is no refusal": _unreadable_answers,
    "an unreadable update is set aside": _unreadable_updates,
    "a lease expires although the clock was set back": _clock_set_back,
    "a wait ends although the clock was set back": _longest_wait,
    "consent ends": _consent,
}
"""Each by what it promises."""
