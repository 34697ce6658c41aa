"""The code of an invitation: what it leads to is said, and asked about, by what it is for."""

from __future__ import annotations

from bot.conversation.coaching import agreements
from bot.conversation.exchange import Exchange
from bot.conversation.kitchen import sharing
from bot.conversation.outcomes import Ask, Refuse
from bot.conversation.records import unrecorded
from bot.kinds import Why
from bot.language.kitchen import Invited, UseCode
from bot.language.meanings import Help
from bot.store import facts, invites
from bot.store.invites import Invitation


def use_code(meaning: UseCode, ex: Exchange) -> Ask | Refuse | None:
    """What the code is an invitation to, which is the sender's alone from now on."""
    return _use(invites.take(ex.books.conn, meaning.code, ex.books.at, ex.books.person.id), ex)


def invited(meaning: Invited, ex: Exchange) -> Ask | Refuse | None:
    """The same for an invitation that the channel has taken for the sender."""
    return _use(invites.taken(ex.books.conn, meaning.invite, ex.books.at, ex.books.person.id), ex)


def _use(found: Invitation | None, ex: Exchange) -> Ask | Refuse | None:
    """Guessed, used and expired codes are all answered alike."""
    if found is None:
        return Refuse(sharing.BAD_CODE, Why.BAD_CODE, says_so=True)
    if found.made_by is None:
        return unrecorded.helping(Help(topic="start"), ex)
    if ex.welcomes and facts.first_time(ex.books, unrecorded.WELCOMED):
        unrecorded.welcome(ex)
    if found.purpose == invites.COACH:
        return agreements.offer(found, found.made_by, ex)
    return sharing.offer(found, found.made_by, ex)
