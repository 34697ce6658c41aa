"""Triggers the sweep of the schedule. It keeps no state: what is due when is in the database."""

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

SWEEP_EVERY = 20
"""Seconds between two sweeps: schedules are precise to the minute."""

RETENTION_EVERY = 6 * 3600
"""Seconds between two runs of retention: retention periods are counted in days."""


class Scheduler:
    """Puts what is due into the outbox, a short transaction at a time, and wakes the sender."""

    def __init__(self, tarebook: Tarebook, database: DatabaseThread, wake: asyncio.Event) -> None:
        self._tarebook = tarebook
        self._database = database
        self._wake = wake
        self._stop = asyncio.Event()

    async def run(self, stop: asyncio.Event) -> None:
        """Sweeps until `stop`; a sweep that is under way ends after its transaction."""
        self._stop = stop
        clock = AsyncIOScheduler(timezone=UTC)
        for work, every in ((self._sweep, SWEEP_EVERY), (self._retain, RETENTION_EVERY)):
            # A late tick is as good as one in time, and one run at a time is enough: no single tick matters.
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

    async def _sweep(self) -> None:
        try:
            while not self._stop.is_set():
                now = datetime.now(UTC)
                taken = await self._database(self._tarebook.take_due, CHANNEL, now)
                if taken is None:
                    return
                self._wake.set()
                # Messages that arrived meanwhile get the database first.
                await asyncio.sleep(sweeping.PAUSE_S)
        except StoreUnavailable as error:
            logger.warning("%s What is due waits for the next sweep", error)
        except Exception as error:
            logger.error("the sweep broke: %s", type(error).__name__)

    async def _retain(self) -> None:
        try:
            await asyncio.to_thread(self._tarebook.apply_retention, datetime.now(UTC))
        except StoreUnavailable as error:
            logger.warning("%s Retention waits for its next run", error)
        except Exception as error:
            logger.error("retention broke: %s", type(error).__name__)
