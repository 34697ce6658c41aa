"""Which schema a database has, and upgrading it to ours.

Alembic is imported only when it is needed: a database that is up to date opens without it.
"""

import sqlite3
from contextlib import closing
from importlib.resources import files
from pathlib import Path

from sqlalchemy import URL, Column, Connection, Engine, MetaData, PrimaryKeyConstraint, String, Table, inspect, select

from bot.store.errors import DAMAGED, StoreError, os_reason, sqlite_reason
from bot.store.schema import REVISION

# Alembic's version table, as Alembic creates it.
VERSION = Table(
    "alembic_version",
    MetaData(),
    Column("version_num", String(32), nullable=False),
    PrimaryKeyConstraint("version_num", name="alembic_version_pkc"),
)

# An arbitrary number, the same for every Tarebook on a server.
_UPGRADE_LOCK = 7_382_031_455


def look_at_file(place: URL) -> None:
    """Checks a SQLite file; one that is not there yet is created, for its owner alone, and so is its folder.

    Raises StoreError when there is something at that path which is not Tarebook's, or which is newer.
    """
    path = Path(place.database or "")
    try:
        create_private(path)
        if path.is_file() and path.stat().st_size == 0:
            return
        if not path.is_file():
            raise StoreError(f"{path} is not a file.")
        with closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)) as connection:
            tables = {name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
            found = None
            if VERSION.name in tables:
                found = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    except OSError as error:
        raise StoreError(f"{path} can't be opened: {os_reason(error)}.") from error
    except sqlite3.Error as error:
        reason = sqlite_reason(error, path)
        # Whether it is damaged, or was never a database, can't be told apart.
        wrong = "is damaged, or is no database" if reason == DAMAGED else f"can't be opened: {reason or error}"
        raise StoreError(f"{path} {wrong}.") from error
    check(str(path), tables, found[0] if found else None)


def create_private(path: Path) -> None:
    """Creates an empty file that its owner alone may read, and its folder likewise, unless they are there."""
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    # SQLite gives its log and its index of the log the mode of the file (sqlite.org/wal.html).
    if not path.exists():
        path.touch(mode=0o600)


def bring_up_to_date(engine: Engine) -> None:
    """Creates the tables, or upgrades them to the newest schema, in one transaction.

    Raises StoreError when the database belongs to another program or to a newer Tarebook.
    """
    with engine.begin() as conn:
        if conn.dialect.name == "postgresql":
            conn.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_UPGRADE_LOCK})")
        tables = set(inspect(conn).get_table_names())
        found = conn.execute(select(VERSION.c.version_num)).scalar() if VERSION.name in tables else None
        check(engine.url.render_as_string(hide_password=True), tables, found)
        if found != REVISION:
            _upgrade(conn)


def check(where: str, tables: set[str], found: str | None) -> None:
    """Whether this program can work with a database of these tables and schema. Raises StoreError."""
    if found is None:
        if tables - {VERSION.name}:
            raise StoreError(f"{where} is a database of another program.")
    elif found != REVISION and found not in _known():
        raise StoreError(f"{where} was written by a newer Tarebook (schema {found}); this one knows {REVISION}.")


def _known() -> set[str]:
    from alembic.script import ScriptDirectory

    return {script.revision for script in ScriptDirectory(_migrations()).walk_revisions()}


def _upgrade(conn: Connection) -> None:
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", _migrations().replace("%", "%%"))
    config.attributes["connection"] = conn
    command.upgrade(config, "head")


def _migrations() -> str:
    return str(files("migrations"))
