"""The coach's digest: whom something new calls for a word since the last one, and at most two things to talk about."""

from __future__ import annotations

from datetime import datetime, timedelta

from bot import people_events
from bot.conversation import hiding
from bot.conversation.coaching.exceptions import Kind, Reason, reasons
from bot.conversation.coaching.roster import everyone
from bot.conversation.coaching.status import ClientStatus
from bot.conversation.exchange import Exchange
from bot.language.guided import ShowDigest
from bot.messages import Reply, Turn
from bot.store import schedules
from bot.store.books import Books

KIND = "digest"
FIRST = timedelta(days=7)
"""How far the first digest looks back."""
QUIET = 4
"""Mornings up to the last digest on which a reason must not have stood already: what comes and goes is told once."""
FURTHEST = 7
"""Days that a digest looks back at most, after a long silence of its own."""
OPENING = "Your clients since the last digest."
TALKS = 2
MOST_LINES = 5
"""Clients that are told beside those to talk about, so that a digest has at most ten lines."""


def unasked(books: Books) -> Turn | None:
    """The digest; None when nothing has changed."""
    lines = changes(books)
    if not lines:
        return None
    text = "\n".join([OPENING, *lines, "Say roster for all of them, or digest off."])
    return Turn((Reply(text),), (people_events.DigestShown(),))


def show(_: ShowDigest, ex: Exchange) -> None:
    """Shows the digest on request; the next scheduled one repeats it."""
    ex.note(people_events.DigestShown())
    lines = changes(ex.books)
    if not lines:
        ex.say("Nothing has changed with your clients since the last digest. Say roster for how they stand.")
        return
    for each in (OPENING, *lines):
        ex.say(each, hiding.blanked(each))


def changes(books: Books) -> list[str]:
    """A line for each client for whom something new has come up, the most pressing first; empty without changes."""
    since = schedules.last_sent(books.conn, books.person.id, KIND) or books.at - FIRST
    back = min((books.at - since).days, FURTHEST)
    told = [(of, new) for of, why in everyone(books, QUIET + back) if (new := _new(of, why, since))]
    told.sort(key=lambda each: (each[1][0].kind, -each[1][0].size, each[0].called.casefold()))
    talks = [(of, new) for of, new in told if new[0].talk][:TALKS]
    others = [(of, new) for of, new in told if (of, new) not in talks]
    lines = [f"To talk about: {new[0].talk}{'' if new[0].talk.endswith('?') else '.'}" for _, new in talks]
    lines.extend(f"{of.called}: {'; '.join(each.words for each in new[:2])}." for of, new in others[:MOST_LINES])
    if len(others) > MOST_LINES:
        lines.append(f"And {len(others) - MOST_LINES} more with something new.")
    return lines


def _new(of: ClientStatus, why: list[Reason], since: datetime) -> list[Reason]:
    """The reasons that hold now and held on none of the mornings up to the last digest; a flag is the coach's own."""
    now = [each for each in why if each.kind is not Kind.FLAG]
    if not now:
        return []
    today = of.books.today
    last = max(of.books.day_of(since), today - timedelta(days=FURTHEST))
    begun = of.books.day_of(of.coaching.agreed_at)
    if last < begun:
        return now
    mornings = [timedelta(days=n) for n in range(QUIET + 1) if last - timedelta(days=n) >= begun]
    before = {each.kind for ago in mornings for each in reasons(of, last - ago, since - ago)}
    return [each for each in now if each.kind not in before]
