"""What a message can mean for a batch that is cooked, changed, shared out, boxed and cooked again.

A `BatchRef` without number, candidates and text says that no batch was named: the conversation finds out which.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from bot.language.told import Amount, BatchRef, Item, Name, TareRef, When

Place = Literal["fridge", "freezer"]


@dataclass(frozen=True, slots=True, kw_only=True)
class AddIngredients:
    """What went into the pot: "add 150 g peas to the curry", "and 400 g stock", "113 g mozzarella on top"."""

    batch: BatchRef
    items: tuple[Item, ...]
    from_start: bool = False
    """It was in from the start and only told late ("forgot, 12 g oil went in too"): earlier portions are recounted."""
    cooked: Amount | None = None
    """What the batch weighs now, with it."""
    tare: TareRef | None = None
    """The vessel that was on the scale with `cooked`."""
    unsaid: bool = False
    """Whether only the moment speaks for the pot: no word says that it went in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PutElsewhere:
    """What was told last went where it was not taken to go: "in the pot", "I ate it"."""

    pot: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CorrectIngredient:
    """An ingredient was told wrong: "the onion was 180 g", "the beans were canned"."""

    batch: BatchRef
    name: Name
    """Which ingredient of the batch."""
    item: Item
    """What it really was; what `item` leaves out (amount, name, state) stays as it was."""
    line: int | None = None
    """Which line of the batch it is, once that was asked."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveIngredient:
    """An ingredient was never in it: "leave out the potatoes", "take the onion out of the curry"."""

    batch: BatchRef
    names: tuple[Name, ...]
    line: int | None = None
    """Which line of the batch it is, once that was asked of a single name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapIngredient:
    """Another food in place of an ingredient: "turkey instead of beef"; without an amount the old one stays."""

    batch: BatchRef
    name: Name
    item: Item
    line: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeOutRefuse:
    """Bones, shells or the like weighed after they were taken out of the batch: "bones out of the stew 210 g"."""

    batch: BatchRef
    part: str
    amount: Amount
    name: Name | None = None
    """The ingredient that they came from, where that was said."""
    line: int | None = None


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
    of: Literal["whole", "left"] | None
    """None: not said. "The rest" and "all of it" are 1 of what is left."""
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
class RenameBatch:
    """Another name for a batch: "call batch 2 turkey chilli"."""

    batch: BatchRef
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RecipeChange:
    """One change to a recipe that is cooked again.

    Without `name`: `item` is added. Without `item`: `name` is left out. With both: `item` in place of `name`.
    """

    name: Name | None = None
    item: Item | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CookAgain:
    """A new batch from an earlier one's ingredients: "the chilli again", "half the chilli recipe, no beans"."""

    batch: BatchRef
    """The earlier batch, open or closed; `candidates` may hold closed ones, and `text` is the name as said."""
    factor: float | None = None
    """How many times the recipe; None: once, or as `to` makes it."""
    to: Item | None = None
    """One ingredient's new amount, to which all others are scaled ("same recipe with 900 g mince")."""
    changes: tuple[RecipeChange, ...] = ()
    name: str | None = None
    """The new batch's name; None: the earlier one's."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipes:
    """The recipes of the kitchen are asked for: "what recipes do I have?"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Contents:
    """What is in a batch is asked for: "what's in the chilli so far?"."""

    batch: BatchRef


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


BatchMatter = (
    AddIngredients
    | PutElsewhere
    | CorrectIngredient
    | RemoveIngredient
    | SwapIngredient
    | TakeOutRefuse
    | CountPieces
    | BoxUp
    | MoveBoxes
    | TakeBoxes
    | TakePieces
    | TakeShare
    | GiveAway
    | RenameBatch
    | CookAgain
    | Recipes
    | Contents
    | Stored
    | StillGood
)
