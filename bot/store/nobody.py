"""Who stands where somebody was who is gone: a person and a message that are nobody's.

What a kitchen shares outlives those who leave no trace of themselves, and every record points to a person and to the
message that caused it. Both are made when the first of them goes, and serve for all.
"""

from dataclasses import dataclass
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from sqlalchemy import Connection, bindparam, select

from bot.store import inbox, people
from bot.store.inbox import Delivery
from bot.store.schema import inbound
from domain.quantities import Region

CHANNEL = "nobody"
"""A channel that nothing is read from and nothing sent to."""
_KEY = "nobody"
_LONG_AGO = datetime(1970, 1, 1, tzinfo=UTC)
_MESSAGE = select(inbound.c.id).where(inbound.c.channel == CHANNEL, inbound.c.update_key == bindparam("of_key"))


@dataclass(frozen=True, slots=True)
class Nobody:
    """The ids of the person and of the message that are nobody's."""

    person_id: int
    inbound_id: int


def nobody(conn: Connection) -> Nobody:
    """Nobody, who is made when there was none yet."""
    person = people.find(conn, CHANNEL, _KEY)
    if person is None:
        person = people.add(conn, CHANNEL, _KEY, "", Region.METRIC, ZoneInfo("UTC"))
    made = inbox.receive(conn, Delivery(CHANNEL, _KEY, _KEY, "other", {"answer": ""}, None, _LONG_AGO))
    if made is not None:
        inbox.done(conn, made)
        return Nobody(person.id, made)
    return Nobody(person.id, conn.execute(_MESSAGE, {"of_key": _KEY}).scalar_one())
