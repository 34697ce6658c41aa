"""`tarebook serve`: gets updates, handles them and sends replies, in one process, until it is stopped."""

from __future__ import annotations

import asyncio
import contextlib
import logging
import signal
from collections.abc import Awaitable, Callable, Coroutine, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, TypeVar

from telegram.error import InvalidToken, RetryAfter, TelegramError
from tornado.httpserver import HTTPServer

from bot.access import Policy
from bot.app import Tarebook
from bot.channels.telegram import CHANNEL, heartbeat, menus, monitor, polling, webhook
from bot.channels.telegram.client import ALLOWED_UPDATES, Client, DatabaseThread, pause, retry_after
from bot.channels.telegram.intake import ReadAndTake, Reader, Round, keep, take_turn
from bot.channels.telegram.leadership import Leadership, first_of, pause_until
from bot.channels.telegram.monitor import Backlog, Monitor
from bot.channels.telegram.reading import Me
from bot.channels.telegram.scheduler import Scheduler
from bot.channels.telegram.sending import Sender, SendStep
from bot.settings import SettingsError, TelegramSettings
from bot.store.delivery import inbox, outbox
from bot.store.errors import StoreError, StoreGone, StoreUnavailable

T = TypeVar("T")

logger = logging.getLogger(__name__)

HEARTBEAT = 30.0
"""Seconds between two heartbeats."""

HEALTH_LINE = 300.0
"""Seconds between two health lines in the log."""

LOOK_AT_MOST = 2.0
"""Seconds in which the health page is answered, whatever the database does."""

LOOKS = 2.0
"""Seconds between two looks for messages without news of any: another process may have stored something."""

_AT_ONCE = 24
"""How many rows share a commit at the most: what arrives meanwhile waits until they are handled."""


@dataclass(frozen=True, slots=True)
class Serving:
    """How to serve: by polling, or with `webhook_url` (the address that the server is told) on a local port.

    `monitor_port` shows health and metrics to this machine; None for neither.
    """

    webhook_url: str | None = None
    listen: str = "127.0.0.1"
    port: int = 8443
    monitor_port: int | None = None


def run(tarebook: Tarebook, settings: TelegramSettings, serving: Serving) -> None:
    """Serves until SIGTERM or SIGINT, then finishes what it is doing.

    Raises SettingsError when the server does not know the bot, or a webhook has no secret.
    """
    if serving.webhook_url is not None and settings.webhook_secret is None:
        raise SettingsError("A webhook needs a secret, or anybody could send updates: set TAREBOOK_WEBHOOK_SECRET.")
    asyncio.run(_until_signal(tarebook, settings, serving))


async def _until_signal(tarebook: Tarebook, settings: TelegramSettings, serving: Serving) -> None:
    stop = asyncio.Event()
    loop = asyncio.get_running_loop()
    for number in (signal.SIGTERM, signal.SIGINT):
        loop.add_signal_handler(number, stop.set)
    await serve(Service(tarebook, settings, serving, stop))


async def serve(service: Service) -> None:
    """Serves until the service's `stop` is set. SettingsError as in `run`."""
    try:
        await service.run()
    except InvalidToken:
        raise SettingsError("The server does not know this bot: is TAREBOOK_TELEGRAM_TOKEN right?") from None
    except StoreGone as gone:
        rescued = await asyncio.to_thread(service.rescue)
        where = "What it held is lost." if rescued is None else f"What it held is in {rescued}."
        raise StoreGone(f"{gone} {where}") from None
    finally:
        await service.close()


