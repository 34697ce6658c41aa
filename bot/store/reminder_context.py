"""What decides whether people are reminded, read for many of them at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from sqlalchemy import BindParameter, Connection, bindparam, exists, func, select

from bot.kinds import VersionKind
from bot.store import people
from bot.store.columns import is_just
from bot.store.people import Person
from bot.store.schema import question, setting, unasked, weigh_in


@dataclass(frozen=True, slots=True)
class Eaten:
    """That a day of a person's has weigh-ins with that meal (or None), and when the last of them was eaten (UTC)."""

    day: date
    meal: str | None
    last_at: datetime


@dataclass(slots=True)
class ReminderContext:
    """One person: what they set as quiet hours, how many notifications each day has had, what they ate lately."""

    person: Person
    quiet: str | None = None
    sent: dict[date, int] = field(default_factory=dict)
    waiting: bool = False
    eaten: list[Eaten] = field(default_factory=list)
    ever: bool = False
    """Whether they have ever had a weigh-in."""
    told: int = 0
    """How many notifications they have ever got; counted only for those without recent weigh-ins."""


_IDS: BindParameter[Any] = bindparam("ids", expanding=True)
_newest_quiet = (
    select(func.max(setting.c.id))
    .where(setting.c.person_id.in_(_IDS), setting.c.name == "quiet", setting.c.undone_by.is_(None))
    .group_by(setting.c.person_id)
)
_QUIET = select(setting.c.person_id, setting.c.value).where(setting.c.id.in_(_newest_quiet))
_SENT = (
    select(unasked.c.person_id, unasked.c.local_date, func.count())
    .where(unasked.c.person_id.in_(_IDS), unasked.c.local_date >= bindparam("since"), unasked.c.state == "sent")
    .group_by(unasked.c.person_id, unasked.c.local_date)
)
_WAITING = (
    select(question.c.person_id)
    .where(question.c.person_id.in_(_IDS), is_just(question.c.state, "waiting"), question.c.skipped.is_not(True))
    .distinct()
)
_later = weigh_in.alias("later")
_EATEN = (
    select(
        weigh_in.c.person_id,
        weigh_in.c.day,
        weigh_in.c.meal,
        func.max(weigh_in.c.eaten_at, type_=weigh_in.c.eaten_at.type),
    )
    .where(
        weigh_in.c.person_id.in_(_IDS),
        weigh_in.c.day >= bindparam("since"),
        weigh_in.c.kind != VersionKind.REMOVED.value,
        ~exists().where(_later.c.replaces == weigh_in.c.id),
    )
    .group_by(weigh_in.c.person_id, weigh_in.c.day, weigh_in.c.meal)
    .order_by(weigh_in.c.day)
)
_TOLD = (
    select(unasked.c.person_id, func.count())
    .where(unasked.c.person_id.in_(_IDS), unasked.c.state == "sent")
    .group_by(unasked.c.person_id)
)
_EVER = select(weigh_in.c.person_id).where(weigh_in.c.person_id.in_(_IDS)).distinct()


def reminder_contexts(conn: Connection, person_ids: Sequence[int], since: date) -> dict[int, ReminderContext]:
    """Each person's context, with what happened from the day `since` on; a handful of statements for all of them."""
    ids = sorted(set(person_ids))
    found = {person.id: ReminderContext(person) for person in people.by_ids(conn, ids)}
    values = {"ids": ids, "since": since}
    for person_id, quiet in conn.execute(_QUIET, values):
        found[person_id].quiet = quiet
    for person_id, day, count in conn.execute(_SENT, values):
        found[person_id].sent[day] = count
    for (person_id,) in conn.execute(_WAITING, values):
        found[person_id].waiting = True
    for person_id, *eaten in conn.execute(_EATEN, values):
        found[person_id].eaten.append(Eaten(*eaten))
    quiet_lately = [person_id for person_id, context in found.items() if not context.eaten]
    if quiet_lately:
        for (person_id,) in conn.execute(_EVER, {"ids": quiet_lately}):
            found[person_id].ever = True
        for person_id, count in conn.execute(_TOLD, {"ids": quiet_lately}):
            found[person_id].told = count
    for context in found.values():
        context.ever = context.ever or bool(context.eaten)
    return found
