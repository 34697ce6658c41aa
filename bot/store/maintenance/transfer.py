"""Copies a whole database into another, of the same kind or not, and proves that every row arrived."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from hashlib import blake2b
from pathlib import Path
from typing import Any

import msgspec
from sqlalchemy import Connection, Row, Table, func, insert, select
from sqlalchemy.exc import SQLAlchemyError

from bot.store.delivery import lease
from bot.store.engine import Store, open_store, place_of
from bot.store.errors import StoreError, store_error
from bot.store.schema import metadata

_AT_ONCE = 2_000


@dataclass(frozen=True, slots=True)
class Content:
    """What a table holds: how many rows, and a checksum that does not depend on their order."""

    table: str
    rows: int
    checksum: str


def open_source(url: str) -> Store:
    """The database at a URL as `open_store` gives it; StoreError when there is none, instead of a new one."""
    place = place_of(url)
    if place.get_backend_name() == "sqlite" and not (place.database and Path(place.database).is_file()):
        raise StoreError(f"There is no database at {place.render_as_string(hide_password=True)}.")
    return open_store(url)


def move(source: Store, target: Store, now: datetime) -> list[Content]:
    """Copies every row of the source into the target, which is committed only once both hold the same.

    Returns what each table of the target holds, in the order in which they were filled. Raises StoreError, with the
    target as it was, when that holds records already, when a bot still serves on the source, or when what arrived is
    not what was sent. The source is only read.
    """
    if source.url == target.url:
        raise StoreError("That is one and the same database.")
    try:
        with source.transaction() as old, target.transaction() as new:
            if old.dialect.name == "postgresql":
                # A snapshot of the whole database, whatever is written meanwhile.
                old.exec_driver_sql("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ")
            _refuse_what_is_used(source, old, now)
            _refuse_what_is_full(target, new)
            return [_copied(table, old, new) for table in metadata.sorted_tables]
    except SQLAlchemyError as error:
        raise store_error(error) from error


def _refuse_what_is_used(source: Store, conn: Connection, now: datetime) -> None:
    if lease.anybody_serves(conn, now):
        raise StoreError(
            f"A bot still serves on {source.url}, or was killed less than a minute ago: "
            "what it would write from now on would stay behind. Stop it first."
        )


def _refuse_what_is_full(target: Store, conn: Connection) -> None:
    for table in metadata.sorted_tables:
        if conn.execute(select(*table.primary_key).limit(1)).first() is not None:
            raise StoreError(f"{target.url} is not empty: its table {table.name} has rows. Nothing was changed.")


def _copied(table: Table, old: Connection, new: Connection) -> Content:
    sent = _Sum(table)
    for rows in _chunks(table, old):
        new.execute(insert(table), [dict(row._mapping) for row in rows])
        sent.add(rows)
    arrived = _Sum(table)
    for rows in _chunks(table, new):
        arrived.add(rows)
    if sent.content != arrived.content:
        raise StoreError(f"The table {table.name} arrived as {arrived.content}, and is {sent.content}.")
    _count_on(table, new)
    return arrived.content


def _chunks(table: Table, conn: Connection) -> Iterator[list[Row[*tuple[Any, ...]]]]:
    # By primary key: a row that refers to another row of its table comes after it.
    everything = select(table).order_by(*table.primary_key)
    found = conn.execute(everything, execution_options={"yield_per": _AT_ONCE})
    for rows in found.partitions():
        yield list(rows)


class _Sum:
    """Sums the digests of rows: the same for the same rows in any order, different when one is doubled or missing."""

    def __init__(self, table: Table) -> None:
        self._table = table.name
        self._rows = 0
        self._sum = 0

    def add(self, rows: list[Row[*tuple[Any, ...]]]) -> None:
        self._rows += len(rows)
        for row in rows:
            digest = blake2b(msgspec.json.encode(tuple(row)), digest_size=16).digest()
            self._sum = (self._sum + int.from_bytes(digest)) % 2**128

    @property
    def content(self) -> Content:
        return Content(self._table, self._rows, f"{self._sum:032x}")


def _count_on(table: Table, conn: Connection) -> None:
    """Sets the sequence to continue after the copied rows; SQLite does so by itself."""
    if conn.dialect.name != "postgresql" or "id" not in table.c:
        return
    newest = conn.execute(select(func.max(table.c.id))).scalar()
    if newest is not None:
        conn.execute(select(func.setval(func.pg_get_serial_sequence(table.name, "id"), newest)))
