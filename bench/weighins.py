"""Weigh-ins a second through `converse`, from one JSON line in to one JSON line out."""

from __future__ import annotations

import itertools
import json
import statistics
import tempfile
import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

from bench.table import Table
from bot.app import open_tarebook
from bot.channels.converse import Converse

WEIGH_INS = 2_000
PEOPLE = 10
A_DAY = 6
FIRST = datetime(2026, 3, 2, 7, tzinfo=UTC)

BATCH = ("batch chilli: 12000 g raw chicken breast, 8000 g raw potatoes", "batch 1 cooked 15000 g")
MESSAGES = (
    "180 g cooked rice",
    "took 10 g from batch 1",
    "2 eggs",
    "banana 118 g peeled",
    "432-132 g cooked pasta",
    "1 apple 182 g with core",
)


class NoWeighIn(Exception):
    """A message of the benchmark was not recorded, so that its time says nothing."""


def tables() -> list[Table]:
    """Times for a SQLite file, whose commits reach the disk, and for a database in memory."""
    rows = []
    # Beside the project rather than in the system's place for temporary files, which may be memory.
    with tempfile.TemporaryDirectory(prefix=".bench-", dir=Path.cwd()) as folder:
        for name, url in (("file, synchronous=FULL", f"sqlite:///{folder}/bench.db"), ("in memory", "sqlite://")):
            rows.append([name, *_figures(_times(url))])
    columns = ("database", "a second", "median ms", "99th percentile ms", "first tenth ms", "last tenth ms")
    title = f"{WEIGH_INS} weigh-ins of {PEOPLE} people through converse"
    return [Table(title, columns, rows, "The tenths are medians: what a longer history costs.")]


def _figures(times: list[float]) -> list[str]:
    tenth = len(times) // 10
    milliseconds = (
        statistics.median(times),
        statistics.quantiles(times, n=100)[98],
        statistics.median(times[:tenth]),
        statistics.median(times[-tenth:]),
    )
    return [f"{len(times) / sum(times):.0f}", *(f"{1000 * seconds:.2f}" for seconds in milliseconds)]


def _times(url: str) -> list[float]:
    times = []
    with open_tarebook(url) as tarebook:
        converse = Converse(tarebook)
        for number, (line, counts) in enumerate(_lines(), start=1):
            began = time.perf_counter()
            answer = converse.step(number, line)
            took = time.perf_counter() - began
            if not counts:
                continue
            if not any(event["type"] == "weigh_in" for event in json.loads(answer).get("events", [])):
                raise NoWeighIn(f"{line.decode()} was answered {answer.decode()}")
            times.append(took)
    return times


def _lines() -> Iterator[tuple[bytes, bool]]:
    """The steps, each with whether it is a weigh-in. Everybody's first of each kind warms up and isn't counted."""
    people = [f"person {number}" for number in range(PEOPLE)]
    for who in people:
        for text in (*BATCH, *MESSAGES):
            yield _step(text, who, FIRST - timedelta(hours=1)), False
    turns = itertools.cycle(people)
    for number in range(WEIGH_INS):
        day, meal = divmod(number // PEOPLE, A_DAY)
        text = MESSAGES[(number // PEOPLE + number) % len(MESSAGES)]
        yield _step(text, next(turns), FIRST + timedelta(days=day, hours=2 * meal)), True


def _step(text: str, who: str, at: datetime) -> bytes:
    return json.dumps({"say": text, "who": who, "at": at.isoformat()}).encode()
