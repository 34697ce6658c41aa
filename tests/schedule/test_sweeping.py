"""The sweep itself: nothing twice, nothing late, nobody kept waiting."""

import threading
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from sqlalchemy import text

from bot.app import Tarebook, open_tarebook
from bot.conversation.days import notifications
from bot.schedule import sweeping
from bot.store import people, schedules
from bot.store.delivery import outbox
from bot.store.engine import open_store
from domain.quantities import Region

CHANNEL = "door"
MONDAY = datetime(2026, 3, 2, 12, tzinfo=UTC)
EVENING = datetime(2026, 3, 2, 20, 30, tzinfo=UTC)
DAY = timedelta(days=1)


@pytest.fixture
def tarebook(tmp_path: Path):
    store = open_store(f"sqlite:///{tmp_path / 'tarebook.db'}")
    yield Tarebook(store)
    store.close()


def person(tarebook, key="mira", zone="UTC"):
    return tarebook.set_up(CHANNEL, key, Region.METRIC, ZoneInfo(zone), at=MONDAY)


def notes(tarebook):
    with tarebook.transaction() as conn:
        rows = conn.execute(text("SELECT local_date, state FROM unasked ORDER BY id")).all()
    return [(str(day), state) for day, state in rows]


def unsent(tarebook):
    with tarebook.transaction() as conn:
        return outbox.count(conn, CHANNEL)


def test_what_is_due_goes_into_the_outbox_once(tarebook):
    person(tarebook)
    assert sweeping.sweep(tarebook.store, CHANNEL, EVENING - timedelta(seconds=1)) == []
    (came,) = sweeping.sweep(tarebook.store, CHANNEL, EVENING)
    assert came.place == "mira"
    assert sweeping.sweep(tarebook.store, CHANNEL, EVENING) == []
    assert unsent(tarebook) == 1


@pytest.mark.parametrize(
    ("late", "state"), ((timedelta(hours=1, minutes=29), "sent"), (timedelta(hours=2, seconds=1), "late"))
)
def test_two_hours_late_is_too_late(tarebook, late, state):
    person(tarebook)
    sweeping.sweep(tarebook.store, CHANNEL, EVENING + late)
    assert notes(tarebook) == [("2026-03-02", state)]


def test_late_in_the_night_nothing_comes(tarebook):
    person(tarebook)
    sweeping.sweep(tarebook.store, CHANNEL, EVENING + timedelta(hours=1, minutes=45))
    assert notes(tarebook) == [("2026-03-02", "quiet")]


def test_three_days_of_outage_bring_one_message_not_four(tarebook):
    person(tarebook)
    back = EVENING + 3 * DAY + timedelta(minutes=10)
    assert len(sweeping.sweep(tarebook.store, CHANNEL, back)) == 1
    assert notes(tarebook) == [("2026-03-05", "sent"), ("2026-03-05", "late")]  # the breakfast offer comes too late
    for hours in range(1, 20):
        assert sweeping.sweep(tarebook.store, CHANNEL, back + timedelta(hours=hours)) == []
    assert len(sweeping.sweep(tarebook.store, CHANNEL, EVENING + 4 * DAY)) == 1


def test_back_in_the_morning_nothing_old_comes(tarebook):
    person(tarebook)
    assert sweeping.sweep(tarebook.store, CHANNEL, EVENING + 3 * DAY - timedelta(hours=10)) == []
    assert len(sweeping.sweep(tarebook.store, CHANNEL, EVENING + 3 * DAY)) == 1


@pytest.fixture(params=("sqlite", "postgresql"))
def shared_url(request, tmp_path):
    return (
        f"sqlite:///{tmp_path / 'shared.db'}"
        if request.param == "sqlite"
        else request.getfixturevalue("server_database")
    )


@pytest.fixture
def programs(shared_url):
    """Two programs on one database."""
    with open_tarebook(shared_url) as one, open_tarebook(shared_url) as other:
        yield one, other


PEOPLE = 60


def test_two_programs_on_one_database_never_both_send(programs):
    for number in range(PEOPLE):
        person(programs[0], f"person {number}")
    together = threading.Barrier(len(programs))

    def work(tarebook):
        together.wait()
        return [unasked.place for unasked in sweeping.sweep(tarebook.store, CHANNEL, EVENING)]

    with ThreadPoolExecutor(len(programs)) as pool:
        came = [place for places in pool.map(work, programs) for place in places]
    assert Counter(came) == Counter(f"person {number}" for number in range(PEOPLE))
    assert unsent(programs[0]) == PEOPLE
    assert notes(programs[0]) == [("2026-03-02", "sent")] * PEOPLE


# On SQLite transactions take turns.
@pytest.mark.parametrize("shared_url", ("postgresql",), indirect=True)
def test_what_one_program_has_in_hand_the_other_passes_over(programs):
    one, other = programs
    for key in ("mira", "joao"):
        person(one, key)
    with one.transaction() as conn:
        (in_hand,) = schedules.due(conn, CHANNEL, EVENING, 1)
        with ThreadPoolExecutor(1) as pool:
            theirs = pool.submit(sweeping.sweep, other.store, CHANNEL, EVENING).result(10)
        assert {unasked.place for unasked in theirs} == {"mira", "joao"} - {in_hand.place}
    # The transaction ended without having sent anything.
    assert [unasked.place for unasked in sweeping.sweep(other.store, CHANNEL, EVENING)] == [in_hand.place]


def test_a_day_dealt_with_never_comes_again_whatever_the_row_says(tarebook):
    mira = person(tarebook)
    sweeping.sweep(tarebook.store, CHANNEL, EVENING)
    with tarebook.transaction() as conn:
        schedules.put(conn, mira, "evening", "20:30", "0123456", EVENING, EVENING.date())
    assert sweeping.sweep(tarebook.store, CHANNEL, EVENING) == []
    assert unsent(tarebook) == 1


def test_who_has_blocked_the_bot_gets_nothing(tarebook):
    person(tarebook)
    with tarebook.transaction() as conn:
        people.set_blocked(conn, CHANNEL, "mira", MONDAY)
    assert sweeping.sweep(tarebook.store, CHANNEL, EVENING) == []
    assert notes(tarebook) == [("2026-03-02", "unreachable")]


def test_people_of_another_channel_are_left_to_it(tarebook):
    person(tarebook)
    assert sweeping.sweep(tarebook.store, "elsewhere", EVENING) == []
    assert notes(tarebook) == []


def test_a_record_that_cannot_be_told_stops_nobody_else(tarebook, monkeypatch, caplog):
    for key in ("ana", "mira"):
        person(tarebook, key)
    real = notifications.reminder

    def broken(kind, books, context):
        if books.person.name == "ana":
            raise ValueError("a bug")
        return real(kind, books, context)

    monkeypatch.setattr(notifications, "reminder", broken)
    assert [unasked.place for unasked in sweeping.sweep(tarebook.store, CHANNEL, EVENING)] == ["mira"]
    assert ("2026-03-02", "failed") in notes(tarebook)
    assert "ValueError" in caplog.text


def test_a_crash_before_the_commit_loses_nothing(tarebook, monkeypatch):
    person(tarebook)
    real = schedules.advance

    def crash(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr(schedules, "advance", crash)
    with pytest.raises(KeyboardInterrupt):
        sweeping.sweep(tarebook.store, CHANNEL, EVENING)
    monkeypatch.setattr(schedules, "advance", real)
    assert unsent(tarebook) == 0
    assert len(sweeping.sweep(tarebook.store, CHANNEL, EVENING)) == 1
