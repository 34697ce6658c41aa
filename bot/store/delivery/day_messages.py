"""The one message in which a person's day stands: what it is to say, and under which reference it was sent.

The row says what is wanted; the outbox row that follows from it has no text of its own. So the newest text is sent
however many changes came before it, and after a restart the same message is edited.
"""

from dataclasses import dataclass
from datetime import date

from sqlalchemy import Connection, bindparam, delete, exists, insert, select, update

from bot.kinds import OutboxKind, OutboxState
from bot.store.delivery import outbox
from bot.store.schema import day_message
from bot.store.schema import outbox as outbox_table

LANE = "day:"
"""Before the person's key: a lane of its own, so that no reply waits for it."""


@dataclass(frozen=True, slots=True)
class DayMessage:
    """The message of one day; `message_ref` is None until it is sent. An empty text gives it up."""

    person_id: int
    day: date
    text: str
    pin: bool
    message_ref: str | None = None
    pinned_ref: str | None = None


_OF = select(
    day_message.c.person_id,
    day_message.c.day,
    day_message.c.text,
    day_message.c.pin,
    day_message.c.message_ref,
    day_message.c.pinned_ref,
).where(day_message.c.person_id == bindparam("of_person"))
_ADD = insert(day_message)
_SET = update(day_message).where(day_message.c.person_id == bindparam("of_person"))
_DROP = delete(day_message).where(day_message.c.person_id == bindparam("of_person"), day_message.c.text == "")
_WAITS = select(
    exists().where(
        outbox_table.c.channel == bindparam("of_channel"),
        outbox_table.c.place == bindparam("of_place"),
        outbox_table.c.state == OutboxState.PENDING.value,
    )
)


def of(conn: Connection, person_id: int) -> DayMessage | None:
    """The person's message, or None."""
    row = conn.execute(_OF, {"of_person": person_id}).one_or_none()
    return None if row is None else DayMessage(*row)


def put(conn: Connection, channel: str, person_key: str, wanted: DayMessage) -> None:
    """Has the message say that; another day gets a message of its own. Nothing happens when it says that already."""
    before = of(conn, wanted.person_id)
    values = {"day": wanted.day, "text": wanted.text, "pin": wanted.pin}
    if before is None:
        if not wanted.text:
            return
        conn.execute(_ADD, {"person_id": wanted.person_id, **values})
    elif (before.day, before.text, before.pin) == (wanted.day, wanted.text, wanted.pin):
        return
    else:
        anew = {} if before.day == wanted.day else {"message_ref": None}
        conn.execute(_SET, {"of_person": wanted.person_id, **values, **anew})
    place = f"{LANE}{person_key}"
    if not conn.execute(_WAITS, {"of_channel": channel, "of_place": place}).scalar_one():
        outbox.put(conn, channel, place, "", person_id=wanted.person_id, kind=OutboxKind.DAY)


def sent(conn: Connection, person_id: int, day: date, message_ref: str) -> None:
    """Records the reference of the day's message, unless another day has begun meanwhile."""
    conn.execute(_SET.where(day_message.c.day == day), {"of_person": person_id, "message_ref": message_ref})


def pinned(conn: Connection, person_id: int, message_ref: str | None) -> None:
    """Records which message is pinned."""
    conn.execute(_SET, {"of_person": person_id, "pinned_ref": message_ref})


def given_up(conn: Connection, person_id: int) -> None:
    """Forgets the message, if it is still to be given up."""
    conn.execute(_DROP, {"of_person": person_id})
