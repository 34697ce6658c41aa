"""Commands for operators: people, backup, restore, check and import."""

from __future__ import annotations

import argparse
import json
import logging
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from bot.settings import Settings

if TYPE_CHECKING:
    from bot.app import Tarebook
    from bot.store.people import Person

logger = logging.getLogger(__name__)

Say = Callable[[str], None]
Commands = Any
"""What `ArgumentParser.add_subparsers` gives."""


def add_to(commands: Commands) -> None:
    """Adds the commands to the command line."""
    _add(commands, "people", _people, "list the people who use it", "List everyone who uses it.")
    backup = _add(
        commands,
        "backup",
        _backup,
        "copy the database",
        "Write a consistent copy of the database. The bot may be running.",
    )
    backup.add_argument("file", metavar="FILE", type=Path, help="where to write the copy")
    backup.add_argument(
        "--recipient",
        metavar="KEY",
        action="append",
        default=[],
        help="encrypt it to this public key of age's (age1…); may be repeated",
    )
    restore = _add(
        commands, "restore", _restore, "restore a copy", "Replace the database with a copy. Stop the bot first."
    )
    restore.add_argument("file", metavar="FILE", type=Path, help="the copy")
    restore.add_argument("--replace", action="store_true", help="even if the database has people in it")
    restore.add_argument("--identity", metavar="FILE", type=Path, help="the secret key of an encrypted copy")
    _add(
        commands,
        "check",
        _check,
        "check the database",
        "Check the database for inconsistent records. Exits with 1 if there are any.",
    )
    bring = _add(
        commands,
        "import",
        _import,
        "import an export",
        "Import a person's export. Records that exist already are skipped.",
    )
    bring.add_argument("file", metavar="FILE", type=Path, help="the export: the ZIP file or its tarebook.json")
    bring.add_argument("--person", metavar="WHO", required=True, help="an id, or CHANNEL:KEY as `people` lists it")


def _add(commands: Commands, name: str, run: Any, short: str, long: str) -> argparse.ArgumentParser:
    parser: argparse.ArgumentParser = commands.add_parser(name, help=short, description=long)
    parser.add_argument("--json", action="store_true", help="print JSON")
    parser.set_defaults(run=run)
    return parser


def run(given: argparse.Namespace, environment: Mapping[str, str], say: Say) -> int:
    """Carries out one of the commands. Returns the exit status: 0, or 1 when something is wrong.

    Raises StoreError when the database, or SettingsError when a file that is named can't be opened.
    """
    status: int = given.run(given, Settings.read(environment).database, say)
    return status


def _open(url: str) -> Any:
    """The program on a database that is there already."""
    from bot.app import open_tarebook
    from bot.store.maintenance import backups

    place = backups.place_of(url)
    if place.get_backend_name() == "sqlite":
        backups.existing(place)
    return open_tarebook(url)


def _people(given: argparse.Namespace, url: str, say: Say) -> int:
    from bot.store import people

    with _open(url) as tarebook, tarebook.transaction() as conn:
        found = people.everybody(conn)
    if given.json:
        say(json.dumps([each.as_json() for each in found], ensure_ascii=False))
        return 0
    for each in found:
        last = "never" if each.last_said is None else f"{each.last_said:%Y-%m-%d %H:%M}"
        where = ", ".join(each.addresses) or "nowhere"
        say(f"{each.id:>5}  {each.name}  {where}  {each.weigh_ins:,} weigh-ins, last heard {last}")
    say(f"{len(found)} {'person' if len(found) == 1 else 'people'}")
    return 0


def _backup(given: argparse.Namespace, url: str, say: Say) -> int:
    from bot.store.maintenance import backups

    backups.backup(url, given.file, given.recipient)
    size = given.file.stat().st_size
    said = {"file": str(given.file), "bytes": size}
    how = "It is encrypted." if given.recipient else "It holds what people told it; keep it safe."
    say(json.dumps(said) if given.json else f"{given.file}: {size:,} bytes. {how}")
    return 0


def _restore(given: argparse.Namespace, url: str, say: Say) -> int:
    from bot.store.maintenance import backups

    backups.restore(url, given.file, datetime.now(UTC), replace=given.replace, identity=given.identity)
    said = {"file": str(given.file), "restored": True}
    say(json.dumps(said) if given.json else f"The database is as it was in {given.file}.")
    return 0


def _check(given: argparse.Namespace, url: str, say: Say) -> int:
    from bot.store.engine import operator_warnings
    from bot.store.maintenance import integrity

    for warning in operator_warnings(url):
        logger.warning(warning)
    with _open(url) as tarebook, tarebook.transaction() as conn:
        problems = integrity.problems(conn, datetime.now(UTC))
        counts = integrity.counts(conn)
    if given.json:
        found = [{"kind": each.kind, "what": each.what, "count": each.count} for each in problems]
        say(json.dumps({"ok": not problems, "problems": found, "rows": counts}))
    else:
        for each in problems:
            say(f"{each.kind}: {each.what} ({each.count})")
        rows = f"{sum(counts.values()):,} rows"
        say(f"{len(problems)} problems in {rows}." if problems else f"All is well in {rows}.")
    return 1 if problems else 0


def _import(given: argparse.Namespace, url: str, say: Say) -> int:
    from bot.conversation.privacy import importing
    from bot.reports.reading import Unreadable

    try:
        content = given.file.read_bytes()
    except OSError as error:
        say(f"{given.file} can't be read: {error.strerror}.")
        return 2
    with _open(url) as tarebook:
        person = _person(tarebook, given.person)
        if person is None:
            say(f"There is nobody called {given.person} here; `tarebook people` lists who there is.")
            return 1
        try:
            added = tarebook.bring_back(person, content, datetime.now(UTC))
        except Unreadable as why:
            say(str(why))
            return 1
    say(json.dumps({"person": person.id, "added": added}) if given.json else importing.told(added))
    return 0


def _person(tarebook: Tarebook, who: str) -> Person | None:
    from bot.store import people

    channel, _, key = who.partition(":")
    with tarebook.transaction() as conn:
        if who.isdecimal() and len(who) < 19:
            return people.by_id(conn, int(who))
        return people.find(conn, channel, key)
