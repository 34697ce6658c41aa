"""What is in store for one seed: how many processes, for how long, which faults and how often."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import dataclass

HOUR = 3600.0

# The chance with which each may strike wherever it can; how often that is differs widely.
REQUESTS = (
    "lost request",
    "lost answer",
    "slow answer",
    "too many requests",
    "server error",
    "proxy page",
    "garbled",
    "killed while sending",
)
COMMITS = ("killed before commit", "killed after commit", "disk full", "commit unanswered", "disk slow")
BEGINS = ("locked", "killed between")
UPDATES = ("delivered again", "numbered anew")
EVENTS = ("kill", "stop", "stall", "network down", "disk full for long", "clock forward", "clock back")
"""What happens to a process, or to all of them, at some moment."""

IDLE = 0.02
"""How much more rarely a fault strikes a transaction that has changed nothing."""


@dataclass(frozen=True)
class Plan:
    """One seed's setting."""

    processes: int
    shared: bool
    """Whether the processes treat their database as a server that they share: a transaction for each message, leases
    that expire, commits whose answer is lost."""
    webhook: bool
    hours: float
    pace: float
    """By how much the processes' pauses without work are stretched, so that long idle times cost little."""
    clients: int
    coach: bool
    bursts: int
    rates: dict[str, float]
    clock_changes: bool

    @classmethod
    def of(cls, chance: random.Random) -> Plan:
        hours, pace = chance.choice(((0.1, 1), (0.2, 5), (0.2, 5), (0.5, 10), (0.5, 10), (8, 60), (36, 120)))
        processes = chance.choice((1, 1, 2, 3))
        # Each seed has some of the faults, so that none hides behind another.
        rates = {kind: chance.choice((0.02, 0.1, 0.25)) for kind in REQUESTS if chance.random() < 0.5}
        rates |= {kind: chance.choice((0.01, 0.03, 0.1)) for kind in COMMITS if chance.random() < 0.4}
        rates |= {kind: chance.choice((0.0005, 0.002)) for kind in BEGINS if chance.random() < 0.4}
        rates |= {kind: chance.choice((0.05, 0.3)) for kind in UPDATES if chance.random() < 0.4}
        rates |= {kind: chance.choice((1.0, 3.0, 6.0)) for kind in EVENTS if chance.random() < 0.4}
        return cls(
            processes=processes,
            shared=processes > 1 and chance.random() < 0.6,
            webhook=chance.random() < 0.3,
            hours=hours,
            pace=pace,
            clients=chance.choice((1, 2, 3)),
            coach=chance.random() < 0.4,
            bursts=chance.choice((2, 4, 6)),
            rates=rates,
            clock_changes="clock forward" in rates or "clock back" in rates,
        )


class Faults:
    """Decides where a fault strikes, and counts them."""

    def __init__(self, plan: Plan, chance: random.Random) -> None:
        self.count: Counter[str] = Counter()
        self.on = True
        self._rates = plan.rates
        self._chance = chance

    def strikes(self, kind: str, times: float = 1) -> bool:
        """Whether this fault strikes here and now."""
        rate = self._rates.get(kind, 0.0) * times
        if not self.on or rate <= 0 or self._chance.random() >= rate:
            return False
        self.count[kind] += 1
        return True
