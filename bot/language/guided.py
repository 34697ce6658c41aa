"""What a message between a coach and a client can mean: who guides whom, the roster, and what a coach passes on.

`client` is a name as the coach said it, empty for all of them. What is done in a client's own turn carries the
coach's id instead.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from bot.language.fact_meanings import TargetTold
from bot.language.practice import InPractice
from bot.language.told import Amount, Name


@dataclass(frozen=True, slots=True, kw_only=True)
class Invite:
    """Somebody is to be invited as a client."""

    called: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Consent:
    """The answer to an invitation to be guided."""

    invite: int
    agreed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class EndCoaching:
    """A coaching is to end; `whom` is the other side's name, empty where it was not said."""

    whom: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ended:
    """A coach has ended the coaching, in the client's turn; with the coach's name, since no coaching tells it now."""

    coach: int
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WhoSees:
    """Who can see the person's records is asked."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Roster:
    """How all clients stand, or only which of them have logged today."""

    of: Literal["all", "logged", "silent", "over", "under", "unweighed", "protein", "new", "paused"] = "all"
    """Which of them: those who have logged today or have not for days, are over or under their target, weigh least,
    are short of protein, are new, or pause."""
    group: str = ""
    """Only a group of the coach's own."""
    invites: bool = False
    """Whether it was asked by the command, which also leads to the first invitation, or says who guides the person."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HowIs:
    """How one client stands."""

    client: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ClientSheet:
    """The sheet of a client; `back` days before the client's own today."""

    client: str
    span: Literal["day", "week", "month"]
    back: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class ClientFigures:
    """How clients stand in one respect, side by side: "what's Kim's target", "who's over today"."""

    clients: tuple[str, ...] = ()
    """Empty: all of them."""
    of: Literal["nutrients", "body_weight", "target", "days", "reminders"] = "nutrients"
    nutrients: tuple[str, ...] = ()
    """`kcal` and fields of the nutrients; empty: energy and protein."""
    first: date
    last: date
    limit: float | None = None
    """What energy is compared with instead of the target."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShowDigest:
    """What has changed with the clients."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TargetFor(TargetTold):
    """A client's target, set by the coach."""

    client: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TargetFrom(TargetTold):
    """The same in the client's turn."""

    coach: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Object:
    """The client does not want the target that a coach has set."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """A label or a measure of the coach's own is to be given to clients."""

    what: Literal["label", "measure"]
    food: str
    measure: str = ""
    client: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelFrom:
    """A coach's label in the client's turn. `settled`: the client has said that it may replace their own."""

    coach: int
    food: str
    serving_g: float
    kcal: float
    protein_g: float
    fat_g: float
    carbohydrate_g: float
    fibre_g: float | None = None
    measure: str | None = None
    measure_count: float = 1.0
    alcohol_g: float | None = None
    polyols_g: float | None = None
    sugars_g: float | None = None
    saturated_fat_g: float | None = None
    salt_g: float | None = None
    settled: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasureFrom:
    """A coach's measure in the client's turn; `settled` as for a label."""

    coach: int
    food: str
    measure: str
    grams: float
    settled: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Tell:
    """Words for a client, for a group of them, or for a coach."""

    client: str
    text: str
    confirmed: bool = False
    """Whether the coach has said yes to sending it to many."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteFrom:
    """A coach's words in the client's turn."""

    coach: int
    text: str
    about: str = ""
    """The meal or the weigh-in that they are about, in the client's own words for it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReplyTo:
    """A client's words for a coach; `coach` is a name, empty where it was not said."""

    text: str
    coach: str = ""
    coach_id: int | None = None
    """The coach for certain, where the message was a reply to theirs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AskReweigh:
    """A client is to put something on the scale again: a weigh-in by number, or the latest of a food."""

    client: str
    number: int | None = None
    name: Name | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Reweigh:
    """The same in the client's turn; with an amount or an outcome it is the client's answer."""

    coach: int
    number: int | None = None
    name: Name | None = None
    amount: Amount | None = None
    outcome: Literal["", "right", "gone"] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClientHistory:
    """A stretch of a client's records, longer than a day: "Ben's last 4 weeks", "Ben on 3 March"."""

    client: str
    first: date
    last: date


@dataclass(frozen=True, slots=True, kw_only=True)
class CompareWeeks:
    """Two weeks of a client side by side; how many weeks back each of them is, 0 is this week."""

    client: str
    weeks_back: tuple[int, int] = (0, 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class ClientTrend:
    """Something of a client's over time: "Ben's weight", "Ben's energy balance"."""

    client: str
    of: Literal["body_weight", "energy_balance"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClientFood:
    """How often and how much of a food a client has: "how much rice does Ben eat?"."""

    client: str
    name: Name


@dataclass(frozen=True, slots=True, kw_only=True)
class ClientReport:
    """A client's records as a page for a consultation, or as a file."""

    client: str
    form: Literal["page", "file"] = "page"


@dataclass(frozen=True, slots=True, kw_only=True)
class Comment:
    """A coach's words on a client's meal or weigh-in; the client sees which one."""

    client: str
    text: str
    day: date | None = None
    """None: the client's today."""
    meal: str | None = None
    number: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pause:
    """Reminders rest and statistics leave the days out; `client` is empty for the person's own pause."""

    client: str = ""
    first: date | None = None
    """None: today."""
    until: date | None = None
    """The last day of it; None: until it is ended."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Resume:
    """The end of a pause."""

    client: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PauseFrom:
    """A coach's pause for the client, or its end, in the client's turn."""

    coach: int
    first: date | None = None
    until: date | None = None
    ends: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PrivateNote:
    """What a coach writes down about a client, for nobody else; `flag` marks the client as well."""

    client: str
    text: str
    flag: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PrivateNotes:
    """A coach's own notes about a client are asked for."""

    client: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PutInGroup:
    """A client is put into a group of the coach's own, or taken out of it."""

    client: str
    group: str
    out: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Withhold:
    """A part of the consent is withdrawn, or given."""

    what: Literal["body_weight", "energy", "protein", "comments", "cautions", "export"]
    coach: str = ""
    """Empty: whoever guides the person."""
    given: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class StopSharing:
    """A coach is perhaps to see less, and it is not certain what: one question settles it."""

    coach: str = ""
    """Empty: whoever guides the person."""
    kept: bool = False
    """Whether it is the person's no."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShareAgain:
    """A coach is to see again what was withdrawn: the parts of a consent, or all of it."""

    coach: str = ""
    """Empty: whoever guides or guided the person."""
    settled: Literal["", "yes", "no"] = ""
    """The person's answer where the coaching has to begin again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ExportFrom:
    """A coach asks for a file of the client's records, in the client's turn."""

    coach: int
    declined: bool = False
    """Whether it is the client's no."""


Guided = (
    Invite
    | Consent
    | EndCoaching
    | Ended
    | WhoSees
    | Roster
    | HowIs
    | ClientSheet
    | ClientFigures
    | ShowDigest
    | TargetFor
    | TargetFrom
    | Object
    | Share
    | LabelFrom
    | MeasureFrom
    | Tell
    | NoteFrom
    | ReplyTo
    | AskReweigh
    | Reweigh
    | ClientHistory
    | CompareWeeks
    | ClientTrend
    | ClientFood
    | ClientReport
    | Comment
    | Pause
    | Resume
    | PauseFrom
    | PrivateNote
    | PrivateNotes
    | PutInGroup
    | Withhold
    | StopSharing
    | ShareAgain
    | InPractice
    | ExportFrom
)
