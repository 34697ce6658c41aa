"""The command line: `tarebook chat`, `tarebook serve` and the others."""

from __future__ import annotations

import argparse
import logging
import os
import sys
from collections.abc import Sequence
from pathlib import Path

from bot import __version__, commands
from bot.settings import SettingsError
from bot.store.errors import StoreError, StoreGone


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command. Returns the exit status.

    It is 0, 1 when something is wrong, 2 when something could not be opened, and 3 when the database's file is gone:
    then the program should not be restarted on a new one.
    """
    given = parser().parse_args(arguments)
    logging.basicConfig(format="%(levelname)s: %(message)s")
    try:
        match given.command:
            case "chat":
                return _chat()
            case "converse":
                return _converse(given.database)
            case "serve":
                return _serve(given)
            case "invite":
                return _invite(given.days, given.json)
            case "move":
                return _move(given.source, given.target)
            case "replay":
                return _replay(given.files, given.accept)
            case _:
                return commands.run(given, os.environ, print)
    except StoreGone as error:
        print(error, file=sys.stderr)
        return 3
    except (StoreError, SettingsError) as error:
        print(error, file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        return 0
    except BrokenPipeError:
        # The reader has gone; Python would complain about the rest of the buffer when it ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0


def parser() -> argparse.ArgumentParser:
    """The command line with all its commands. docs/commands.md is generated from it."""
    whole = argparse.ArgumentParser(prog="tarebook", description="Weigh what you eat, and text it.")
    whole.add_argument("--version", action="version", version=f"tarebook {__version__}")
    named = whole.add_subparsers(dest="command", required=True, metavar="command")
    named.add_parser("chat", help="talk with it in this terminal", description="Talk with Tarebook in this terminal.")
    converse = named.add_parser(
        "converse",
        help="JSON Lines in, JSON Lines out",
        description="Answer each JSON line of standard input with one on standard output.",
    )
    converse.add_argument(
        "--database", metavar="URL", default="sqlite://", help="SQLAlchemy URL (default: a new database in memory)"
    )
    replay = named.add_parser(
        "replay",
        help="check written conversations",
        description="Run written conversations and show which replies changed.",
    )
    replay.add_argument("files", metavar="FILE", nargs="+", type=Path, help="a conversation")
    replay.add_argument("--accept", action="store_true", help="write the new replies to the files")
    serve = named.add_parser("serve", help="run the bot on Telegram", description="Run the bot until SIGTERM.")
    serve.add_argument("--webhook", metavar="URL", help="receive updates at this public URL instead of polling")
    serve.add_argument(
        "--listen", metavar="ADDRESS", default="127.0.0.1", help="address the webhook listens on (default: 127.0.0.1)"
    )
    serve.add_argument("--port", type=_port, default=8443, help="port the webhook listens on (default: 8443)")
    serve.add_argument(
        "--monitor", type=_port, metavar="PORT", help="serve /healthz and /metrics on this port of localhost"
    )
    invite = named.add_parser("invite", help="invite one person", description="Create an invitation for one person.")
    invite.add_argument("--days", type=_days, default=7, help="days until it expires (default: 7)")
    invite.add_argument("--json", action="store_true", help="print JSON")
    move = named.add_parser(
        "move",
        help="copy everything to another database",
        description="Copy everything to an empty database, SQLite or PostgreSQL, and verify the copy. A database is "
        "named by env:VARIABLE or file:PATH, which hold its URL, or by a URL without a password. Stop the bot first.",
    )
    move.add_argument("--from", dest="source", metavar="DATABASE", required=True, help="the source, which is only read")
    move.add_argument(
        "--to", dest="target", metavar="DATABASE", required=True, help="the destination, which must be empty"
    )
    commands.add_to(named)
    return whole


def _chat() -> int:
    from bot.app import open_tarebook
    from bot.channels import console
    from bot.settings import Settings

    settings = Settings.read(os.environ)
    with open_tarebook(settings.database) as tarebook:
        console.run(tarebook, settings.data_dir)
    return 0


def _converse(url: str) -> int:
    from bot.app import open_tarebook
    from bot.channels import converse

    with open_tarebook(url) as tarebook:
        converse.run(tarebook, sys.stdin.buffer, sys.stdout.buffer)
    return 0


def _replay(files: Sequence[Path], accept: bool) -> int:
    from bot.channels import replay

    return replay.run(files, accept, sys.stdout)


def _serve(given: argparse.Namespace) -> int:
    from bot import logs
    from bot.app import open_tarebook
    from bot.channels.telegram import serving
    from bot.settings import Settings, TelegramSettings
    from bot.store.engine import operator_warnings

    settings, telegram = Settings.read(os.environ), TelegramSettings.read(os.environ)
    logs.set_up(settings.log_level, [telegram.token, telegram.webhook_secret or "", *settings.database_secrets])
    for warning in operator_warnings(settings.database):
        logging.getLogger(__name__).warning(warning)
    with open_tarebook(settings.database) as tarebook:
        serving.run(tarebook, telegram, serving.Serving(given.webhook, given.listen, given.port, given.monitor))
    return 0


def _invite(days: int, in_json: bool) -> int:
    import json
    from datetime import UTC, datetime, timedelta

    from bot.app import open_tarebook
    from bot.settings import Settings
    from bot.store import invites

    now = datetime.now(UTC)
    with open_tarebook(Settings.read(os.environ).database) as tarebook, tarebook.transaction() as conn:
        code = invites.new(conn, "access", now, now + timedelta(days=days))
    if in_json:
        print(json.dumps({"code": code, "days": days}))
        return 0
    print(f"For one person, good for {days} days. They send the bot: /start {code}")
    return 0


def _move(source: str, target: str) -> int:
    from contextlib import closing
    from datetime import UTC, datetime

    from bot.settings import database_named
    from bot.store.engine import open_store
    from bot.store.maintenance import transfer

    urls = database_named(source, os.environ), database_named(target, os.environ)
    with closing(transfer.open_source(urls[0])) as old, closing(open_store(urls[1])) as new:
        tables = transfer.move(old, new, datetime.now(UTC))
        print(f"from {old.url}\nto   {new.url}")
    for content in tables:
        print(f"{content.table:<18}{content.rows:>12,} rows  {content.checksum}")
    print(f"All {sum(content.rows for content in tables):,} rows have arrived: counts and checksums agree.")
    return 0


def _port(text: str) -> int:
    port = int(text)
    if not 0 <= port <= 65535:
        raise ValueError(text)
    return port


def _days(text: str) -> int:
    days = int(text)
    if not 1 <= days <= 365:
        raise ValueError(text)
    return days


if __name__ == "__main__":
    sys.exit(main())
