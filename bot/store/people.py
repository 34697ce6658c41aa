"""People: who is speaking, where they are reached, and an overview of everybody for the operator."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

import sqlalchemy as sa
from sqlalchemy import Connection, bindparam, func, insert, select

from bot.kinds import VersionKind
from bot.store.schema import address, inbound, kitchen, person, weigh_in
from bot.store.statements import Prepared
from domain.quantities import Region

PLACEHOLDER_CHANNEL = "nobody"
"""The channel of the person who stands in for those who were erased; nothing is read from it or sent to it."""


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who talks with Tarebook. `role` is `client` or `coach`."""

    id: int
    name: str
    region: Region
    timezone: ZoneInfo
    role: str
    kitchen_id: int
    day_starts: int = 0
    """The hour at which the person's day starts: what is eaten before it counts for the day before."""


@dataclass(frozen=True, slots=True)
class PersonOverview:
    """A person without what they eat: `addresses` as channel:key, when they last wrote (UTC), how many weigh-ins."""

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

    def as_json(self) -> dict[str, Any]:
        """The fields, with the moment as ISO 8601."""
        return asdict(self) | {"last_said": None if self.last_said is None else self.last_said.isoformat()}


_PERSON = select(
    person.c.id,
    person.c.name,
    person.c.region,
    person.c.timezone,
    person.c.role,
    person.c.kitchen_id,
    person.c.day_starts,
)
_BY_ADDRESS = Prepared(
    _PERSON.join(address, address.c.person_id == person.c.id).where(
        address.c.channel == bindparam("channel"), address.c.key == bindparam("key")
    )
)
_BY_ID = _PERSON.where(person.c.id == bindparam("id"))
_BY_IDS = _PERSON.where(person.c.id.in_(bindparam("ids", expanding=True)))
_ADD_KITCHEN = insert(kitchen).returning(kitchen.c.id)
_ADD_PERSON = insert(person).returning(person.c.id)
_ADD_ADDRESS = insert(address)
_REACHABLE = Prepared(
    select(address.c.blocked_at.is_(None)).where(
        address.c.channel == bindparam("of_channel"), address.c.key == bindparam("of_key")
    )
)
_SET_BLOCKED = (
    sa.update(address)
    .where(address.c.channel == bindparam("of_channel"), address.c.key == bindparam("of_key"))
    .values(blocked_at=bindparam("since"))
)
_HEARD_SINCE = (
    select(address.c.key, address.c.person_id)
    .where(
        address.c.channel == bindparam("of_channel"),
        address.c.blocked_at.is_(None),
        sa.exists().where(
            inbound.c.channel == address.c.channel,
            inbound.c.person_key == address.c.key,
            inbound.c.said_at >= bindparam("since"),
        ),
    )
    .order_by(address.c.person_id)
)
_REACHED = (
    select(address.c.channel, address.c.key)
    .where(address.c.person_id == bindparam("of_person"), address.c.blocked_at.is_(None))
    .order_by(address.c.channel != bindparam("rather"), address.c.channel)
    .limit(1)
)
_HOLD_KITCHEN = select(kitchen.c.id).where(kitchen.c.id == bindparam("of_kitchen")).with_for_update()
_UPDATE = sa.update(person).where(person.c.id == bindparam("of_person"))
_EVERYBODY = select(
    person.c.id, person.c.name, person.c.role, person.c.region, person.c.timezone, person.c.kitchen_id
).order_by(person.c.id)
_ADDRESSES = select(address.c.person_id, address.c.channel, address.c.key, address.c.blocked_at).order_by(
    address.c.channel, address.c.key
)
_LAST_SAID = (
    select(address.c.person_id, func.max(inbound.c.said_at, type_=inbound.c.said_at.type))
    .join(inbound, (inbound.c.channel == address.c.channel) & (inbound.c.person_key == address.c.key))
    .where(inbound.c.kind.in_(("say", "edit", "press", "other")))
    .group_by(address.c.person_id)
)
_WEIGH_INS = (
    select(weigh_in.c.person_id, func.count())
    .where(weigh_in.c.kind == VersionKind.RECORDED.value)
    .group_by(weigh_in.c.person_id)
)


def find(conn: Connection, channel: str, key: str) -> Person | None:
    """The person who speaks under this key in this channel, or None."""
    return _person(_BY_ADDRESS.one_or_none(conn, {"channel": channel, "key": key}))


def by_id(conn: Connection, person_id: int) -> Person | None:
    """The person with this id, or None."""
    return _person(conn.execute(_BY_ID, {"id": person_id}).one_or_none())


