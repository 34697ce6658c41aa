"""What a person has again and again: meals repeated, and words that mean something of their own to them."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from bot.language.told import Amount, Item, Name, When


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeat:
    """A meal, a day or one food once more: "same breakfast as yesterday but 100 g blueberries", "my usual coffee"."""

    meal: str | None = None
    """Which meal is repeated; None: all of the day, or `names` alone."""
    day: date | None = None
    """The day that it is taken from; None: the usual one."""
    names: tuple[Name, ...] = ()
    """The foods that are repeated, where it is not a meal or a day."""
    changes: tuple[Item, ...] = ()
    """In place of what is repeated of the same food, or in addition to it."""
    without: tuple[Name, ...] = ()
    when: When = field(default_factory=When)
    """When it was eaten this time."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeansBy:
    """What a word of the person's means: "when I say yogurt I mean nonfat greek yogurt"."""

    word: str
    name: Name


@dataclass(frozen=True, slots=True, kw_only=True)
class Combination:
    """Several foods under one word: "my shake is 30 g whey, 300 ml milk and a banana"."""

    word: str
    items: tuple[Item, ...]
    eaten: bool = False
    """Whether they are also told as eaten: "that's my usual lunch"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class VesselHolds:
    """What a vessel of the person's holds: "my mug holds 240 ml"."""

    word: str
    amount: Amount


@dataclass(frozen=True, slots=True, kw_only=True)
class Memory:
    """What has been remembered of the person's words and habits is asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ForgetWord:
    """A remembered word or answer is to be forgotten: "forget what my yogurt is", "forget my scoop of whey"."""

    word: str
    """Empty: all of them."""
    habit: bool = False
    """Whether it is about the state in which a food is weighed."""
    sure: bool = False
    """Whether the person has said yes to forgetting all."""


Usual = Repeat | MeansBy | Combination | VesselHolds | Memory | ForgetWord
