"""What the person already has, which decides what their words can mean."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from bot.language.told import Amount
from domain.foods import State
from domain.quantities import Region

COOKING_HOURS = 12
"""So long after the last ingredient a batch without a cooked weight counts as being cooked."""
NEWER = timedelta(hours=2)
"""So much later than into all others something went into the pot that 'the pot' is."""


@dataclass(frozen=True, slots=True)
class KnownBatch:
    """A batch of the kitchen."""

    number: int
    name: str
    cooked: bool
    cooking_since: datetime | None = None
    """When something last went into it, for one without a cooked weight; None: nothing says that it is on the stove."""
    filling: bool = False
    """Whether the writer put something into it just now and has told of nothing else since."""
    interrupted: bool = False
    """Whether it is being put together line by line, and something eaten was told since."""
    ingredients: tuple[str, ...] = ()
    """What they are called."""
    pieces: float | None = None
    """How many pieces are left of a batch that was divided into pieces."""
    piece: str = ""
    """The singular of the word for its pieces ("roti")."""
    boxes: int | None = None
    """How many boxes of it are left; None: not known here."""
    boxed: bool = False
    """Whether it ever was in boxes."""
    raw_g: float | None = None
    """What went into it."""
    left_g: float | None = None
    """What is left of a cooked one."""
    untouched: bool = False
    """Whether nothing of a cooked one has been taken, so that a share of all is one of what is left."""
    box_g: float | None = None
    """What each of its boxes holds, where they are equal."""
    spoken: bool = False
    """Whether the writer's latest change was about it: 'it', 'the pot'."""
    focus: bool = False
    """Whether it is cooked and the one that the writer spoke of last, though other food was told since."""
    stirred: bool = False
    """Whether something went into it since it was weighed."""
    given_g: tuple[float, ...] = ()
    """What others had of it lately."""
    weights: tuple[tuple[tuple[str, ...], float], ...] = ()
    """Each of its ingredients: what it is called, and how many grams went in."""


@dataclass(frozen=True, slots=True)
class Waiting:
    """A question that waits: what it is about, its choices, and what else answers it."""

    about: str
    choices: tuple[str, ...]
    key: int = 0
    """What an answer names it by."""
    shown: bool = False
    """Whether it was shown last, so that bare words may answer it."""
    fresh: bool = True
    """Whether it was asked so recently that words which name nothing may be meant for it."""
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
    vessel: str = ""
    """The vessel whose weight is asked for."""
    takes: frozenset[str] = frozenset()
    """The slots that an answer may fill in."""
    grams: float | None = None
    """The weight of what it is about, where one was told."""
    what: str = ""
    """What `time` is asked for."""
    batches: tuple[int, ...] = ()
    """The batches that it is about, or of which one is asked for."""


@dataclass(frozen=True, slots=True)
class LastWeighIn:
    """What was recorded last."""

    food: str
    grams: float
    state: str
    batch: int | None


@dataclass(frozen=True, slots=True)
class Recorded:
    """A weigh-in on record, as far as words can refer to it."""

    number: int
    food: str
    day: date
    grams: float
    """What it weighed."""
    edible_g: float
    state: str = ""
    meal: str | None = None
    at: datetime | None = None
    """When it was eaten, by the person's own clock."""
    batch: int | None = None
    word: str = ""
    """What the person called it, in lower case."""
    amount: Amount | None = None
    """How much it was, as told."""
    pieces: float | None = None
    """How many pieces it was, where that was told."""
    waste_g: float | None = None
    kcal: float | None = None
    """Its energy; None for one without figures."""
    message: int = 0
    """What was told in one message has one number here."""


@dataclass(frozen=True, slots=True)
class OwnWords:
    """What a person's own words mean."""

    foods: tuple[tuple[str, str], ...] = ()
    """(word, name of the food that is meant)."""
    combinations: tuple[str, ...] = ()
    """Words for several foods together; a meal's word among them only repeats the usual meal."""
    vessels: tuple[str, ...] = ()
    """Vessels of which it is known what they hold."""


def no_contents(_numbers: Collection[int]) -> Sequence[KnownBatch]:
    """The contents of the batches that are over, where there are none."""
    return ()


@dataclass(frozen=True, slots=True)
class Surroundings:
    """Everything outside the message that its meaning depends on; `now` is local and aware."""

    now: datetime
    region: Region = Region.US
    batches: tuple[KnownBatch, ...] = ()
    """The open ones."""
    closed: tuple[KnownBatch, ...] = ()
    """Those that can be cooked again though nothing is left of them."""
    contents: Callable[[Collection[int]], Sequence[KnownBatch]] = no_contents
    """Batches that are over, by their numbers, with their ingredients; read when one of those may be put right."""
    tares: tuple[tuple[str, float], ...] = ()
    labels: tuple[str, ...] = ()
    waiting: tuple[Waiting, ...] = ()
    last: LastWeighIn | None = None
    recorded: Callable[[], Sequence[Recorded]] = tuple
    """The weigh-ins of the last days in the order of their numbers, read when a message may put one right."""
    body_kg: Callable[[], float | None] = lambda: None
    """The writer's latest body weight on record, read when a number may be one."""
    day_starts: int = 0
    """The hour at which the person's day starts."""
    clients: tuple[str, ...] = ()
    """What the person calls those whom they guide."""
    coaches: tuple[str, ...] = ()
    """The names of those who guide the person."""
    clients_before: tuple[str, ...] = ()
    """What the person called those whom they guide no longer."""
    coaches_before: tuple[str, ...] = ()
    """The names of those who guide the person no longer."""
    guides: bool = False
    """Whether the person has invited somebody to be guided."""
    said_before: Callable[[], Sequence[str]] = tuple
    """The person's latest messages before this one, the newest first, read when a pronoun may mean a client."""
    words: OwnWords = OwnWords()

    @property
    def cooking(self) -> tuple[KnownBatch, ...]:
        """The batches on the stove: without a cooked weight, and something went in within `COOKING_HOURS`."""
        earliest = self.now - timedelta(hours=COOKING_HOURS)
        return tuple(
            b for b in self.batches if not b.cooked and b.cooking_since is not None and b.cooking_since >= earliest
        )

    @property
    def at_work(self) -> tuple[KnownBatch, ...]:
        """Those on the stove that work was done on last: one where it is clear, else all of them."""
        return worked_on(self.cooking)

    @property
    def today(self) -> date:
        """The day that it is for this person."""
        return day_of(self.now, self.day_starts)


def worked_on(batches: Sequence[KnownBatch]) -> tuple[KnownBatch, ...]:
    """The one of several raw batches that was spoken of last, or filled long after the others; else all of them."""
    spoken = tuple(b for b in batches if b.spoken)
    if len(spoken) == 1:
        return spoken
    filled = sorted(b.cooking_since for b in batches if b.cooking_since is not None)
    if len(filled) < 2 or len(filled) != len(batches) or filled[-1] - filled[-2] < NEWER:
        return tuple(batches)
    return tuple(b for b in batches if b.cooking_since == filled[-1])


def day_of(local: datetime, day_starts: int) -> date:
    """The day on which a local moment falls when days start at that hour."""
    return (local - timedelta(hours=day_starts)).date()
