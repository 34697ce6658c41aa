"""Everybody who talks with the program, for whoever runs it: who and where they are, not what they eat."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, func, select

from bot.store import nobody
from bot.store.schema import address, inbound, person, weigh_in


@dataclass(frozen=True, slots=True)
class Entry:
    """One person: `addresses` as channel:key, when they were last heard (UTC), and how many weigh-ins they have."""

    id: int
    name: str
    role: str
    region: str
    timezone: str
    kitchen_id: int
    addresses: tuple[str, ...]
    blocked: bool
    last_said: datetime | None
    weigh_ins: int


_PEOPLE = select(
    person.c.id, person.c.name, person.c.role, person.c.region, person.c.timezone, person.c.kitchen_id
).order_by(person.c.id)
_ADDRESSES = select(address.c.person_id, address.c.channel, address.c.key, address.c.blocked_at).order_by(
    address.c.channel, address.c.key
)
_LAST = (
    select(address.c.person_id, func.max(inbound.c.said_at, type_=inbound.c.said_at.type))
    .join(inbound, (inbound.c.channel == address.c.channel) & (inbound.c.person_key == address.c.key))
    .where(inbound.c.kind.in_(("say", "edit", "press", "other")))
    .group_by(address.c.person_id)
)
_WEIGH_INS = (
    select(weigh_in.c.person_id, func.count()).where(weigh_in.c.kind == "recorded").group_by(weigh_in.c.person_id)
)


def everybody(conn: Connection) -> list[Entry]:
    """Everybody, by id."""
    places: dict[int, list[tuple[str, bool]]] = {}
    for person_id, channel, key, blocked_at in conn.execute(_ADDRESSES):
        if channel != nobody.CHANNEL:
            places.setdefault(person_id, []).append((f"{channel}:{key}", blocked_at is not None))
    last: dict[int, datetime] = dict(iter(conn.execute(_LAST)))
    weighed: dict[int, int] = dict(iter(conn.execute(_WEIGH_INS)))
    return [
        Entry(
            *row,
            addresses=tuple(where for where, _ in places[row[0]]),
            blocked=all(blocked for _, blocked in places[row[0]]),
            last_said=last.get(row[0]),
            weigh_ins=weighed.get(row[0], 0),
        )
        for row in conn.execute(_PEOPLE)
        if row[0] in places
    ]


def as_json(entry: Entry) -> dict[str, Any]:
    """The entry with its moment as ISO 8601."""
    said = entry.last_said
    return asdict(entry) | {"last_said": None if said is None else said.isoformat()}
