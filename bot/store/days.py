"""Sums by day, computed in the database: reading a month does not depend on how much was weighed in it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import bindparam, case, exists, func, select

from bot.kinds import VersionKind
from bot.store import aims
from bot.store.batch_reading import OF_AN_INCOMPLETE_POT
from bot.store.books import Books
from bot.store.schema import weigh_in
from bot.store.statements import Prepared
from domain.targets import Target


@dataclass(frozen=True, slots=True)
class DaySum:
    """A day's energy (kcal) and protein (g), how many weigh-ins it has, and how many of those have no figures."""

    kcal: float
    protein_g: float
    count: int
    unknown: int


_later = weigh_in.alias("later")
_BY_DAY = (
    select(
        weigh_in.c.day,
        func.coalesce(func.sum(weigh_in.c.kcal), 0.0),
        func.coalesce(func.sum(weigh_in.c.protein_g), 0.0),
        func.count(),
        func.count() - func.count(weigh_in.c.kcal),
    )
    .where(
        weigh_in.c.person_id == bindparam("of_person"),
        weigh_in.c.day >= bindparam("first_day"),
        weigh_in.c.day <= bindparam("last_day"),
        weigh_in.c.kind != VersionKind.REMOVED.value,
        ~exists().where(_later.c.replaces == weigh_in.c.id),
    )
    .group_by(weigh_in.c.day)
    .order_by(weigh_in.c.day)
)


_INCOMPLETE = case((weigh_in.c.kcal.is_not(None) & OF_AN_INCOMPLETE_POT, 1), else_=0)
_SO_FAR = Prepared(
    select(
        func.coalesce(func.sum(weigh_in.c.kcal), 0.0),
        func.count() - func.count(weigh_in.c.kcal) + func.coalesce(func.sum(_INCOMPLETE), 0),
        aims.energy_aim(),
    ).where(
        weigh_in.c.person_id == bindparam("of_person"),
        weigh_in.c.day == bindparam("of_day"),
        weigh_in.c.kind != VersionKind.REMOVED.value,
        ~exists().where(_later.c.replaces == weigh_in.c.id),
    )
)


def so_far(books: Books, day: date) -> tuple[float, int, float | None]:
    """(kcal of a day's weigh-ins, how many of them lack figures, in part at least, the day's target in kcal)."""
    kcal, unknown, aim = _SO_FAR.one(
        books.conn, {"of_person": books.person.id, "of_day": day, "of_weekday": f"%{day.weekday()}%"}
    )
    return float(kcal), int(unknown), aim


def by_day(books: Books, first: date, last: date) -> dict[date, DaySum]:
    """The sums of the days that have a weigh-in, both ends included, in order."""
    values = {"of_person": books.person.id, "first_day": first, "last_day": last}
    return {day: DaySum(*sums) for day, *sums in books.conn.execute(_BY_DAY, values)}


_LAST_DAY = select(func.max(weigh_in.c.day)).where(
    weigh_in.c.person_id == bindparam("of_person"),
    weigh_in.c.day <= bindparam("today"),
    weigh_in.c.kind != VersionKind.REMOVED.value,
    ~exists().where(_later.c.replaces == weigh_in.c.id),
)


def last_logged(books: Books) -> date | None:
    """The last day, today at the latest, that has a weigh-in; None when there is none."""
    day: date | None = books.conn.execute(_LAST_DAY, {"of_person": books.person.id, "today": books.today}).scalar()
    return day


def targets(books: Books, days: Sequence[date]) -> dict[date, Target]:
    """The target of each of the days that has one."""
    return aims.by_day(books, days)
