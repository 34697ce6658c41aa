"""Long polling: updates are confirmed only once they are stored."""

from __future__ import annotations

import asyncio
import json
import logging
import time
from collections.abc import Awaitable, Callable, Sequence
from datetime import timedelta
from typing import TypeVar

from telegram.error import Conflict, InvalidToken, RetryAfter, TelegramError

from bot.channels.telegram.client import LONG_POLL, Client, pause, retry_after
from bot.channels.telegram.monitor import Monitor
from bot.store.errors import StoreUnavailable

logger = logging.getLogger(__name__)

AFTER_CONFLICT = timedelta(seconds=10)

AT_LEAST = 0.5
"""Seconds between two requests when there is nothing new."""

Keep = Callable[[Sequence[str]], Awaitable[None]]
"""Stores updates; returns only when they are safe. StoreUnavailable when that can't be had before the end."""

T = TypeVar("T")


async def poll(client: Client, keep: Keep, monitor: Monitor, stop: asyncio.Event) -> None:
    """Fetches updates until `stop`. Raises InvalidToken when the server does not know the bot."""
    # The server knows what it has to deliver; a stored offset would be a second source of truth, and could be wrong.
    offset: int | None = None
    failures = 0
    while not stop.is_set():
        asked = time.monotonic()
        try:
            updates = await _unless(stop, client.raw_updates(offset, LONG_POLL))
        except InvalidToken:
            raise
        except (TelegramError, ValueError) as error:
            failures += 1
            await _wait_after(error, failures, client, monitor, stop)
            continue
        if updates is None:
            return
        failures = 0
        monitor.in_touch()
        try:
            await keep(updates)
        except StoreUnavailable:
            return
        # Numbering may restart after a quiet week, so the offset is dropped as soon as everything is confirmed.
        offset = max((_number(update) for update in updates), default=None)
        if not updates and time.monotonic() - asked < AT_LEAST:
            # A server that does not hold the request must not be asked without a pause.
            await _unless(stop, asyncio.sleep(AT_LEAST))


def _number(update: str) -> int:
    return int(json.loads(update)["update_id"]) + 1


async def _wait_after(error: Exception, failures: int, client: Client, monitor: Monitor, stop: asyncio.Event) -> None:
    monitor.trouble("server")
    seconds = pause(failures, longest=30)
    if isinstance(error, RetryAfter):
        seconds = retry_after(error).total_seconds()
    elif isinstance(error, Conflict):
        logger.error("somebody else asks for this bot's updates, or they go to a webhook; trying again")
        seconds = AFTER_CONFLICT.total_seconds()
    elif failures in (1, 5) or failures % 20 == 0:
        logger.warning("the server can't be reached (%s), try %d", type(error).__name__, failures)
    await _unless(stop, asyncio.sleep(seconds))


async def _unless(stop: asyncio.Event, work: Awaitable[T]) -> T | None:
    """What the work returns, or None when `stop` comes first and the work is cancelled."""
    task = asyncio.ensure_future(work)
    stopped = asyncio.ensure_future(stop.wait())
    try:
        await asyncio.wait({task, stopped}, return_when=asyncio.FIRST_COMPLETED)
        return task.result() if task.done() else None
    finally:
        stopped.cancel()
        if not task.done():
            task.cancel()
            await asyncio.gather(task, return_exceptions=True)
