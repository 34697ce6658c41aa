"""Errors of the store."""

import errno
import shutil
import sqlite3
from pathlib import Path

from sqlalchemy.exc import DBAPIError, InterfaceError, OperationalError, SQLAlchemyError
from sqlalchemy.exc import TimeoutError as PoolTimeout

FULL = "the disk is full"
DAMAGED = "it is damaged, so stop the program and restore a backup"
UNREACHABLE = "its server can't be reached"
_OF_SQLITE = {
    sqlite3.SQLITE_BUSY: "another program holds its lock",
    sqlite3.SQLITE_LOCKED: "another program holds its lock",
    sqlite3.SQLITE_NOMEM: "there is no memory left",
    sqlite3.SQLITE_READONLY: "it is read-only",
    sqlite3.SQLITE_IOERR: "the disk reports an error",
    sqlite3.SQLITE_FULL: FULL,
    sqlite3.SQLITE_CANTOPEN: "its file can't be opened",
    sqlite3.SQLITE_CORRUPT: DAMAGED,
    sqlite3.SQLITE_NOTADB: DAMAGED,
}
_LITTLE = 1_000_000
"""Bytes: with less space left, an error of the disk most likely means that it is full."""


class StoreError(Exception):
    """The database can't be used. Its text is a sentence that can be shown to a person."""


class StoreUnavailable(StoreError):
    """The database can't be used just now, whatever is asked of it; `reason` says why, for an operator."""

    def __init__(self, reason: str) -> None:
        super().__init__(f"The database can't be read or written just now: {reason}.")
        self.reason = reason


class StoreGone(StoreError):
    """The database's file was deleted or replaced while it was in use: what is written reaches nobody any more."""


def store_error(error: SQLAlchemyError) -> StoreError:
    """What the database's own exception means to the rest of the program."""
    if isinstance(error, PoolTimeout):
        return StoreUnavailable("all connections to it are in use")
    reason = _reason(error) if isinstance(error, DBAPIError) else None
    return StoreError("The database rejected the operation.") if reason is None else StoreUnavailable(reason)


def sqlite_reason(error: sqlite3.Error, path: Path | None = None) -> str | None:
    """Why SQLite can't be used, by its result code (sqlite.org/rescode.html); None for any other error.

    With the path of its file it is also seen whether the disk is full, where SQLite does not tell.
    """
    # The low byte is the primary result code, the rest is its extension.
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF
    if path is not None and code in (sqlite3.SQLITE_IOERR, sqlite3.SQLITE_CANTOPEN) and _is_full(path):
        return FULL
    return _OF_SQLITE.get(code)


def os_reason(error: OSError) -> str:
    """Why a file can't be used."""
    return FULL if error.errno in (errno.ENOSPC, errno.EDQUOT) else error.strerror or type(error).__name__


def _is_full(path: Path) -> bool:
    try:
        return shutil.disk_usage(path.parent).free < _LITTLE
    except OSError:
        return False


def _reason(error: DBAPIError) -> str | None:
    cause = error.orig
    if isinstance(cause, sqlite3.Error):
        return sqlite_reason(cause)
    state = str(getattr(cause, "sqlstate", None) or "")
    # postgresql.org/docs/current/errcodes-appendix.html: disk_full; data_corrupted and index_corrupted.
    if state == "53100":
        return FULL
    if state.startswith("XX00") and state != "XX000":
        return DAMAGED
    # Class 54 is a limit of the server's that the statement itself exceeds.
    out_of_reach = isinstance(error, (OperationalError, InterfaceError)) and not state.startswith("54")
    return UNREACHABLE if error.connection_invalidated or out_of_reach else None
