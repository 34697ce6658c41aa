"""Several processes on one database: the one that holds the lease polls, sends and keeps the schedule."""

from __future__ import annotations

import asyncio
import contextlib
import logging
import os
import secrets
import time
from collections.abc import Callable, Coroutine, Sequence
from datetime import UTC, datetime, timedelta
from typing import Any

from bot.app import Tarebook
from bot.channels.telegram import CHANNEL
from bot.channels.telegram.client import DatabaseThread
from bot.store.delivery import lease
from bot.store.engine import Connection
from bot.store.errors import StoreError, StoreGone

logger = logging.getLogger(__name__)

TERM = timedelta(seconds=20)
"""How long a lease lasts unless renewed: after that another process takes over from one that died."""

RENEWED = 5.0
"""Seconds between two renewals, and between two attempts to take the lease."""

Duties = Callable[[asyncio.Event], Sequence[Coroutine[Any, Any, None]]]
"""What the leader does, each until the event is set."""


class Leadership:
    """This process's part in electing a leader."""

    def __init__(self, tarebook: Tarebook, database: DatabaseThread) -> None:
        self._holder = f"{os.getpid()}.{secrets.token_hex(8)}"
        self._tarebook = tarebook
        self._database = database
        self._seen: tuple[lease.Held, float] | None = None
        """Another's lease, and the moment on this process's stopwatch since which it has not changed."""

    async def run(self, duties: Duties, stop: asyncio.Event) -> None:
        """Takes the lease whenever it is free and does the duties while it holds it, until `stop`."""
        while not stop.is_set():
            if await self._try(self._take):
                logger.info("leading")
                await self._lead(duties, stop)
                logger.info("not leading any more")
                await self._try(self._release)
            else:
                await pause_until(stop, RENEWED)

    def leads(self, conn: Connection) -> bool:
        """Whether this process holds the lease, and keeps it for half a term at least.

        A lease of which less is left is renewed first, as when the database was out of reach for a while: another
        process would take over in the middle of what this one begins now.
        """
        half = datetime.now(UTC) + TERM / 2
        return lease.holds(conn, CHANNEL, self._holder, half) or self._renew(conn)

    async def _lead(self, duties: Duties, stop: asyncio.Event) -> None:
        off = asyncio.Event()
        try:
            async with asyncio.TaskGroup() as group:
                for duty in duties(off):
                    group.create_task(duty)
                while not stop.is_set() and await self._try(self._renew, unknown=True):
                    await pause_until(stop, RENEWED)
                off.set()
        except ExceptionGroup as broken:
            raise first_of(broken) from None

    async def _try(self, work: Callable[[Connection], bool], unknown: bool = False) -> bool:
        """What the work gives, or `unknown` while the database can't be used."""
        try:
            return await self._database(self._in_transaction, work)
        except StoreGone:
            raise
        except StoreError as error:
            logger.warning("%s It is unknown who holds the lease", error)
            return unknown

    def _in_transaction(self, work: Callable[[Connection], bool]) -> bool:
        with self._tarebook.transaction() as conn:
            return work(conn)

    def _take(self, conn: Connection) -> bool:
        now = datetime.now(UTC)
        before = lease.held(conn, CHANNEL)
        abandoned = before is not None and (self._unrenewed(before) or self._is_dead(before))
        return lease.take(conn, CHANNEL, self._holder, now, now + TERM, abandoned=before if abandoned else None)

    def _unrenewed(self, held: lease.Held) -> bool:
        """Whether this process has seen the lease unchanged for a term: a clock that was set back, here or where its
        holder ran, can make it expire hours late.
        """
        moment = time.monotonic()
        if self._seen is None or self._seen[0] != held:
            self._seen = (held, moment)
        return moment - self._seen[1] > TERM.total_seconds()

    def _is_dead(self, held: lease.Held) -> bool:
        # A file belongs to one machine, where it can be seen whether the holder still runs; then there is no wait.
        return not self._tarebook.store.shared and not _runs(held.holder)

    def _renew(self, conn: Connection) -> bool:
        return lease.renew(conn, CHANNEL, self._holder, datetime.now(UTC) + TERM)

    def _release(self, conn: Connection) -> bool:
        lease.release(conn, CHANNEL, self._holder)
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
    """The first exception of a group, searched through nested groups."""
    first = broken.exceptions[0]
    return first_of(first) if isinstance(first, BaseExceptionGroup) else first


async def pause_until(stop: asyncio.Event, seconds: float) -> None:
    """Returns after so many seconds, or when `stop` is set."""
    with contextlib.suppress(TimeoutError):
        async with asyncio.timeout(seconds):
            await stop.wait()
