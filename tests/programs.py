"""`tarebook ...` in processes of their own, without importing everything anew for each of them.

A process that has it all loaded (`python -m tests.programs`) forks whenever one is wanted. What it forks has the
environment, folder and files or terminal that it is given, gets signals and ends with a status like any other process.
At least one test of each command starts it in the usual way all the same.
"""

from __future__ import annotations

import fcntl
import gc
import json
import os
import signal
import socket
import subprocess
import sys
import tempfile
import termios
import threading
import time
from collections.abc import Mapping, Sequence
from contextlib import suppress
from datetime import UTC, datetime
from importlib import import_module
from pathlib import Path
from typing import IO, Any

from bot.__main__ import main
from bot.app import open_tarebook
from bot.store.delivery.inbox import NewRow, Say

ROOT = Path(__file__).parents[1]
LATE = (
    "alembic.command",
    "alembic.config",
    "anyio._backends._asyncio",
    "bot.channels.console",
    "bot.channels.converse",
    "httpcore",
)
"""What is otherwise imported when it is used."""

PATIENCE = 60.0
"""Seconds for which the end of a program is waited for."""


class Nursery:
    """The process that forks programs, as those see it who want one."""

    def __init__(self) -> None:
        self._line, theirs = socket.socketpair()
        with theirs:
            self._process = subprocess.Popen(
                [sys.executable, "-m", "tests.programs", str(theirs.fileno())],
                cwd=ROOT,
                pass_fds=[theirs.fileno()],
                start_new_session=True,
            )
        self._line.settimeout(PATIENCE + 30)
        assert _received(self._line)[0] == "loaded"

    def start(
        self,
        words: Sequence[str],
        environment: Mapping[str, str],
        *,
        terminal: int | None = None,
        errors: IO[Any] | None = None,
    ) -> Program:
        """Starts one, in a terminal or with pipes; its standard error may go elsewhere."""
        program = Program(self, errors, terminal)
        order = {"start": list(words), "environment": dict(environment), "terminal": terminal is not None}
        program.pid = self.ask(order, program.theirs)
        program.hand_over()
        return program

    def run(
        self, words: Sequence[str], environment: Mapping[str, str], given: bytes = b""
    ) -> subprocess.CompletedProcess[bytes]:
        """Runs one to its end."""
        with tempfile.TemporaryFile() as errors:
            with self.start(words, environment, errors=errors) as program:
                feeding = threading.Thread(target=program.feed, args=(given,))
                feeding.start()
                said = program.stdout.read()
                feeding.join()
                status = program.wait()
            errors.seek(0)
            return subprocess.CompletedProcess(words, status, said, errors.read())

    def ask(self, order: object, files: Sequence[int] = ()) -> Any:
        """Gives an order. Returns what is answered."""
        _send(self._line, order, files)
        return _received(self._line)[0]

    def close(self) -> None:
        self._line.close()
        self._process.wait(10)


class Program:
    """One that runs. `stdin`, `stdout` and `stderr` are our ends of its pipes."""

    stdin: IO[bytes]
    stdout: IO[bytes]
    stderr: IO[bytes]

    def __init__(self, nursery: Nursery, errors: IO[Any] | None, terminal: int | None) -> None:
        self._nursery = nursery
        self.pid = 0
        self.returncode: int | None = None
        self._lent: list[int] = []
        self._ours: list[IO[bytes]] = []
        if terminal is not None:
            self.theirs = [terminal] * 3
            return
        self.stdin, reads = self._pipe("wb")
        self.stdout, writes = self._pipe("rb")
        if errors is None:
            self.stderr, complains = self._pipe("rb")
        else:
            complains = errors.fileno()
        self.theirs = [reads, writes, complains]

    def _pipe(self, mode: str) -> tuple[IO[bytes], int]:
        reads, writes = os.pipe()
        ours, theirs = (writes, reads) if mode == "wb" else (reads, writes)
        self._lent.append(theirs)
        self._ours.append(os.fdopen(ours, mode))
        return self._ours[-1], theirs

    def hand_over(self) -> None:
        """The other ends are the program's alone from now on."""
        for end in self._lent:
            os.close(end)

    def feed(self, given: bytes) -> None:
        """Writes all its input; it may have gone before."""
        with suppress(BrokenPipeError):
            self.stdin.write(given)
            self.stdin.close()

    def send_signal(self, number: int) -> None:
        assert self.returncode is None
        os.kill(self.pid, number)

    def wait(self, timeout: float = PATIENCE) -> int:
        """Its exit status; negative when a signal ended it. TimeoutError when it goes on."""
        if self.returncode is None:
            self.returncode = self._nursery.ask({"wait": self.pid, "seconds": timeout})
            if self.returncode is None:
                raise TimeoutError(f"still running after {timeout} s")
        return self.returncode

    def __enter__(self) -> Program:
        return self

    def __exit__(self, *_: object) -> None:
        if self.returncode is None:
            self.send_signal(signal.SIGKILL)
            self.wait()
        for end in self._ours:
            with suppress(BrokenPipeError):
                end.close()


