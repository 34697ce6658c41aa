"""Several seeds, one after the other."""

from __future__ import annotations

import tempfile
from pathlib import Path

from .safeguards import SAFEGUARDS
from .world import Outcome, simulate


def run(seeds: range, without: str | None = None) -> list[Outcome]:
    """Runs seeds one after the other, up to the first that fails without a safeguard."""
    outcomes = []
    with tempfile.TemporaryDirectory(dir=_memory()) as folder:
        for seed in seeds:
            outcomes.append(simulate(seed, Path(folder), SAFEGUARDS[without] if without else None))
            if without and outcomes[-1].violation:
                break
    return outcomes


def _memory() -> str | None:
    """A folder in memory where there is one: what is simulated never reaches a disk."""
    return "/dev/shm" if Path("/dev/shm").is_dir() else None
