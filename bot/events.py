"""What a message changed or brought about: one class for each kind of event.

Weights are in grams, energy in kcal, nutrients in grams; nothing is rounded. `as_json` is the only place where an
event becomes a dict; its keys and their order are the contract of `tarebook converse`.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import msgspec
from msgspec import UNSET, UnsetType

from bot.kinds import About, BatchStep, CautionKind, Ending, Fact, ListOf, Relayed, Span, Topic, Why
from domain.foods import State
from domain.weighins import Evidence


class Event(msgspec.Struct, frozen=True, kw_only=True, tag_field="type"):
    """The base of all events; `type` is the tag of each class."""


def as_json(event: Event) -> dict[str, Any]:
    """The event as the dict that `tarebook converse` prints."""
    found: dict[str, Any] = msgspec.to_builtins(event)
    return found


class WeighInEvent(Event, tag="_", frozen=True):
    """What the events of a weigh-in that stands have in common; figures are None when they are unknown."""

    id: int
    who: str
    food: str
    state: State
    batch: int | None
    as_weighed_g: float
    edible_g: float
    basis_g: float
    basis: State
    evidence: Evidence
    kcal: float | None
    protein_g: float | None
    fat_g: float | None
    carbohydrate_g: float | None
    fibre_g: float | None
    day: date
    meal: str | None


class WeighInRecorded(WeighInEvent, tag="weigh_in", frozen=True):
    """A new weigh-in."""


class WeighInChanged(WeighInEvent, tag="weigh_in_changed", frozen=True):
    """A weigh-in that replaces another."""

    was: int


class WeighInOpen(Event, tag="weigh_in_open", frozen=True):
    """A weigh-in that stands with its weight while its figures wait for an answer; `food` is the person's word."""

    id: int
    who: str
    food: str
    as_weighed_g: float
    day: date
    meal: str | None
    kcal_low: float | None
    kcal_high: float | None


class WeighInRemoved(Event, tag="weigh_in_removed", frozen=True):
    """A weigh-in that no longer stands."""

    id: int


class IngredientPart(msgspec.Struct, frozen=True, kw_only=True):
    """One ingredient of a batch."""

    food: str
    raw_g: float


class BatchOpened(Event, tag="batch_opened", frozen=True):
    """A new batch with its ingredients."""

    batch: int
    name: str
    raw_g: float
    ingredients: tuple[IngredientPart, ...]


class BatchCooked(Event, tag="batch_cooked", frozen=True):
    """A batch's cooked weight; `yield_` is cooked/raw, `raw_factor` is raw/cooked."""

    batch: int
    cooked_g: float | None
    yield_: float | None = msgspec.field(name="yield")
    raw_factor: float | None


class BatchChanged(Event, tag="batch_changed", frozen=True):
    """A batch with other ingredients, or another name, than before."""

    batch: int
    name: str
    raw_g: float
    ingredients: tuple[IngredientPart, ...]


class BatchPieces(Event, tag="batch_pieces", frozen=True):
    """A batch in pieces of equal weight; `piece_g` is None until the weight is known, `piece` the singular word."""

    batch: int
    pieces: float
    piece_g: float | None
    piece: str


class BatchDrained(Event, tag="batch_drained", frozen=True):
    """Fat poured off a batch."""

    batch: int
    fat_g: float


class BatchBoxed(Event, tag="batch_boxed", frozen=True):
    """Boxes of equal weight that were filled from a batch; boxes of other weights are events of their own."""

    batch: int
    boxes: int
    box_g: float


class BatchMoved(Event, tag="batch_moved", frozen=True):
    """Boxes of a batch, or what is loose of it (`boxes` is None), that went to another place."""

    batch: int
    boxes: int | None
    to: str


class BatchReduced(Event, tag="batch_reduced", frozen=True):
    """What left a batch without being on anybody's day."""

    batch: int
    grams: float
    why: str


class BatchClosed(Event, tag="batch_closed", frozen=True):
    """A batch that came to its end, with what was left of it."""

    batch: int
    left_g: float
    how: Ending


