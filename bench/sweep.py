"""A sweep that finds 100,000 reminders due, and what it costs those who text meanwhile."""

from __future__ import annotations

import itertools
import statistics
import tempfile
import threading
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

from sqlalchemy import Connection, insert

from bench.table import Table
from bot.app import Tarebook, open_tarebook
from bot.schedule import sweeping
from bot.store import schema

CHANNEL = "bench"
DUE = 100_000
ALONE = 1_500
"""Messages that are timed before the sweep begins."""
PAUSE_S = 0.01
EVENING = datetime(2026, 3, 2, 20, 30, tzinfo=UTC)


def tables() -> list[Table]:
    """How long the sweep took, what it sent, and how long a message took without and with it."""
    # Beside the project rather than in the system's place for temporary files, which may be memory.
    with (
        tempfile.TemporaryDirectory(prefix=".bench-", dir=Path.cwd()) as folder,
        open_tarebook(f"sqlite:///{folder}/sweep.db") as tarebook,
    ):
        with tarebook.transaction() as conn:
            _fill(conn)
        texter = _Texter(tarebook)
        texter.text(ALONE)
        alone = texter.taken
        took, sent = _sweep_meanwhile(tarebook, texter)
        with tarebook.transaction() as conn:
            twice = conn.exec_driver_sql(
                "SELECT count(*) FROM (SELECT person_id FROM outbox WHERE kind = 'reminder'"
                " GROUP BY person_id HAVING count(*) > 1)"
            ).scalar_one()
    sweep = [["due", f"{DUE:,}"], ["sent", f"{sent:,}"], ["people told twice", f"{twice:,}"]]
    sweep += [["seconds", f"{took:.0f}"], ["reminders a second", f"{sent / took:.0f}"]]
    messages = [["alone", *_figures(alone)], ["during the sweep", *_figures(texter.taken)]]
    return [
        Table("The sweep, on a SQLite file", ("", "count"), sweep),
        Table("A message meanwhile", ("", "messages", "median ms", "99th percentile ms", "slowest ms"), messages),
    ]


def _figures(taken: list[float]) -> list[str]:
    ordered = (statistics.median(taken), statistics.quantiles(taken, n=100)[98], max(taken))
    return [f"{len(taken):,}", *(f"{1000 * seconds:.2f}" for seconds in ordered)]


class _Texter:
    """Somebody who texts again and again, timed from the message to its answer."""

    def __init__(self, tarebook: Tarebook) -> None:
        self._tarebook = tarebook
        self._numbers = itertools.count()
        self.taken: list[float] = []
        self.text(50)

    def text(self, times: int | None = None, until: threading.Event | None = None) -> None:
        """Texts so many times, or until the event; the times are in `taken` afterwards."""
        self.taken = []
        while (until is None or not until.is_set()) and (times is None or len(self.taken) < times):
            number = next(self._numbers)
            began = time.perf_counter()
            body = {"text": "150 g banana"}
            at = EVENING + timedelta(seconds=number)
            inbound_id = self._tarebook.receive(CHANNEL, f"texter:{number}", "texter", "say", body, None, at)
            turn = None if inbound_id is None else self._tarebook.settle(inbound_id)
            if turn is None or not turn.events:
                raise RuntimeError("a message of the benchmark was not handled")
            self.taken.append(time.perf_counter() - began)
            time.sleep(PAUSE_S)


def _sweep_meanwhile(tarebook: Tarebook, texter: _Texter) -> tuple[float, int]:
    """(seconds, messages sent) of a sweep in a thread of its own, as in `tarebook serve`, while the texter texts."""
    done = threading.Event()
    found: list[int] = []
    took: list[float] = []

    def work() -> None:
        began = time.perf_counter()
        try:
            found.append(len(sweeping.sweep(tarebook.store, CHANNEL, EVENING)))
        finally:
            took.append(time.perf_counter() - began)
            done.set()

    thread = threading.Thread(target=work)
    thread.start()
    texter.text(until=done)
    thread.join()
    return took[0], found[0]


def _fill(conn: Connection) -> None:
    """People with an evening reminder due, straight into the tables."""
    chunk = 20_000
    for first in range(1, DUE + 1, chunk):
        ids = range(first, min(first + chunk, DUE + 1))
        conn.execute(insert(schema.kitchen), [{"id": n, "batches": 0} for n in ids])
        conn.execute(
            insert(schema.person),
            [
                {
                    "id": n,
                    "name": f"person {n}",
                    "region": "metric",
                    "timezone": "UTC",
                    "role": "client",
                    "kitchen_id": n,
                }
                for n in ids
            ],
        )
        conn.execute(insert(schema.address), [{"channel": CHANNEL, "key": f"{n}", "person_id": n} for n in ids])
        conn.execute(
            insert(schema.schedule),
            [
                {
                    "person_id": n,
                    "kind": "evening",
                    "time": "20:30",
                    "weekdays": "0123456",
                    "next_due": EVENING,
                    "next_date": EVENING.date(),
                }
                for n in ids
            ],
        )
