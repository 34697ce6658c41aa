"""What goes into a conversation and what comes out of it, independent of the channel."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bot.events import Event


@dataclass(frozen=True, slots=True)
class Group:
    """Where several people read along: a channel, and a place in it."""

    channel: str
    place: str


@dataclass(frozen=True, slots=True)
class Said:
    """A message in words."""

    text: str
    welcomes: bool = False
    """Whether newcomers are asked there for their settings."""
    invite: int | None = None
    """The id of the invitation whose code came with it; 0 for a code that is not valid."""
    link_prefix: str = ""
    """What precedes a code to make a link into the bot; empty where the channel has no links."""


@dataclass(frozen=True, slots=True)
class Edited:
    """The new words of an earlier message; `first` is the inbox row as it was first sent, None when there is none."""

    text: str
    first: int | None


@dataclass(frozen=True, slots=True)
class Pressed:
    """A choice (counted from 0) of the question with that unguessable reference."""

    question_ref: str
    choice: int


@dataclass(frozen=True, slots=True)
class Acted:
    """A button under a reply that asks nothing: what it does."""

    does: str


@dataclass(frozen=True, slots=True)
class Requested:
    """What another person's message wants done in this person's books: a meaning, encoded."""

    what: str


Incoming = Said | Edited | Pressed | Acted | Requested
"""What a turn begins with."""


@dataclass(frozen=True, slots=True)
class Action:
    """A button that asks nothing: its text, and what it does (`bot.conversation.actions`)."""

    words: str
    does: str


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
    actions: tuple[Action, ...] = ()
    """Buttons for what could be said in a few words; only channels that have buttons show them."""


@dataclass(frozen=True, slots=True)
class Notification:
    """What a person (by id) is told although they have not asked for it."""

    to: int
    reply: Reply


@dataclass(frozen=True, slots=True)
class GroupNotification:
    """What a group is told because of a message that was sent elsewhere."""

    to: Group
    reply: Reply


@dataclass(frozen=True, slots=True)
class RequestTo:
    """What is to be done in another person's books because of a message, in a turn of their own: a meaning, encoded."""

    to: int
    what: str


@dataclass(frozen=True, slots=True)
class Day:
    """What the message in which the person's day stands is to say; an empty text gives it up."""

    day: date
    text: str
    pin: bool = False


@dataclass(frozen=True, slots=True)
class Turn:
    """All that one message brought about: replies in order, what was recorded, what goes to others."""

    replies: tuple[Reply, ...]
    events: tuple[Event, ...] = ()
    notifications: tuple[Notification, ...] = ()
    group_notifications: tuple[GroupNotification, ...] = ()
    requests: tuple[RequestTo, ...] = ()
    farewell: bool = False
    """Whether the person was erased, so that nothing of this is kept either."""
    passing: bool = False
    """Whether the replies answer a press and say nothing new: a channel that can shows them as a passing notice."""
    reacts: bool = False
    """Whether a reaction to the message says it all, in a channel that has such a thing."""
    day: Day | None = None
    """For a channel that can edit messages; None leaves the day's message as it is."""
