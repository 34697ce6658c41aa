"""Resident memory of `tarebook serve`: idle, after a thousand messages, and after many more."""

from __future__ import annotations

import asyncio
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from bench.serving import MESSAGES, running, settled
from bench.table import Table
from bench.wire import Wire
from bot.app import open_tarebook

MESSAGES_IN_ALL = 100_000
FIRST = 1_000
PEOPLE = 1_000
A_DAY = 5
AHEAD = 500
RARE = ("matplotlib", "numpy", "alembic", "psycopg", "pint", "prompt_toolkit", "rich")
"""Large libraries that should be imported only when needed."""


def tables() -> list[Table]:
    """Resident sizes of a serving process, and the large libraries it has imported by the end."""
    with tempfile.TemporaryDirectory(prefix=".bench-", dir=Path.cwd()) as folder:
        command = [sys.executable, "-m", "bench.memory", f"sqlite:///{folder}/memory.db", str(MESSAGES_IN_ALL)]
        done = subprocess.run(command, stdout=subprocess.PIPE, text=True, check=True)
    *sizes, imported = done.stdout.splitlines()
    idle, first, last = map(float, sizes)
    rows = [
        ["idle", f"{idle:.0f}", ""],
        [f"after {FIRST:,} messages", f"{first:.0f}", "1.00"],
        [f"after {MESSAGES_IN_ALL:,}", f"{last:.0f}", f"{last / first:.2f}"],
    ]
    note = f"Imported by then of {', '.join(RARE)}: {imported or 'nothing'}."
    return [Table("Resident memory of serve on SQLite", ("", "MB", "grown"), rows, note)]


async def _serve(url: str, count: int) -> None:
    wire = Wire()
    began = time.time() - 86400 * (count / PEOPLE / A_DAY)
    with open_tarebook(url) as tarebook:
        async with running(tarebook, wire):
            await asyncio.sleep(1)
            print(_resident(), flush=True)
            for number in range(count):
                at = began + 86400 / A_DAY * (number // PEOPLE)
                text = MESSAGES[0 if number % 2 else 2]
                wire.says(1 + number % PEOPLE, text, at)
                if number >= AHEAD:
                    await wire.answered(number - AHEAD)
                wire.waits.clear()
                if number == FIRST:
                    await settled(tarebook)
                    print(_resident(), flush=True)
            await wire.answered(count)
            await settled(tarebook)
            print(_resident(), flush=True)
    print(", ".join(name for name in RARE if name in sys.modules))


def _resident() -> float:
    """Resident size of a process in megabytes."""
    lines = Path("/proc/self/status").read_text().splitlines()
    return next(int(line.split()[1]) for line in lines if line.startswith("VmRSS")) / 1024


if __name__ == "__main__":
    asyncio.run(_serve(sys.argv[1], int(sys.argv[2])))
