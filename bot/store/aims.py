"""Targets as they were told, and which of them count on a day.

A target holds from its first day on, until its last one where it has one, on every day or only on some: days of the
week, or days of a kind that the person names (training, rest). Of each nutrient the one figure counts that is told most
closely for the day (its kind before its weekday before any day), and of several of those the one that begins last, then
the one told last.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields
from datetime import date, timedelta
from typing import Any

from sqlalchemy import ScalarSelect, bindparam, case, func, or_, select

from bot.store.books import Books
from bot.store.schema import day_kind, target
from domain.targets import Target

KINDS = ("training", "rest")
_ONE_DAY = timedelta(days=1)


FIGURES = tuple(f.name for f in fields(Target))


@dataclass(frozen=True, slots=True)
class Told:
    """A target as it was told: its row, the message that caused it, and the days that it is for.

    `days` are a kind of day, days of the week as digits (0 is Monday), or empty for all.
    """

    id: int
    inbound_id: int
    first: date
    until: date | None
    days: str
    figures: Target

    def stands_on(self, day: date) -> bool:
        """Whether the day lies within its first and last one."""
        return self.first <= day and (self.until is None or day <= self.until)

    def holds_on(self, day: date, kind: str | None) -> bool:
        """Whether it is for that day, which is of that kind."""
        return self.stands_on(day) and (not self.days or self.days == kind or str(day.weekday()) in self.days)

    @property
    def nearness(self) -> int:
        """How closely it is told: 2 for a kind of day, 1 for days of the week, 0 for any day."""
        return 2 if self.days in KINDS else 1 if self.days else 0


_MINE = (target.c.person_id == bindparam("of_person"), target.c.undone_by.is_(None))
_TOLD = (
    select(
        target.c.id,
        target.c.inbound_id,
        target.c.valid_from,
        target.c.valid_until,
        target.c.days,
        *(target.c[name] for name in FIGURES),
    )
    .where(*_MINE)
    .order_by(target.c.id)
)
_NEWEST_KIND = (
    select(func.max(day_kind.c.id))
    .where(day_kind.c.person_id == bindparam("of_person"), day_kind.c.undone_by.is_(None))
    .group_by(day_kind.c.day)
)
_KINDS = select(day_kind.c.day, day_kind.c.kind).where(
    day_kind.c.id.in_(_NEWEST_KIND), day_kind.c.day >= bindparam("first_day"), day_kind.c.day <= bindparam("last_day")
)


def energy_aim() -> ScalarSelect[Any]:
    """The energy aimed at on `of_day`, whose weekday is `of_weekday` as '%2%', as part of another statement."""
    kind_said = (
        select(day_kind.c.kind)
        .where(
            day_kind.c.person_id == bindparam("of_person"),
            day_kind.c.undone_by.is_(None),
            day_kind.c.day == bindparam("of_day"),
        )
        .order_by(day_kind.c.id.desc())
        .limit(1)
        .scalar_subquery()
    )
    every_day = or_(target.c.days.is_(None), target.c.days == "")
    nearness = case((every_day, 0), (or_(*(target.c.days == kind for kind in KINDS)), 2), else_=1)
    return (
        select(target.c.kcal)
        .where(
            *_MINE,
            target.c.kcal.is_not(None),
            target.c.valid_from <= bindparam("of_day"),
            or_(target.c.valid_until.is_(None), target.c.valid_until >= bindparam("of_day")),
            or_(every_day, target.c.days == kind_said, target.c.days.like(bindparam("of_weekday"))),
        )
        .order_by(nearness.desc(), target.c.valid_from.desc(), target.c.id.desc())
        .limit(1)
        .scalar_subquery()
    )


def told(books: Books) -> list[Told]:
    """Every target that stands, in the order they were told."""
    rows = books.conn.execute(_TOLD, {"of_person": books.person.id})
    return [
        Told(row_id, inbound_id, first, until, days or "", Target(*figures))
        for row_id, inbound_id, first, until, days, *figures in rows
    ]


def kinds(books: Books, first: date, last: date) -> dict[date, str]:
    """Of which kind each day is that the person has said it of, both ends included."""
    values = {"of_person": books.person.id, "first_day": first, "last_day": last}
    return {row[0]: row[1] for row in books.conn.execute(_KINDS, values)}


def on(day: date, kind: str | None, among: Sequence[Told]) -> list[Told]:
    """The targets that are for the day, the one that counts first."""
    held = [each for each in among if each.holds_on(day, kind)]
    return sorted(held, key=lambda each: (each.nearness, each.first, each.id), reverse=True)


def resolved(among: Iterable[Told]) -> Target | None:
    """Of each nutrient the first figure; None without any target."""
    held = [each.figures for each in among]
    if not held:
        return None
    told_first = {name: next((v for f in held if (v := getattr(f, name)) is not None), None) for name in FIGURES}
    return Target(**told_first)


def by_day(books: Books, days: Sequence[date]) -> dict[date, Target]:
    """The target of each of the days that has one."""
    if not days:
        return {}
    standing, kind_of = told(books), kinds(books, min(days), max(days))
    found = {day: resolved(on(day, kind_of.get(day), standing)) for day in days}
    return {day: each for day, each in found.items() if each is not None}


def changes(books: Books, after: date) -> dict[date, Target | None]:
    """What counts on any day from the first day on where that changes, later than `after`, in order."""
    plain = [each for each in told(books) if not each.days]
    turns = {each.first for each in plain} | {each.until + _ONE_DAY for each in plain if each.until is not None}
    found: dict[date, Target | None] = {}
    before = resolved(on(after, None, plain))
    for day in sorted(turn for turn in turns if turn > after):
        now = resolved(on(day, None, plain))
        if now != before:
            found[day] = before = now
    return found


def of_days(books: Books, day: date, days: str) -> Target:
    """What counts for those days, or with none said for any day, as it stands on that day; empty without figures."""
    held = [each for each in told(books) if each.stands_on(day) and each.days in ("", days)]
    held.sort(key=lambda each: (each.nearness, each.first, each.id), reverse=True)
    return resolved(held) or Target()


def of_some_days(books: Books, day: date) -> Mapping[str, Target]:
    """What counts on days of a kind and on days of the week, by those days, as it stands on that day."""
    standing = [each for each in told(books) if each.days and each.stands_on(day)]
    found = {}
    for days in dict.fromkeys(each.days for each in standing):
        of_these = sorted((t for t in standing if t.days == days), key=lambda t: (t.first, t.id), reverse=True)
        figures = resolved(of_these)
        if figures is not None:
            found[days] = figures
    return found
