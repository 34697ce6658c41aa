"""What a coach keeps about clients for themselves: private notes, flags, groups. No client and no other coach sees it."""

from __future__ import annotations

from bot import events
from bot.conversation import saying
from bot.conversation.coaching.agreements import client_of
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Refuse
from bot.kinds import Topic, Why
from bot.language.guided import PrivateNote, PrivateNotes, PutInGroup
from bot.store import remarks
from bot.store.coaching import Coaching

LONGEST = 1_000
MOST_SHOWN = 10
UNFLAG = frozenset({"off", "done", "none"})


def keep(meaning: PrivateNote, ex: Exchange) -> Ask | Refuse | None:
    """Keeps a private note, or flags the client; a second flag replaces the first."""
    which = client_of(meaning, ex)
    if not isinstance(which, Coaching):
        return which
    if len(meaning.text) > LONGEST:
        return Refuse(f"A note has at most {LONGEST:,} characters.", Why.TOO_LONG)
    ex.note(events.Answered(about=Topic.COACHING))
    if meaning.flag:
        remarks.drop(ex.books, which.client_id, "flag")
        if meaning.text.casefold().strip(" .!") in UNFLAG:
            ex.say(f"{which.called} is not flagged any more.")
            return None
        remarks.add(ex.books, which.client_id, "flag", meaning.text)
        ex.say(
            f"{which.called} is flagged and stands first in your roster. Nobody else sees it. "
            f"To remove the flag: flag {which.called} off"
        )
        return None
    remarks.add(ex.books, which.client_id, "note", meaning.text)
    ex.say(f"Noted about {which.called}; only you can see it. To read it: my notes about {which.called}")
    return None


def show(meaning: PrivateNotes, ex: Exchange) -> Ask | Refuse | None:
    """Shows the coach's own notes about a client, the newest first."""
    which = client_of(meaning, ex)
    if not isinstance(which, Coaching):
        return which
    ex.note(events.Answered(about=Topic.COACHING))
    mine = [each for each in remarks.mine(ex.books) if each.client_id == which.client_id]
    notes = [each for each in reversed(mine) if each.kind == "note"]
    flag = next((each for each in mine if each.kind == "flag"), None)
    if not notes and flag is None:
        ex.say(f"You have no notes about {which.called}. For example: private note on {which.called}: prefers mornings")
        return None
    ex.say(f"Your notes about {which.called}, which nobody else sees:")
    if flag is not None:
        ex.say(f"Flagged{f': {flag.text}' if flag.text else ''}")
    for each in notes[:MOST_SHOWN]:
        ex.say(f"{saying.first_up(saying.day(ex.books.day_of(each.at), ex.books.today))}: {each.text}")
    if len(notes) > MOST_SHOWN:
        ex.say(f"… and {len(notes) - MOST_SHOWN} older ones.")
    return None


def group(meaning: PutInGroup, ex: Exchange) -> Ask | Refuse | None:
    """Puts a client into a group, or takes them out of it."""
    which = client_of(meaning, ex)
    if not isinstance(which, Coaching):
        return which
    gone = remarks.drop(ex.books, which.client_id, "group", meaning.group)
    if meaning.out and not gone:
        return Refuse(f"{which.called} is not in group {meaning.group}.", Why.NO_SUCH_CLIENT)
    if not meaning.out:
        remarks.add(ex.books, which.client_id, "group", meaning.group)
    ex.note(events.Answered(about=Topic.COACHING))
    mine = remarks.mine(ex.books)
    members = sum((each.kind, each.text) == ("group", meaning.group) for each in mine)
    moved = "is not in" if meaning.out else "is in"
    ex.say(f"{which.called} {moved} group {meaning.group}, which has {members} now. To see it: group {meaning.group}")
    return None
