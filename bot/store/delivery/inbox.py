"""The inbox: a row is committed before its channel acknowledges receipt; each person's rows are handled in order."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

import msgspec
from sqlalchemy import Connection, bindparam, exists, func, select, update

from bot.kinds import InboxState
from bot.store.columns import is_just
from bot.store.schema import inbound
from bot.store.statements import Prepared, insert_if_new


class _Content(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True, tag_field="kind"):
    """What every kind of content may hold about where it came from, in the channel's own references."""

    place: str | None = None
    """Where the replies go; None: to the person's own chat."""
    shared: bool = False
    """Whether others read along at that place."""
    answers: str | None = None
    """The message that the replies hang on."""
    refers: str | None = None
    """The earlier message that this one replies to."""


class Say(_Content, frozen=True, tag="say"):
    """A message in words."""

    text: str
    welcomes: bool = False
    """Whether a newcomer is asked there what they want set."""
    invite: int | None = None
    """The id of the invitation whose code came with it; 0 for a code that is not valid."""


class Edit(_Content, frozen=True, tag="edit"):
    """The new words of an earlier message."""

    text: str
    edits: str
    """The reference of the message that was edited."""


class Press(_Content, frozen=True, tag="press"):
    """A button that was pressed, or a choice that was picked."""

    ref: str
    """The question's reference."""
    choice: int
    """Counted from 0."""
    message: str | None = None
    """The message that holds the buttons, where the channel has such a thing."""
    shown: str = ""
    """The text above the buttons."""
    tap: str | None = None
    """The channel's reference of the press itself, where the channel wants it answered."""


class Act(_Content, frozen=True, tag="act"):
    """A button that was pressed under a text that asks nothing."""

    does: str
    """What it does, in the conversation's own terms."""
    message: str | None = None
    """The message that holds the button."""
    tap: str | None = None
    """The channel's reference of the press itself."""


class NoWords(_Content, frozen=True, tag="other"):
    """Something without words, such as a photo."""

    answer: str
    """The reply; it is known beforehand."""


class Request(_Content, frozen=True, tag="errand"):
    """What another person's message wants done in this person's books."""

    what: str
    """The meaning, encoded by the conversation."""


class Erased(_Content, frozen=True, tag="erased"):
    """Content that was erased, or whose retention period is over. The row stays, because records refer to it."""


Content = Say | Edit | Press | Act | NoWords | Request | Erased
"""What an inbox row holds. The table's column `kind` is the tag."""

# Rows of version 0.1 have no tag in their body, and need none: each kind is decoded as its own type.
_BY_KIND: dict[str, type[Content]] = {
    "say": Say,
    "edit": Edit,
    "press": Press,
    "act": Act,
    "other": NoWords,
    "errand": Request,
    "erased": Erased,
}
ERASED_BODY = json.dumps({"text": ""})
"""What the body of a row is replaced with, whatever its kind."""


@dataclass(frozen=True, slots=True)
class NewRow:
    """What a channel puts into the inbox. `update_key` is unique in the channel; `said_at` is the message's own moment.

    `message_ref` is the channel's reference of the message, by which it can be edited and replied to; None without one.
    """

    channel: str
    update_key: str
    person_key: str
    content: Content
    message_ref: str | None
    said_at: datetime


@dataclass(frozen=True, slots=True)
class InboxRow:
    """A row of the inbox. `said_at` is in UTC; `tries` says how often handling it has failed."""

    id: int
    channel: str
    person_key: str
    content: Content
    message_ref: str | None
    said_at: datetime
    tries: int


