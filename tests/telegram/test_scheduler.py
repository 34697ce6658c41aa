"""The clock of `tarebook serve`: APScheduler only ticks."""

import asyncio
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from sqlalchemy import text

from bot.app import open_tarebook
from bot.channels.telegram import CHANNEL
from bot.channels.telegram.client import DatabaseThread
from bot.channels.telegram.scheduler import Scheduler
from bot.store.delivery import outbox
from domain.quantities import Region


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


async def _until_woken(tarebook) -> None:
    wake, stop, database = asyncio.Event(), asyncio.Event(), DatabaseThread()
    running = asyncio.create_task(Scheduler(tarebook, database, wake).run(stop))
    async with asyncio.timeout(10):
        await wake.wait()
    stop.set()
    await running
    database.close()
