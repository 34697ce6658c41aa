"""Keeps the rows of the schedule in step with what people have set and cooked."""

from __future__ import annotations

from datetime import date, time
from typing import Final

from bot import batch_events, fact_events, people_events
from bot.schedule.times import EVERY_DAY, Occurrence, moment_of, upcoming
from bot.store import cooking, facts, schedules
from bot.store.books import Books
from bot.store.schedules import SNOOZES, USUAL_TIMES
from domain.cautions import ask_still_good_on

DEFAULTS: Final[dict[str, str | None]] = {
    **{name: USUAL_TIMES[name] for name in ("evening", "week", "good", "usual")},
    "cook": None,
}
"""Default local times: the day's reminder, the week's sheet, whether what was cooked is still good, the offer of the
usual breakfast, the day to cook."""
COACHES: Final[dict[str, str | None]] = {"digest": USUAL_TIMES["digest"]}
"""The same for coaches."""
_DEFAULT_DAYS: Final = {"week": "6", "cook": "6"}
MOVING: Final = (
    fact_events.ReminderSet,
    fact_events.SettingChanged,
    batch_events.BatchCooked,
    batch_events.BatchClosed,
    fact_events.FactUndone,
    batch_events.BatchUndone,
    people_events.Invited,
    people_events.KitchenJoined,
    people_events.KitchenLeft,
)
"""Events that may change when the person's notifications are due."""
MOVING_ALL: Final = (
    batch_events.BatchCooked,
    batch_events.BatchClosed,
    batch_events.BatchUndone,
    people_events.KitchenJoined,
)
"""Those that may change it for everybody who shares the kitchen."""


def arrange(books: Books) -> None:
    """Computes anew when each of the person's notifications is due; a day that was dealt with is never due again."""
    told = facts.reminders(books)
    settings = facts.settings(books)
    standing = schedules.of_person(books.conn, books.person.id)
    last = schedules.last_days(books.conn, books.person.id)
    usual = {**DEFAULTS, **(COACHES if books.person.role == "coach" else {})}
    for kind, clock in {**usual, **told}.items():
        weekdays = settings.get(f"{kind} days", _DEFAULT_DAYS.get(kind, EVERY_DAY))
        following = None if clock is None else _next(books, kind, clock, weekdays, last.get(kind))
        moment, day = (None, None) if following is None else (following.moment, following.day)
        was = standing.get(kind)
        if was is None and following is None:
            continue
        if was is None or (was.time, was.weekdays, was.next_due, was.next_date) != (clock, weekdays, moment, day):
            schedules.put(books.conn, books.person, kind, clock or "", weekdays, moment, day)


def following(books: Books, kind: str, clock: str, weekdays: str, day: date) -> Occurrence | None:
    """The next occurrence after the one for `day`, seen from the moment of these books."""
    return None if kind in SNOOZES else _next(books, kind, clock, weekdays, day)


def _next(books: Books, kind: str, clock: str, weekdays: str, last: date | None) -> Occurrence | None:
    at = time.fromisoformat(clock)
    zone = books.person.timezone
    if kind != "good":
        return upcoming(books.at, at, weekdays, zone, last)
    days = {ask_still_good_on(b.at.astimezone(zone).date()) for b in cooking.cooked_and_open(books)}
    ahead = (Occurrence(day, moment_of(day, at, zone)) for day in sorted(days) if last is None or day > last)
    return next((found for found in ahead if found.moment > books.at), None)
