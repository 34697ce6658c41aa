"""Pauses for holidays and illness: reminders rest, and statistics leave the days out.

A pause is one of the person's settings, its first and last day with a slash between them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

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


def stretch_of(settings: Mapping[str, str]) -> Stretch | None:
    """The pause that was set last, also when it is over; None when there was none or it was taken back."""
    first, slash, last = settings.get(NAME, "").partition("/")
    return Stretch(date.fromisoformat(first), date.fromisoformat(last)) if slash else None


def rests(books: Books) -> bool:
    """Whether the person pauses today."""
    found = stretch_of(facts.settings(books))
    return found is not None and found.holds(books.today)


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
    _save(found, ex)
    begins = "" if found.first == ex.books.today else f" from {saying.day(found.first, ex.books.today)}"
    ex.say(
        f"Paused{begins} until {saying.day(found.last, ex.books.today)}: no reminders, and means leave these days out. "
        "You can still log. To end it sooner: resume"
    )
    return None


def resume(ex: Exchange) -> Refuse | None:
    """Ends the person's pause; one that has not begun is taken back."""
    found = stretch_of(facts.settings(ex.books))
    if found is None or found.last < ex.books.today:
        return Refuse("You are not on a pause.", Why.IMPOSSIBLE)
    yesterday = ex.books.today - timedelta(days=1)
    if found.first > yesterday:
        facts.save_setting(ex.books, NAME, "")
        ex.note(fact_events.SettingChanged(name=NAME, value=""))
    else:
        _save(Stretch(found.first, yesterday), ex)
    ex.say("Welcome back. The pause is over, and reminders come again.")
    return None


def _save(found: Stretch, ex: Exchange) -> None:
    value = f"{found.first}/{found.last}"
    facts.save_setting(ex.books, NAME, value)
    ex.note(fact_events.SettingChanged(name=NAME, value=value))
