"""The database as a boundary at which faults happen: before a transaction, before and after its commit."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, Protocol

from sqlalchemy.exc import OperationalError

from bot.store.engine import PATIENCE_S, Connection, Store

from .clock import HOST, Killed, suspend
from .plan import IDLE, Faults


class Machine(Protocol):
    """What a store has to know of the simulated process it belongs to."""

    alive: bool
    faults: Faults
    shared: bool
    disk_full: bool

    def die(self) -> None:
        """Ends at once, in the middle of whatever it does."""

    def pauses(self) -> float:
        """Seconds until the database has done the next piece of work."""

    def trouble(self) -> None:
        """The database has failed it."""

    def committed(self, changed: bool) -> None:
        """A transaction of its has been committed."""


class FaultyStore(Store):
    """A store that fails as databases do, and whose process may die at any of its boundaries."""

    @property
    def shared(self) -> bool:
        machine: Any = HOST.get()
        return super().shared if machine is None else machine.shared

    @contextmanager
    def transaction(self) -> Iterator[Connection]:
        machine: Machine | None = HOST.get()  # type: ignore[assignment]
        if machine is None:
            with super().transaction() as conn:
                yield conn
            return
        self._before(machine)
        with super().transaction() as conn:
            changes = _changes(conn)
            yield conn
            changed = _changes(conn) != changes
            _before_commit(machine, changed)
        machine.committed(changed)
        self._after_commit(machine, changed)

    def _before(self, machine: Machine) -> None:
        go_on(machine, machine.pauses())
        if machine.faults.strikes("killed between"):
            die(machine)
        if machine.faults.strikes("locked"):
            go_on(machine, self._begin.patience_s if self._begin else PATIENCE_S)
            raise failure(machine, "database is locked", sqlite3.SQLITE_BUSY)

    def _after_commit(self, machine: Machine, changed: bool) -> None:
        faults, times = machine.faults, 1 if changed else IDLE
        if faults.strikes("killed after commit", times):
            die(machine)
        # A local file is written or not; a server's answer can be lost on the way.
        if machine.shared and faults.strikes("commit unanswered", times):
            raise failure(machine, "connection lost", sqlite3.SQLITE_IOERR)
        go_on(machine, machine.pauses())
        if faults.strikes("disk slow", times):
            go_on(machine, 3.0)


def _before_commit(machine: Machine, changed: bool) -> None:
    faults, times = machine.faults, 1 if changed else IDLE
    if (machine.disk_full and changed) or faults.strikes("disk full", times):
        raise failure(machine, "database or disk is full", sqlite3.SQLITE_FULL)
    if faults.strikes("killed before commit", times):
        die(machine)


def go_on(machine: Machine, seconds: float) -> None:
    """Lets others go on for so many seconds. Killed when the process has died meanwhile."""
    suspend(seconds)
    if not machine.alive:
        raise Killed


def die(machine: Machine) -> None:
    """Ends the process here. Raises Killed."""
    machine.die()
    raise Killed


def failure(machine: Machine, what: str, code: int) -> OperationalError:
    """The error that SQLite reports with that result code (sqlite.org/rescode.html)."""
    machine.trouble()
    error = sqlite3.OperationalError(what)
    error.sqlite_errorcode = code
    return OperationalError("COMMIT", {}, error)


def _changes(conn: Connection) -> int:
    connection: Any = conn.connection.driver_connection
    total: int = connection.total_changes
    return total
