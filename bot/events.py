"""What a message changed or brought about: one class for each kind of event.

Events of batches, of facts, and between people have modules of their own.

Weights are in grams, energy in kcal, nutrients in grams; nothing is rounded. `as_json` is the only place where an
event becomes a dict; its keys and their order are the contract of `tarebook converse`.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import msgspec

from bot.kinds import About, CautionKind, ListOf, Span, Topic, Why
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


class ListingShown(Event, tag="listing", frozen=True):
    """A list that was shown, with its length."""

    of: ListOf
    count: int


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


class Exported(Event, tag="exported", frozen=True):
    """A person's records were sent as a file: all to themselves, or to a coach what is shared."""

    who: str
    file: str
    weigh_ins: int


class Erased(Event, tag="erased", frozen=True):
    """Everything of the person's was erased."""

    who: str
