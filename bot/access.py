"""Who may speak with the bot: the access list, invitations, and how a newcomer becomes a person."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from bot.conversation.kitchen import rooms
from bot.handling import welcome
from bot.settings import Access
from bot.store import invites, kitchens, people, questions
from bot.store.engine import Connection

BY_INVITATION = (
    "Hello! This Tarebook is for invited people. If somebody gave you an invitation, open its link, "
    "or send /start followed by its code."
)
BAD_INVITATION = "That invitation is used up, too old or mistyped. Please ask for a new one."
NOT_LISTED = "Hello! This Tarebook is for a closed group of people, and you are not on its list."
NOT_YOURS = "These buttons are for somebody else."
NO_LONGER = "This button no longer works. Please type your answer."

_NAME_LENGTH = 64


@dataclass(frozen=True, slots=True)
class Policy:
    """Who may come in, and which keys are listed when only listed people may."""

    access: Access
    listed: frozenset[str]

    def shuts_out(self, key: str) -> bool:
        """Whether there is a list and the key is not on it."""
        return self.access == "list" and key not in self.listed


@dataclass(frozen=True, slots=True)
class Speaker:
    """Somebody who has sent a message: under which key, what they call themselves, and the invitation's code if any.

    `group` is the place of the group they spoke in, None in a chat of their own; `language` the tag of
    their client's language.
    """

    channel: str
    key: str
    name: str
    code: str | None = None
    group: str | None = None
    language: str = ""


def refusal(conn: Connection, policy: Policy, speaker: Speaker, now: datetime) -> str | None:
    """Why the speaker may not speak, None when they may; empty when they may not and are not answered.

    A speaker who is let in for the first time becomes a person, and one who writes again can be reached again.
    """
    reachable = people.reachable(conn, speaker.channel, speaker.key)
    refused = _refusal(conn, policy, speaker, now, known=reachable is not None)
    if refused is None:
        if reachable is False and speaker.group is None:
            people.set_blocked(conn, speaker.channel, speaker.key, None)
        return None
    if speaker.group is None:
        return refused
    # In a group that is not linked to a kitchen, strangers get no answer.
    is_a_kitchens = kitchens.kitchen_of_room(conn, speaker.channel, speaker.group) is not None
    return rooms.NOT_INSIDE if is_a_kitchens else ""


def invitation(conn: Connection, speaker: Speaker, now: datetime) -> int | None:
    """The id of the invitation that the speaker brought, theirs from now on; 0 for a code that is not valid.

    None when they brought none. The code itself goes no further.
    """
    if speaker.code is None:
        return None
    person = people.find(conn, speaker.channel, speaker.key)
    found = None if person is None else invites.take(conn, speaker.code, now, person.id)
    return 0 if found is None else found.id


def press_refusal(conn: Connection, policy: Policy, channel: str, key: str, question_ref: str | None) -> str | None:
    """Why the person under the key may not press a button of that question, None when they may."""
    owner = None if question_ref is None else questions.owner(conn, question_ref)
    if owner is None:
        return NO_LONGER
    person = people.find(conn, channel, key)
    if person is None or person.id != owner:
        return NOT_YOURS
    return NOT_LISTED if policy.shuts_out(key) else None


def action_refusal(conn: Connection, policy: Policy, channel: str, key: str) -> str | None:
    """Why the person under the key may not press a button that asks nothing, None when they may."""
    if people.find(conn, channel, key) is None:
        return NOT_YOURS
    return NOT_LISTED if policy.shuts_out(key) else None


def _refusal(conn: Connection, policy: Policy, speaker: Speaker, now: datetime, known: bool) -> str | None:
    if policy.shuts_out(speaker.key):
        return NOT_LISTED
    if known:
        return None
    if policy.access == "invite":
        if speaker.code is None:
            return BY_INVITATION
        if not invites.lets_in(conn, speaker.code, now):
            return BAD_INVITATION
    welcome(conn, speaker.channel, speaker.key, speaker.name[:_NAME_LENGTH] or speaker.key, now, speaker.language)
    if speaker.group is not None:
        # Telegram lets nobody be written to who has not opened a chat of their own.
        people.set_blocked(conn, speaker.channel, speaker.key, now)
    return None
