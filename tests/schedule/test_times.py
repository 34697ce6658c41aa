"""Local times over every zone and every clock change of ten years, against zoneinfo."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo, available_timezones

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from bot.schedule.times import EVERY_DAY, Occurrence, exists, latest, moment_of, upcoming, within

FIRST, LAST = datetime(2017, 1, 1, tzinfo=UTC), datetime(2027, 1, 1, tzinfo=UTC)
DAY = timedelta(days=1)
ZONES = sorted(zone for zone in available_timezones() if zone not in ("localtime", "Factory"))


def transitions(zone: ZoneInfo) -> list[datetime]:
    """The moments of the ten years, to the minute, at which the zone's offset changes."""
    found = []
    at = FIRST
    while at < LAST:
        following = at + timedelta(days=7)
        if _offset(at, zone) != _offset(following, zone):
            low, high = at, following
            while high - low > timedelta(minutes=1):
                middle = low + (high - low) / 2
                low, high = (middle, high) if _offset(middle, zone) == _offset(low, zone) else (low, middle)
            found.append(high)
        at = following
    return found


def _offset(at: datetime, zone: ZoneInfo) -> timedelta:
    offset = at.astimezone(zone).utcoffset()
    assert offset is not None
    return offset


def _there_is(found: Occurrence | None) -> Occurrence:
    assert found is not None
    return found


def walk(zone: ZoneInfo, clock: time, since: datetime, until: datetime):
    """What a reminder does that is set anew each time it has come."""
    after, day = since, None
    while True:
        found = _there_is(upcoming(after, clock, EVERY_DAY, zone, day))
        if found.moment > until:
            return
        yield found
        after, day = found.moment, found.day


@pytest.mark.parametrize("name", ZONES)
def test_once_a_day_at_the_right_time_around_every_clock_change(name):
    zone = ZoneInfo(name)
    for change in transitions(zone):
        local = change.astimezone(zone)
        # the hours around the change itself, and the usual evening
        clocks = {(local + timedelta(minutes=m)).time().replace(second=0, microsecond=0) for m in (-61, -30, 0, 30, 61)}
        for clock in (*clocks, time(20, 30)):
            since, until = change - 4 * DAY, change + 4 * DAY
            came = list(walk(zone, clock, since, until))
            days = [found.day for found in came]
            assert days == sorted(set(days))
            for found in came:
                _at_the_right_time(found, clock, zone)
            missing = {days[0] + n * DAY for n in range((days[-1] - days[0]).days)} - set(days)
            assert not any(exists(day, clock, zone) for day in missing)


def _at_the_right_time(found, clock, zone):
    shown = found.moment.astimezone(zone)
    wanted = datetime.combine(found.day, clock, zone)
    if shown.replace(tzinfo=None) == wanted.replace(tzinfo=None):
        assert shown.fold == 0
        return
    # RFC 5545 3.3.5: the time does not exist that day, so the offset from before the gap holds
    before, after = wanted.replace(fold=0).utcoffset(), wanted.replace(fold=1).utcoffset()
    assert before is not None
    assert after is not None
    gap = before - after
    assert gap < timedelta(0)
    assert shown.replace(tzinfo=None) - wanted.replace(tzinfo=None) == -gap


def test_the_ten_years_hold_clock_changes_to_speak_of():
    assert sum(len(transitions(ZoneInfo(name))) for name in ZONES) > 3000


@pytest.mark.parametrize(
    ("zone", "day", "clock", "utc"),
    (
        # tz database: New York goes from -5 to -4 on 8 March 2026 at 02:00, and back on 1 November
        ("America/New_York", date(2026, 3, 8), time(2, 30), "2026-03-08T07:30"),
        ("America/New_York", date(2026, 11, 1), time(1, 30), "2026-11-01T05:30"),
        ("Europe/Lisbon", date(2026, 3, 29), time(1, 30), "2026-03-29T01:30"),
        ("Europe/Lisbon", date(2026, 10, 25), time(1, 30), "2026-10-25T00:30"),
        ("Australia/Lord_Howe", date(2026, 10, 4), time(2, 15), "2026-10-03T15:45"),
    ),
)
def test_skipped_and_repeated_times(zone, day, clock, utc):
    assert moment_of(day, clock, ZoneInfo(zone)) == datetime.fromisoformat(utc).replace(tzinfo=UTC)


def test_a_day_that_a_zone_leaves_out_has_no_reminder():
    # tz database: Samoa went from 29 to 31 December 2011
    zone = ZoneInfo("Pacific/Apia")
    since, until = datetime(2011, 12, 28, tzinfo=UTC), datetime(2012, 1, 1, tzinfo=UTC)
    days = [found.day.day for found in walk(zone, time(20, 30), since, until)]
    assert days == [27, 28, 29, 31]


ZONE = st.sampled_from(ZONES).map(ZoneInfo)
MOMENT = st.integers(int(FIRST.timestamp()), int(LAST.timestamp())).map(lambda s: datetime.fromtimestamp(s, UTC))
CLOCK = st.times().map(lambda t: t.replace(second=0, microsecond=0))
WEEKDAYS = st.sets(st.sampled_from(EVERY_DAY), min_size=1).map(lambda days: "".join(sorted(days)))


@given(MOMENT, CLOCK, WEEKDAYS, ZONE)
@example(datetime(2026, 3, 29, 0, 30, tzinfo=UTC), time(1, 30), EVERY_DAY, ZoneInfo("Europe/Lisbon"))
@settings(max_examples=300)
def test_the_next_one_follows_the_last_one(at, clock, weekdays, zone):
    following = _there_is(upcoming(at, clock, weekdays, zone))
    before = _there_is(latest(at, clock, weekdays, zone))
    assert before.moment <= at < following.moment
    assert before.day < following.day
    assert str(following.day.weekday()) in weekdays
    assert str(before.day.weekday()) in weekdays
    assert latest(following.moment, clock, weekdays, zone) == following
    assert upcoming(following.moment - timedelta(microseconds=1), clock, weekdays, zone) == following


@given(MOMENT, CLOCK, ZONE, ZONE)
@settings(max_examples=300)
def test_travelling_doubles_no_day(at, clock, here, there):
    came = _there_is(latest(at, clock, EVERY_DAY, here))
    following = _there_is(upcoming(at, clock, EVERY_DAY, there, came.day))
    assert following.day > came.day
    assert following.moment > at
    assert following.moment - at < timedelta(days=3)


@pytest.mark.parametrize(
    ("clock", "inside"),
    ((time(22), True), (time(23, 59), True), (time(0), True), (time(6, 59), True), (time(7), False)),
)
def test_quiet_hours_over_midnight(clock, inside):
    assert within(clock, time(22), time(7)) is inside
    assert within(clock, time(7), time(22)) is not inside
