"""Scheduled notifications: sent only for a reason, which they give. The first line carries no figures."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

from bot import events
from bot.conversation import saying
from bot.conversation.coaching import digest
from bot.conversation.days import cautions, weeks
from bot.conversation.exchange import Exchange
from bot.conversation.questions.stored import in_order, of_the_record
from bot.conversation.settings import pausing
from bot.kinds import CautionKind
from bot.language.meanings import Sheet
from bot.messages import Reply, Turn
from bot.reports import series
from bot.store import cooking, questions
from bot.store.books import Books
from bot.store.reminder_context import Glance

NOON = time(12)
USUAL_DAYS = timedelta(days=14)
USUAL_LEAST = 5
"""Days with a record that it takes before a meal counts as usual."""
USUAL_SHARE = 0.6
GIVEN_UP = timedelta(days=7)
"""Time without a weigh-in after which the evening reminder is no longer sent: people who stopped, or never began, are
not nagged."""
MEALS = ("breakfast", "lunch", "dinner")
COOKED_LAST = 3


def reminder(kind: str, books: Books, glance: Glance) -> Turn | None:
    """The notification of that kind, or None when the person has no reason to get it now.

    The glance covers the days from which usual meals are derived. Nothing comes during a pause.
    """
    turn = _reminder(kind, books, glance)
    return None if turn is None or pausing.rests(books) else turn


def _reminder(kind: str, books: Books, glance: Glance) -> Turn | None:
    match kind:
        case "week":
            return _week(books, glance)
        case "good":
            return _still_good(books)
        case "cook":
            return _cook_day(books)
        case digest.KIND:
            return digest.unasked(books)
        case _:
            return _evening(books, glance)


def _evening(books: Books, glance: Glance) -> Turn | None:
    if not _logged_since(glance, books.today - GIVEN_UP, books.today) and (glance.ever or glance.told >= GIVEN_UP.days):
        return None
    if books.person.role == "coach" and not glance.ever:
        return None
    reasons = _missing(books, glance)
    waiting = in_order(of_the_record(questions.waiting(books))) if glance.waiting else []
    if not reasons and not waiting:
        return None
    lines = ["Something of today may be missing.", *reasons]
    if len(waiting) > 1:
        lines.append(f"{len(waiting)} questions wait; the latest:")
    if waiting:
        lines.append(f"Still waiting: {waiting[0].text}")
    lines.append("Say snooze, or reminder off.")
    first = waiting[0] if waiting else None
    reply = Reply("\n".join(lines), first.choices if first else (), first.ref if first else None)
    return Turn((reply,))


def _missing(books: Books, glance: Glance) -> list[str]:
    """Why the day's record looks incomplete, a sentence for each reason."""
    today = [eaten for eaten in glance.eaten if eaten.day == books.today]
    if not today:
        return ["Nothing is on record for today."]
    noon = datetime.combine(books.today, NOON, books.person.timezone)
    lines = [] if any(eaten.last_at >= noon for eaten in today) else ["Nothing is on record since noon."]
    had = {eaten.meal for eaten in today}
    if any(had):
        usual = [meal for meal in _usual(books, glance) if meal not in had]
        lines.extend(f"You usually have {meal}, and today's is missing." for meal in usual)
    return lines


def _usual(books: Books, glance: Glance) -> list[str]:
    """The meals that most days of the last two weeks have."""
    before = [e for e in glance.eaten if books.today - USUAL_DAYS <= e.day < books.today]
    logged = {eaten.day for eaten in before}
    if len(logged) < USUAL_LEAST:
        return []
    return [m for m in MEALS if len({e.day for e in before if e.meal == m}) >= USUAL_SHARE * len(logged)]


def _logged_since(glance: Glance, first: date, last: date) -> bool:
    return any(first <= eaten.day <= last for eaten in glance.eaten)


def _week(books: Books, glance: Glance) -> Turn | None:
    if not _logged_since(glance, books.today - timedelta(days=6), books.today):
        return None
    ex = Exchange(books)
    weeks.show(Sheet(span="week", day=books.today), ex)
    picture = None if ex.picture is None else series.encode(ex.picture)
    return Turn((Reply("\n".join(["Your week.", *ex.lines]), picture=picture),), tuple(ex.events))


def _still_good(books: Books) -> Turn | None:
    old = cautions.old_batches(books)
    if not old:
        return None
    text = f"A look into the refrigerator?\n{cautions.still_good(old)}"
    return Turn((Reply(text),), (events.Cautioned(kind=CautionKind.STILL_GOOD),))


def _cook_day(books: Books) -> Turn:
    cooked = cooking.cooked_latest(books, COOKED_LAST)
    lines = ["Cook day."]
    zone = books.person.timezone
    for batch in cooked:
        lines.append(f"Last time: {batch.name}, {saying.day(batch.at.astimezone(zone).date(), books.today)}.")
    lines.append("Weigh it raw and again cooked, for example: new batch chilli: 800 g raw ground beef 80/20")
    return Turn((Reply("\n".join(lines)),))
