"""What a message can mean. Plain values: language makes them, conversation judges them, questions keep them."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from bot.language.answer_meanings import Answering as Answering
from bot.language.asked import Asked as Asked
from bot.language.asked import OpenQuestions as OpenQuestions
from bot.language.asked import Skip as Skip
from bot.language.batch_meanings import BatchMatter as BatchMatter
from bot.language.guided import Guided as Guided
from bot.language.kitchen import KitchenMatter
from bot.language.told import Amount as Amount
from bot.language.told import BatchRef as BatchRef
from bot.language.told import Doubt as Doubt
from bot.language.told import Item as Item
from bot.language.told import Name as Name
from bot.language.told import TareRef as TareRef
from bot.language.told import When as When
from bot.language.usual import Usual as Usual
from domain.foods import State


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenBatch:
    """A new batch: its name if one was given, what went in, perhaps already its cooked weight."""

    name: str | None
    items: tuple[Item, ...]
    cooked: Amount | None = None
    confirmed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CookBatch:
    """A batch's cooked weight, with the vessel where it was on the scale too."""

    batch: BatchRef
    amount: Amount
    tare: TareRef | None = None
    confirmed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PourOff:
    """Fat or liquid poured off a batch and weighed."""

    batch: BatchRef
    amount: Amount
    fat: bool = True
    """Whether it was fat; other liquid has no energy."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SplitBatch:
    """What is left of a batch, put into equal boxes; None: how many is to be asked."""

    batch: BatchRef
    boxes: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ReduceBatch:
    """What left a batch without being on anybody's day."""

    batch: BatchRef
    amount: Amount | None
    """None: all that is left."""
    boxes: float | None = None
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CloseBatch:
    """A batch that is finished or thrown out."""

    batch: BatchRef
    how: Literal["finished", "discarded"]


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
class SetTarget:
    """What the person aims at for a day."""

    kcal: float | None
    protein_g: float | None = None
    fat_g: float | None = None
    carbohydrate_g: float | None = None
    fibre_g: float | None = None
    sugars_g: float | None = None
    saturated_fat_g: float | None = None
    salt_g: float | None = None
    alcohol_g: float | None = None
    day: date | None = None
    """The first day that it is for; None: today."""
    until: date | None = None
    """The last one; None: until another is set."""
    days: str = ""
    """Which days: `training`, `rest`, or days of the week as digits, 0 is Monday; empty: all."""
    confirmed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class DayKind:
    """Which kind of day it is, for targets that differ: "today is a training day"."""

    kind: Literal["training", "rest"]
    day: date | None = None
    """None: today."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AboutSelf:
    """What somebody says about themselves that asks for a calm word, and may ask for help."""

    kind: Literal[
        "pregnant", "breastfeeding", "insulin", "diabetes", "eating_disorder", "minor", "purging", "fasting",
        "self_harm", "blood_sugar",
    ]  # fmt: skip
    years: int | None = None
    """The age, for a minor."""


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


@dataclass(frozen=True, slots=True, kw_only=True)
class SetReminder:
    """A reminder at a local time, or off."""

    what: str
    time: str | None
    """HH:MM local; empty leaves it as it is; None turns it off."""
    weekdays: str | None = None
    """The days of the week as digits, 0 is Monday; None leaves them as they are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AskReminderTime:
    """A reminder was wanted without a time."""

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
    """The region or the time zone."""

    name: str
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Export:
    """Everything of the person's is wanted as a file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Privacy:
    """What is kept and who sees it is asked for, or everything is to be erased."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Erase:
    """Everything of the person's is to be erased; `sure` after the second yes."""

    sure: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Undo:
    """The last message is to be taken back."""


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
    otherwise: Item | None = None
    """The weigh-in that it tells of when there is nothing of that food on record to put right."""


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
class Listing:
    """What the person has of a kind is asked for."""

    of: Literal["batches", "tares", "foods", "weigh_ins", "measures", "labels", "target", "reminders"]
    name: str = ""
    """The food of the label that is wanted; empty for all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """How much is left of a batch."""

    batch: BatchRef


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIf:
    """Something asked about food: answered, never recorded."""

    items: tuple[Item, ...]
    text: str
    topic: str = ""
    """'keeping' or 'basis' for what is asked about food in general."""


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

    why: Literal[
        "others", "negation", "plan", "shopping", "body_change", "cooking", "macro", "report", "habit", "condition"
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Chatter:
    """A greeting, thanks, or words with nothing to record."""

    kind: Literal["greeting", "thanks", "other"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Help:
    """How this works is asked for."""

    topic: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Unclear:
    """Nothing was made out."""

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
    | DayKind
    | AboutSelf
    | ComputeTarget
    | SetReminder
    | AskReminderTime
    | Snooze
    | LocalTime
    | SetSetting
    | Export
    | Privacy
    | Erase
    | Undo
    | Change
    | Delete
    | DeleteSeveral
    | Waste
    | Again
    | OnTheScale
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
    | Guided
    | KitchenMatter
    | Asked
    | Usual
    | BatchMatter
    | Answering
)
