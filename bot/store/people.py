"""Who is speaking."""

from dataclasses import dataclass
from zoneinfo import ZoneInfo

import sqlalchemy as sa
from sqlalchemy import Connection, Row, bindparam, insert, select

from bot.store.schema import address, kitchen, person
from domain.quantities import Region


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who talks with Tarebook. `role` is `client` or `coach`."""

    id: int
    name: str
    region: Region
    timezone: ZoneInfo
    role: str
    kitchen_id: int


_PERSON = select(person.c.id, person.c.name, person.c.region, person.c.timezone, person.c.role, person.c.kitchen_id)
_BY_ADDRESS = _PERSON.join(address, address.c.person_id == person.c.id).where(
    address.c.channel == bindparam("channel"), address.c.key == bindparam("key")
)
_BY_ID = _PERSON.where(person.c.id == bindparam("id"))
_ADD_KITCHEN = insert(kitchen).returning(kitchen.c.id)
_ADD_PERSON = insert(person).returning(person.c.id)
_ADD_ADDRESS = insert(address)
_UPDATE = sa.update(person).where(person.c.id == bindparam("of_person"))


def find(conn: Connection, channel: str, key: str) -> Person | None:
    """The person who speaks under this key in this channel, or None."""
    return _person(conn.execute(_BY_ADDRESS, {"channel": channel, "key": key}).one_or_none())


def by_id(conn: Connection, person_id: int) -> Person | None:
    """The person with this id, or None."""
    return _person(conn.execute(_BY_ID, {"id": person_id}).one_or_none())


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
) -> Person:
    """The person after the change; what is None stays as it was. KeyError when there is no such person."""
    values: dict[str, object] = {}
    if region is not None:
        values["region"] = region.value
    if timezone is not None:
        values["timezone"] = timezone.key
    if role is not None:
        values["role"] = role
    if values:
        conn.execute(_UPDATE, {**values, "of_person": person_id})
    changed = by_id(conn, person_id)
    if changed is None:
        raise KeyError(person_id)
    return changed


def _person(row: Row[int, str, str, str, str, int] | None) -> Person | None:
    if row is None:
        return None
    person_id, name, region, timezone, role, kitchen_id = row
    return Person(person_id, name, Region(region), ZoneInfo(timezone), role, kitchen_id)
