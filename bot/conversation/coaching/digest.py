"""The coach's digest: what has changed with the clients since the last one, and one suggestion."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from bot import events
from bot.conversation import saying
from bot.conversation.coaching.roster import SILENT, ClientStatus, everyone, figures, mean, reason, weighed
from bot.conversation.days import weeks
from bot.conversation.exchange import Exchange
from bot.conversation.questions.stored import of_the_record
from bot.conversation.settings.aiming import target_line
from bot.language.guided import ShowDigest
from bot.messages import Reply, Turn
from bot.store import days, questions, schedules
from bot.store.books import Books

KIND = "digest"
FIRST = timedelta(days=7)
"""How far the first digest looks back."""
WEEK_DAYS = 7
OPENING = "Your clients since the last digest."


def unasked(books: Books) -> Turn | None:
    """The digest; None when nothing has changed."""
    lines = changes(books)
    if not lines:
        return None
    text = "\n".join([OPENING, *lines, "Say roster for all of them, or digest off."])
    return Turn((Reply(text),), (events.DigestShown(),))


def show(_: ShowDigest, ex: Exchange) -> None:
    """Shows the digest on request; the next scheduled one repeats it."""
    ex.note(events.DigestShown())
    lines = changes(ex.books)
    if not lines:
        ex.say("Nothing has changed with your clients since the last digest. Say roster for how they stand.")
        return
    for each in (OPENING, *lines):
        ex.say(each)


def changes(books: Books) -> list[str]:
    """A line for each client with changes, then one suggestion; empty without changes."""
    since = schedules.last_sent(books.conn, books.person.id, KIND) or books.at - FIRST
    told = [(of, said) for of in everyone(books) if (said := _changed(of, since))]
    if not told:
        return []
    first = reason(told[0][0])
    return [*(f"{of.called}: {'; '.join(said)}." for of, said in told), f"To talk about: {first.talk}."]


def _changed(of: ClientStatus, since: datetime) -> list[str]:
    agreed = of.coaching.agreed_at
    said = ["new on your roster"] if agreed > since else []
    first = of.books.day_of(max(agreed, since))
    fresh = [day for day in sorted(of.finished) if day >= first]
    found = mean(of, fresh)
    if found is not None:
        passed = min((of.books.today - first).days, WEEK_DAYS - 1)
        logged = "logged" if passed == 1 else f"{found.days} of {passed} days logged"
        said.extend((f"{logged}, {figures(found)}{'' if found.days == 1 else ' a day'}", *weighed(found)))
    said.extend(_fell_silent(of, of.books.day_of(since)))
    asked = sum(question.asked_at > since for question in of_the_record(questions.waiting(of.books)))
    if asked:
        said.append("1 new question waits" if asked == 1 else f"{asked} new questions wait")
    said.extend(_switched(of, fresh))
    said.extend(_aim(of, first))
    return said


def _fell_silent(of: ClientStatus, then: date) -> list[str]:
    """Mentions silence when it begins, and again after a week."""
    if of.last_day is None:
        return []
    now, before = (of.books.today - of.last_day).days, (then - of.last_day).days
    if now >= SILENT > before:
        return [f"nothing on record since {saying.day(of.last_day, of.books.today)}"]
    return ["silent for a week"] if now >= WEEK_DAYS > before else []


def _switched(of: ClientStatus, fresh: list[date]) -> list[str]:
    """The foods whose state changed on the days that are new."""
    seen = weeks.switches([s for day, stored in of.by_day.items() if day not in fresh for s in stored])
    now = weeks.switches([s for stored in of.by_day.values() for s in stored])
    return [said for food, said in now.items() if food not in seen]


def _aim(of: ClientStatus, first: date) -> list[str]:
    before = days.targets(of.books, [first - timedelta(days=1)]).get(first - timedelta(days=1))
    now = of.aimed.get(of.books.today)
    return [] if now is None or now == before else [f"target now {target_line(now)}"]
