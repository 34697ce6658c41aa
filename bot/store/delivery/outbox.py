"""The outbox: what is to be sent is a row first and sent afterwards, so that a crash in between loses nothing."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import Connection, bindparam, case, delete, func, insert, or_, select, text, update

from bot.kinds import OutboxKind, OutboxState
from bot.store.schema import outbox
from bot.store.statements import Prepared

Actions = tuple[tuple[str, str], ...]
"""Buttons that ask nothing: what each says, and what it does in the conversation's own terms."""
LONGEST_WAIT = timedelta(hours=1)
"""For how long at most a row waits before it is tried again, whatever the server asks for."""


@dataclass(frozen=True, slots=True)
class OutboxRow:
    """One text for one place in a channel.

    `place` is where it goes: a person's key, or a group's; `person_id` whom it is for, None for somebody who is no
    person here. `about_ref` is the channel's reference of what it answers or alters.
    """

    id: int
    channel: str
    place: str
    person_id: int | None
    inbound_id: int | None
    kind: OutboxKind
    text: str
    choices: tuple[str, ...]
    question_ref: str | None
    about_ref: str | None
    state: OutboxState
    tries: int
    parts_sent: int
    not_before: datetime | None
    remote_ref: str | None
    picture: str | None
    document: str | None
    actions: Actions


@dataclass(frozen=True, slots=True)
class ScheduledNotification:
    """A notification that the schedule sends to a person at their place in the channel."""

    place: str
    person_id: int
    text: str
    choices: tuple[str, ...]
    question_ref: str | None
    picture: str | None
    actions: Actions = ()


_ROW = select(
    outbox.c.id,
    outbox.c.channel,
    outbox.c.place,
    outbox.c.person_id,
    outbox.c.inbound_id,
    outbox.c.kind,
    outbox.c.text,
    outbox.c.choices,
    outbox.c.question_ref,
    outbox.c.about_ref,
    outbox.c.state,
    outbox.c.tries,
    outbox.c.parts_sent,
    outbox.c.not_before,
    outbox.c.remote_ref,
    outbox.c.picture,
    outbox.c.document,
    outbox.c.actions,
).order_by(outbox.c.id)
_COLUMNS = _ROW.selected_columns.keys()
_PUT = Prepared(insert(outbox).returning(outbox.c.id))
_PUT_MANY = insert(outbox)
_PENDING = _ROW.where(outbox.c.state == OutboxState.PENDING.value)
_OF_CHANNEL = outbox.c.channel == bindparam("of_channel")
# As literals, so that both databases use the partial index on unsent rows.
_UNSENT = text("outbox.state IN ('pending', 'sending')")
_OLDEST = select(func.min(outbox.c.id)).where(_OF_CHANNEL, _UNSENT).group_by(outbox.c.channel, outbox.c.place)
_FRONT = _PENDING.where(
    outbox.c.id.in_(_OLDEST),
    or_(
        outbox.c.not_before.is_(None),
        outbox.c.not_before <= bindparam("now"),
        outbox.c.not_before > bindparam("beyond"),
    ),
).order_by(None)
_ANSWERS = or_(
    *(
        outbox.c.kind == kind.value
        for kind in (OutboxKind.REPLY, OutboxKind.TAP, OutboxKind.MARK, OutboxKind.REACT, OutboxKind.FAREWELL)
    )
)
_NEXT = Prepared(_FRONT.order_by(case((_ANSWERS, 0), else_=1), outbox.c.id).limit(bindparam("at_most")))
_AT_PLACE = Prepared(_PENDING.where(_OF_CHANNEL, _UNSENT, outbox.c.place == bindparam("of_place")))
_INTERRUPTED = Prepared(_ROW.where(_OF_CHANNEL, _UNSENT, outbox.c.state == OutboxState.SENDING.value))
_OF_MESSAGE = Prepared(_ROW.where(outbox.c.inbound_id == bindparam("of_inbound")))
_WITH_BUTTONS = Prepared(_ROW.where(outbox.c.person_id == bindparam("of_person"), text("outbox.buttons")))
_BY_REMOTE_REF = Prepared(_ROW.where(_OF_CHANNEL, outbox.c.remote_ref == bindparam("of_ref")).limit(1))
_COUNT = select(func.count()).select_from(outbox).where(_OF_CHANNEL, _UNSENT)
_SET = update(outbox).where(outbox.c.id == bindparam("of_id"))
_UNBUTTON = _SET.where(outbox.c.buttons.is_not(False)).returning(outbox.c.id)
# Another process may have taken it over meanwhile, and have sent it, or be sending it with a try of its own.
_SET_SENDING = _SET.where(outbox.c.state == OutboxState.SENDING.value, outbox.c.tries == bindparam("of_try"))
_SENDING = (
    update(outbox)
    .where(outbox.c.id.in_(bindparam("ids", expanding=True)), outbox.c.state == OutboxState.PENDING.value)
    .values(state=OutboxState.SENDING.value, tries=outbox.c.tries + 1)
    .returning(outbox.c.id)
)
_SENT = Prepared(_SET.values(state=OutboxState.SENT.value, sent_at=bindparam("at"), remote_ref=bindparam("ref")))
_FLEETING = (OutboxKind.FAREWELL, OutboxKind.TAP, OutboxKind.MARK, OutboxKind.DAY, OutboxKind.REACT)
"""The kinds of which nothing is kept once they are sent or given up."""
_FORGET = Prepared(
    delete(outbox).where(
        outbox.c.id == bindparam("of_id"),
        or_(*(outbox.c.kind == kind.value for kind in _FLEETING)),
        or_(outbox.c.state == OutboxState.SENT.value, outbox.c.state == OutboxState.DEAD.value),
    )
)
_FORGET_GIVEN_UP = delete(outbox).where(
    _OF_CHANNEL,
    outbox.c.kind.in_([kind.value for kind in _FLEETING]),
    outbox.c.state == OutboxState.DEAD.value,
)
_TO_PLACE = update(outbox).where(_OF_CHANNEL, _UNSENT, outbox.c.place == bindparam("of_place"))


