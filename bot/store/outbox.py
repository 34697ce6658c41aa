"""What goes out: a row first, sent afterwards, so that a crash between the two loses nothing."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Select, bindparam, insert, or_, select, update

from bot.store.schema import outbox


@dataclass(frozen=True, slots=True)
class Outgoing:
    """One text for one person. `state` is `pending`, `sending`, `sent` or `dead`."""

    id: int
    person_id: int
    inbound_id: int | None
    kind: str
    text: str
    choices: tuple[str, ...]
    question_ref: str | None
    state: str
    tries: int
    not_before: datetime | None
    remote_ref: str | None


_OUTGOING = select(
    outbox.c.id,
    outbox.c.person_id,
    outbox.c.inbound_id,
    outbox.c.kind,
    outbox.c.text,
    outbox.c.choices,
    outbox.c.question_ref,
    outbox.c.state,
    outbox.c.tries,
    outbox.c.not_before,
    outbox.c.remote_ref,
).order_by(outbox.c.id)
_PUT = insert(outbox).returning(outbox.c.id)
_PENDING = _OUTGOING.where(outbox.c.state == "pending").limit(bindparam("at_most"))
_DUE = _PENDING.where(or_(outbox.c.not_before.is_(None), outbox.c.not_before <= bindparam("now")))
_INTERRUPTED = _OUTGOING.where(outbox.c.state == "sending")
_OF_MESSAGE = _OUTGOING.where(outbox.c.inbound_id == bindparam("of_inbound"))
_SET = update(outbox).where(outbox.c.id == bindparam("of_id"))
_SENDING = _SET.values(state="sending", tries=outbox.c.tries + 1)


def put(
    conn: Connection,
    person_id: int,
    inbound_id: int | None,
    text: str,
    choices: Sequence[str],
    question_ref: str | None,
    kind: str = "reply",
) -> int:
    """The id of the new row, which is pending."""
    row = {
        "person_id": person_id,
        "inbound_id": inbound_id,
        "kind": kind,
        "text": text,
        "choices": json.dumps(list(choices)),
        "question_ref": question_ref,
        "state": "pending",
        "tries": 0,
    }
    outgoing_id: int = conn.execute(_PUT, row).scalar_one()
    return outgoing_id


def pending(conn: Connection, limit: int, now: datetime | None = None) -> list[Outgoing]:
    """What is to be sent, in the order it was put; with `now`, without what has to wait longer."""
    if now is None:
        return _rows(conn, _PENDING, {"at_most": limit})
    return _rows(conn, _DUE, {"at_most": limit, "now": now})


def interrupted(conn: Connection) -> list[Outgoing]:
    """What was being sent when the program stopped: it may or may not have arrived."""
    return _rows(conn, _INTERRUPTED, {})


def of_message(conn: Connection, inbound_id: int) -> list[Outgoing]:
    """What one message caused to be sent, in order, in whatever state."""
    return _rows(conn, _OF_MESSAGE, {"of_inbound": inbound_id})


def sending(conn: Connection, outgoing_id: int) -> None:
    """Notes that sending begins; counts as a try."""
    conn.execute(_SENDING, {"of_id": outgoing_id})


def sent(conn: Connection, outgoing_id: int, at: datetime, remote_ref: str | None = None) -> None:
    """Notes when it was sent, and what the channel calls it."""
    conn.execute(_SET, {"of_id": outgoing_id, "state": "sent", "sent_at": at, "remote_ref": remote_ref})


def failed(conn: Connection, outgoing_id: int, error: str, not_before: datetime) -> None:
    """Puts it back, to be tried again from `not_before` on."""
    conn.execute(_SET, {"of_id": outgoing_id, "state": "pending", "error": error, "not_before": not_before})


def dead(conn: Connection, outgoing_id: int, error: str) -> None:
    """Gives it up for good."""
    conn.execute(_SET, {"of_id": outgoing_id, "state": "dead", "error": error})


def _rows(conn: Connection, statement: Select[*tuple[Any, ...]], values: dict[str, object]) -> list[Outgoing]:
    return [_from_row(row) for row in conn.execute(statement, values)]


def _from_row(row: Sequence[Any]) -> Outgoing:
    outgoing_id, person_id, inbound_id, kind, text, choices, question_ref, state, tries, not_before, remote_ref = row
    return Outgoing(
        id=outgoing_id,
        person_id=person_id,
        inbound_id=inbound_id,
        kind=kind,
        text=text,
        choices=tuple(json.loads(choices)),
        question_ref=question_ref,
        state=state,
        tries=tries,
        not_before=not_before,
        remote_ref=remote_ref,
    )
