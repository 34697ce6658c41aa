"""Starts `tarebook serve` many times without importing it many times: forks a process that has it all loaded.

Reads commands on the standard input: `start LOG` forks a child that runs the command line, `kill` ends it with
SIGKILL, `stop` with SIGTERM. Answers each with a line: the child's process id, or how it ended.
"""

from __future__ import annotations

import os
import signal
import sys
from datetime import UTC, datetime


def load() -> None:
    """Imports everything, and reads the tables, by handling one message."""
    from bot.app import open_tarebook
    from bot.channels.telegram import serving

    assert serving
    with open_tarebook("sqlite://") as tarebook:
        now = datetime.now(UTC)
        row = tarebook.receive("nursery", "1", "nobody", "say", {"text": "180 g cooked rice"}, None, now)
        assert row is not None
        tarebook.settle(row)


def start(log: str) -> int:
    """Forks a child that serves. Returns its id."""
    child = os.fork()
    if child:
        return child
    sink = os.open(log, os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    os.dup2(sink, 1)
    os.dup2(sink, 2)
    os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
    status = 70
    try:
        from bot.__main__ import main

        status = main(["serve"])
    finally:
        os._exit(status)


def run() -> None:
    load()
    child = 0
    print("loaded", flush=True)
    for line in sys.stdin:
        match line.split():
            case ["start", log]:
                child = start(log)
                print(child, flush=True)
            case ["kill" | "stop" as how]:
                os.kill(child, signal.SIGKILL if how == "kill" else signal.SIGTERM)
                print(os.waitpid(child, 0)[1], flush=True)
                child = 0
    if child:
        os.kill(child, signal.SIGKILL)


if __name__ == "__main__":
    run()