def load() -> None:
    """Imports what serves, and reads the tables, by handling one message."""
    for name in ("psycopg", "bot.channels.telegram.serving"):
        import_module(name)
    with open_tarebook("sqlite://") as tarebook:
        now = datetime.now(UTC)
        tarebook.receive(NewRow("nursery", "1", "nobody", Say(text="180 g cooked rice"), None, now))
        assert tarebook.catch_up("nursery")


def _send(line: socket.socket, content: object, files: Sequence[int] = ()) -> None:
    text = json.dumps(content).encode() + b"\n"
    sent = socket.send_fds(line, [text], list(files))
    line.sendall(text[sent:])


def _received(line: socket.socket) -> tuple[Any, list[int]]:
    """The next message and the files with it; None when there is nobody any more."""
    text, files, _, _ = socket.recv_fds(line, 65536, 3)
    while text and not text.endswith(b"\n"):
        more = line.recv(65536)
        if not more:
            break
        text += more
    return (json.loads(text) if text else None), list(files)


def _serve(line: socket.socket) -> None:
    children: set[int] = set()
    for name in LATE:
        import_module(name)
    load()
    gc.freeze()
    _send(line, "loaded")
    while True:
        order, files = _received(line)
        match order:
            case {"start": words, "environment": environment, "terminal": terminal}:
                child = os.fork()
                if not child:
                    line.close()
                    _become(files, environment, terminal)
                    sys.exit(main(words))
                children.add(child)
                for each in files:
                    os.close(each)
                _send(line, child)
            case {"wait": child, "seconds": seconds}:
                status = _ended(child, seconds)
                if status is not None:
                    children.remove(child)
                _send(line, status)
            case _:
                for child in children:
                    os.kill(child, signal.SIGKILL)
                return


def _become(files: Sequence[int], environment: Mapping[str, str], terminal: bool) -> None:
    """Makes a forked process what a new one is."""
    for number, each in enumerate(files):
        os.dup2(each, number)
        os.close(each)
    os.environ.clear()
    os.environ.update(environment)
    time.tzset()
    # Tests that run in the background of a shell are deaf to Ctrl-C, and so is all that they start.
    signal.signal(signal.SIGINT, signal.default_int_handler)
    if terminal:
        os.setsid()
        fcntl.ioctl(0, termios.TIOCSCTTY, 0)
    sys.stdin = os.fdopen(0, closefd=False)
    sys.stdout = os.fdopen(1, "w", closefd=False, buffering=1 if terminal else -1)
    sys.stderr = os.fdopen(2, "w", closefd=False, buffering=1, errors="backslashreplace")


def _ended(child: int, seconds: float) -> int | None:
    """How it ended; None when it did not, for so long."""
    end = time.monotonic() + seconds
    while True:
        found, status = os.waitpid(child, os.WNOHANG)
        if found:
            return os.waitstatus_to_exitcode(status)
        if time.monotonic() > end:
            return None
        time.sleep(0.002)


if __name__ == "__main__":
    _serve(socket.socket(fileno=int(sys.argv[1])))
