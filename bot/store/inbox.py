"""What came in: stored before its channel is told so, handled afterwards, each person's messages in order."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, bindparam, exists, func, select, update

from bot.store.columns import is_just
from bot.store.prepared import Prepared
from bot.store.schema import inbound
from bot.store.unique import insert_new


@dataclass(frozen=True, slots=True)
class Delivery:
    """What a channel delivers: under which key of its own, whose it is, what it is and says, and when it was said.

    The body holds `text` for the kind `say`, `text` and `edits` (the message's reference) for `edit`, `ref` and
    `choice` (from 0) for `press`, `answer` for `other` (something that has no words). It may also hold `place` (where
    the answer goes, when not to the person), `shared` (others read along there), `answers` (the message that the answer
    hangs on), `refers` (the message that this one replies to), and for a press `message` and `shown` (where the buttons
    are, and the text over them), for a text `welcomes` (newcomers are asked there what they want set).
    """

    channel: str
    update_key: str
    person_key: str
    kind: str
    body: Mapping[str, Any]
    message_ref: str | None
    said_at: datetime


@dataclass(frozen=True, slots=True)
class Inbound:
    """One message, edit, press or set-up as it came in. `said_at` is its own moment, in UTC."""

    id: int
    channel: str
    person_key: str
    kind: str
    body: dict[str, Any]
    message_ref: str | None
    said_at: datetime
    tries: int


_INBOUND = select(
    inbound.c.id,
    inbound.c.channel,
    inbound.c.person_key,
    inbound.c.kind,
    inbound.c.body,
    inbound.c.message_ref,
    inbound.c.said_at,
    inbound.c.tries,
)
_WAITING = is_just(inbound.c.state, "waiting")
_RECEIVE = Prepared(insert_new(inbound, inbound.c.id))
_WAITS = inbound.alias("waits")
_TAKE_IN_HAND = Prepared(
    insert_new(
        inbound,
        inbound.c.id,
        unless=exists().where(
            _WAITS.c.channel == bindparam("channel"),
            _WAITS.c.person_key == bindparam("person_key"),
            is_just(_WAITS.c.state, "waiting"),
        ),
        given=("channel", "update_key", "person_key", "kind", "body", "message_ref", "said_at", "state", "tries"),
    )
)
_GET = _INBOUND.where(inbound.c.id == bindparam("of_id"))
_OLDEST = (
    select(func.min(inbound.c.id))
    .where(_WAITING, inbound.c.channel == bindparam("of_channel"))
    .group_by(inbound.c.person_key)
    .order_by(func.min(inbound.c.id))
    .limit(bindparam("at_most"))
)
_NEXT = Prepared(_INBOUND.where(inbound.c.id.in_(_OLDEST)).order_by(inbound.c.id))
_earlier = inbound.alias("earlier")
_CLAIM = Prepared(
    _GET.where(
        _WAITING,
        ~exists().where(
            _earlier.c.channel == inbound.c.channel,
            _earlier.c.person_key == inbound.c.person_key,
            is_just(_earlier.c.state, "waiting"),
            _earlier.c.id < inbound.c.id,
        ),
    ).with_for_update(of=inbound, skip_locked=True)
)
_SET = update(inbound).where(inbound.c.id == bindparam("of_id"))
_SET_STATE = Prepared(_SET)
_FAILED = _SET.values(tries=inbound.c.tries + 1, error=bindparam("what")).returning(inbound.c.tries)
_FIND = (
    _INBOUND.where(
        inbound.c.kind == "say",
        inbound.c.channel == bindparam("of_channel"),
        inbound.c.person_key == bindparam("of_key"),
        inbound.c.message_ref == bindparam("of_ref"),
    )
    .order_by(inbound.c.id.desc())
    .limit(1)
)
_LATEST_VERSION = (
    _INBOUND.where(
        inbound.c.kind.in_(("say", "edit")),
        inbound.c.channel == bindparam("of_channel"),
        inbound.c.person_key == bindparam("of_key"),
        inbound.c.message_ref == bindparam("of_ref"),
    )
    .order_by(inbound.c.id.desc())
    .limit(1)
)
_COUNT = select(func.count()).where(_WAITING, inbound.c.channel == bindparam("of_channel"))


def receive(conn: Connection, delivery: Delivery) -> int | None:
    """The new row's id, or None when this channel has delivered this update before."""
    inbound_id: int | None = _RECEIVE.scalar(conn, _row(delivery, "waiting"))
    return inbound_id


def take_in_hand(conn: Connection, delivery: Delivery) -> Inbound | None:
    """The new row, which this transaction handles: it is done when the transaction is.

    None, and no row, when the channel has delivered this update before or something else of the person's waits.
    """
    inbound_id = _TAKE_IN_HAND.scalar(conn, _row(delivery, "done"))
    if inbound_id is None:
        return None
    return Inbound(
        inbound_id,
        delivery.channel,
        delivery.person_key,
        delivery.kind,
        dict(delivery.body),
        delivery.message_ref,
        delivery.said_at,
        0,
    )


def get(conn: Connection, inbound_id: int) -> Inbound | None:
    """The row with this id in whatever state, or None."""
    return _inbound(conn.execute(_GET, {"of_id": inbound_id}).one_or_none())


def claim(conn: Connection, inbound_id: int) -> Inbound | None:
    """The row if it is to be handled now, for this transaction alone.

    None when it is done or set aside, when another transaction has it, or when something the same person sent earlier
    still waits.
    """
    return _inbound(_CLAIM.one_or_none(conn, {"of_id": inbound_id}))


def waiting(conn: Connection, channel: str, limit: int) -> list[Inbound]:
    """What is still to be handled in a channel: at most the oldest of each person, oldest first."""
    return [_from_row(row) for row in _NEXT.all(conn, {"of_channel": channel, "at_most": limit})]


def done(conn: Connection, *inbound_ids: int) -> None:
    """Notes that the rows are handled."""
    _SET_STATE.each(conn, [{"of_id": inbound_id, "state": "done"} for inbound_id in inbound_ids])


def failed(conn: Connection, inbound_id: int, error: str) -> int:
    """How many times handling this row has failed by now; it keeps waiting."""
    tries: int = conn.execute(_FAILED, {"of_id": inbound_id, "what": error}).scalar_one()
    return tries


def set_aside(conn: Connection, inbound_id: int) -> None:
    """Lets the person's later messages pass; the row is kept."""
    _SET_STATE.all(conn, {"of_id": inbound_id, "state": "set_aside"})


def find_message(conn: Connection, channel: str, person_key: str, message_ref: str) -> Inbound | None:
    """The latest message this person sent under that reference, or None."""
    values = {"of_channel": channel, "of_key": person_key, "of_ref": message_ref}
    return _inbound(conn.execute(_FIND, values).one_or_none())


def latest_version(conn: Connection, channel: str, person_key: str, message_ref: str) -> Inbound | None:
    """The message as this person last sent or edited it under that reference, or None."""
    values = {"of_channel": channel, "of_key": person_key, "of_ref": message_ref}
    return _inbound(conn.execute(_LATEST_VERSION, values).one_or_none())


def count(conn: Connection, channel: str) -> int:
    """How many of the channel's messages wait."""
    return conn.execute(_COUNT, {"of_channel": channel}).scalar_one()


def _row(delivery: Delivery, state: str) -> dict[str, Any]:
    return {
        "channel": delivery.channel,
        "update_key": delivery.update_key,
        "person_key": delivery.person_key,
        "kind": delivery.kind,
        # Escaped to ASCII: whatever was typed, also what is no proper text, comes back as it was.
        "body": json.dumps(delivery.body),
        "message_ref": delivery.message_ref,
        "said_at": delivery.said_at,
        "state": state,
        "tries": 0,
    }


def _inbound(row: Sequence[Any] | None) -> Inbound | None:
    return None if row is None else _from_row(row)


def _from_row(row: Sequence[Any]) -> Inbound:
    inbound_id, channel, person_key, kind, body, message_ref, said_at, tries = row
    return Inbound(inbound_id, channel, person_key, kind, json.loads(body), message_ref, said_at, tries)