def by_ids(conn: Connection, person_ids: Sequence[int]) -> list[Person]:
    """Those of the people with these ids that there are."""
    rows = conn.execute(_BY_IDS, {"ids": list(person_ids)}).all()
    return [found for row in rows if (found := _person(row)) is not None]


def add(
    conn: Connection, channel: str, key: str, name: str, region: Region, timezone: ZoneInfo, role: str = "client"
) -> Person:
    """A new person with a kitchen of their own, reachable under the key in the channel."""
    kitchen_id = conn.execute(_ADD_KITCHEN, {"batches": 0}).scalar_one()
    values = {"name": name, "region": region.value, "timezone": timezone.key, "role": role, "kitchen_id": kitchen_id}
    person_id = conn.execute(_ADD_PERSON, values).scalar_one()
    conn.execute(_ADD_ADDRESS, {"channel": channel, "key": key, "person_id": person_id})
    return Person(person_id, name, region, timezone, role, kitchen_id)


def update(
    conn: Connection,
    person_id: int,
    *,
    region: Region | None = None,
    timezone: ZoneInfo | None = None,
    role: str | None = None,
    day_starts: int | None = None,
) -> Person:
    """The person after the change; what is None stays as it was. KeyError when there is no such person."""
    values: dict[str, object] = {}
    if region is not None:
        values["region"] = region.value
    if timezone is not None:
        values["timezone"] = timezone.key
    if role is not None:
        values["role"] = role
    if day_starts is not None:
        values["day_starts"] = day_starts
    if values:
        conn.execute(_UPDATE, {**values, "of_person": person_id})
    changed = by_id(conn, person_id)
    if changed is None:
        raise KeyError(person_id)
    return changed


def hold_kitchen(conn: Connection, of: Person) -> Person:
    """Locks the person's kitchen for this transaction: people who share it take turns, also across processes.

    Returns the person as they are then: while another had the kitchen, they may have moved to a different one.
    """
    if conn.dialect.name == "sqlite":  # a write transaction locks the whole database there
        return of
    while True:
        conn.execute(_HOLD_KITCHEN, {"of_kitchen": of.kitchen_id})
        now = by_id(conn, of.id)
        if now is None or now.kitchen_id == of.kitchen_id:
            return now or of
        of = now


def reachable(conn: Connection, channel: str, key: str) -> bool | None:
    """Whether the person under this key can be reached in the channel; None when there is nobody."""
    found: bool | None = _REACHABLE.scalar(conn, {"of_channel": channel, "of_key": key})
    return found


def set_blocked(conn: Connection, channel: str, key: str, since: datetime | None) -> None:
    """Sets since when nothing can be delivered to the person in that channel; None when it can."""
    conn.execute(_SET_BLOCKED, {"of_channel": channel, "of_key": key, "since": since})


def reached(conn: Connection, person_id: int, rather: str) -> tuple[str, str] | None:
    """(channel, key) under which the person can be told something, in that channel rather than in another."""
    row = conn.execute(_REACHED, {"of_person": person_id, "rather": rather}).one_or_none()
    return None if row is None else (row[0], row[1])


def heard_since(conn: Connection, channel: str, since: datetime) -> list[tuple[str, int]]:
    """(key, person's id) of everybody who can be reached in the channel and has said something there since then."""
    rows = conn.execute(_HEARD_SINCE, {"of_channel": channel, "since": since})
    return [(key, person_id) for key, person_id in rows]


def everybody(conn: Connection) -> list[PersonOverview]:
    """Everybody who talks with the program, by id."""
    places: dict[int, list[tuple[str, bool]]] = {}
    for person_id, channel, key, blocked_at in conn.execute(_ADDRESSES):
        if channel != PLACEHOLDER_CHANNEL:
            places.setdefault(person_id, []).append((f"{channel}:{key}", blocked_at is not None))
    last: dict[int, datetime] = dict(iter(conn.execute(_LAST_SAID)))
    weighed: dict[int, int] = dict(iter(conn.execute(_WEIGH_INS)))
    return [
        PersonOverview(
            *row,
            addresses=tuple(where for where, _ in places[row[0]]),
            blocked=all(blocked for _, blocked in places[row[0]]),
            last_said=last.get(row[0]),
            weigh_ins=weighed.get(row[0], 0),
        )
        for row in conn.execute(_EVERYBODY)
        if row[0] in places
    ]


def _person(row: Sequence[Any] | None) -> Person | None:
    if row is None:
        return None
    person_id, name, region, timezone, role, kitchen_id, day_starts = row
    return Person(person_id, name, Region(region), ZoneInfo(timezone), role, kitchen_id, day_starts)
