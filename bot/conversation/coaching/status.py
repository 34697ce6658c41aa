"""How one client stands: what a coach may read of the last days, and means over them."""

from __future__ import annotations

import statistics
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from bot.conversation import saying
from bot.conversation.days import weeks
from bot.conversation.questions.stored import of_the_record
from bot.conversation.settings import about_self, limits, pausing
from bot.conversation.settings.pausing import Pauses
from bot.store import coaching as store
from bot.store import days, facts, questions, weighins
from bot.store.books import Books
from bot.store.coaching import Coaching
from bot.store.facts import Target
from bot.store.questions import StoredQuestion
from bot.store.weighins import StoredWeighIn
from domain import targets
from domain.targets import Sex
from domain.weighins import weighed_share

WINDOW = 16
"""Days before the one on which it is asked that are looked at: two whole weekends fit on every day of the week."""


@dataclass(frozen=True, slots=True)
class ClientStatus:
    """One client on their own calendar; `by_day` and `aimed` cover the days that were asked for."""

    coaching: Coaching
    books: Books
    by_day: Mapping[date, list[StoredWeighIn]]
    aimed: Mapping[date, Target]
    last_day: date | None
    waiting: Sequence[StoredQuestion]
    floor_kcal: float
    pauses: Pauses
    flag: str | None
    """What the coach has flagged the client for, empty without words; None without a flag."""
    cautioned: date | None
    """Since when the coach is let know that a standing caution limits targets; None without one."""

    @property
    def called(self) -> str:
        """The coach's name for the client."""
        return self.coaching.called

    @property
    def shares_energy(self) -> bool:
        """Whether the client lets the coach see energy."""
        return "energy" not in self.books.withheld

    @property
    def logged_today(self) -> bool:
        """Whether today has anything on record."""
        return self.books.today in self.by_day

    @property
    def silent_days(self) -> int | None:
        """Days since the last day with a record; None without any."""
        return None if self.last_day is None else max(0, (self.books.today - self.last_day).days)

    @property
    def shares_protein(self) -> bool:
        """Whether the client lets the coach see protein."""
        return "protein" not in self.books.withheld

    def paused(self, day: date) -> bool:
        """Whether the day is one of a pause."""
        return self.pauses.on(day) is not None

    def finished(self, on: date, back: int = WINDOW) -> list[date]:
        """The logged days among the `back` before that day, in order, without those of a pause."""
        first = on - timedelta(days=back)
        return sorted(day for day in self.by_day if first <= day < on and not self.paused(day))


@dataclass(frozen=True, slots=True)
class Mean:
    """Means over logged days, in kcal and g; those of targets cover the days that have one."""

    days: int
    kcal: float
    protein_g: float
    target_kcal: float | None
    target_protein_g: float | None
    at_least: str
    share: float | None


def status_of(which: Coaching, coachs: Books, flag: str | None = None, more: int = 0) -> ClientStatus | None:
    """A client's status, read under their consent, over `more` days than today's reasons need; None when it has ended."""
    books = store.books_of_client(coachs, which.client_id)
    if books is None:
        return None
    first, last = books.today - timedelta(days=WINDOW + more), books.today
    told = facts.settings(books)
    sex = told.get("sex")
    return ClientStatus(
        coaching=which,
        books=books,
        by_day=weeks.grouped(weighins.between(books, first, last)),
        aimed=days.targets(books, [first + timedelta(days=n) for n in range((last - first).days + 1)]),
        last_day=days.last_logged(books),
        waiting=of_the_record(questions.waiting(books)),
        floor_kcal=targets.floor_kcal(None if sex is None else Sex(sex)),
        pauses=pausing.pauses_of(told),
        flag=flag,
        cautioned=_cautioned(told, which, books),
    )


def _cautioned(told: Mapping[str, str], which: Coaching, books: Books) -> date | None:
    if "cautions" in books.withheld or not limits.standing_in(told, books.today):
        return None
    told_at = facts.set_at(
        books, (*about_self.SETTINGS, "born", f"{store.WITHHELD}{which.covers_id or which.coach_id}")
    )
    return books.day_of(max(told_at or which.agreed_at, which.agreed_at))


def mean(of: ClientStatus, on: Sequence[date]) -> Mean | None:
    """The means over those of these logged days that have figures; None without any."""
    on = sorted(weeks.with_figures({day: of.by_day[day] for day in on}))
    if not on:
        return None
    stored = [s for day in on for s in of.by_day[day]]
    sums = weeks.total_of(stored).nutrients
    kcal = [t.kcal for day in on if (t := of.aimed.get(day)) is not None and t.kcal is not None]
    protein = [t.protein_g for day in on if (t := of.aimed.get(day)) is not None and t.protein_g is not None]
    return Mean(
        days=len(on),
        kcal=sums.kcal / len(on),
        protein_g=sums.protein_g / len(on),
        target_kcal=statistics.fmean(kcal) if kcal else None,
        target_protein_g=statistics.fmean(protein) if protein else None,
        at_least=saying.at_least(stored),
        share=weighed_share([s.weigh_in for s in stored]),
    )
