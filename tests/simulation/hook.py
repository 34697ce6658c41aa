"""The messenger's side of a webhook, and the door at which the processes receive what it posts."""

from __future__ import annotations

import asyncio
import json
import random
from collections.abc import Callable, Coroutine, Sequence
from contextvars import copy_context
from types import SimpleNamespace
from typing import Any

from bot.channels.telegram import webhook
from bot.store.errors import StoreUnavailable

from .clock import HOST
from .network import Network, Server, chat_of
from .plan import Faults

Keep = Callable[[Sequence[str]], Coroutine[Any, Any, None]]

PATIENCE = 30.0
"""Seconds for which the messenger's server waits for an answer."""


class Hook:
    """Posts updates to the processes, each chat's one after the other, until one accepts."""

    def __init__(
        self,
        server: Server,
        network: Network,
        loop: asyncio.AbstractEventLoop,
        faults: Faults,
        chance: random.Random,
    ) -> None:
        self._server, self._network, self._loop = server, network, loop
        self._faults, self._chance = faults, chance
        self._doors: dict[Any, Keep] = {}
        self._busy: set[int] = set()
        self._posting: set[asyncio.Task[None]] = set()

    def serve(self, _url: str, _secret: str, keep: Keep, *_: Any) -> Any:
        """Stands for `bot.channels.telegram.webhook.serve`."""
        process = HOST.get()
        self._doors[process] = keep

        async def closed() -> None:
            self.gone(process)

        return SimpleNamespace(stop=lambda: self.gone(process), close_all_connections=closed)

    def gone(self, process: Any) -> None:
        """The process accepts nothing any more."""
        self._doors.pop(process, None)

    async def run(self) -> None:
        while True:
            update = self._server.next_update(frozenset(self._busy))
            if update is None:
                await self._server.news(1.0)
                continue
            self._busy.add(chat_of(update))
            task = self._loop.create_task(self._insist(update))
            self._posting.add(task)
            task.add_done_callback(self._posting.discard)

    async def _insist(self, update: dict[str, Any]) -> None:
        try:
            while not await self._post(update):
                await asyncio.sleep(self._chance.choice((0.5, 5.0)))
            self._server.confirm(update)
        finally:
            self._busy.discard(chat_of(update))

    async def _post(self, update: dict[str, Any]) -> bool:
        """Whether a process has accepted the update, as far as the server is told."""
        await asyncio.sleep(self._chance.expovariate(20))
        doors = [(process, keep) for process, keep in self._doors.items() if process.alive and not process.stalled]
        if self._network.down or not doors or self._faults.strikes("lost request"):
            return False
        process, keep = self._chance.choice(doors)
        context = copy_context()
        context.run(HOST.set, process)
        accepted = self._loop.create_task(_accepts(keep, json.dumps(update)), context=context)
        done, _ = await asyncio.wait({accepted}, timeout=PATIENCE)
        return bool(done) and accepted.result() and not self._faults.strikes("delivered again")


async def _accepts(keep: Keep, body: str) -> bool:
    """What `bot.channels.telegram.webhook` does with a request."""
    try:
        async with asyncio.timeout(webhook.PATIENCE):
            await keep([body])
    except (TimeoutError, StoreUnavailable):
        return False
    return True
