"""What a person tells for good: their vessels, measures, labels and habits, their body, what they aim at."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from bot.language.told import Amount, Name, When
from domain.foods import State
from domain.targets import Target


@dataclass(frozen=True, slots=True, kw_only=True)
class SaveTare:
    """A vessel's empty weight, to be kept."""

    name: str
    amount: Amount | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SaveMeasure:
    """The person's own measure of a food: what one of it weighs."""

    name: Name
    measure: str
    count: float
    amount: Amount


@dataclass(frozen=True, slots=True, kw_only=True)
class SaveLabel:
    """A packet's figures for one serving."""

    food: str
    serving_g: float | None
    per_g: float | None = None
    """The grams that the figures are for where that is not the serving."""
    kcal: float | None
    protein_g: float | None
    fat_g: float | None
    carbohydrate_g: float | None
    fibre_g: float | None = None
    alcohol_g: float | None = None
    sugars_g: float | None = None
    saturated_fat_g: float | None = None
    salt_g: float | None = None
    """Where only sodium is printed, 2.5 times that."""
    polyols_g: float | None = None
    measure: str | None = None
    measure_count: float = 1.0
    confirmed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SaveHabit:
    """The standing answer to 'raw or cooked?' for a food."""

    name: Name
    state: State


@dataclass(frozen=True, slots=True, kw_only=True)
class BodyWeight:
    """The person's own weight; `kg` is None where the unit was not said."""

    value: float
    unit: str | None
    kg: float | None
    when: When = field(default_factory=When)


@dataclass(frozen=True, slots=True, kw_only=True)
class TargetTold(Target):
    """A target, and the days that it is for."""

    day: date | None = None
    """The first day that it is for; None: today."""
    until: date | None = None
    """The last one; None: until another is set."""
    days: str = ""
    """Which days: `training`, `rest`, or days of the week as digits, 0 is Monday; empty: all."""
    confirmed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SetTarget(TargetTold):
    """What the person aims at for a day."""

    per: Literal["", "kg", "lb"] = ""
    """The unit of body weight that the figures are for: "1.6 g per kilo"; empty: they are for the day."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DayKind:
    """Which kind of day it is, for targets that differ: "today is a training day"."""

    kind: Literal["training", "rest"]
    day: date | None = None
    """None: today."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ComputeTarget:
    """A target to be computed; what is None is still to be found out."""

    sex: str | None = None
    years: float | None = None
    cm: float | None = None
    kg: float | None = None
    activity: str | None = None
    kg_per_week: float | None = None
    """The goal rate: negative to lose, 0 to keep the weight."""
    condition: bool | None = None
    """Whether something holds for which no target is computed."""
    day: date | None = None


AboutSelfKind = Literal[
    "pregnant", "breastfeeding", "insulin", "diabetes", "eating_disorder", "minor", "purging", "fasting", "self_harm",
    "blood_sugar", "emergency", "poison", "medicine", "dose", "distress", "weight_goal",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class AboutSelf:
    """What somebody says about themselves that asks for a calm word, and may ask for help."""

    kind: AboutSelfKind
    years: int | None = None
    """The age, for a minor."""


FactMatter = (
    SaveTare | SaveMeasure | SaveLabel | SaveHabit | BodyWeight | SetTarget | DayKind | ComputeTarget | AboutSelf
)