def put(
    conn: Connection,
    channel: str,
    place: str,
    text: str,
    *,
    person_id: int | None = None,
    inbound_id: int | None = None,
    choices: Sequence[str] = (),
    question_ref: str | None = None,
    about_ref: str | None = None,
    kind: OutboxKind = OutboxKind.REPLY,
    picture: str | None = None,
    document: str | None = None,
    actions: Actions = (),
    sent_at: datetime | None = None,
) -> int:
    """The id of the new row, which is pending; with `sent_at` it counts as sent then.

    A tap, mark, reaction, day's message or farewell is deleted as soon as it is sent or given up.
    """
    row = {
        "channel": channel,
        "place": place,
        "person_id": person_id,
        "inbound_id": inbound_id,
        "kind": kind.value,
        "text": text,
        "choices": json.dumps(list(choices)),
        "question_ref": question_ref,
        "about_ref": about_ref,
        "picture": picture,
        "document": document,
        "actions": json.dumps(actions) if actions else None,
        "buttons": sent_at is None and _has_buttons(choices, question_ref, actions),
        "state": (OutboxState.PENDING if sent_at is None else OutboxState.SENT).value,
        "sent_at": sent_at,
        "tries": 0,
        "parts_sent": 0,
    }
    row_id: int = _PUT.scalar(conn, row)
    return row_id


def put_scheduled(
    conn: Connection, channel: str, messages: Sequence[ScheduledNotification], sent_at: datetime | None
) -> None:
    """Puts scheduled notifications; with `sent_at` they count as sent then."""
    rows = [
        {
            "channel": channel,
            "place": message.place,
            "person_id": message.person_id,
            "kind": OutboxKind.REMINDER.value,
            "text": message.text,
            "choices": json.dumps(list(message.choices)),
            "question_ref": message.question_ref,
            "picture": message.picture,
            "actions": json.dumps(message.actions) if message.actions else None,
            "buttons": sent_at is None and _has_buttons(message.choices, message.question_ref, message.actions),
            "state": (OutboxState.PENDING if sent_at is None else OutboxState.SENT).value,
            "sent_at": sent_at,
            "tries": 0,
            "parts_sent": 0,
        }
        for message in messages
    ]
    if rows:
        conn.execute(_PUT_MANY, rows)


def _has_buttons(choices: Sequence[str], question_ref: str | None, actions: Actions) -> bool:
    """Whether sending it puts buttons under it, which may have to be taken away later."""
    return bool(actions) or (bool(choices) and question_ref is not None)


def with_buttons(conn: Connection, person_id: int) -> list[OutboxRow]:
    """What was put for the person and has buttons under it, or will have when it is sent, in order."""
    return _rows(conn, _WITH_BUTTONS, {"of_person": person_id})


def without_buttons(conn: Connection, row: OutboxRow) -> bool:
    """Records that the row has no buttons any more; one that is not sent yet is sent without.

    Returns whether it had any, or it is not known that it had none.
    """
    never = {"choices": "[]", "actions": None} if row.state is OutboxState.PENDING else {}
    return conn.execute(_UNBUTTON, {"of_id": row.id, "buttons": False, **never}).scalar() is not None


