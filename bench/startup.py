"""Time from starting `tarebook converse` to its first reply, against importing two of its libraries alone."""

from __future__ import annotations

import statistics
import subprocess
import sys
import time

from bench.table import Table

ROUNDS = 15
STEP = b'{"say": "180 g cooked rice"}\n'
IMPORTS = "import sqlalchemy, msgspec"


def tables() -> list[Table]:
    """Median and slowest time of each, measured alternately, and their ratio."""
    answers, imports = [], []
    _first_answer(), _imports()  # fills the file cache
    for _ in range(ROUNDS):
        answers.append(_first_answer())
        imports.append(_imports())
    ratio = statistics.median(answers) / statistics.median(imports)
    rows = [
        ["tarebook converse, first answer", *_figures(answers), f"{ratio:.2f}"],
        [f'python -c "{IMPORTS}"', *_figures(imports), "1.00"],
    ]
    columns = ("start", "median ms", "slowest ms", "ratio")
    return [Table(f"Start-up, {ROUNDS} times each", columns, rows)]


def _figures(times: list[float]) -> list[str]:
    return [f"{1000 * statistics.median(times):.0f}", f"{1000 * max(times):.0f}"]


def _first_answer() -> float:
    began = time.perf_counter()
    command = [sys.executable, "-m", "bot", "converse"]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        process.stdin.write(STEP)
        process.stdin.flush()
        answer = process.stdout.readline()
        took = time.perf_counter() - began
        process.stdin.close()
    if b'"replies"' not in answer or process.returncode != 0:
        raise RuntimeError(f"no answer: {answer!r}, exit status {process.returncode}")
    return took


def _imports() -> float:
    began = time.perf_counter()
    subprocess.run([sys.executable, "-c", IMPORTS], check=True)
    return time.perf_counter() - began
