"""Scheduled notifications: sent only for a reason, which they give. The first line carries no figures."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta

from bot import events
from bot.conversation import actions, hiding, saying
from bot.conversation.coaching import digest
from bot.conversation.days import cautions, weeks
from bot.conversation.exchange import Exchange
from bot.conversation.questions.stored import in_order, of_the_record
from bot.conversation.records import repeating
from bot.conversation.settings import pausing, reminders, words
from bot.kinds import CautionKind
from bot.language.asked import Sheet
from bot.messages import Reply, Turn
from bot.reports import series
from bot.store import cooking, questions
from bot.store.books import Books
from bot.store.reminder_context import ReminderContext

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


def reminder(kind: str, books: Books, context: ReminderContext) -> Turn | None:
    """The notification of that kind, or None when the person has no reason to get it now.

    The context covers the days from which usual meals are derived. Nothing comes during a pause.
    """
    turn = _reminder(kind, books, context)
    return None if turn is None or pausing.rests(books) else turn


def _reminder(kind: str, books: Books, context: ReminderContext) -> Turn | None:
    match kind:
        case "week":
            return _week(books, context)
        case "good":
            return _still_good(books)
        case "cook":
            return _cook_day(books)
        case "usual":
            return _usual_breakfast(books, context)
        case digest.KIND:
            turn = digest.unasked(books)
            if turn is None or not hiding.hides(books):
                return turn
            return replace(turn, replies=tuple(replace(r, text=hiding.blanked(r.text)) for r in turn.replies))
        case _:
            return _evening(books, context)


def _evening(books: Books, context: ReminderContext) -> Turn | None:
    if not _logged_since(context, books.today - GIVEN_UP, books.today) and (
        context.ever or context.told >= GIVEN_UP.days
    ):
        return None
    if books.person.role == "coach" and not context.ever:
        return None
    reasons = _missing(books, context)
    waiting = of_the_record(questions.waiting(books)) if context.waiting else []
    if (not reasons and not waiting) or reminders.is_done(books):
        return None
    does = actions.under_reminder(books.today)
    lines = ["Today's record may be incomplete.", *reasons]
    if len(waiting) > 1:
        lines.append(f"{len(waiting)} questions are open; the latest:")
    lines.append("Say “that was all”, “snooze” or “reminder off”.")
    if not waiting:
        return Turn((Reply("\n".join(lines), actions=does),))
    latest = in_order(waiting)[0]
    asked = hiding.without_energy(latest.text) if hiding.hides(books) else latest.text
    lines.insert(-1, f"Still open: {asked}")
    questions.shown(books, latest.id)
    return Turn((Reply("\n".join(lines), latest.choices, latest.ref, actions=does),))


def _missing(books: Books, context: ReminderContext) -> list[str]:
    """Why the day's record looks incomplete, a sentence for each reason."""
    today = [eaten for eaten in context.eaten if eaten.day == books.today]
    if not today:
        return ["Nothing is on record for today."]
    noon = datetime.combine(books.today, NOON, books.person.timezone)
    lines = [] if any(eaten.last_at >= noon for eaten in today) else ["Nothing is on record since noon."]
    had = {eaten.meal for eaten in today}
    if any(had):
        usual = [meal for meal in _usual(books, context) if meal not in had]
        lines.extend(f"You usually have {meal}, and today's is missing." for meal in usual)
    return lines


def _usual(books: Books, context: ReminderContext) -> list[str]:
    """The meals that most days of the last two weeks have."""
    before = [e for e in context.eaten if books.today - USUAL_DAYS <= e.day < books.today]
    logged = {eaten.day for eaten in before}
    if len(logged) < USUAL_LEAST:
        return []
    return [m for m in MEALS if len({e.day for e in before if e.meal == m}) >= USUAL_SHARE * len(logged)]


def _logged_since(context: ReminderContext, first: date, last: date) -> bool:
    return any(first <= eaten.day <= last for eaten in context.eaten)


def _week(books: Books, context: ReminderContext) -> Turn | None:
    if not _logged_since(context, books.today - timedelta(days=6), books.today):
        return None
    ex = Exchange(books)
    weeks.show(Sheet(span="week", day=books.today), ex)
    text, picture = "\n".join(["Your week.", *ex.lines]), ex.picture
    if ex.hides_energy:
        text, picture = hiding.without_energy(text), picture and hiding.picture_without_energy(picture)
    return Turn((Reply(text, picture=None if picture is None else series.encode(picture)),), tuple(ex.events))


def _still_good(books: Books) -> Turn | None:
    old = cautions.old_batches(books)
    if not old:
        return None
    text = f"Time to check the fridge.\n{cautions.still_good(old)}"
    return Turn((Reply(text),), (events.Cautioned(kind=CautionKind.STILL_GOOD),))


def _usual_breakfast(books: Books, context: ReminderContext) -> Turn | None:
    """Offers the usual breakfast where there is one and nothing is on record today; records nothing."""
    before = {eaten.day for eaten in context.eaten if eaten.day < books.today}
    if len(before) < repeating.OFTEN or any(eaten.day == books.today for eaten in context.eaten):
        return None
    items = repeating.usual_breakfast(Exchange(books))
    if not items:
        return None
    what = words.told(items)
    text = f"Your usual breakfast?\n{saying.first_up(what)}. To record it, say: the usual breakfast\n{NO_OFFER}"
    return Turn((Reply(text, actions=actions.under_breakfast(books.today, what)),))


NO_OFFER = "If you don't want this offer: breakfast offer off"


def _cook_day(books: Books) -> Turn:
    cooked = cooking.cooked_latest(books, COOKED_LAST)
    lines = ["Cook day."]
    zone = books.person.timezone
    for batch in cooked:
        lines.append(f"Last time: {batch.name}, {saying.day(batch.at.astimezone(zone).date(), books.today)}.")
    lines.append("Weigh it raw and again cooked, for example: new batch chilli: 800 g raw ground beef 80/20")
    return Turn((Reply("\n".join(lines)),))
