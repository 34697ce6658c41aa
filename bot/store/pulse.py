"""When a channel was last in touch with its server."""

from datetime import datetime

import sqlalchemy as sa
from sqlalchemy import Connection, bindparam, select

from bot.store.schema import pulse
from bot.store.unique import insert_new

_LAST = select(pulse.c.at).where(pulse.c.channel == bindparam("of_channel"))
_FIRST = insert_new(pulse, pulse.c.at)
_BEAT = sa.update(pulse).where(pulse.c.channel == bindparam("of_channel")).values(at=bindparam("now"))


def beat(conn: Connection, channel: str, now: datetime) -> datetime | None:
    """Notes that the channel is in touch now. Returns when it was so before, or None the first time."""
    before: datetime | None = conn.execute(_LAST, {"of_channel": channel}).scalar()
    if before is None:
        conn.execute(_FIRST[conn.dialect.name], {"channel": channel, "at": now})
    else:
        conn.execute(_BEAT, {"of_channel": channel, "now": now})
    return before
