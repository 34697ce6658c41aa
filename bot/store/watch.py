"""Whose watch it is: the one of several processes that does what only one may do.

A watch runs out by itself unless its holder renews it, so that another takes over from one that died. The processes'
clocks have to agree within a fraction of that time.
"""

from datetime import datetime

from sqlalchemy import Connection, bindparam, delete, or_, select, update
from sqlalchemy.dialects import postgresql, sqlite

from bot.store.prepared import Prepared
from bot.store.schema import watch

_MINE = (watch.c.channel == bindparam("of_channel")) & (watch.c.holder == bindparam("of_holder"))
_TAKE = {
    dialect: add(watch)
    .on_conflict_do_update(
        index_elements=["channel"],
        set_={"holder": add(watch).excluded.holder, "runs_out": add(watch).excluded.runs_out},
        where=or_(watch.c.runs_out <= bindparam("now"), bindparam("whoever_has_it")),
    )
    .returning(watch.c.holder)
    for dialect, add in (("sqlite", sqlite.insert), ("postgresql", postgresql.insert))
}
_HOLDER = select(watch.c.holder).where(watch.c.channel == bindparam("of_channel"))
_RENEW = update(watch).where(_MINE).values(runs_out=bindparam("later")).returning(watch.c.holder)
# Whoever wants to take over waits until the transaction that relies on the watch is through.
_HOLDS = Prepared(select(watch.c.holder).where(_MINE).with_for_update(read=True))
_GIVE_UP = delete(watch).where(_MINE)


def take(
    conn: Connection, channel: str, holder: str, now: datetime, runs_out: datetime, *, whoever_has_it: bool = False
) -> bool:
    """Begins a watch of the channel that lasts until `runs_out`; False while another's, or one's own, still runs.

    With `whoever_has_it` any other is ended.
    """
    values = {
        "channel": channel,
        "holder": holder,
        "runs_out": runs_out,
        "now": now,
        "whoever_has_it": whoever_has_it,
    }
    return conn.execute(_TAKE[conn.dialect.name], values).scalar() is not None


def holder_of(conn: Connection, channel: str) -> str | None:
    """Who has, or had last, the channel's watch and has not given it up; None when nobody."""
    return conn.execute(_HOLDER, {"of_channel": channel}).scalar()


def renew(conn: Connection, channel: str, holder: str, runs_out: datetime) -> bool:
    """Lets the holder's watch last until `runs_out`; False when it is another's by now."""
    values = {"of_channel": channel, "of_holder": holder, "later": runs_out}
    return conn.execute(_RENEW, values).scalar() is not None


def holds(conn: Connection, channel: str, holder: str) -> bool:
    """Whether it is this holder's watch; it stays so until the transaction ends."""
    return _HOLDS.scalar(conn, {"of_channel": channel, "of_holder": holder}) is not None


def give_up(conn: Connection, channel: str, holder: str) -> None:
    """Ends the holder's watch, so that another can begin at once."""
    conn.execute(_GIVE_UP, {"of_channel": channel, "of_holder": holder})