_ROW = select(
    inbound.c.id,
    inbound.c.channel,
    inbound.c.person_key,
    inbound.c.kind,
    inbound.c.body,
    inbound.c.message_ref,
    inbound.c.said_at,
    inbound.c.tries,
)
_WAITING = is_just(inbound.c.state, InboxState.WAITING.value)
_RECEIVE = Prepared(insert_if_new(inbound, inbound.c.id))
_WAITS = inbound.alias("waits")
_RECEIVE_ALONE = Prepared(
    insert_if_new(
        inbound,
        inbound.c.id,
        unless=exists().where(
            _WAITS.c.channel == bindparam("channel"),
            _WAITS.c.person_key == bindparam("person_key"),
            is_just(_WAITS.c.state, InboxState.WAITING.value),
        ),
        given=("channel", "update_key", "person_key", "kind", "body", "message_ref", "said_at", "state", "tries"),
    )
)
_GET = _ROW.where(inbound.c.id == bindparam("of_id"))
_OLDEST = (
    select(func.min(inbound.c.id))
    .where(_WAITING, inbound.c.channel == bindparam("of_channel"))
    .group_by(inbound.c.person_key)
    .order_by(func.min(inbound.c.id))
    .limit(bindparam("at_most"))
)
_NEXT = Prepared(_ROW.where(inbound.c.id.in_(_OLDEST)).order_by(inbound.c.id))
_earlier = inbound.alias("earlier")
_CLAIM = Prepared(
    _GET.where(
        _WAITING,
        ~exists().where(
            _earlier.c.channel == inbound.c.channel,
            _earlier.c.person_key == inbound.c.person_key,
            is_just(_earlier.c.state, InboxState.WAITING.value),
            _earlier.c.id < inbound.c.id,
        ),
    ).with_for_update(of=inbound, skip_locked=True)
)
_SET = update(inbound).where(inbound.c.id == bindparam("of_id"))
_SET_STATE = Prepared(_SET)
_FAILED = _SET.values(tries=inbound.c.tries + 1, error=bindparam("what")).returning(inbound.c.tries)
_UNDER_REF = (
    _ROW.where(
        inbound.c.channel == bindparam("of_channel"),
        inbound.c.person_key == bindparam("of_key"),
        inbound.c.message_ref == bindparam("of_ref"),
    )
    .order_by(inbound.c.id.desc())
    .limit(1)
)
_FIND = _UNDER_REF.where(inbound.c.kind == "say")
_LATEST_VERSION = _UNDER_REF.where(inbound.c.kind.in_(("say", "edit")))
_COUNT = select(func.count()).where(_WAITING, inbound.c.channel == bindparam("of_channel"))
MOST_SAID, MOST_REQUESTED = 6, 30
"""How many earlier messages and requests are read."""
_EARLIER = (
    _ROW.where(
        inbound.c.channel == bindparam("of_channel"),
        inbound.c.person_key == bindparam("of_key"),
        inbound.c.id < bindparam("before"),
        inbound.c.kind == bindparam("of_kind"),
    )
    .order_by(inbound.c.id.desc())
    .limit(bindparam("at_most"))
)


def receive(conn: Connection, new: NewRow) -> int | None:
    """The new row's id, or None when this channel has delivered this update before."""
    row_id: int | None = _RECEIVE.scalar(conn, _values(new))
    return row_id


def receive_and_claim(conn: Connection, new: NewRow) -> InboxRow | None:
    """The new row, for this transaction to handle.

    None when the channel has delivered this update before, or when it waits behind another row of the person's.
    """
    row_id = _RECEIVE_ALONE.scalar(conn, _values(new))
    if row_id is None:
        receive(conn, new)
        return None
    return InboxRow(row_id, new.channel, new.person_key, new.content, new.message_ref, new.said_at, 0)


def get(conn: Connection, row_id: int) -> InboxRow | None:
    """The row with this id in whatever state, or None."""
    return _row(conn.execute(_GET, {"of_id": row_id}).one_or_none())


def claim(conn: Connection, row_id: int) -> InboxRow | None:
    """The row if it is to be handled now, for this transaction alone.

    None when it is done or set aside, when another transaction has claimed it, or when an earlier row of the same
    person still waits.
    """
    return _row(_CLAIM.one_or_none(conn, {"of_id": row_id}))


def waiting(conn: Connection, channel: str, limit: int) -> list[InboxRow]:
    """What is still to be handled in a channel: at most the oldest row of each person, oldest first."""
    return [_from_columns(row) for row in _NEXT.all(conn, {"of_channel": channel, "at_most": limit})]


