"""Opening a database and working in it, one transaction at a time."""

from __future__ import annotations

import contextlib
import sqlite3
import threading
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, StaticPool, create_engine, create_mock_engine, event, insert, make_url
from sqlalchemy.dialects import sqlite
from sqlalchemy.exc import ArgumentError, DBAPIError, NoSuchModuleError, SQLAlchemyError

from bot.store import upgrading
from bot.store.errors import FULL, StoreError, StoreGone, sqlite_reason
from bot.store.schema import REVISION, metadata

__all__ = ["Connection", "Store", "StoreError", "open_store"]

# In SQLite's terms, as it answers when asked: synchronous 2 is FULL (a commit is on the disk before it returns).
_PRAGMAS = {"foreign_keys": "1", "busy_timeout": "1000", "synchronous": "2", "secure_delete": "1"}

PATIENCE_S = 10.0
"""Seconds that a transaction waits for another program's lock, in tries of SQLite's busy timeout each."""

# Pages that stay in the log until a checkpoint copies them into the file. Most messages write the same pages, which are
# then copied once: at SQLite's default of 1000 checkpoints take a tenth of a message's time.
_CHECKPOINT = {"wal_autocheckpoint": "8000"}

# Seconds (postgresql.org/docs/current/libpq-connect.html#LIBPQ-PARAMKEYWORDS): without these a server that
# disappears silently would block a process for hours.
_PATIENCE = {"connect_timeout": 10, "keepalives_idle": 10, "keepalives_interval": 5, "keepalives_count": 3}


class Store:
    """An open database. `url` is where it is, with any password masked."""

    def __init__(self, engine: Engine, begin: _BeginImmediate | None = None) -> None:
        self._engine = engine
        self._begin = begin
        self.url = engine.url.render_as_string(hide_password=True)
        # SQLite has one writer: one connection for each process, used by one thread at a time.
        self._turn = threading.Lock() if engine.dialect.name == "sqlite" else None
        self._inside = threading.local()
        self._is_full = False
        place = engine.url
        self._file = Path(place.database or "") if self._turn is not None and not _in_memory(place) else None
        self._identity = None if self._file is None else _identity(self._file)

    @property
    def shared(self) -> bool:
        """Whether several processes may work on it at the same time."""
        return self._turn is None

    @contextmanager
    def transaction(self) -> Iterator[Connection]:
        """A connection whose work is committed on leaving, and rolled back when an exception leaves.

        Raises StoreGone after a commit to a file that is no longer there under its name.
        """
        if getattr(self._inside, "open", False):
            raise RuntimeError("this thread is already in a transaction")
        self._inside.open = True
        try:
            if self._turn is None:
                with self._engine.begin() as conn:
                    yield conn
            else:
                with self._turn:
                    self._make_room()
                    with self._engine.begin() as conn:
                        yield conn
        except DBAPIError as error:
            self._is_full = isinstance(error.orig, sqlite3.Error) and sqlite_reason(error.orig) == FULL
            raise
        finally:
            self._inside.open = False
        if self._file is not None and _identity(self._file) != self._identity:
            raise StoreGone(f"The database {self._file} was deleted or replaced while it was in use.")

    def _make_room(self) -> None:
        """After a full disk copies the log into the database and empties it: its space is needed on a small disk."""
        if self._is_full:
            self._is_full = False
            with closing(self._engine.raw_connection()) as connection, contextlib.suppress(sqlite3.Error):
                connection.cursor().execute("PRAGMA wal_checkpoint(TRUNCATE)")

    def rescue(self, now: datetime) -> Path | None:
        """Writes a file that is gone but still open to another beside it. Returns which, or None when that failed."""
        if self._file is None or self._turn is None:
            return None
        target = self._file.with_name(f"{self._file.name}.rescued-{now:%Y%m%dT%H%M%S}")
        with self._turn, closing(self._engine.raw_connection()) as connection:
            try:
                upgrading.create_private(target)
                connection.cursor().execute("VACUUM INTO ?", (str(target),))
            except (sqlite3.Error, OSError):
                return None
        return target

    def hurry(self) -> None:
        """From now on a transaction that meets another program's lock fails after one try: the program is stopping."""
        if self._begin is not None:
            self._begin.patience_s = 0.0

    def vacuum(self) -> bool:
        """Removes deleted content from the database's files, which takes a while.

        False when that has to wait, because another program uses the database. What a server keeps for its own
        recovery, and what is in backups, is out of reach.
        """
        if self._turn is None:
            with self._engine.connect().execution_options(isolation_level="AUTOCOMMIT") as conn:
                conn.exec_driver_sql("VACUUM")
            return True
        # Deleted cells are zeroed at once (secure_delete), but copies of them can be left in the gaps of pages that
        # were rearranged, and in the log.
        with self._turn, closing(self._engine.raw_connection()) as connection:
            cursor = connection.cursor()
            try:
                # Readers hold this up for as long as they read.
                cursor.execute(f"PRAGMA busy_timeout = {PATIENCE_S * 1000:.0f}")
                cursor.execute("VACUUM")
                busy, *_ = cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone() or (0,)
            except sqlite3.OperationalError:
                return False
            finally:
                cursor.execute(f"PRAGMA busy_timeout = {_PRAGMAS['busy_timeout']}")
            return not busy

    def close(self) -> None:
        """Closes the database. The store can't be used afterwards."""
        self._engine.dispose()


