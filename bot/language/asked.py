"""What is asked about what is on record, or about food; none of it records anything."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from bot.language.told import BatchRef, Item, Name


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The totals of a day, a week or a month are asked for; a week is the seven days up to `day`."""

    span: Literal["day", "week", "month"]
    day: date
    first: date | None = None
    """Where a week begins that is one of the calendar's: it may not be over yet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trend:
    """Something over time that is asked about."""

    of: Literal["body_weight", "energy_balance"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Precision:
    """How far a day's energy may be off, and why, is asked for."""

    day: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """What the person has of a kind is asked for."""

    of: Literal["batches", "tares", "foods", "weigh_ins", "measures", "labels", "target", "reminders", "pauses"]
    name: str = ""
    """The food of the label that is wanted; empty for all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIf:
    """Something asked about food: answered, never recorded."""

    items: tuple[Item, ...]
    text: str
    topic: str = ""
    """'keeping' or 'basis' for what is asked about food in general."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remaining:
    """How much of a nutrient is left of the day's target: "how much protein do I still need?"."""

    nutrient: str
    """`kcal` or a field of the nutrients in grams (`protein_g`, `fibre_g`, `salt_g` …)."""
    of: float | None = None
    """What the day is compared with, in kcal or grams: "does that put me over 2000?"; None: the target."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TotalOf:
    """How much of a nutrient a day holds: "fibre today", "how much salt yesterday?"."""

    nutrient: str
    day: date | None = None
    """None: today."""
    meal: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class MeanOf:
    """What a logged day of several holds on average: "average calories this week", "am I on track this week?"."""

    nutrients: tuple[str, ...]
    """Empty: those that a target is set for."""
    first: date
    last: date


@dataclass(frozen=True, slots=True, kw_only=True)
class DaysMet:
    """On how many of several days a target was met: "how many days did I hit protein?"."""

    nutrients: tuple[str, ...]
    """Empty: those that a target is set for."""
    first: date
    last: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Highest:
    """Which meal, food or day holds the most of a nutrient: "which meal had the most?"."""

    nutrient: str
    of: Literal["meal", "food", "day"]
    day: date | None = None
    """None: today."""
    first: date | None = None
    """The first of several days up to today."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Eaten:
    """What was eaten on a day, at a meal, or of a food: "what did I have on Tuesday?", "did I log the banana?"."""

    day: date | None = None
    """None: today, or any day where a food is asked for."""
    meal: str | None = None
    name: Name | None = None
    first: date | None = None
    """The first of several days up to today that are asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WhoAte:
    """Who had how much of a batch is asked."""

    batch: BatchRef


@dataclass(frozen=True, slots=True, kw_only=True)
class AmountFor:
    """How much of a food or a batch holds so much: "how much chicken for 40 g protein?"."""

    nutrient: str
    value: float
    """Grams, or kcal."""
    name: Name | None = None
    batch: BatchRef | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Per100:
    """What 100 g of a food or a batch hold: "kcal per 100 g of batch 1"."""

    nutrient: str
    name: Name | None = None
    batch: BatchRef | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Keeping:
    """Whether a food still keeps, or how long it does: "is the chicken from Sunday still good?"."""

    name: Name | None = None
    day: date | None = None
    """When it was cooked or opened, where that was said."""
    place: str = ""
    """`fridge`, `freezer`, or empty where it was not said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenQuestions:
    """What is still open is asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Skip:
    """The question that was shown last is not answered now; `all_of_them`: none of those that wait."""

    all_of_them: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class DayDone:
    """Today's record is complete: "that was all"."""


Asked = (
    Sheet
    | Trend
    | Precision
    | Listing
    | WhatIf
    | Remaining
    | TotalOf
    | MeanOf
    | DaysMet
    | Highest
    | Eaten
    | WhoAte
    | AmountFor
    | Per100
    | Keeping
    | OpenQuestions
    | Skip
    | DayDone
)
"""Whatever is asked about the books."""