def done(conn: Connection, *row_ids: int) -> None:
    """Marks rows as handled."""
    _SET_STATE.each(conn, [{"of_id": row_id, "state": InboxState.DONE.value} for row_id in row_ids])


def failed(conn: Connection, row_id: int, error: str) -> int:
    """How many times handling this row has failed by now; it keeps waiting."""
    tries: int = conn.execute(_FAILED, {"of_id": row_id, "what": error}).scalar_one()
    return tries


def set_aside(conn: Connection, row_id: int) -> None:
    """Takes a row out of the queue, so that the person's later ones are handled; the row is kept."""
    _SET_STATE.all(conn, {"of_id": row_id, "state": InboxState.SET_ASIDE.value})


def find_message(conn: Connection, channel: str, person_key: str, message_ref: str) -> InboxRow | None:
    """The latest message that this person sent under that reference, or None."""
    return _row(conn.execute(_FIND, _ref(channel, person_key, message_ref)).one_or_none())


def latest_version(conn: Connection, channel: str, person_key: str, message_ref: str) -> InboxRow | None:
    """The message as this person last sent or edited it under that reference, or None."""
    return _row(conn.execute(_LATEST_VERSION, _ref(channel, person_key, message_ref)).one_or_none())


def lately_said(conn: Connection, row_id: int) -> Sequence[str]:
    """The texts of the person's latest messages before this row, the newest first."""
    rows = _earlier_rows(conn, row_id, "say", MOST_SAID)
    return [each.content.text for each in rows if isinstance(each.content, Say)]


def lately_requested(conn: Connection, row_id: int) -> Sequence[InboxRow]:
    """What others wanted done in this person's books before this row, as far as it is kept, the newest first."""
    return _earlier_rows(conn, row_id, "errand", MOST_REQUESTED)


def _earlier_rows(conn: Connection, row_id: int, kind: str, limit: int) -> list[InboxRow]:
    """The person's rows of a kind before a row, in the same channel, the newest first."""
    row = get(conn, row_id)
    if row is None:
        return []
    values = {"of_channel": row.channel, "of_key": row.person_key, "before": row.id}
    return [_from_columns(found) for found in conn.execute(_EARLIER, values | {"of_kind": kind, "at_most": limit})]


def count(conn: Connection, channel: str) -> int:
    """How many of the channel's rows wait."""
    return conn.execute(_COUNT, {"of_channel": channel}).scalar_one()


def decode(kind: str, body: str) -> Content:
    """The content of a row from its two columns. `msgspec.ValidationError` when it does not fit the kind."""
    if body == ERASED_BODY and kind != "say":
        return Erased()
    # Not decoded by msgspec itself: it refuses unpaired surrogates, and people send those.
    return msgspec.convert(json.loads(body), _BY_KIND[kind])


def _ref(channel: str, person_key: str, message_ref: str) -> dict[str, Any]:
    return {"of_channel": channel, "of_key": person_key, "of_ref": message_ref}


def _values(new: NewRow) -> dict[str, Any]:
    fields = msgspec.to_builtins(new.content)
    kind = fields.pop("kind")
    return {
        "channel": new.channel,
        "update_key": new.update_key,
        "person_key": new.person_key,
        "kind": kind,
        # Escaped to ASCII: whatever was typed comes back as it was, also what is not valid Unicode.
        "body": json.dumps(fields),
        "message_ref": new.message_ref,
        "said_at": new.said_at,
        "state": InboxState.WAITING.value,
        "tries": 0,
    }


def _row(columns: Sequence[Any] | None) -> InboxRow | None:
    return None if columns is None else _from_columns(columns)


def _from_columns(columns: Sequence[Any]) -> InboxRow:
    row_id, channel, person_key, kind, body, message_ref, said_at, tries = columns
    return InboxRow(row_id, channel, person_key, decode(kind, body), message_ref, said_at, tries)
