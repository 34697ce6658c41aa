"""Time of a message with a large history stored, against an empty database."""

from __future__ import annotations

import asyncio
import statistics
import tempfile
from contextlib import ExitStack
from datetime import UTC, datetime
from pathlib import Path

from bench import history
from bench.serving import WEIGH_INS, Work, burst
from bench.table import Table
from bot.app import open_tarebook
from bot.channels.telegram import CHANNEL

PEOPLE = 10_000
EACH = 100
BATCHES = 5
ROUNDS = 3
_PAGE = 4096
"""Bytes, SQLite's default."""


def tables() -> list[Table]:
    """Messages a second with and without a history, measured alternately, and the size of the history."""
    found: list[list[Work]] = [[], []]
    with tempfile.TemporaryDirectory(prefix=".bench-", dir=Path.cwd()) as folder, ExitStack() as stack:
        tarebooks = [stack.enter_context(open_tarebook(f"sqlite:///{folder}/{name}.db")) for name in ("new", "old")]
        with tarebooks[1].transaction() as conn:
            history.fill(conn, CHANNEL, PEOPLE, EACH, BATCHES, datetime.now(UTC).date())
            size = conn.exec_driver_sql("PRAGMA page_count").scalar_one() * _PAGE
        for turn in range(ROUNDS):
            for tarebook, works in zip(tarebooks, found, strict=True):
                works.append(asyncio.run(burst(tarebook, first=turn == 0)))
    rows = []
    for name, works in zip(("nothing on record", f"{PEOPLE * EACH:,} weigh-ins on record"), found, strict=True):
        clock = statistics.median(a.seconds / b.seconds for a, b in zip(works, found[0], strict=True))
        busy = statistics.median(a.processor / b.processor for a, b in zip(works, found[0], strict=True))
        speed = WEIGH_INS / statistics.median(work.seconds for work in works)
        rows.append([name, f"{speed:,.0f}", f"{clock:.2f}", f"{busy:.2f}"])
    title = f"{WEIGH_INS:,} weigh-ins at once, beside {PEOPLE:,} people's {PEOPLE * EACH:,} weigh-ins and "
    title += f"{PEOPLE * BATCHES:,} batches; median of {ROUNDS}"
    columns = ("on SQLite", "a second", "times as long", "times the processor")
    note = f"The history takes {size / 1e6:,.0f} MB: {size / (PEOPLE * EACH):,.0f} bytes a weigh-in."
    return [Table(title, columns, rows, note)]
