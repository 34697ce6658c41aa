"""`python -m tests.simulation --seeds 1000`: runs seeds and counts; a seed that fails is named, with how to repeat it.

`--without NAME` takes a safeguard out, `--without all` each in turn, and looks for a seed that notices.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from math import inf
from multiprocessing import get_context

from .running import run
from .safeguards import SAFEGUARDS
from .world import Outcome

WITHIN = 200
"""Seeds within which the lack of a safeguard must show."""

AT_ONCE = 5
"""Seeds that one piece of work consists of."""


def _outcomes(first: int, seeds: int, jobs: int) -> Iterator[Outcome]:
    pieces = [range(at, min(at + AT_ONCE, first + seeds)) for at in range(first, first + seeds, AT_ONCE)]
    if jobs == 1:
        for piece in pieces:
            yield from run(piece)
        return
    with ProcessPoolExecutor(jobs, mp_context=get_context("spawn")) as pool:
        try:
            for outcomes in pool.map(run, pieces):
                yield from outcomes
        finally:
            pool.shutdown(cancel_futures=True)


def _all(first: int, seeds: int, jobs: int, minutes: float) -> bool:
    began, failed, done = time.monotonic(), 0, 0
    total: Counter[str] = Counter()
    faults: Counter[str] = Counter()
    hours = 0.0
    for done, outcome in enumerate(_outcomes(first, seeds, jobs), 1):
        hours += outcome.hours
        faults += outcome.faults
        for name in ("messages", "sends", "commits", "checks", "starts"):
            total[name] += getattr(outcome, name)
        if outcome.violation:
            failed += 1
            print(f'seed {outcome.seed}: {outcome.violation}\n  make simulate ARGS="--seed {outcome.seed}"', flush=True)
        if done % 500 == 0:
            print(f"{done} seeds, {failed} failed, {time.monotonic() - began:.0f} s", flush=True)
        if time.monotonic() - began > minutes * 60:
            break
    print(
        f"{done} seeds from {first}, {failed} failed: {hours:,.0f} hours in {time.monotonic() - began:,.0f} s; "
        f"{total['starts']:,} starts of processes, {total['messages']:,} messages, {total['sends']:,} sends, "
        f"{total['commits']:,} commits after which all invariants were checked, {faults.total():,} faults:"
    )
    print("  " + ", ".join(f"{kind} {times:,}" for kind, times in faults.most_common()), flush=True)
    return not failed


def _one(seed: int) -> bool:
    (outcome,) = run(range(seed, seed + 1))
    print(outcome.plan)
    print(f"{outcome.hours:.1f} hours, {outcome.messages} messages, faults: {dict(outcome.faults)}")
    print(f"trace {outcome.trace}")
    print(outcome.violation or "no violation")
    return outcome.violation is None


def _without(name: str, first: int) -> bool:
    outcomes = run(range(first, first + WITHIN), name)
    last = outcomes[-1]
    print(
        f"without “{name}”: " + (f"seed {last.seed}: {last.violation}" if last.violation else "NOT NOTICED"), flush=True
    )
    return last.violation is not None


def main() -> int:
    reader = argparse.ArgumentParser(prog="make simulate", description=__doc__)
    reader.add_argument("--seeds", type=int, default=200, help="how many (default: %(default)s)")
    reader.add_argument("--first", type=int, default=0, help="the first of them")
    reader.add_argument("--minutes", type=float, default=inf, help="for how long at the most")
    reader.add_argument("--seed", type=int, help="only this one, and what was in store for it")
    reader.add_argument("--jobs", type=int, default=1, help="processes (default: %(default)s)")
    reader.add_argument("--without", choices=[*SAFEGUARDS, "all"], metavar="NAME", help="which safeguard to take out")
    given = reader.parse_args()
    if given.without:
        names = list(SAFEGUARDS) if given.without == "all" else [given.without]
        noticed = [_without(name, given.first) for name in names]
        return not all(noticed)
    if given.seed is not None:
        return not _one(given.seed)
    return not _all(given.first, given.seeds, given.jobs, given.minutes)


if __name__ == "__main__":
    sys.exit(main())
