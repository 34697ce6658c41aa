"""The whole way of a message through `tarebook serve`, beside the limits of the bot library and of the disk."""

from __future__ import annotations

import asyncio
import itertools
import sqlite3
import statistics
import tempfile
import time
from collections.abc import AsyncIterator, Iterator, Mapping, Sequence
from contextlib import asynccontextmanager, closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from unittest.mock import patch

from sqlalchemy import Connection, Engine, event
from telegram import Update
from telegram.ext import Application, ApplicationBuilder, ContextTypes, MessageHandler, filters

from bench.table import Table
from bench.wire import SETTINGS, TOKEN, Request, Wire, WiredClient
from bot.app import Tarebook, open_tarebook
from bot.channels.telegram import CHANNEL, rate_limits, serving
from bot.store.delivery import inbox, outbox
from bot.store.statements import Form

PEOPLE = 200
WEIGH_INS = 2_000
ROUNDS = 3
PACES = ((10, 150), (100, 1_500))
"""Messages a second, and how many."""

OPENING = ("batch chilli: 12000 g raw chicken breast, 8000 g raw potatoes", "the chilli weighs 15000 g cooked")
MESSAGES = ("180 g cooked rice", "took 10 g from the chilli", "2 eggs", "banana 118 g peeled", "432-132 g cooked pasta")


@dataclass
class Work:
    """What was done meanwhile: seconds on the clock and of the processor, and what the database was asked."""

    seconds: float = 0.0
    processor: float = 0.0
    statements: int = 0
    commits: int = 0


def tables() -> list[Table]:
    """Messages a second beside both limits, how long one message takes at a pace, and what it asks of the database."""
    # Beside the project rather than in the system's place for temporary files, which may be memory.
    with tempfile.TemporaryDirectory(prefix=".bench-", dir=Path.cwd()) as folder:
        return [_throughput(Path(folder)), _latency(Path(folder))]


def _throughput(folder: Path) -> Table:
    ours, echo, disk = [], [], []
    for turn in range(ROUNDS):
        with open_tarebook(f"sqlite:///{folder}/burst{turn}.db") as tarebook:
            ours.append(asyncio.run(burst(tarebook)))
        echo.append(asyncio.run(_echo()))
        disk.append(_commits(folder / f"raw{turn}.db", ours[-1].commits))
    commits, statements = ours[-1].commits / WEIGH_INS, ours[-1].statements / WEIGH_INS
    rows = [
        _row("tarebook serve, SQLite with synchronous=FULL", ours, ours),
        _row("an echo bot on the bare library, no database", echo, ours),
        _row(f"as many commits of one row a message ({commits:.2f})", disk, ours),
    ]
    title = f"{WEIGH_INS:,} weigh-ins of {PEOPLE} people at once, median of {ROUNDS} rounds in turns"
    columns = ("", "a second", "lowest", "highest", "serve is", "processor ms a message", "serve is")
    return Table(title, columns, rows, f"{statements:.1f} statements and {commits:.2f} commits a message.")


def _row(name: str, found: list[Work], ours: list[Work]) -> list[str]:
    speeds = [WEIGH_INS / work.seconds for work in found]
    ratio = statistics.median(other.seconds / mine.seconds for mine, other in zip(ours, found, strict=True))
    busy = statistics.median(other.processor / mine.processor for mine, other in zip(ours, found, strict=True))
    processor = statistics.median(1000 * work.processor / WEIGH_INS for work in found)
    shown = [f"{value:,.0f}" for value in (statistics.median(speeds), min(speeds), max(speeds))]
    return [name, *shown, f"{ratio:.2f}", f"{processor:.2f}", f"{busy:.2f}"]


def _latency(folder: Path) -> Table:
    rows = []
    for pace, count in PACES:
        waits = asyncio.run(_paced(f"sqlite:///{folder}/pace{pace}.db", pace, count))
        ordered = (statistics.median(waits), statistics.quantiles(waits, n=100)[98], max(waits))
        rows.append([f"{pace} a second", f"{count:,}", *(f"{1000 * seconds:.1f}" for seconds in ordered)])
    columns = ("pace", "messages", "median ms", "99th percentile ms", "slowest ms")
    return Table("From a message's arrival to the call that answers it", columns, rows)


async def burst(tarebook: Tarebook, *, first: bool = True) -> Work:
    """What it takes until everything that came at once is answered and noted as sent.

    `first` when nobody here has spoken before. RuntimeError when not every message became a weigh-in: a time says
    nothing without that.
    """
    wire = Wire()
    async with running(tarebook, wire):
        if first:
            await warm_up(tarebook, wire)
        before, weighed = wire.calls, _weigh_ins(tarebook)
        with measured() as work:
            for number in range(WEIGH_INS):
                wire.says(1 + number % PEOPLE, message(number))
            await wire.answered(before + WEIGH_INS)
            await settled(tarebook)
    found = _weigh_ins(tarebook) - weighed
    if found != WEIGH_INS:
        raise RuntimeError(f"{found} weigh-ins were recorded and not {WEIGH_INS}")
    return work


