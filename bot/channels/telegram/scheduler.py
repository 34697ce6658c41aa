"""Triggers the sweep of the schedule. It keeps no state: what is due when is in the database."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Awaitable, Callable
from datetime import UTC, datetime

from bot.app import Tarebook
from bot.channels.telegram import CHANNEL
from bot.channels.telegram.client import DatabaseThread
from bot.channels.telegram.leadership import pause_until
from bot.schedule import sweeping
from bot.store.errors import StoreUnavailable

logger = logging.getLogger(__name__)

SWEEP_EVERY = 20.0
"""Seconds between two sweeps: schedules are precise to the minute."""

RETENTION_EVERY = 6 * 3600.0
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
        ticking = [
            asyncio.create_task(_every(seconds, work, stop))
            for work, seconds in ((self._sweep, SWEEP_EVERY), (self._retain, RETENTION_EVERY))
        ]
        try:
            await stop.wait()
        finally:
            for task in ticking:
                task.cancel()
            await asyncio.gather(*ticking, return_exceptions=True)

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


async def _every(seconds: float, work: Callable[[], Awaitable[None]], stop: asyncio.Event) -> None:
    """Does the work again and again, until `stop`.

    The pauses are the event loop's, which no change of the clock makes longer: after a clock that was ahead is set
    right, a timer that computes its next moment by the clock rests for as long as it was ahead.
    """
    while not stop.is_set():
        await work()
        await pause_until(stop, seconds)
