"""Some seeds of the simulation; `make simulate` runs as many as wanted."""

from pathlib import Path

import pytest

from .running import run
from .safeguards import SAFEGUARDS
from .world import simulate


# Short ones, which between them have several processes, a shared database, a webhook, a coach and most kinds of faults.
@pytest.mark.parametrize("seed", (4, 13, 22, 39))
def test_nothing_is_lost_or_doubled_whatever_goes_wrong(seed: int, tmp_path: Path) -> None:
    outcome = simulate(seed, tmp_path)
    assert outcome.violation is None
    assert outcome.messages > 5
    assert outcome.checks > 20
    assert outcome.faults.total() > 3


def test_a_seed_repeats_exactly(tmp_path: Path) -> None:
    first, second = simulate(15, tmp_path), simulate(15, tmp_path)
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