class Service:
    """The tasks of one process, and what they share."""

    def __init__(self, tarebook: Tarebook, settings: TelegramSettings, serving: Serving, stop: asyncio.Event) -> None:
        self.monitor = Monitor()
        self._tarebook = tarebook
        self._settings = settings
        self._serving = serving
        self._stop = stop
        self._database = DatabaseThread()
        self._client = Client(settings)
        self._leadership = Leadership(tarebook, self._database)
        self._sender = Sender(tarebook, self._client, self._database, self.monitor, self._leadership.leads)
        self._news = asyncio.Event()
        self._servers: list[HTTPServer] = []
        self._looking: asyncio.Task[Backlog] | None = None

    async def run(self) -> None:
        """Starts everything, and ends when `stop` is set or a part breaks."""
        self._monitor_page()
        me = await self._introduce()
        if me is None:
            return
        reader = Reader(me, Policy(self._settings.access, frozenset(map(str, self._settings.listed))))
        self._tarebook.editing.add(CHANNEL)
        self._tarebook.link_prefixes[CHANNEL] = f"https://t.me/{me.username}?start="
        logger.info("serving as @%s, %s", me.username, "webhook" if self._serving.webhook_url else "polling")
        parts = [
            self._handle(reader),
            self._leadership.run(self._duties, self._stop),
            self._tell(),
            self._hurry_at_the_end(),
        ]
        if self._serving.webhook_url is not None:
            parts.append(self._listen(self._serving.webhook_url))
        background = asyncio.create_task(menus.publish(self._client))
        try:
            async with asyncio.TaskGroup() as group:
                for part in parts:
                    group.create_task(self._guarded(part))
        except ExceptionGroup as broken:
            raise first_of(broken) from None
        finally:
            background.cancel()
            await asyncio.gather(background, return_exceptions=True)
        logger.info("stopped: %s", self.monitor.health(await self._look()))

    def rescue(self) -> Path | None:
        """Saves what is left of a database whose file is gone. Returns where it is, or None."""
        return self._tarebook.store.rescue(datetime.now(UTC))

    async def close(self) -> None:
        """Closes the connections and ends the database's thread."""
        for server in self._servers:
            server.stop()
            await server.close_all_connections()
        await self._client.close_connections()
        await asyncio.gather(*([self._looking] if self._looking else []), return_exceptions=True)
        self._database.close()

    async def _guarded(self, part: Awaitable[None]) -> None:
        """Stops the other parts when this one ends, so that a failure ends the program in an orderly way."""
        try:
            await part
        finally:
            self._stop.set()
            self._news.set()
            self._sender.wake.set()

    def _duties(self, off: asyncio.Event) -> list[Coroutine[Any, Any, None]]:
        """What only the leader does, until `off`."""
        scheduler = Scheduler(self._tarebook, self._database, self._sender.wake)
        duties = [self._sender.run(off), scheduler.run(off), self._beat(off)]
        if self._serving.webhook_url is None:
            duties.append(self._poll(off))
        return duties

    async def _introduce(self) -> Me | None:
        """Asks the server who this bot is and tells it how to deliver updates, until it answers; None when stopped."""
        url, secret = self._serving.webhook_url, self._settings.webhook_secret
        me = await self._insist(self._client.introduce)
        if url is None:
            agreed = await self._insist(lambda: self._client.delete_webhook(drop_pending_updates=False))
        else:
            agreed = await self._insist(
                lambda: self._client.set_webhook(url, secret_token=secret, allowed_updates=ALLOWED_UPDATES)
            )
        return me if agreed else None

    async def _insist(self, ask: Callable[[], Awaitable[T]]) -> T | None:
        """What the server answers, when it does; None when stopped before."""
        tries = 0
        while not self._stop.is_set():
            try:
                answer = await ask()
                self.monitor.in_touch()
                return answer
            except InvalidToken:
                raise
            except TelegramError as error:
                tries += 1
                self.monitor.trouble("server")
                logger.warning("the server can't be reached (%s), try %d", type(error).__name__, tries)
                wait = retry_after(error).total_seconds() if isinstance(error, RetryAfter) else pause(tries, longest=30)
                await pause_until(self._stop, wait)
        return None

    async def _poll(self, off: asyncio.Event) -> None:
        self.monitor.asking = True
        self.monitor.in_touch()
        try:
            await polling.poll(self._client, lambda updates: self._keep(updates, off), self.monitor, off)
        finally:
            self.monitor.asking = False

    async def _listen(self, url: str) -> None:
        server = webhook.serve(
            url,
            self._settings.webhook_secret or "",
            lambda updates: self._keep(updates, self._stop),
            self.monitor,
            self._serving.listen,
            self._serving.port,
        )
        self._servers.append(server)
        await self._stop.wait()

    async def _keep(self, updates: Sequence[str], stop: asyncio.Event) -> None:
        tries = 0
        while updates:
            try:
                new = await self._database(keep, self._tarebook, self._settings.bot_id, updates, datetime.now(UTC))
                self.monitor.arrived(new)
                self.monitor.database_works("storing")
                self._news.set()
                # Reading it comes before the next request to the server.
                await asyncio.sleep(0)
                return
            except StoreUnavailable as error:
                tries += 1
                self.monitor.database_failed("storing", error.reason)
                logger.warning("%s Updates stay with the server; try %d", error, tries)
                if stop.is_set():
                    raise
                await pause_until(stop, pause(tries, longest=5))

    async def _handle(self, reader: Reader) -> None:
        """Reads what has arrived and handles it, each person's messages in order."""
        tries = 0
        take = ReadAndTake(reader, _AT_ONCE)
        while not self._stop.is_set():
            self._news.clear()
            try:
                busy = await self._round(take)
                self.monitor.database_works("handling")
                tries = 0
            except StoreGone:
                raise
            except StoreError as error:
                tries += 1
                busy = False
                self.monitor.database_failed("handling", getattr(error, "reason", "it rejected the operation"))
                logger.warning("%s Messages wait; try %d", error, tries)
                await pause_until(self._stop, pause(tries, longest=5))
            if not busy:
                with contextlib.suppress(TimeoutError):
                    async with asyncio.timeout(LOOKS):
                        await self._news.wait()

    async def _round(self, take: ReadAndTake) -> bool:
        """One round: the oldest row of some people. Returns whether there was anything to do for this process."""
        done = await self._sender.along(lambda step: _turn(self._tarebook, take, step))
        self.monitor.read(done.unreadable)
        self.monitor.handled(done.handled, done.broken)
        # Sending comes before a look whether there is more to handle.
        await asyncio.sleep(0)
        return done.read > 0 or done.handled > 0 or done.broken > 0

    async def _beat(self, off: asyncio.Event) -> None:
        """Records at intervals that the server was heard from."""
        while not off.is_set():
            if self.monitor.well:
                with contextlib.suppress(StoreUnavailable):
                    await self._database(self._in_touch, datetime.now(UTC))
            await pause_until(off, HEARTBEAT)

    async def _hurry_at_the_end(self) -> None:
        """Keeps another program's lock from delaying the end of this one by the full patience for each transaction."""
        await self._stop.wait()
        self._tarebook.store.hurry()

    async def _tell(self) -> None:
        """Logs the health at intervals."""
        while not self._stop.is_set():
            await pause_until(self._stop, HEALTH_LINE)
            if not self._stop.is_set():
                logger.info("health: %s", self.monitor.health(await self._look()))

    def _in_touch(self, now: datetime) -> None:
        with self._tarebook.transaction() as conn:
            heartbeat.beat(conn, now)

    def _monitor_page(self) -> None:
        if self._serving.monitor_port is not None:
            self._servers.append(monitor.serve(self.monitor, self._look, self._serving.monitor_port))

    async def _look(self) -> Backlog | None:
        """The backlog; None when the database does not tell it at once."""
        # One look for everybody who asks meanwhile: they would queue up behind a database that does not answer.
        if self._looking is None or self._looking.done():
            self._looking = asyncio.create_task(self._database(self._backlog))
            # Somebody has to take its exception, also when nobody waits for it any more.
            self._looking.add_done_callback(lambda look: look.cancelled() or look.exception())
        try:
            async with asyncio.timeout(LOOK_AT_MOST):
                return await asyncio.shield(self._looking)
        except (StoreError, TimeoutError):
            return None

    def _backlog(self) -> Backlog:
        with self._tarebook.transaction() as conn:
            return Backlog(inbox.count(conn, CHANNEL), outbox.count(conn, CHANNEL))


def _turn(tarebook: Tarebook, take: ReadAndTake, step: SendStep) -> tuple[Round, bool]:
    done = take_turn(tarebook, take, step.record, step)
    return done, done.followed
