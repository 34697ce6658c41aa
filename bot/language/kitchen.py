"""What can be meant of the kitchen itself: who shares it, who is let in, which group is its room."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class WhoseKitchen:
    """Who shares the kitchen is asked for; with the command an invitation too, where nobody does yet."""

    invites: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class InviteToKitchen:
    """Somebody shall share the kitchen."""

    called: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AskInvitation:
    """Somebody shall be invited, and nothing says to what."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UseCode:
    """The code of an invitation."""

    code: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Invited:
    """An invitation that the person has taken, by its id; 0 for a code that was no good."""

    invite: int


@dataclass(frozen=True, slots=True, kw_only=True)
class JoinKitchen:
    """Yes to sharing the kitchen of whoever made the invitation, as long as it is that kitchen."""

    invite: int
    kitchen_id: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LeaveKitchen:
    """The person shall have a kitchen of their own again."""

    sure: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenRoom:
    """The group shall be the kitchen's room; once said yes to, that one and no other."""

    place: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CloseRoom:
    """No group shall be the kitchen's room."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GoOnWith:
    """Somebody else told the cooked weight of a batch, so that what waits for it can go on."""

    batch: int


KitchenMatter = (
    WhoseKitchen
    | AskInvitation
    | InviteToKitchen
    | UseCode
    | Invited
    | JoinKitchen
    | LeaveKitchen
    | OpenRoom
    | CloseRoom
    | GoOnWith
)
