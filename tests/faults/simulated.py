"""An hour in a second: the bot on a clock that jumps to the next moment at which something happens."""

from __future__ import annotations

import asyncio
import json
from collections import defaultdict
from collections.abc import Callable, Coroutine
from datetime import UTC, datetime, timedelta
from types import SimpleNamespace
from typing import Any, ParamSpec, TypeVar

import pytest
from telegram.error import NetworkError

from bot.channels.telegram import leadership, monitor, polling, scheduler, sending, serving
from bot.channels.telegram.reading import Me
from tests.simulation.clock import VirtualLoop
from tests.telegram.loopback import BOT_ID, USERNAME

START = datetime(2026, 3, 2, 12, tzinfo=UTC)

P = ParamSpec("P")
R = TypeVar("R")


class _Inline:
    """The database's work, done at once: a thread would live in real time."""

    async def __call__(self, work: Callable[P, R], *args: P.args, **kwargs: P.kwargs) -> R:
        return work(*args, **kwargs)

    def close(self) -> None:
        """Nothing to wait for."""


class Far:
    """The messenger's server, as the bot's client sees it and as people do."""

    def __init__(self, loop: asyncio.AbstractEventLoop) -> None:
        self.down = False
        self.goes_down = False
        """Whether it goes down as soon as it has handed out updates, so that their answers find nobody."""
        self.tries = 0
        """Calls that failed."""
        self.heard: dict[int, list[tuple[float, str]]] = defaultdict(list)
        self._loop = loop
        self._queue: list[dict[str, Any]] = []
        self._next = 1
        self._messages = 0

    def message_id(self, _chat_id: int) -> int:
        self._messages += 1
        return self._messages

    def deliver(self, kind: str, content: dict[str, Any], _chat_id: int) -> None:
        self._queue.append({"update_id": self._next, kind: content})
        self._next += 1

    async def _reach(self) -> None:
        if self.down:
            self.tries += 1
            await asyncio.sleep(0.1)
            raise NetworkError("no route to host")

    async def introduce(self) -> Me:
        await self._reach()
        return Me(BOT_ID, USERNAME)

    async def delete_webhook(self, **_: object) -> bool:
        await self._reach()
        return True

    async def set_my_commands(self, *_: object, **__: object) -> bool:
        await self._reach()
        return True

    async def raw_updates(self, offset: int | None, timeout: float) -> list[str]:
        end = self._loop.time() + timeout
        while True:
            await self._reach()
            self._queue = [update for update in self._queue if update["update_id"] >= (offset or 0)]
            if self._queue or self._loop.time() >= end:
                self.down = self.goes_down and bool(self._queue)
                return [json.dumps(update) for update in self._queue[:100]]
            await asyncio.sleep(2)

    async def send_text(self, chat_id: int, text: str, *_: object) -> int:
        await self._reach()
        self.heard[chat_id].append((self._loop.time(), text))
        return self.message_id(chat_id)

    async def close_connections(self) -> None:
        """Nothing to let go of."""


def run(work: Callable[[Far], Coroutine[Any, Any, None]], patch: pytest.MonkeyPatch) -> None:
    """Runs something with the bot's modules on the simulated clock."""
    loop = VirtualLoop()

    class Clock(datetime):
        @classmethod
        def now(cls, tz: Any = None) -> datetime:  # type: ignore[override]
            return START + timedelta(seconds=loop.time())

    far = Far(loop)
    for module in (serving, sending, leadership, scheduler):
        patch.setattr(module, "datetime", Clock)
    for counting in (polling, monitor, leadership):
        patch.setattr(counting, "time", SimpleNamespace(monotonic=loop.time))
    # Nobody but this process puts anything into the outbox, and every look takes real time.
    patch.setattr(sending, "LOOKS", 10.0)
    patch.setattr(serving, "DatabaseThread", _Inline)
    patch.setattr(serving, "Client", lambda _settings: far)
    try:
        loop.run_until_complete(work(far))
    finally:
        loop.close()