def open_store(url: str) -> Store:
    """The database at a URL, its tables made or brought up to date.

    `sqlite://` is a fresh database in memory, `sqlite:///path` a file (made when missing, its folder too),
    `postgresql+psycopg://…` a server. Raises StoreError, and leaves what is there untouched, when it can't be opened,
    is no database, belongs to another program or was written by a newer Tarebook.
    """
    place = place_of(url)
    if place.get_backend_name() == "sqlite":
        return _open_sqlite(place)
    return _open_server(place)


def place_of(url: str) -> URL:
    """The URL taken apart. StoreError when it can't be, or is for another kind of database."""
    try:
        place = make_url(url)
    except ArgumentError:
        raise StoreError("The database URL can't be read; it should look like sqlite:///tarebook.db.") from None
    if place.get_backend_name() not in ("sqlite", "postgresql"):
        raise StoreError(
            f"A database of the kind “{place.get_backend_name()}” can't be used; use SQLite or PostgreSQL."
        )
    return place


def _open_sqlite(place: URL) -> Store:
    in_memory = _in_memory(place)
    if not in_memory:
        upgrading.look_at_file(place)
    engine = create_engine(
        place, poolclass=StaticPool, connect_args={"isolation_level": None, "check_same_thread": False}
    )
    event.listen(engine, "connect", _prepare_memory if in_memory else _prepare_file)
    # Set on the dialect: with a listener, every statement would look for listeners.
    begin = _BeginImmediate()
    engine.dialect.do_begin = begin  # type: ignore[method-assign,assignment]
    with _refusal(engine):
        if in_memory:
            _make_in_memory(engine)
        else:
            upgrading.bring_up_to_date(engine)
    return Store(engine, begin)


def _identity(file: Path) -> tuple[int, int] | None:
    """What tells a file from another under the same name; None when there is none."""
    try:
        found = file.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino


def _in_memory(place: URL) -> bool:
    return place.database in (None, "", ":memory:")


def _open_server(place: URL) -> Store:
    try:
        engine = create_engine(place, connect_args=_patience(place))
    except (NoSuchModuleError, ModuleNotFoundError):
        raise StoreError(f"The driver for “{place.drivername}” is not installed.") from None
    event.listen(engine, "connect", _prepare_server)
    with _refusal(engine):
        upgrading.bring_up_to_date(engine)
    return Store(engine)


def _patience(place: URL) -> dict[str, int]:
    """How long to wait for a server that does not answer, unless the URL says so itself."""
    return {name: seconds for name, seconds in _PATIENCE.items() if name not in place.query}


