"""Backups of a whole database, taken while it is in use, and restoring them."""

from __future__ import annotations

import os
import re
import shutil
import sqlite3
import subprocess
import tempfile
from collections.abc import Sequence
from contextlib import closing
from datetime import datetime
from pathlib import Path

from sqlalchemy import URL, make_url

from bot.store import upgrading
from bot.store.delivery import lease
from bot.store.engine import open_store
from bot.store.engine import place_of as place_of
from bot.store.errors import StoreError
from bot.store.maintenance import encryption
from bot.store.schema import metadata


def backup(url: str, target: Path, keys: Sequence[str] = ()) -> None:
    """Writes a copy of the database to a file, which appears there when it is complete. Raises StoreError.

    The copy is of one moment, also while the program is writing. With public keys of age's it is encrypted to them, and
    no plain copy reaches the target's file system.
    """
    place = place_of(url)
    if keys:
        # Before anything is written.
        encryption.recipients(keys)
    part = target.with_name(f".{target.name}.part")
    try:
        part.unlink(missing_ok=True)
        part.touch(mode=0o600)
        if keys:
            with tempfile.TemporaryDirectory(prefix="tarebook-", dir=_beside(place)) as folder:
                plain = Path(folder) / "plain"
                _dump(place, plain)
                encryption.encrypt(plain, part, keys)
        else:
            _dump(place, part)
        with part.open("rb+") as file:
            os.fsync(file.fileno())
        part.replace(target)
    except OSError as error:
        raise StoreError(f"{target} can't be written: {error.strerror}.") from error
    finally:
        part.unlink(missing_ok=True)


def _dump(place: URL, target: Path) -> None:
    if place.get_backend_name() == "sqlite":
        _copy(existing(place), target)
        with closing(sqlite3.connect(target)) as copy:
            copy.execute("PRAGMA journal_mode = DELETE").fetchall()
        _check_file(target)
    else:
        _with_server(place, ["pg_dump", "--format=custom", "--no-owner", f"--file={target}"])


def _beside(place: URL) -> Path | None:
    """A folder that holds plain records anyway; the system's for temporary files where there is none."""
    return existing(place).parent if place.get_backend_name() == "sqlite" else None


def restore(url: str, source: Path, now: datetime, *, replace: bool = False, identity: Path | None = None) -> None:
    """Replaces the database with a backup, and upgrades it. Raises StoreError.

    An encrypted one needs the file with its secret key, `identity`.

    Nothing is changed when the backup is damaged, is another program's or a newer Tarebook's, when a bot serves on the
    database, or when there is somebody in it already, unless they are to be replaced.
    """
    place = place_of(url)
    if not source.is_file():
        raise StoreError(f"There is no file {source}.")
    _refuse_what_is_used(url, place, now, replace)
    with encryption.decrypted(source, identity) as plain:
        _put_back(url, place, plain)
    open_store(url).close()


def _put_back(url: str, place: URL, source: Path) -> None:
    if place.get_backend_name() == "sqlite":
        _check_file(source)
        upgrading.create_private(Path(place.database or ""))
        _copy(source, Path(place.database or ""))
    else:
        _check_archive(place, source)
        with closing(open_store(url)) as store, store.transaction() as conn:
            # Tables that are newer than the copy would get in the way of upgrading it.
            for table in (*reversed(metadata.sorted_tables), upgrading.VERSION):
                table.drop(conn)
        command = ["pg_restore", "--single-transaction", "--no-owner", f"--dbname={place.database}"]
        _with_server(place, [*command, str(source)])


def existing(place: URL) -> Path:
    """The file of a SQLite database. Raises StoreError when there is none."""
    path = Path(place.database or "")
    if not path.is_file():
        raise StoreError(f"There is no database at {path}.")
    return path


def _copy(source: Path, target: Path) -> None:
    try:
        with closing(sqlite3.connect(source)) as old, closing(sqlite3.connect(target)) as new:
            old.execute("PRAGMA busy_timeout = 10000").fetchall()
            new.execute("PRAGMA secure_delete = 1").fetchall()
            old.backup(new)
    except sqlite3.Error as error:
        raise StoreError(f"{source} can't be copied to {target}: {error}.") from error


def _check_file(path: Path) -> None:
    """Whether a file is a whole database of this program's, or of an older one. Raises StoreError."""
    if path.stat().st_size == 0:
        raise StoreError(f"{path} is empty.")
    upgrading.look_at_file(make_url(f"sqlite:///{path}"))
    with closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)) as connection:
        try:
            said = [row[0] for row in connection.execute("PRAGMA integrity_check")]
            people = connection.execute("SELECT count(*) FROM sqlite_master WHERE name = 'person'").fetchone()[0]
        except sqlite3.Error as error:
            raise StoreError(f"{path} is damaged: {error}.") from error
    if said != ["ok"]:
        raise StoreError(f"{path} is damaged: {said[0]}")
    if not people:
        raise StoreError(f"{path} is no database of Tarebook.")


def _refuse_what_is_used(url: str, place: URL, now: datetime, replace: bool) -> None:
    """Raises StoreError when a bot serves on the database, or when people in it are not to be replaced."""
    if place.get_backend_name() == "sqlite" and not Path(place.database or "").exists():
        return
    try:
        store = open_store(url)
    except StoreError:
        if replace:  # An unusable database may be replaced; who uses it can't be told.
            return
        raise
    with closing(store), store.transaction() as conn:
        if lease.anybody_serves(conn, now):
            raise StoreError(
                f"A bot still serves on {store.url}, or was killed less than a minute ago: it would go on with a "
                "database that is not there any more. Stop it first."
            )
        if not replace and conn.exec_driver_sql("SELECT count(*) FROM person").scalar_one():
            raise StoreError("There are people in this database already. To put the copy in its place: --replace")


def _check_archive(place: URL, source: Path) -> None:
    """Whether an archive of PostgreSQL's holds this program's tables, or an older one's. Raises StoreError."""
    held = _with_server(place, ["pg_restore", "--list", str(source)])
    tables = set(re.findall(r" TABLE DATA \S+ (\w+) ", held))
    command = ["pg_restore", "--data-only", f"--table={upgrading.VERSION.name}", "--file=-", str(source)]
    found = re.search(r"^COPY .*\n(\w+)$", _with_server(place, command), re.MULTILINE)
    upgrading.check(str(source), tables | {"person"}, found[1] if found else None)


def _with_server(place: URL, command: Sequence[str]) -> str:
    """The output of one of PostgreSQL's own programs. The password is passed in its environment."""
    if shutil.which(command[0]) is None:
        raise StoreError(f"This needs PostgreSQL's own program {command[0]}, which is not installed here.")
    host = place.host or str(place.query.get("host", ""))
    given = {
        "PGHOST": host,
        "PGPORT": str(place.port or ""),
        "PGUSER": place.username or "",
        "PGPASSWORD": place.password or "",
        "PGDATABASE": place.database or "",
    }
    environment = os.environ | {name: value for name, value in given.items() if value}
    done = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)  # noqa: S603
    if done.returncode:
        raise StoreError(f"{command[0]} failed: {done.stderr.strip()[:300]}")
    return done.stdout
