"""What the person already has, which decides what their words can mean."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from domain.foods import State
from domain.quantities import Region


@dataclass(frozen=True, slots=True)
class KnownBatch:
    """An open batch."""

    number: int
    name: str
    cooked: bool


@dataclass(frozen=True, slots=True)
class Waiting:
    """A question that waits: what it is about, its choices, and what else answers it."""

    about: str
    choices: tuple[str, ...]
    key: int = 0
    """What an answer names it by."""
    shown: bool = False
    """Whether it was shown last, so that bare words may answer it."""
    weigh_in: int | None = None
    """The weigh-in that it is about."""
    states: tuple[State | None, ...] = ()
    """The state that each choice gives, where it is about a state."""
    units: tuple[str | None, ...] = ()
    """The unit of body weight that each choice gives, where it is about one."""
    foods: tuple[str, ...] = ()
    """The foods that it is about, generic words as `kinds:milk`."""
    word: str = ""
    """What the person called the food, in lower case."""
    among: tuple[str, ...] = ()
    """The foods that may be the answer: the kinds that differ."""
    takes: frozenset[str] = frozenset()
    """The slots that an answer may fill in."""
    what: str = ""
    """What `time` is asked for."""


@dataclass(frozen=True, slots=True)
class LastWeighIn:
    """What was recorded last."""

    food: str
    grams: float
    state: str
    batch: int | None


@dataclass(frozen=True, slots=True)
class Surroundings:
    """Everything outside the message that its meaning depends on; `now` is local and aware."""

    now: datetime
    region: Region = Region.US
    batches: tuple[KnownBatch, ...] = ()
    """The open ones."""
    tares: tuple[tuple[str, float], ...] = ()
    labels: tuple[str, ...] = ()
    waiting: tuple[Waiting, ...] = ()
    last: LastWeighIn | None = None
    day_starts: int = 0
    """The hour at which the person's day starts."""
    clients: tuple[str, ...] = ()
    """What the person calls those whom they guide."""
    coaches: tuple[str, ...] = ()
    """The names of those who guide the person."""

    @property
    def today(self) -> date:
        """The day that it is for this person."""
        return day_of(self.now, self.day_starts)


def day_of(local: datetime, day_starts: int) -> date:
    """The day on which a local moment falls when days start at that hour."""
    return (local - timedelta(hours=day_starts)).date()
