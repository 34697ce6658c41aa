"""What can be meant of a batch: what goes in, its recipe, cooking it, its end, and what is asked about it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from bot.language.told import Amount, BatchRef, Item, Name, TareRef


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenBatch:
    """A new batch: its name if one was given, what went in, perhaps already its cooked weight."""

    name: str | None
    items: tuple[Item, ...]
    cooked: Amount | None = None
    confirmed: tuple[str, ...] = ()


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
    joined: bool = False
    """Whether only 'and', 'plus' or the like says that it goes in."""
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
class CookBatch:
    """A batch's cooked weight, with the vessel where it was on the scale too; without amount: not weighed yet."""

    batch: BatchRef
    amount: Amount | None = None
    tare: TareRef | None = None
    now: bool = False
    """Whether it is what is there now, which may be less as some was eaten."""
    confirmed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PourOff:
    """Fat or liquid poured off a batch and weighed."""

    batch: BatchRef
    amount: Amount
    fat: bool = True
    """Whether it was fat; other liquid has no energy."""


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
class CloseBatch:
    """A batch that is finished or thrown out."""

    batch: BatchRef
    how: Literal["finished", "discarded"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipes:
    """The recipes of the kitchen are asked for: "what recipes do I have?"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Contents:
    """What is in a batch is asked for: "what's in the chilli so far?"."""

    batch: BatchRef


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """How much is left of a batch."""

    batch: BatchRef


BatchMatter = (
    OpenBatch
    | AddIngredients
    | PutElsewhere
    | CorrectIngredient
    | RemoveIngredient
    | SwapIngredient
    | TakeOutRefuse
    | CookBatch
    | PourOff
    | RenameBatch
    | CookAgain
    | CloseBatch
    | Recipes
    | Contents
    | Left
)
