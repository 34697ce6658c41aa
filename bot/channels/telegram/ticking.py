"""Ticks the sweep of the schedule: a clock that remembers nothing, since what is due when stands in the database."""

from __future__ import annotations

import asyncio
import logging
from datetime import UTC, datetime

from apscheduler.schedulers.asyncio import AsyncIOScheduler

from bot.app import Tarebook
from bot.channels.telegram import CHANNEL
from bot.channels.telegram.client import DatabaseThread
from bot.schedule import sweeping
from bot.store.errors import StoreUnavailable

logger = logging.getLogger(__name__)

EVERY = 20
"""Seconds between two looks at the schedule: reminders are told to the minute."""

TIDY_EVERY = 6 * 3600
"""Seconds between two looks at what is kept for a time only, which is told in days."""


class Ticker:
    """Puts what is due into the outbox, a short transaction at a time, and says so to the sender."""

    def __init__(self, tarebook: Tarebook, database: DatabaseThread, wake: asyncio.Event) -> None:
        self._tarebook = tarebook
        self._database = database
        self._wake = wake
        self._stop = asyncio.Event()

    async def run(self, stop: asyncio.Event) -> None:
        """Ticks until `stop`; a sweep that is under way ends after its transaction."""
        self._stop = stop
        clock = AsyncIOScheduler(timezone=UTC)
        for work, every in ((self._tick, EVERY), (self._tidy, TIDY_EVERY)):
            # A tick that comes late is as good as one in time, and one at a time is enough: nothing hangs on single
            # ticks.
            clock.add_job(
                work,
                "interval",
                seconds=every,
                coalesce=True,
                max_instances=1,
                misfire_grace_time=None,
                next_run_time=datetime.now(UTC),
            )
        clock.start()
        try:
            await stop.wait()
        finally:
            clock.shutdown(wait=False)

    async def _tick(self) -> None:
        try:
            while not self._stop.is_set():
                now = datetime.now(UTC)
                taken = await self._database(self._tarebook.take_due, CHANNEL, now)
                if taken is None:
                    return
                self._wake.set()
                # Messages that came meanwhile get the database first.
                await asyncio.sleep(sweeping.BREATH_S)
        except StoreUnavailable:
            logger.warning("the schedule can't be looked at now; what is due waits for the next look")
        except Exception as error:
            logger.error("the sweep broke: %s", type(error).__name__)

    async def _tidy(self) -> None:
        try:
            await asyncio.to_thread(self._tarebook.tidy, datetime.now(UTC))
        except StoreUnavailable:
            logger.warning("what is kept for a time only can't be looked at now; it waits for the next look")
        except Exception as error:
            logger.error("tidying broke: %s", type(error).__name__)
