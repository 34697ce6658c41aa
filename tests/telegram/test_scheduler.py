"""The ticks of `tarebook serve`: what is due when is in the database."""

import asyncio
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from sqlalchemy import text

from bot.app import Tarebook, open_tarebook
from bot.channels.telegram import CHANNEL, scheduler
from bot.channels.telegram.client import DatabaseThread
from bot.channels.telegram.scheduler import Scheduler
from bot.store.delivery import outbox
from domain.quantities import Region

from .loopback import PATIENCE


def test_what_is_due_when_the_program_starts_is_in_the_outbox_at_the_first_tick() -> None:
    with open_tarebook("sqlite://") as tarebook:
        tarebook.set_up(CHANNEL, "17", Region.METRIC, ZoneInfo("UTC"))
        with tarebook.transaction() as conn:
            now = datetime.now(UTC)
            conn.execute(
                text("UPDATE schedule SET time = :time, next_due = :due, next_date = :day WHERE kind = 'evening'"),
                {
                    "time": f"{now:%H:%M}",
                    "due": f"{now - timedelta(seconds=30):%Y-%m-%d %H:%M:%S.%f}",
                    "day": f"{now:%Y-%m-%d}",
                },
            )
        asyncio.run(_until_woken(tarebook))
        with tarebook.transaction() as conn:
            (row,) = outbox.front(conn, CHANNEL, 10, datetime.now(UTC))
    assert row.kind == "reminder"
    assert row.place == "17"


def test_a_clock_that_is_set_back_stops_no_tick(monkeypatch: pytest.MonkeyPatch) -> None:
    looks: list[datetime] = []

    class Clock(datetime):
        @classmethod
        def now(cls, tz=None):
            return datetime.now(tz) - timedelta(hours=3 * len(looks))

    monkeypatch.setattr(scheduler, "datetime", Clock)
    monkeypatch.setattr(scheduler, "SWEEP_EVERY", 0.01)
    monkeypatch.setattr(Tarebook, "take_due", lambda _tarebook, _channel, now: looks.append(now))

    async def some_ticks(tarebook: Tarebook) -> None:
        stop, database = asyncio.Event(), DatabaseThread()
        running = asyncio.create_task(Scheduler(tarebook, database, asyncio.Event()).run(stop))
        async with asyncio.timeout(PATIENCE):
            while len(looks) < 3:
                await asyncio.sleep(0.01)
        stop.set()
        await running
        database.close()

    with open_tarebook("sqlite://") as tarebook:
        asyncio.run(some_ticks(tarebook))
    assert looks[0] > looks[1] > looks[2]


async def _until_woken(tarebook) -> None:
    wake, stop, database = asyncio.Event(), asyncio.Event(), DatabaseThread()
    running = asyncio.create_task(Scheduler(tarebook, database, wake).run(stop))
    async with asyncio.timeout(PATIENCE):
        await wake.wait()
    stop.set()
    await running
    database.close()
