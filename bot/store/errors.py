"""Errors of the store."""

import sqlite3

from sqlalchemy.exc import DBAPIError, InterfaceError, OperationalError, SQLAlchemyError
from sqlalchemy.exc import TimeoutError as PoolTimeout

_SQLITE_TROUBLE = frozenset(
    {
        sqlite3.SQLITE_BUSY,
        sqlite3.SQLITE_LOCKED,
        sqlite3.SQLITE_NOMEM,
        sqlite3.SQLITE_READONLY,
        sqlite3.SQLITE_IOERR,
        sqlite3.SQLITE_FULL,
        sqlite3.SQLITE_CANTOPEN,
    }
)


class StoreError(Exception):
    """The database can't be used. Its text is a sentence that can be shown to a person."""


class StoreUnavailable(StoreError):
    """The database can't be used just now, whatever is asked of it: locked, full, or gone. Later it may be."""


class StoreGone(StoreError):
    """The database's file was deleted or replaced while it was in use: what is written reaches nobody any more."""


def store_error(error: SQLAlchemyError) -> StoreError:
    """What the database's own exception means to the rest of the program."""
    unavailable = isinstance(error, PoolTimeout) or (isinstance(error, DBAPIError) and _unavailable(error))
    kind = StoreUnavailable if unavailable else StoreError
    return kind("The database can't be read or written just now.")


def _unavailable(error: DBAPIError) -> bool:
    cause = error.orig
    if isinstance(cause, sqlite3.Error):
        # The low byte is the primary result code, the rest is its extension (sqlite.org/rescode.html).
        return (getattr(cause, "sqlite_errorcode", 0) & 0xFF) in _SQLITE_TROUBLE
    # Class 54 of the SQLSTATE codes is a limit of the server's that the statement itself exceeds.
    beyond_limits = str(getattr(cause, "sqlstate", None) or "").startswith("54")
    return error.connection_invalidated or (isinstance(error, (OperationalError, InterfaceError)) and not beyond_limits)
