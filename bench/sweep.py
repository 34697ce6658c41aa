"""A sweep that finds 100,000 reminders due, and what it costs those who text meanwhile.

The sweep is held up every other moment: messages with it and without it are timed in turns, so that whatever else the
machine does hits both.
"""

from __future__ import annotations

import itertools
import statistics
import tempfile
import threading
import time
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

from sqlalchemy import Connection, insert

from bench.table import Table
from bot.app import Tarebook, open_tarebook
from bot.schedule import sweeping
from bot.store import schema
from bot.store.delivery.inbox import NewRow, Say

CHANNEL = "bench"
DUE = 100_000
WINDOW_S = 2.0
"""How long the sweep goes on, and how long it is held up."""
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
        measured = _sweep_in_turns(tarebook)
        with tarebook.transaction() as conn:
            twice = conn.exec_driver_sql(
                "SELECT count(*) FROM (SELECT person_id FROM outbox WHERE kind = 'reminder'"
                " GROUP BY person_id HAVING count(*) > 1)"
            ).scalar_one()
    sent, took = measured.sent, measured.seconds
    sweep = [["due", f"{DUE:,}"], ["sent", f"{sent:,}"], ["people told twice", f"{twice:,}"]]
    sweep += [["seconds", f"{took:.0f}"], ["reminders a second", f"{sent / took:.0f}"]]
    alone, during = _figures(measured.alone), _figures(measured.during)
    messages = [
        ["alone", f"{len(measured.alone):,}", *(f"{ms:.2f}" for ms in alone)],
        ["during the sweep", f"{len(measured.during):,}", *(f"{ms:.2f}" for ms in during)],
        ["ratio", "", *(f"{b / a:.2f}" for a, b in zip(alone, during, strict=True))],
    ]
    return [
        Table("The sweep, on a SQLite file", ("", "count"), sweep),
        Table("A message meanwhile", ("", "messages", "median ms", "99th percentile ms", "slowest ms"), messages),
    ]


def _figures(taken: list[float]) -> tuple[float, float, float]:
    """Median, 99th percentile and maximum, in milliseconds."""
    found = (statistics.median(taken), statistics.quantiles(taken, n=100)[98], max(taken))
    return tuple(1000 * seconds for seconds in found)  # type: ignore[return-value]


@dataclass
class _Measured:
    """What was sent in how many seconds of sweeping; seconds of each message without and with a sweep beside it."""

    sent: int = 0
    seconds: float = 0.0
    alone: list[float] = field(default_factory=list)
    during: list[float] = field(default_factory=list)


class _Texter:
    """Somebody who texts again and again."""

    def __init__(self, tarebook: Tarebook) -> None:
        self._tarebook = tarebook
        self._numbers = itertools.count()
        for _ in range(50):
            self.text()

    def text(self) -> float:
        """Texts, and pauses; seconds from the message to its answer."""
        number = next(self._numbers)
        began = time.perf_counter()
        # Some hours apart, so that days stay as short as people's are, and a message as quick.
        at = EVENING + timedelta(hours=3 * number)
        self._tarebook.receive(NewRow(CHANNEL, f"texter:{number}", "texter", Say(text="150 g banana"), None, at))
        if not all(turn.events for turn in self._tarebook.catch_up(CHANNEL)):
            raise RuntimeError("a message of the benchmark was not handled")
        took = time.perf_counter() - began
        time.sleep(PAUSE_S)
        return took


def _sweep_in_turns(tarebook: Tarebook) -> _Measured:
    """A sweep in a thread of its own beside somebody who texts, and who texts on while it is held up."""
    measured = _Measured()
    gate, done = threading.Event(), threading.Event()

    def work() -> None:
        try:
            gate.wait()
            for sent in sweeping.slices(tarebook.store, CHANNEL, EVENING):
                measured.sent += len(sent)
                gate.wait()
        finally:
            done.set()

    texter = _Texter(tarebook)
    thread = threading.Thread(target=work)
    thread.start()
    while not done.is_set():
        for taken, swept in ((measured.alone, False), (measured.during, True)):
            if swept:
                gate.set()
            began = time.perf_counter()
            while time.perf_counter() - began < WINDOW_S and not done.is_set():
                taken.append(texter.text())
            if swept:
                measured.seconds += time.perf_counter() - began
                gate.clear()
    thread.join()
    return measured


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
