"""What a message brought about between people: a coach and a client, or those who share a kitchen."""

from __future__ import annotations

import msgspec

from bot.events import Event, TotalsEvent
from bot.kinds import Relayed


class ClientSheetShown(TotalsEvent, tag="client_sheet", frozen=True):
    """A client's totals, shown to their coach."""

    client: str


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
