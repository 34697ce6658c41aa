"""When something was eaten: days are the person's own, a meal never moves the day, the future is refused."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.language.surroundings import Surroundings
from bot.language.told import Item
from bot.language.understand import understand

from .conftest import Hear

# the bounds are naive, as hypothesis wants them
moments = st.datetimes(datetime(2000, 1, 1), datetime(2090, 1, 1), timezones=st.just(UTC))  # noqa: DTZ001
some = settings(max_examples=40, deadline=None, derandomize=True)

TUESDAY_AFTERNOON = "2026-03-03T14:00:00+00:00"


@pytest.mark.parametrize(
    ("said", "day", "meal"),
    (
        ("180 g cooked rice", "2026-03-03", None),
        ("180 g cooked rice yesterday", "2026-03-02", None),
        ("yesterday 180 g cooked rice", "2026-03-02", None),
        ("180 g cooked rice last night", "2026-03-02", None),
        ("180 g cooked rice this morning", "2026-03-03", None),
        ("180 g cooked rice at 7:30", "2026-03-03", None),
        ("180 g cooked rice at 7.30", "2026-03-03", None),
        ("180 g cooked rice at 1pm", "2026-03-03", None),
        ("180 g cooked rice at 23:30", "2026-03-02", None),
        ("180 g cooked rice at 9pm", "2026-03-02", None),
        ("180 g cooked rice yesterday at 23:30", "2026-03-02", None),
        ("180 g cooked rice yesterday at 7:30", "2026-03-02", None),
        ("180 g cooked rice on Sunday", "2026-03-01", None),
        ("180 g cooked rice on Tuesday", "2026-03-03", None),
        ("180 g cooked rice on Wednesday", "2026-02-25", None),
        ("180 g cooked rice last Wednesday", "2026-02-25", None),
        ("180 g cooked rice 2 days ago", "2026-03-01", None),
        ("180 g cooked rice two days ago", "2026-03-01", None),
        ("180 g cooked rice the day before yesterday", "2026-03-01", None),
        ("180 g cooked rice on 2026-02-28", "2026-02-28", None),
        ("2026-02-28: 180 g cooked rice", "2026-02-28", None),
        ("180 g cooked rice on 1 March", "2026-03-01", None),
        ("180 g cooked rice on March 1", "2026-03-01", None),
        ("180 g cooked rice on 1st of March", "2026-03-01", None),
        ("180 g cooked rice on 4 March", "2025-03-04", None),
        ("180 g cooked rice for breakfast", "2026-03-03", "breakfast"),
        ("lunch: 180 g cooked rice", "2026-03-03", "lunch"),
        ("180 g cooked rice for dinner", "2026-03-03", "dinner"),
        ("180 g cooked rice for supper", "2026-03-03", "dinner"),
        ("180 g cooked rice as a snack", "2026-03-03", "snack"),
        ("180 g cooked rice for lunch yesterday", "2026-03-02", "lunch"),
        ("yesterday's dinner: 180 g cooked rice", "2026-03-02", "dinner"),
    ),
)
def test_the_day_and_the_meal(heard: Hear, said: str, day: str, meal: str | None) -> None:
    recorded = heard(said, at=TUESDAY_AFTERNOON).recorded()
    assert (recorded["day"], recorded["meal"]) == (day, meal)
    assert recorded["as_weighed_g"] == 180


@pytest.mark.parametrize(("region", "day"), (("US", "2026-02-01"), ("UK", "2026-01-02"), ("metric", "2026-01-02")))
def test_a_date_in_figures_goes_by_the_region(heard: Hear, region: str, day: str) -> None:
    assert heard("180 g cooked rice on 2/1", at=TUESDAY_AFTERNOON, region=region).recorded()["day"] == day


@pytest.mark.parametrize(
    "said",
    (
        "180 g cooked rice today at 23:30",
        "180 g cooked rice on 2026-03-09",
        "180 g cooked rice on 2027-01-01",
        "weighed 180 g cooked rice tonight at 23:30",
    ),
)
def test_what_is_still_to_come_is_refused(heard: Hear, said: str) -> None:
    assert not heard(said, at=TUESDAY_AFTERNOON).records


@pytest.mark.parametrize("said", ("180 g cooked rice tomorrow", "I will have 180 g cooked rice tomorrow"))
def test_a_plan_records_nothing(heard: Hear, said: str) -> None:
    heard(said, at=TUESDAY_AFTERNOON).nothing()


@pytest.mark.parametrize(
    ("timezone", "at", "day"),
    (
        # IANA tz database: Auckland keeps UTC+13 in March, Los Angeles UTC-8 before 8 March 2026
        ("Pacific/Auckland", "2026-03-02T10:59:00+00:00", "2026-03-02"),
        ("Pacific/Auckland", "2026-03-02T11:01:00+00:00", "2026-03-03"),
        ("America/Los_Angeles", "2026-03-03T07:59:00+00:00", "2026-03-02"),
        ("America/Los_Angeles", "2026-03-03T08:01:00+00:00", "2026-03-03"),
    ),
)
def test_days_are_the_persons_own(heard: Hear, timezone: str, at: str, day: str) -> None:
    assert heard("180 g cooked rice", at=at, timezone=timezone).recorded()["day"] == day
    before = (datetime.fromisoformat(day) - timedelta(days=1)).date().isoformat()
    assert heard("180 g cooked rice yesterday", at=at, timezone=timezone).recorded()["day"] == before


@pytest.mark.parametrize(
    ("said", "at", "day"),
    (
        # London's clocks go forward on 29 March 2026 at 01:00 UTC and back on 25 October at 01:00 UTC (IANA)
        ("180 g cooked rice at 1:30", "2026-03-29T09:00:00+00:00", "2026-03-29"),
        ("180 g cooked rice at 23:30", "2026-03-29T09:00:00+00:00", "2026-03-28"),
        ("180 g cooked rice at 1:30", "2026-10-25T09:00:00+00:00", "2026-10-25"),
        ("180 g cooked rice yesterday", "2026-10-25T23:30:00+00:00", "2026-10-24"),
    ),
)
def test_a_clock_change_moves_no_day(heard: Hear, said: str, at: str, day: str) -> None:
    assert heard(said, at=at, timezone="Europe/London").recorded()["day"] == day


def test_tea_is_never_taken_for_a_meal_in_silence(heard: Hear) -> None:
    said = heard("180 g cooked rice for tea", region="UK", at="2026-03-03T18:00:00+00:00")
    assert [event["meal"] for event in said.records] in ([], [None])


@some
@given(
    moments,
    st.sampled_from(["UTC", "Europe/London", "America/New_York", "Pacific/Auckland", "Asia/Kolkata"]),
    st.integers(0, 23),
    st.integers(0, 59),
)
def test_a_clock_time_is_the_latest_that_is_past(at: datetime, zone: str, hour: int, minute: int) -> None:
    now = at.astimezone(ZoneInfo(zone))
    (item,) = understand(f"180 g cooked rice at {hour}:{minute:02}", Surroundings(now=now))
    assert isinstance(item, Item)
    moment = item.when.moment
    assert moment is not None
    assert (moment.hour, moment.minute) == (hour, minute)
    # on a day of 25 hours the same time was up to 25 hours ago
    assert timedelta() <= now.astimezone(UTC) - moment.astimezone(UTC) < timedelta(hours=25, minutes=1)


@some
@given(moments)
def test_a_weekday_is_the_latest_of_its_name_today_included(now: datetime) -> None:
    days = "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"
    for number, name in enumerate(days):
        (item,) = understand(f"180 g cooked rice on {name}", Surroundings(now=now))
        assert isinstance(item, Item)
        day = item.when.day or now.date()
        assert day.weekday() == number
        assert 0 <= (now.date() - day).days < 7
