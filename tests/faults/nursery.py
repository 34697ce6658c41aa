"""Starts `tarebook serve` many times without importing it many times: forks a process that has it all loaded.

Reads commands on the standard input: `start NAME LOG WORDS` forks a child that runs the command line, `kill NAME` ends
it with SIGKILL, `stop NAME` with SIGTERM. Answers each with a line: the child's process id, or how it ended.

With an argument, a lease lasts so many seconds only, so that another child takes over soon.
"""

from __future__ import annotations

import os
import signal
import sys
import traceback
from datetime import timedelta

from bot.channels.telegram import leadership
from tests.programs import load


def start(log: str, words: list[str]) -> int:
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

        status = main(["serve", *words])
    except BaseException:
        traceback.print_exc()
    finally:
        os._exit(status)


def run() -> None:
    load()
    if len(sys.argv) > 1:
        leadership.TERM = timedelta(seconds=float(sys.argv[1]))
        leadership.RENEWED = leadership.TERM.total_seconds() / 4
    children: dict[str, int] = {}
    print("loaded", flush=True)
    for line in sys.stdin:
        match line.split():
            case ["start", name, log, *words]:
                children[name] = start(log, words)
                print(children[name], flush=True)
            case ["kill" | "stop" as how, name]:
                child = children.pop(name)
                os.kill(child, signal.SIGKILL if how == "kill" else signal.SIGTERM)
                print(os.waitpid(child, 0)[1], flush=True)
    for child in children.values():
        os.kill(child, signal.SIGKILL)


if __name__ == "__main__":
    run()
