"""Pauses for holidays and illness: reminders rest, and statistics leave the days out.

The pauses are one of the person's settings: the first and last day of each with a slash between them, the earliest
first.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TypeVar

from bot import fact_events
from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Refuse
from bot.kinds import Why
from bot.store import facts
from bot.store.books import Books

NAME = "pause"
LONGEST = timedelta(days=60)
"""A longer pause has a last day that is hard to remember; it can be set again."""
MOST_KEPT = 60
"""Pauses that are kept: years of them."""
T = TypeVar("T")
_ONE_DAY = timedelta(days=1)
OPEN = timedelta(days=13)
"""How long a pause lasts of which nobody said the end, after its first day."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """The first and the last day of a pause."""

    first: date
    last: date

    def holds(self, day: date) -> bool:
        """Whether the day is one of the pause."""
        return self.first <= day <= self.last


@dataclass(frozen=True, slots=True)
class Pauses:
    """All pauses of a person, the earliest first; no two of them share a day."""

    stretches: tuple[Stretch, ...] = ()

    def on(self, day: date) -> Stretch | None:
        """The pause that the day is one of."""
        return next((each for each in self.stretches if each.holds(day)), None)

    def ahead(self, day: date) -> Stretch | None:
        """The pause of that day, or else the next one after it."""
        return next((each for each in self.stretches if each.last >= day), None)

    def with_new(self, new: Stretch) -> Pauses:
        """These with a new one; of those that share days with it, the days before it stay a pause."""
        kept = []
        for each in self.stretches:
            if each.first < new.first:
                kept.append(Stretch(each.first, min(each.last, new.first - _ONE_DAY)))
            elif each.first > new.last:
                kept.append(each)
        return Pauses(tuple(sorted([*kept, new], key=lambda each: each.first)[-MOST_KEPT:]))

    def without(self, day: date) -> Pauses:
        """These without that day and what follows it in the same pause, or without the next pause after it."""
        found = self.ahead(day)
        kept = [each for each in self.stretches if each != found]
        if found is not None and found.first < day:
            kept.append(Stretch(found.first, day - _ONE_DAY))
        return Pauses(tuple(sorted(kept, key=lambda each: each.first)))


def pauses_of(settings: Mapping[str, str]) -> Pauses:
    """The pauses in a person's settings, also those that are over."""
    found = [each.partition("/") for each in settings.get(NAME, "").split()]
    return Pauses(tuple(Stretch(date.fromisoformat(first), date.fromisoformat(last)) for first, _, last in found))


def rests(books: Books) -> bool:
    """Whether the person pauses today."""
    return pauses_of(facts.settings(books)).on(books.today) is not None


def without_pauses(by_day: Mapping[date, T], books: Books) -> dict[date, T]:
    """What is known by day, without the days of the person's pauses."""
    pauses = pauses_of(facts.settings(books))
    return {day: known for day, known in by_day.items() if pauses.on(day) is None}


def wanted(first: date | None, until: date | None, today: date) -> Stretch | Refuse:
    """The pause from these days; without an end it lasts two weeks."""
    begins = first or today
    ends = until or begins + OPEN
    if ends < begins or ends < today:
        return Refuse("That pause would be over before it begins.", Why.IMPOSSIBLE)
    if ends - begins > LONGEST:
        return Refuse(f"A pause lasts at most {LONGEST.days} days; it can be set again.", Why.IMPOSSIBLE)
    return Stretch(begins, ends)


def pause(first: date | None, until: date | None, ex: Exchange) -> Refuse | None:
    """Pauses the person's reminders."""
    found = wanted(first, until, ex.books.today)
    if isinstance(found, Refuse):
        return found
    _save(pauses_of(facts.settings(ex.books)).with_new(found), ex)
    begins = "" if found.first == ex.books.today else f" from {saying.day(found.first, ex.books.today)}"
    ex.say(
        f"Paused{begins} until {saying.day(found.last, ex.books.today)}: no reminders, and means leave these days out. "
        "You can still log. To end it sooner: resume"
    )
    return None


def resume(ex: Exchange) -> Refuse | None:
    """Ends the person's pause; one that has not begun is taken back."""
    pauses = pauses_of(facts.settings(ex.books))
    if pauses.ahead(ex.books.today) is None:
        return Refuse("You are not paused.", Why.IMPOSSIBLE)
    _save(pauses.without(ex.books.today), ex)
    ex.say("Welcome back. The pause is over, and reminders come again.")
    return None


def pause_lines(ex: Exchange) -> list[str]:
    """The pause of today or the next one, with its days; empty without one."""
    found = pauses_of(facts.settings(ex.books)).ahead(ex.books.today)
    if found is None:
        return []
    until = saying.day(found.last, ex.books.today)
    if found.first > ex.books.today:
        return [
            f"You are not paused now. The next pause is from {saying.day(found.first, ex.books.today)} until {until}."
        ]
    return [f"Paused until {until}. To end it sooner: resume"]


def _save(pauses: Pauses, ex: Exchange) -> None:
    value = " ".join(f"{each.first}/{each.last}" for each in pauses.stretches)
    facts.save_setting(ex.books, NAME, value)
    ex.note(fact_events.SettingChanged(name=NAME, value=value))