def front(conn: Connection, channel: str, limit: int, now: datetime) -> list[OutboxRow]:
    """What can be sent now: at most the oldest for each place, and nothing where that one is being sent or has to wait.

    Answers come before what was not asked for. What would have to wait for longer than LONGEST_WAIT does not wait: the
    clock was set back after that was written.
    """
    values = {"of_channel": channel, "at_most": limit, "now": now, "beyond": now + LONGEST_WAIT}
    return _rows(conn, _NEXT, values)


def to_place(conn: Connection, channel: str, place: str) -> list[OutboxRow]:
    """What has not been sent to this place yet, in order."""
    return _rows(conn, _AT_PLACE, {"of_channel": channel, "of_place": place})


def interrupted(conn: Connection, channel: str) -> list[OutboxRow]:
    """Rows that were being sent when the program stopped: they may or may not have arrived."""
    return _rows(conn, _INTERRUPTED, {"of_channel": channel})


def of_message(conn: Connection, inbound_id: int) -> list[OutboxRow]:
    """What one message caused to be sent, in order, in whatever state."""
    return _rows(conn, _OF_MESSAGE, {"of_inbound": inbound_id})


def by_remote_ref(conn: Connection, channel: str, remote_ref: str) -> OutboxRow | None:
    """What was sent under that reference of the channel's, or None."""
    return next(iter(_rows(conn, _BY_REMOTE_REF, {"of_channel": channel, "of_ref": remote_ref})), None)


def count(conn: Connection, channel: str) -> int:
    """How many rows are still to be sent."""
    return conn.execute(_COUNT, {"of_channel": channel}).scalar_one()


def sending(conn: Connection, row_ids: Sequence[int]) -> set[int]:
    """Marks rows as being sent, which counts as a try. Returns those that were pending, and so are to be sent."""
    return set(conn.execute(_SENDING, {"ids": list(row_ids)}).scalars()) if row_ids else set()


def part_sent(conn: Connection, row_id: int, parts: int) -> None:
    """Records how many parts of the text have been sent so far."""
    conn.execute(_SET, {"of_id": row_id, "parts_sent": parts})


def picture_sent(conn: Connection, row_id: int) -> None:
    """Records that the picture has been sent; the text is still to follow."""
    conn.execute(_SET, {"of_id": row_id, "picture": None})


def sent(conn: Connection, rows: Sequence[tuple[OutboxRow, datetime, str | None]]) -> None:
    """Marks each (row, moment, the channel's reference for it) as sent."""
    _SENT.each(conn, [{"of_id": row.id, "at": at, "ref": ref} for row, at, ref in rows])
    _FORGET.each(conn, [{"of_id": row.id} for row, *_ in rows if row.kind in _FLEETING])


def failed(conn: Connection, row_id: int, tries: int, error: str, not_before: datetime) -> None:
    """Puts back what was being sent, to be tried again from `not_before` on; `tries` counts the one that failed.

    Nothing is put back that another try, in another process, is sending.
    """
    values = {
        "of_id": row_id,
        "of_try": tries,
        "state": OutboxState.PENDING.value,
        "error": error,
        "not_before": not_before,
    }
    conn.execute(_SET_SENDING, values)


def dead(conn: Connection, row_id: int, error: str) -> None:
    """Gives it up for good."""
    conn.execute(_SET, {"of_id": row_id, "state": OutboxState.DEAD.value, "error": error})
    _FORGET.all(conn, {"of_id": row_id})


def give_up_on(conn: Connection, channel: str, place: str, error: str) -> None:
    """Gives up everything that is still to be sent to a place."""
    conn.execute(_TO_PLACE, {"of_channel": channel, "of_place": place, "state": OutboxState.DEAD.value, "error": error})
    conn.execute(_FORGET_GIVEN_UP, {"of_channel": channel})


def redirect(conn: Connection, channel: str, place: str, new_place: str) -> None:
    """Sends what is still to be sent to a place somewhere else."""
    conn.execute(_TO_PLACE, {"of_channel": channel, "of_place": place, "place": new_place})


def _rows(conn: Connection, statement: Prepared, values: dict[str, object]) -> list[OutboxRow]:
    return [_from_row(row) for row in statement.all(conn, values)]


def _from_row(row: Sequence[Any]) -> OutboxRow:
    found = dict(zip(_COLUMNS, row, strict=True))
    typed = {
        "kind": OutboxKind(found["kind"]),
        "state": OutboxState(found["state"]),
        "choices": tuple(json.loads(found["choices"])),
        "actions": tuple((words, does) for words, does in json.loads(found["actions"] or "[]")),
    }
    return OutboxRow(**{**found, **typed})
