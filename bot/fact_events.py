"""What a message told for good: a person's vessels, measures, labels, habits, target, body weight, settings."""

from __future__ import annotations

from datetime import date

import msgspec
from msgspec import UNSET, UnsetType

from bot.events import Event
from bot.kinds import Fact
from domain.foods import State


class TareSaved(Event, tag="tare_saved", frozen=True):
    """A vessel's empty weight."""

    name: str
    grams: float


class MeasureSaved(Event, tag="measure_saved", frozen=True):
    """What one of the person's own measures weighs."""

    food: str
    measure: str
    grams: float


class LabelSaved(Event, tag="label_saved", frozen=True):
    """A packet's serving, and its figures for 100 g."""

    food: str
    serving_g: float
    kcal: float
    protein_g: float
    fat_g: float
    carbohydrate_g: float
    fibre_g: float | None
    sugars_g: float | UnsetType = UNSET
    saturated_fat_g: float | UnsetType = UNSET
    salt_g: float | UnsetType = UNSET
    polyols_g: float | UnsetType = UNSET


class HabitSaved(Event, tag="habit_saved", frozen=True):
    """The standing answer to 'raw or cooked?' for a food."""

    food: str
    state: State


class TargetSet(Event, tag="target_set", frozen=True):
    """A target; `from_` is its first day, set when that is not today, `until` its last.

    `days` are the days that it is for, where it is not for all: training, rest, or days of the week as digits.
    """

    kcal: float | None
    protein_g: float | None
    fat_g: float | None
    carbohydrate_g: float | None
    from_: date | UnsetType = msgspec.field(name="from", default=UNSET)
    fibre_g: float | UnsetType = UNSET
    sugars_g: float | UnsetType = UNSET
    saturated_fat_g: float | UnsetType = UNSET
    salt_g: float | UnsetType = UNSET
    alcohol_g: float | UnsetType = UNSET
    until: date | UnsetType = UNSET
    days: str | UnsetType = UNSET


class DayKindSaved(Event, tag="day_kind", frozen=True):
    """A day is a training day or a rest day."""

    day: date
    kind: str


class BodyWeightSaved(Event, tag="body_weight", frozen=True):
    """The person's own weight on a day."""

    kg: float
    day: date


class ReminderSet(Event, tag="reminder_set", frozen=True):
    """A reminder's local time (HH:MM); None when it is off."""

    what: str
    time: str | None


class SettingChanged(Event, tag="setting_changed", frozen=True):
    """A setting's new value."""

    name: str
    value: str


class FactUndone(Event, tag="fact_undone", frozen=True):
    """Something the person had told, taken back; `name` says which."""

    what: Fact
    name: str | None
