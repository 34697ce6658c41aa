"""Day, week and month sheet of a person with 1,000 and with 1,000,000 weigh-ins stored."""

from __future__ import annotations

import json
import statistics
import tempfile
import time
from contextlib import ExitStack
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import Connection, insert

from bench.history import weigh_in
from bench.table import Table
from bot.app import Tarebook, open_tarebook
from bot.channels.converse import CHANNEL, Converse
from bot.store import schema

HISTORIES = (1_000, 1_000_000)
A_DAY = 10
ROUNDS = 200
SHEETS = ("today", "/week", "this month")
AT = datetime(2026, 3, 2, 20, tzinfo=UTC)


def tables() -> list[Table]:
    """Median times and their ratios, measured alternately so that noise affects both."""
    taken: dict[str, list[list[float]]] = {sheet: [[], []] for sheet in SHEETS}
    with tempfile.TemporaryDirectory(prefix=".bench-", dir=Path.cwd()) as folder, ExitStack() as stack:
        people = []
        for count in HISTORIES:
            tarebook = stack.enter_context(open_tarebook(f"sqlite:///{folder}/{count}.db"))
            people.append(_with_history(tarebook, count))
        for _ in range(ROUNDS):
            for sheet in SHEETS:
                for converse, times in zip(people, taken[sheet], strict=True):
                    began = time.perf_counter()
                    _answer(converse, sheet)
                    times.append(1000 * (time.perf_counter() - began))
    rows = []
    for sheet, each in taken.items():
        short, long = (statistics.median(times) for times in each)
        rows.append([sheet, f"{short:.2f}", f"{long:.2f}", f"{long / short:.2f}"])
    columns = ("sheet", *(f"{count:,} weigh-ins, ms" for count in HISTORIES), "ratio")
    return [Table(f"Sheets of one person with {A_DAY} weigh-ins a day, median of {ROUNDS}", columns, rows)]


def _with_history(tarebook: Tarebook, count: int) -> Converse:
    converse = Converse(tarebook)
    _answer(converse, "150 g banana")
    with tarebook.transaction() as conn:
        _fill(conn, count)
    for sheet in SHEETS:
        _answer(converse, sheet)
    return converse


def _fill(conn: Connection, count: int) -> None:
    """Inserts past weigh-ins directly into the table; a million messages would take an hour."""
    person_id = conn.exec_driver_sql(f"SELECT person_id FROM address WHERE channel = '{CHANNEL}'").scalar_one()  # noqa: S608
    inbound_id = conn.exec_driver_sql("SELECT max(id) FROM inbound").scalar_one()
    last = AT.date()
    chunk = 20_000
    for first in range(0, count, chunk):
        rows = [
            weigh_in(person_id, n + 2, inbound_id, last, n // A_DAY, n % A_DAY)
            for n in range(first, min(first + chunk, count))
        ]
        conn.execute(insert(schema.weigh_in), rows)


def _answer(converse: Converse, text: str) -> None:
    line = json.dumps({"say": text, "at": AT.isoformat()}).encode()
    answer = json.loads(converse.step(1, line))
    if not answer.get("events"):
        raise RuntimeError(f"{text} was answered {answer}")
