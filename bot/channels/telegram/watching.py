"""Several processes on one database: one of them polls, sends and keeps the schedule, until it leaves or dies."""

from __future__ import annotations

import asyncio
import contextlib
import logging
import os
import secrets
from collections.abc import Callable, Coroutine, Sequence
from datetime import UTC, datetime, timedelta
from typing import Any

from bot.app import Tarebook
from bot.channels.telegram import CHANNEL
from bot.channels.telegram.client import DatabaseThread
from bot.store import watch
from bot.store.engine import Connection
from bot.store.errors import StoreError

logger = logging.getLogger(__name__)

LASTS = timedelta(seconds=20)
"""How long after a process has died another takes over."""

RENEWED = 5.0
"""Seconds between two renewals, and between two tries to take over."""

Duties = Callable[[asyncio.Event], Sequence[Coroutine[Any, Any, None]]]
"""What is done during a watch, each until the event is set."""


class Watch:
    """This process's turns at what only one process may do. `holder` names it to the others."""

    def __init__(self, tarebook: Tarebook, database: DatabaseThread) -> None:
        self.holder = f"{os.getpid()}.{secrets.token_hex(8)}"
        self._tarebook = tarebook
        self._database = database

    async def run(self, duties: Duties, stop: asyncio.Event) -> None:
        """Takes the watch whenever it is free, and does the duties during it, until `stop`."""
        while not stop.is_set():
            if await self._try(self._take):
                logger.info("on watch")
                await self._stand(duties, stop)
                logger.info("off watch")
                await self._try(self._give_up)
            else:
                await rest(stop, RENEWED)

    async def _stand(self, duties: Duties, stop: asyncio.Event) -> None:
        off = asyncio.Event()
        try:
            async with asyncio.TaskGroup() as group:
                for duty in duties(off):
                    group.create_task(duty)
                while not stop.is_set() and await self._try(self._renew, unknown=True):
                    await rest(stop, RENEWED)
                off.set()
        except ExceptionGroup as broken:
            raise first_of(broken) from None

    async def _try(self, work: Callable[[Connection], bool], unknown: bool = False) -> bool:
        """What the work gives, or `unknown` while the database is out of reach."""
        try:
            return await self._database(self._in_transaction, work)
        except StoreError:
            logger.warning("the database can't be used; whose watch it is stays open")
            return unknown

    def _in_transaction(self, work: Callable[[Connection], bool]) -> bool:
        with self._tarebook.transaction() as conn:
            return work(conn)

    def _take(self, conn: Connection) -> bool:
        now = datetime.now(UTC)
        before = watch.holder_of(conn, CHANNEL)
        # A file is one machine's, so that it can be seen whether its holder still runs; then nobody has to wait.
        dead = before is not None and not self._tarebook.store.shared and not _runs(before)
        return watch.take(conn, CHANNEL, self.holder, now, now + LASTS, whoever_has_it=dead)

    def _renew(self, conn: Connection) -> bool:
        return watch.renew(conn, CHANNEL, self.holder, datetime.now(UTC) + LASTS)

    def _give_up(self, conn: Connection) -> bool:
        watch.give_up(conn, CHANNEL, self.holder)
        return True


def _runs(holder: str) -> bool:
    """Whether another process of this machine has the holder's process id."""
    process = int(holder.partition(".")[0])
    if process == os.getpid():
        return False
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True


def first_of(broken: BaseExceptionGroup[Exception]) -> Exception:
    """The first of the errors in a group, and in the groups in it."""
    first = broken.exceptions[0]
    return first_of(first) if isinstance(first, BaseExceptionGroup) else first


async def rest(stop: asyncio.Event, seconds: float) -> None:
    """Returns after so many seconds, or when `stop` is set."""
    with contextlib.suppress(TimeoutError):
        async with asyncio.timeout(seconds):
            await stop.wait()
