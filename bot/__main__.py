"""The command line: `tarebook chat`, `tarebook converse`, `tarebook replay`."""

from __future__ import annotations

import argparse
import logging
import os
import sys
from collections.abc import Sequence
from pathlib import Path

from bot.store.errors import StoreError


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command. Returns the exit status: 0, 1 when a replay differs, 2 when something could not be opened."""
    given = _parser().parse_args(arguments)
    logging.basicConfig(format="%(levelname)s: %(message)s")
    try:
        match given.command:
            case "chat":
                return _chat()
            case "converse":
                return _converse(given.database)
            case _:
                return _replay(given.files, given.accept)
    except StoreError as error:
        print(error, file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        return 0
    except BrokenPipeError:
        # Nobody reads any more; what is left in the buffer would be complained about when Python ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="tarebook", description="Weigh what you eat, and text it.")
    commands = parser.add_subparsers(dest="command", required=True, metavar="command")
    commands.add_parser("chat", help="talk with it here", description="Talk with Tarebook in this terminal.")
    converse = commands.add_parser(
        "converse", help="JSON Lines in, JSON Lines out", description="Answer each JSON line on the standard input."
    )
    converse.add_argument("--database", metavar="URL", default="sqlite://", help="default: a fresh one in memory")
    replay = commands.add_parser(
        "replay", help="check written conversations", description="Run conversations and show where a reply changed."
    )
    replay.add_argument("files", metavar="FILE", nargs="+", type=Path)
    replay.add_argument("--accept", action="store_true", help="write the new replies into the files")
    return parser


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


if __name__ == "__main__":
    sys.exit(main())
