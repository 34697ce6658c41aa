"""Some seeds of the simulation; `make simulate` runs as many as wanted."""

from pathlib import Path

import pytest

from .running import run
from .safeguards import SAFEGUARDS
from .world import simulate


@pytest.mark.parametrize("first", (1, 11))
def test_nothing_is_lost_or_doubled_whatever_goes_wrong(first: int) -> None:
    outcomes = run(range(first, first + 3))
    assert [outcome.violation for outcome in outcomes] == [None] * 3
    assert sum(outcome.faults.total() for outcome in outcomes) > 30
    assert all(outcome.checks > 20 for outcome in outcomes)


def test_a_seed_repeats_exactly(tmp_path: Path) -> None:
    first, second = simulate(2, tmp_path), simulate(2, tmp_path)
    assert first.trace == second.trace
    assert first == second


@pytest.mark.parametrize(
    "promise",
    (
        "records and 'done' commit together",
        "a person's messages are handled in order",
        "a row is marked before it is sent",
    ),
)
def test_the_lack_of_a_safeguard_shows(promise: str) -> None:
    assert promise in SAFEGUARDS
    assert run(range(20), promise)[-1].violation is not None