def message(number: int) -> str:
    """What is said at that place in the row: everybody says everything in turns."""
    return MESSAGES[(number + number // PEOPLE) % len(MESSAGES)]


async def _paced(url: str, pace: int, count: int) -> list[float]:
    with open_tarebook(url) as tarebook:
        wire = Wire()
        async with running(tarebook, wire):
            await warm_up(tarebook, wire)
            wire.waits.clear()
            before, began = wire.calls, time.perf_counter()
            for number in range(count):
                await asyncio.sleep(max(0.0, began + number / pace - time.perf_counter()))
                wire.says(1 + number % PEOPLE, message(number))
            await wire.answered(before + count)
        return wire.waits


async def warm_up(tarebook: Tarebook, wire: Wire) -> None:
    """Everybody opens a batch and says each kind of message once, so that nothing is said for the first time later."""
    for text, who in itertools.product((*OPENING, *MESSAGES), range(1, PEOPLE + 1)):
        wire.says(who, text)
    await wire.answered(PEOPLE * (len(OPENING) + len(MESSAGES)))
    await settled(tarebook)


async def settled(tarebook: Tarebook) -> None:
    """Returns when nothing waits to be handled or sent."""
    while await asyncio.to_thread(_waiting, tarebook):
        await asyncio.sleep(0.005)


def _waiting(tarebook: Tarebook) -> int:
    with tarebook.transaction() as conn:
        return inbox.count(conn, CHANNEL) + outbox.count(conn, CHANNEL)


def _weigh_ins(tarebook: Tarebook) -> int:
    with tarebook.transaction() as conn:
        found: int = conn.exec_driver_sql("SELECT count(*) FROM weigh_in WHERE kind = 'recorded'").scalar_one()
    return found


@asynccontextmanager
async def running(tarebook: Tarebook, wire: Wire) -> AsyncIterator[None]:
    """The bot serves on the wire meanwhile, without the server's limits on how much may be sent a second."""
    stop = asyncio.Event()
    with (
        patch.object(serving, "Client", lambda _: WiredClient(wire)),
        patch.object(rate_limits, "OVERALL_A_SECOND", 1_000_000),
    ):
        service = serving.Service(tarebook, SETTINGS, serving.Serving(), stop)
    task = asyncio.create_task(serving.serve(service))
    try:
        yield
    finally:
        stop.set()
        await task


@contextmanager
def measured() -> Iterator[Work]:
    """What is done meanwhile, filled in at the end."""
    work = Work()

    def statement(*_: object) -> None:
        work.statements += 1

    def prepared(form: Form, conn: Connection, values: Mapping[str, Any]) -> Sequence[Sequence[Any]]:
        work.statements += 1
        return rows(form, conn, values)

    def prepared_each(form: Form, conn: Connection, many: Sequence[Mapping[str, Any]]) -> int:
        work.statements += len(many)
        return each(form, conn, many)

    rows, each = Form.rows, Form.each

    def commit(_conn: Connection) -> None:
        work.commits += 1

    event.listen(Engine, "before_cursor_execute", statement)
    event.listen(Engine, "commit", commit)
    began, busy = time.perf_counter(), time.process_time()
    try:
        with patch.object(Form, "rows", prepared), patch.object(Form, "each", prepared_each):
            yield work
    finally:
        work.seconds, work.processor = time.perf_counter() - began, time.process_time() - busy
        event.remove(Engine, "before_cursor_execute", statement)
        event.remove(Engine, "commit", commit)


async def _echo() -> Work:
    """What a bot takes that only sends back as many messages."""
    wire = Wire()
    builder = ApplicationBuilder().token(TOKEN).request(Request(wire)).get_updates_request(Request(wire))
    application = builder.build()
    application.add_handler(MessageHandler(filters.TEXT, _send_back))
    async with _polling(application):
        wire.says(1, "warm up")
        await wire.answered(1)
        with measured() as work:
            for number in range(WEIGH_INS):
                wire.says(1 + number % PEOPLE, MESSAGES[number % len(MESSAGES)])
            await wire.answered(1 + WEIGH_INS)
        return work


async def _send_back(update: Update, _: ContextTypes.DEFAULT_TYPE) -> None:
    assert update.message is not None
    await update.message.reply_text(update.message.text or "")


@asynccontextmanager
async def _polling(application: Application) -> AsyncIterator[None]:  # type: ignore[type-arg]
    assert application.updater is not None
    async with application:
        await application.start()
        await application.updater.start_polling()
        yield
        await application.updater.stop()
        await application.stop()


def _commits(path: Path, count: int) -> Work:
    """What so many commits to a file take, with a row of some length for each message."""
    with closing(sqlite3.connect(path, isolation_level=None)) as conn:
        conn.execute("PRAGMA journal_mode = wal")
        conn.execute("PRAGMA synchronous = full")
        conn.execute("CREATE TABLE t (id INTEGER PRIMARY KEY, body TEXT)")
        with measured() as work:
            for number in range(count):
                rows = WEIGH_INS * (number + 1) // count - WEIGH_INS * number // count
                conn.execute("BEGIN IMMEDIATE")
                conn.executemany("INSERT INTO t (body) VALUES (?)", [("x" * 400,)] * rows)
                conn.execute("COMMIT")
        return work
