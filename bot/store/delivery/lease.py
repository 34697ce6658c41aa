"""What the processes of a channel agree on: which one holds the lease, and when the channel last heard from its server.

The lease goes to one of several processes, which then does what only one may do. It expires unless its holder renews
it, so that another takes over from one that died. The processes' clocks have to agree within a fraction of its term;
where one was set back, a process sees by its own stopwatch that a lease is not renewed.
"""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, bindparam, delete, or_, select, update

from bot.store.schema import heartbeat, lease
from bot.store.statements import Prepared, insert_if_new, upsert

_MINE = (lease.c.channel == bindparam("of_channel")) & (lease.c.holder == bindparam("of_holder"))
_TAKE = upsert(
    lease,
    key=["channel"],
    columns=["holder", "runs_out"],
    where=or_(
        lease.c.runs_out <= bindparam("now"),
        (lease.c.holder == bindparam("from_holder")) & (lease.c.runs_out == bindparam("from_runs_out")),
    ),
    returning=lease.c.holder,
)
_HELD = select(lease.c.holder, lease.c.runs_out).where(lease.c.channel == bindparam("of_channel"))
_UNEXPIRED = select(lease.c.channel).where(lease.c.runs_out > bindparam("now")).limit(1)
_RENEW = update(lease).where(_MINE).values(runs_out=bindparam("later")).returning(lease.c.holder)
# A process that wants to take over waits until the transaction that relies on the lease is through.
_HOLDS = Prepared(select(lease.c.holder).where(_MINE, lease.c.runs_out > bindparam("until")).with_for_update(read=True))
_RELEASE = delete(lease).where(_MINE)

_LAST_BEAT = select(heartbeat.c.at).where(heartbeat.c.channel == bindparam("of_channel"))
_FIRST_BEAT = insert_if_new(heartbeat, heartbeat.c.at)
_BEAT = update(heartbeat).where(heartbeat.c.channel == bindparam("of_channel")).values(at=bindparam("now"))


@dataclass(frozen=True, slots=True)
class Held:
    """Who has a lease, and when it expires unless renewed."""

    holder: str
    runs_out: datetime


def take(
    conn: Connection, channel: str, holder: str, now: datetime, runs_out: datetime, *, abandoned: Held | None = None
) -> bool:
    """Takes the channel's lease until `runs_out`; False while another's, or one's own, has not expired.

    One that is `abandoned` is taken too, unless it was renewed since it was read.
    """
    values = {
        "channel": channel,
        "holder": holder,
        "runs_out": runs_out,
        "now": now,
        "from_holder": abandoned.holder if abandoned else None,
        "from_runs_out": abandoned.runs_out if abandoned else None,
    }
    return conn.execute(_TAKE[conn.dialect.name], values).scalar() is not None


def held(conn: Connection, channel: str) -> Held | None:
    """The channel's lease as it was last taken or renewed; None when it was released, or nobody took it."""
    found = conn.execute(_HELD, {"of_channel": channel}).one_or_none()
    return None if found is None else Held(*found)


def anybody_serves(conn: Connection, now: datetime) -> bool:
    """Whether a process holds the lease of any channel."""
    return conn.execute(_UNEXPIRED, {"now": now}).first() is not None


def renew(conn: Connection, channel: str, holder: str, runs_out: datetime) -> bool:
    """Extends the holder's lease until `runs_out`; False when it is another's by now."""
    values = {"of_channel": channel, "of_holder": holder, "later": runs_out}
    return conn.execute(_RENEW, values).scalar() is not None


def holds(conn: Connection, channel: str, holder: str, until: datetime) -> bool:
    """Whether this holder has a lease that lasts beyond the moment `until`; it stays so until the transaction ends."""
    return _HOLDS.scalar(conn, {"of_channel": channel, "of_holder": holder, "until": until}) is not None


def release(conn: Connection, channel: str, holder: str) -> None:
    """Ends the holder's lease, so that another process can take it at once."""
    conn.execute(_RELEASE, {"of_channel": channel, "of_holder": holder})


def beat(conn: Connection, channel: str, now: datetime) -> datetime | None:
    """Records that the channel heard from its server now. Returns when it last did before; None the first time."""
    before: datetime | None = conn.execute(_LAST_BEAT, {"of_channel": channel}).scalar()
    if before is None:
        conn.execute(_FIRST_BEAT[conn.dialect.name], {"channel": channel, "at": now})
    else:
        conn.execute(_BEAT, {"of_channel": channel, "now": now})
    return before