class BatchUndone(Event, tag="batch_undone", frozen=True):
    """A step of a batch that was taken back."""

    batch: int
    what: BatchStep


class FactUndone(Event, tag="fact_undone", frozen=True):
    """Something the person had told, taken back; `name` says which."""

    what: Fact
    name: str | None


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


class TotalsEvent(Event, tag="_", frozen=True):
    """Totals that were shown; `waiting` counts the open questions."""

    span: Span
    day: date
    kcal: float
    protein_g: float
    fat_g: float
    carbohydrate_g: float
    waiting: int


class SheetShown(TotalsEvent, tag="sheet", frozen=True):
    """The person's own totals."""


class ClientSheetShown(TotalsEvent, tag="client_sheet", frozen=True):
    """A client's totals, shown to their coach."""

    client: str


class ListingShown(Event, tag="listing", frozen=True):
    """A list that was shown, with its length."""

    of: ListOf
    count: int


class ClientRow(msgspec.Struct, frozen=True, kw_only=True):
    """How one client stands; means over `days` logged days, None when unknown."""

    client: str
    logged_today: bool
    days: int
    kcal: float | None
    target_kcal: float | None
    protein_g: float | None
    target_protein_g: float | None
    weighed_share: float | None
    waiting: int
    switches: int
    silent_days: int | None
    why: str


class RosterShown(Event, tag="roster", frozen=True):
    """How a coach's clients stand."""

    clients: tuple[ClientRow, ...]


class DigestShown(Event, tag="digest", frozen=True):
    """What has changed with a coach's clients was told."""


class QuestionAsked(Event, tag="question", frozen=True):
    """A question that waits for an answer; nothing, or an open weigh-in, was recorded for this part."""

    about: About
    choices: tuple[str, ...]


class Refused(Event, tag="refused", frozen=True):
    """Nothing was recorded and nothing waits."""

    why: Why


class Cautioned(Event, tag="caution", frozen=True):
    """A caution was given."""

    kind: CautionKind


class Answered(Event, tag="answer", frozen=True):
    """A question of the person's was answered; nothing was recorded."""

    about: Topic


class HelpShown(Event, tag="help", frozen=True):
    """Help was given."""


class NotUnderstood(Event, tag="not_understood", frozen=True):
    """Nothing was made out."""


class Invited(Event, tag="invited", frozen=True):
    """Somebody was invited as a client."""

    called: str | None


class CoachingAgreed(Event, tag="coaching_agreed", frozen=True):
    """A client said yes to a coach."""

    coach: str
    client: str


class CoachingEnded(Event, tag="coaching_ended", frozen=True):
    """A coaching was ended."""

    coach: str
    client: str


class PassedOn(Event, tag="passed_on", frozen=True):
    """Something was sent to a client."""

    what: Relayed
    to: str


class NoteReceived(Event, tag="note", frozen=True):
    """A coach's words reached the client."""

    from_: str = msgspec.field(name="from")


class NoteSent(Event, tag="note", frozen=True):
    """A client's words were passed on to the coach."""

    to: str


class InvitedToKitchen(Event, tag="kitchen_invited", frozen=True):
    """Somebody was invited to share the kitchen."""

    called: str | None


class KitchenJoined(Event, tag="kitchen_joined", frozen=True):
    """The person shares a kitchen now; `members` counts everybody in it."""

    members: int


class KitchenLeft(Event, tag="kitchen_left", frozen=True):
    """The person has a kitchen of their own again."""


class RoomOpened(Event, tag="room_opened", frozen=True):
    """A group became the kitchen's room."""


class RoomClosed(Event, tag="room_closed", frozen=True):
    """The kitchen has no room any more."""


class Exported(Event, tag="exported", frozen=True):
    """A person's records were sent as a file: all to themselves, or to a coach what is shared."""

    who: str
    file: str
    weigh_ins: int


class Erased(Event, tag="erased", frozen=True):
    """Everything of the person's was erased."""

    who: str
