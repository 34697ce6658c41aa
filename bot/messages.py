"""What goes into a conversation and what comes out of it, independent of the channel."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from bot.events import Event


@dataclass(frozen=True, slots=True)
class Group:
    """Where several people read along: a channel, and a place in it."""

    channel: str
    place: str


@dataclass(frozen=True, slots=True)
class Incoming:
    """One thing a person did: said something, edited what they had said, or pressed a choice."""

    kind: Literal["say", "edit", "press", "errand"]
    """An errand is what another's message wants done in this person's books."""
    text: str = ""
    edits_inbound: int | None = None
    """For an edit: the inbox row of the message as it was first sent."""
    question_ref: str | None = None
    """For a press: the unguessable reference of the question that was shown."""
    choice: int | None = None
    """For a press: which choice, counted from 0."""
    welcomes: bool = False
    """Whether it comes by a door that asks newcomers what they want set."""
    errand: str = ""
    """For an errand: what it means, encoded."""
    invite: int | None = None
    """The id of the invitation whose code came with it, 0 for a code that was no good."""
    door: str = ""
    """What stands before a code to make a link that leads in here; empty where the channel has no links."""
    group: Group | None = None
    """Where others read along, when it was done there."""


@dataclass(frozen=True, slots=True)
class Reply:
    """One message to the person, with the choices that a question offers."""

    text: str
    choices: tuple[str, ...] = ()
    question_ref: str | None = None
    picture: str | None = None
    """The figures of the picture that goes with it (`bot.reports.series.decode`)."""
    document: str | None = None
    """Which file goes with it (`bot.reports.files.decode`); it is made when the reply is sent."""


@dataclass(frozen=True, slots=True)
class Letter:
    """What somebody else is told because of a message: a person by id."""

    to: int
    reply: Reply


@dataclass(frozen=True, slots=True)
class Notice:
    """What a group is told because of a message that was said elsewhere."""

    to: Group
    reply: Reply


@dataclass(frozen=True, slots=True)
class Errand:
    """What is to be done in another person's books because of a message, in a turn of their own."""

    to: int
    what: str
    """What it means, encoded."""


@dataclass(frozen=True, slots=True)
class Turn:
    """All that one incoming message brought about: replies in order, what was recorded, what goes to others."""

    replies: tuple[Reply, ...]
    events: tuple[Event, ...] = ()
    letters: tuple[Letter, ...] = ()
    errands: tuple[Errand, ...] = ()
    notices: tuple[Notice, ...] = ()
    farewell: bool = False
    """Whether the person is gone, so that nothing of this is kept either."""