@contextmanager
def _refusal(engine: Engine) -> Iterator[None]:
    try:
        yield
    except StoreError:
        engine.dispose()
        raise
    except (SQLAlchemyError, sqlite3.Error) as error:
        engine.dispose()
        where = engine.url.render_as_string(hide_password=True)
        cause = getattr(error, "orig", None) or error
        file = Path(engine.url.database or "")
        reason = (sqlite_reason(cause, file) if isinstance(cause, sqlite3.Error) else None) or cause
        raise StoreError(f"The database {where} can't be opened: {reason}") from error


def _make_in_memory(engine: Engine) -> None:
    with engine.begin() as conn:
        for statement in _tables():
            conn.exec_driver_sql(statement)
        conn.execute(insert(upgrading.VERSION), {"version_num": REVISION})


@cache
def _tables() -> list[str]:
    """The statements that create the tables. Compiling them takes longer than executing them, so that is done once."""
    statements: list[str] = []
    dialect = sqlite.dialect()
    writer = create_mock_engine("sqlite://", lambda ddl, *_: statements.append(str(ddl.compile(dialect=dialect))))
    for tables in (metadata, upgrading.VERSION.metadata):
        tables.create_all(writer, checkfirst=False)
    return statements


def _prepare_memory(connection: Any, _record: object) -> None:
    _set_pragmas(connection, _PRAGMAS | {"journal_mode": "memory"})


def _prepare_file(connection: Any, _record: object) -> None:
    _set_pragmas(connection, _PRAGMAS | {"journal_mode": "wal"} | _CHECKPOINT)


def _set_pragmas(connection: Any, wanted: dict[str, str]) -> None:
    cursor = connection.cursor()
    for name, value in wanted.items():
        cursor.execute(f"PRAGMA {name} = {value}").fetchall()
        (is_now,) = cursor.execute(f"PRAGMA {name}").fetchone()
        if str(is_now) != value:
            raise StoreError(f"The database can't be kept safe here: {name} stays {is_now} instead of {value}.")
    cursor.close()


class _BeginImmediate:
    """Begins a transaction with the write lock.

    A transaction that reads before it writes fails at once, whatever the busy timeout, when another wrote meanwhile.
    """

    def __init__(self) -> None:
        self.patience_s = PATIENCE_S

    def __call__(self, connection: Any) -> None:
        began = time.monotonic()
        while True:
            try:
                connection.execute("BEGIN IMMEDIATE")
                return
            except sqlite3.OperationalError as error:
                busy = (error.sqlite_errorcode & 0xFF) == sqlite3.SQLITE_BUSY
                if not busy or time.monotonic() - began >= self.patience_s:
                    raise


def _prepare_server(connection: Any, _record: object) -> None:
    # A message is confirmed to its channel after the commit, so the commit must be on the disk by then.
    connection.execute("SET synchronous_commit TO on")
    connection.commit()


def operator_warnings(url: str) -> list[str]:
    """What an operator should know about a database file and the SQLite library under it."""
    place = place_of(url)
    if place.get_backend_name() != "sqlite" or _in_memory(place):
        return []
    found = []
    version = sqlite3.sqlite_version_info
    # The WAL-reset bug: fixed in 3.51.3, and in 3.50.7 and 3.44.6 of the older lines (sqlite.org/wal.html).
    fixed = version >= (3, 51, 3) or (3, 50, 7) <= version < (3, 51) or (3, 44, 6) <= version < (3, 45)
    if not fixed:
        found.append(
            f"SQLite {sqlite3.sqlite_version} can damage a database that two processes write at the same moment: "
            "let only one Tarebook use this file, or update SQLite to 3.51.3."
        )
    path = Path(place.database or "")
    if path.is_file() and path.stat().st_mode & 0o077:
        found.append(f"Other users of this machine may read {path}; chmod 600 prevents that.")
    return found
