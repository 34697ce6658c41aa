"""The parts of what is told: amounts, names, batches, times, and the weigh-in that they make together."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Literal

from domain.foods import State

Doubt = Literal["point", "range", "negative", "each", "share", "total", "unclear"]
"""Why an amount is not taken as it stands: 1.250, two ends, below zero, of one or of all, a share of what has no
weight, a total on the scale or a weight by itself, a number whose part in it is not known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """How much, as told: a mass in grams, a volume or measure with its unit, a count, or a bare number."""

    kind: Literal["mass", "volume", "measure", "count", "bare", "loose"]
    value: float
    unit: str = ""
    grams: float | None = None
    """For a mass: its grams, exact."""
    text: str = ""
    doubt: Doubt | None = None
    other: float | None = None
    """For a doubted number: the value of the other reading, in the same unit."""
    times: float | None = None
    """How many of one weight or volume it is made of ("2 x 330 ml")."""


def is_share(amount: Amount) -> bool:
    """Whether it is a part of a whole ('half', '3/4'); a decimal ('.3') is a number read off a scale."""
    decimal = any(mark in amount.text for mark in ".,")
    return amount.kind in ("bare", "count") and 0 < amount.value < 1 and not amount.unit and not decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Name:
    """What food was named. One candidate is certain; several or none ask."""

    text: str
    foods: tuple[str, ...] = ()
    """Names of foods of the table or of the person's labels; more than one: not decided."""
    kinds: str | None = None
    """The generic word (milk, tuna) when no kind was named."""
    unknown: tuple[str, ...] = ()
    """Words beside the food that were not understood."""
    corrected: bool = False
    """Whether a misspelling was put right."""
    combination: str = ""
    """The person's own word for several foods together, when that was said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchRef:
    """Which batch was meant: a number, or the open batches that go by the name.

    Without number, candidates and text it says that no batch was named: the conversation finds out which.
    """

    number: int | None = None
    candidates: tuple[int, ...] = ()
    text: str = ""
    sure: bool = True
    """False when the word is also a plain food and nothing says that the batch is meant."""


@dataclass(frozen=True, slots=True, kw_only=True)
class When:
    """When it was eaten, on the person's own calendar."""

    day: date | None = None
    moment: datetime | None = None
    meal: str | None = None
    future: bool = False
    unclear: str | None = None
    """A word that may or may not be a meal ("tea")."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TareRef:
    """A vessel that was on the scale too: its name, and its weight where it was said."""

    name: str
    grams: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One weigh-in as told; what is missing or doubtful is for the conversation to ask."""

    text: str
    amount: Amount | None = None
    measure: Amount | None = None
    """A second measure of the same food ("1 banana 118 g")."""
    name: Name | None = None
    batch: BatchRef | None = None
    state: State | None = None
    method: str = ""
    state_may_be_verb: bool = False
    whole: bool | None = None
    part: str = ""
    waste_g: float | None = None
    peeled_g: float | None = None
    cooked_g: float | None = None
    """Its cooked weight, when the raw one was told too."""
    tare: TareRef | None = None
    when: When = field(default_factory=When)
    number_first: bool = False
    """Whether a bare number stands right before the food's name ("3 eggs", not "eggs 3")."""
    two_masses: bool = False
    """Whether two masses were told that do not agree."""
    others_g: float | None = None
    shared: bool = False
    unsure: bool = False
    """Whether its sentence has words that no reading uses and that may say that it was not eaten."""
    several: tuple[str, ...] = ()
    """The foods that one mass was told for."""
    kcal: float | None = None
    """The energy that was told in place of an amount ("burger out, about 900 kcal")."""
    confirmed: tuple[str, ...] = ()
    """What the person has already said yes to, so that it is not asked again."""
    changes: int | None = None
    """The number of the weigh-in that this one replaces, for a fix or an edit."""
