"""What can be meant of a batch's parts: its pieces, boxes and shares, where they lie, and who had them."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from bot.language.told import Amount, BatchRef, TareRef, When

Place = Literal["fridge", "freezer"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CountPieces:
    """The batch was divided into pieces of equal weight: "12 rotis from it", "made 24 meatballs, 816 g cooked"."""

    batch: BatchRef
    pieces: int
    word: str
    """The singular ("roti", "meatball"); "piece" when no other word was used."""
    amount: Amount | None = None
    """What all of them weigh together."""
    each: Amount | None = None
    """What one of them weighs."""
    tare: TareRef | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SplitBatch:
    """What is left of a batch, put into equal boxes; None: how many is to be asked."""

    batch: BatchRef
    boxes: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WhichBoxes:
    """Which boxes of a batch; what is None was not said."""

    count: int | None = 1
    """None: all of them."""
    numbers: tuple[int, ...] = ()
    place: Place | None = None
    amount: Amount | None = None
    """The weight that tells unequal boxes apart ("the 280 g box")."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxUp:
    """Food was put into boxes: "split the rest into 3 boxes", "4 boxes of 280 g", "boxes of 300 and 260 g"."""

    batch: BatchRef
    boxes: int | None = None
    """How many; None when only their weights were said."""
    each: Amount | None = None
    """The weight of every one of them. Neither this nor `weights`: what is loose is split equally."""
    weights: tuple[Amount, ...] = ()
    """Their weights one by one."""
    place: Place | None = None
    when: When = field(default_factory=When)


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveBoxes:
    """Boxes went to another place: "froze 3 boxes", "2 chilli boxes out of the freezer"."""

    batch: BatchRef
    which: WhichBoxes | None
    """None: what is not boxed ("froze the rest of the soup")."""
    to: Place
    when: When = field(default_factory=When)


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeBoxes:
    """Whole boxes were eaten by the writer: "a box of dal from the freezer", "the last chilli box", "the 280 g box"."""

    batch: BatchRef
    which: WhichBoxes
    when: When = field(default_factory=When)
    left_g: float | None = None
    """What the writer left of it."""
    others: Amount | None = None
    """What others had of it."""
    fraction: float = 1.0
    """Which part of one box the writer had ("half of it"); the other part is loose then."""
    rest_to: str = ""
    """Who had the other part, where that was said."""
    confirmed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TakePieces:
    """Pieces were eaten by the writer: "3 rotis", "3 of the 12", "the last 2 meatballs"."""

    batch: BatchRef
    pieces: float | None
    """None: all that are left."""
    word: str
    """The singular of the word used; "" when there was none ("3 of the 12")."""
    when: When = field(default_factory=When)
    left_g: float | None = None
    confirmed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeShare:
    """A share of a batch was eaten by the writer: "a quarter of the pie", "half of what's left", "the rest"."""

    batch: BatchRef
    fraction: float
    """Above 0, at most 1."""
    of: Literal["whole", "left", "loose"] | None
    """None: not said. "The rest" and "all of it" are 1 of what is left; "loose" is what is in no box."""
    text: str = ""
    """The words of the share, for the reply."""
    when: When = field(default_factory=When)
    confirmed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class GiveAway:
    """What left a batch and is on nobody's day: "dan had 4 rotis and 320 g dal", "threw out the rest of the curry".

    One of `amount`, `pieces`, `boxes`, `fraction` is given; none of them: all that is left.
    """

    batch: BatchRef
    why: str
    """"given away", "thrown out" or another past participle that completes "120 g of it were …"."""
    amount: Amount | None = None
    pieces: float | None = None
    boxes: WhichBoxes | None = None
    fraction: float | None = None
    of: Literal["whole", "left"] | None = None
    who: str = ""
    """Who had it, where that was said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReduceBatch:
    """What left a batch without being on anybody's day."""

    batch: BatchRef
    amount: Amount | None
    """None: all that is left."""
    boxes: float | None = None
    why: str = ""
    who: str = ""
    """Who had it, where that was said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GiveBack:
    """What others had been given and left over is in the batch again ("the 60 g that mia left on her plate")."""

    batch: BatchRef
    amount: Amount
    alone: bool = False
    """Whether nothing else is told, so that the reply is about this."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stored:
    """What lies in the fridge or the freezer is asked for: "what's in the freezer?", "how many chilli boxes left?"."""

    place: Place | None
    batch: BatchRef | None = None
    """None: everything of the kitchen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StillGood:
    """Whether a batch still keeps is asked: "is the chilli from Sunday still good?"."""

    batch: BatchRef
    place: Place | None = None


PortionMatter = (
    CountPieces
    | SplitBatch
    | BoxUp
    | MoveBoxes
    | TakeBoxes
    | TakePieces
    | TakeShare
    | GiveAway
    | ReduceBatch
    | GiveBack
    | Stored
    | StillGood
)
