"""What is asked about what is on record: each is answered in its first line and records nothing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bot.language.told import BatchRef, Name


@dataclass(frozen=True, slots=True, kw_only=True)
class Remaining:
    """How much of a nutrient is left of the day's target: "how much protein do I still need?"."""

    nutrient: str
    """`kcal` or a field of the nutrients in grams (`protein_g`, `fibre_g`, `salt_g` …)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TotalOf:
    """How much of a nutrient a day holds: "fibre today", "how much salt yesterday?"."""

    nutrient: str
    day: date | None = None
    """None: today."""
    meal: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Eaten:
    """What was eaten on a day, at a meal, or of a food: "what did I have on Tuesday?", "did I log the banana?"."""

    day: date | None = None
    """None: today, or any day where a food is asked for."""
    meal: str | None = None
    name: Name | None = None


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


Asked = Remaining | TotalOf | Eaten | AmountFor | Per100 | Keeping | OpenQuestions | Skip | DayDone
