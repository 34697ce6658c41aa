"""What puts the record right, or adds to what was recorded last."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from bot.language.told import Amount, Item, Name, TareRef, When
from domain.foods import State


@dataclass(frozen=True, slots=True, kw_only=True)
class Undo:
    """The last message is to be taken back."""

    of_removal: bool = False
    """Whether it is what was deleted that is wanted back: 'put the egg back'."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Which:
    """Which weigh-in a fix is about: a number, the latest of a food, of a day, of a meal, or simply the last."""

    number: int | None = None
    name: Name | None = None
    day: date | None = None
    meal: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A fix: only what is said changes."""

    which: Which
    amount: Amount | None = None
    was: Amount | None = None
    """The old amount as the person remembers it ("not 200 g, 250 g")."""
    state: State | None = None
    method: str = ""
    name: Name | None = None
    """Another food in place of the recorded one."""
    whole: bool | None = None
    meal: str | None = None
    when: When | None = None
    tare: TareRef | None = None
    by: Amount | None = None
    """How much more it was than recorded; negative for less ("it was 20 g less")."""
    share: float | None = None
    """The part of what is recorded that it really was ("my flatmate ate half of it")."""
    kcal: float | None = None
    """The energy that it had according to its packet or menu ("that flapjack was 212 kcal")."""
    otherwise: Item | None = None
    """The weigh-in that it tells of when there is nothing of that food on record to put right."""
    corrects: bool = False
    """Whether it is said outright that something told before was wrong: `otherwise` is asked about then."""
    unnamed: bool = False
    """Whether nothing says which it is but that it was the last: a change to many times its weight is asked about."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Delete:
    """A weigh-in is to be taken off the record."""

    which: Which


@dataclass(frozen=True, slots=True, kw_only=True)
class DeleteSeveral:
    """Several weigh-ins are to be taken off: by their numbers, by food, or all of a meal or a day."""

    numbers: tuple[int, ...] = ()
    names: tuple[Name, ...] = ()
    day: date | None = None
    meal: str | None = None
    sure: bool = False
    """Whether the person has said yes to it; a whole meal or day is asked about once."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Waste:
    """A waste weight that came later ("core was 21")."""

    part: str
    amount: Amount
    name: Name | None = None
    number: int | None = None
    """The weigh-in that it is of, where that is known; else today's last that has such a part."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Again:
    """The last weigh-in's food once more, with its amount unless another is said."""

    amount: Amount | None = None
    when: When = field(default_factory=When)


@dataclass(frozen=True, slots=True, kw_only=True)
class OnTheScale:
    """What the scale shows with all that was put on it before, in messages of their own ("now 235 with milk")."""

    total: Amount
    item: Item
    """What was added, without an amount."""


FixMatter = Undo | Change | Delete | DeleteSeveral | Waste | Again | OnTheScale
