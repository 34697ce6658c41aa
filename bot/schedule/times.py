"""When a local time of day occurs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

EVERY_DAY = "0123456"
"""The days of the week, 0 is Monday, as `datetime.weekday` counts."""
_DAY = timedelta(days=1)
_AHEAD = 15
"""Days to search for the next occurrence: a week, and as much again for days that a zone skips."""


@dataclass(frozen=True, slots=True)
class Occurrence:
    """A day on the person's calendar, and the moment (UTC) at which its time comes."""

    day: date
    moment: datetime


def moment_of(day: date, clock: time, zone: ZoneInfo) -> datetime:
    """The moment (UTC) of a local time, as RFC 5545 3.3.5 has it.

    A time that the clocks repeat means the first of the two; one that they skip is read with the offset from before
    the gap, so that 02:30 becomes 03:30.
    """
    # fold=0 means both (PEP 495).
    return datetime.combine(day, clock, zone).astimezone(UTC)


def exists(day: date, clock: time, zone: ZoneInfo) -> bool:
    """Whether the time occurs on that day: a zone that moves across the date line skips a day."""
    return moment_of(day, clock, zone) < moment_of(day + _DAY, clock, zone)


def upcoming(
    after: datetime, clock: time, weekdays: str, zone: ZoneInfo, not_on: date | None = None
) -> Occurrence | None:
    """The first occurrence later than the moment `after`, on a day later than `not_on`; None without a weekday."""
    return next(_from(after, clock, weekdays, zone, not_on), None)


def latest(upto: datetime, clock: time, weekdays: str, zone: ZoneInfo) -> Occurrence | None:
    """The last occurrence that is not later than the moment; None without a weekday."""
    day = upto.astimezone(zone).date() + _DAY
    for _ in range(_AHEAD):
        if str(day.weekday()) in weekdays and exists(day, clock, zone) and moment_of(day, clock, zone) <= upto:
            return Occurrence(day, moment_of(day, clock, zone))
        day -= _DAY
    return None


def _from(after: datetime, clock: time, weekdays: str, zone: ZoneInfo, not_on: date | None) -> Iterator[Occurrence]:
    day = after.astimezone(zone).date() - _DAY
    if not_on is not None:
        day = max(day, not_on + _DAY)
    for _ in range(_AHEAD):
        moment = moment_of(day, clock, zone)
        if str(day.weekday()) in weekdays and moment > after and exists(day, clock, zone):
            yield Occurrence(day, moment)
        day += _DAY


def within(clock: time, first: time, last: time) -> bool:
    """Whether a time lies in the hours from first to last, which may reach over midnight."""
    if first <= last:
        return first <= clock < last
    return clock >= first or clock < last
