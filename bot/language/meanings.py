"""What a message can mean. Plain values: language makes them, conversation judges them, questions keep them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from domain.foods import State

Doubt = Literal["point", "range", "negative", "share", "compound"]


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


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchRef:
    """Which batch was meant: a number, or the open batches that go by the name."""

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
    when: When = When()
    number_first: bool = False
    """Whether a bare number stands right before the food's name ("3 eggs", not "eggs 3")."""
    two_masses: bool = False
    """Whether two masses were told that do not agree."""
    others_g: float | None = None
    shared: bool = False
    several: tuple[str, ...] = ()
    """The foods that one mass was told for."""
    confirmed: tuple[str, ...] = ()
    """What the person has already said yes to, so that it is not asked again."""
    changes: int | None = None
    """The number of the weigh-in that this one replaces, for a fix or an edit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenBatch:
    name: str | None
    items: tuple[Item, ...]
    cooked: Amount | None = None
    confirmed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CookBatch:
    batch: BatchRef
    amount: Amount
    tare: TareRef | None = None
    confirmed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PourOff:
    batch: BatchRef
    amount: Amount


@dataclass(frozen=True, slots=True, kw_only=True)
class SplitBatch:
    batch: BatchRef
    boxes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ReduceBatch:
    batch: BatchRef
    amount: Amount | None
    """None: all that is left."""
    boxes: float | None = None
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CloseBatch:
    batch: BatchRef
    how: Literal["finished", "discarded"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SaveTare:
    name: str
    amount: Amount | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SaveMeasure:
    name: Name
    measure: str
    count: float
    amount: Amount


@dataclass(frozen=True, slots=True, kw_only=True)
class SaveLabel:
    food: str
    serving_g: float | None
    kcal: float | None
    protein_g: float | None
    fat_g: float | None
    carbohydrate_g: float | None
    fibre_g: float | None = None
    alcohol_g: float | None = None
    measure: str | None = None
    measure_count: float = 1.0
    confirmed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SaveHabit:
    name: Name
    state: State


@dataclass(frozen=True, slots=True, kw_only=True)
class BodyWeight:
    value: float
    unit: str | None
    kg: float | None
    when: When = When()


@dataclass(frozen=True, slots=True, kw_only=True)
class SetTarget:
    kcal: float | None
    protein_g: float | None = None
    fat_g: float | None = None
    carbohydrate_g: float | None = None
    confirmed: tuple[str, ...] = ()


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


@dataclass(frozen=True, slots=True, kw_only=True)
class SetReminder:
    what: str
    time: str | None
    """HH:MM local; empty leaves it as it is; None turns it off."""
    weekdays: str | None = None
    """The days of the week as digits, 0 is Monday; None leaves them as they are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AskReminderTime:
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Snooze:
    """The reminder shall come again later."""

    minutes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LocalTime:
    """What the person's own clock shows, HH:MM, from which their zone follows."""

    clock: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SetSetting:
    name: str
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Undo:
    pass


@dataclass(frozen=True, slots=True, kw_only=True)
class Which:
    """Which weigh-in a fix is about: a number, the latest of a food, or simply the last."""

    number: int | None = None
    name: Name | None = None


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
    otherwise: Item | None = None
    """The weigh-in that it tells of when there is nothing of that food on record to put right."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Delete:
    which: Which


@dataclass(frozen=True, slots=True, kw_only=True)
class Waste:
    """A waste weight that came later ("core was 21")."""

    part: str
    amount: Amount
    name: Name | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Again:
    """The last weigh-in's food once more, with its amount unless another is said."""

    amount: Amount | None = None
    when: When = When()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    span: Literal["day", "week", "month"]
    day: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Trend:
    """Something over time that is asked about."""

    of: Literal["body_weight", "energy_balance"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    of: Literal["batches", "tares", "foods", "weigh_ins", "measures", "labels", "target", "reminders"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """How much is left of a batch."""

    batch: BatchRef


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIf:
    """Something asked about food: answered, never recorded."""

    items: tuple[Item, ...]
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Bare:
    """A number or a mass and nothing else."""

    amount: Amount


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """Words that may answer a waiting question."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NotMine:
    """Food of others, or food that was not eaten: nothing to record."""

    why: Literal["others", "negation", "plan", "shopping", "body_change", "cooking", "macro"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Chatter:
    kind: Literal["greeting", "thanks", "other"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Help:
    topic: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Unclear:
    text: str


Meaning = (
    Item
    | OpenBatch
    | CookBatch
    | PourOff
    | SplitBatch
    | ReduceBatch
    | CloseBatch
    | SaveTare
    | SaveMeasure
    | SaveLabel
    | SaveHabit
    | BodyWeight
    | SetTarget
    | ComputeTarget
    | SetReminder
    | AskReminderTime
    | Snooze
    | LocalTime
    | SetSetting
    | Undo
    | Change
    | Delete
    | Waste
    | Again
    | Sheet
    | Trend
    | Listing
    | Left
    | WhatIf
    | Bare
    | Answer
    | NotMine
    | Chatter
    | Help
    | Unclear
)
