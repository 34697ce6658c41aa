"""The messenger's server, and the network between it and the processes."""

from __future__ import annotations

import asyncio
import json
import random
from collections.abc import Callable
from contextvars import Context, ContextVar
from dataclasses import dataclass, field
from typing import Any

from telegram.error import NetworkError, TimedOut

from bot.store.delivery.outbox import OutboxRow
from tests.telegram.botapi import Refused
from tests.telegram.loopback import Loopback

from .clock import HOST
from .plan import Faults

ROW: ContextVar[OutboxRow | None] = ContextVar("ROW", default=None)
"""The outbox row that is being sent."""

CHANGING = frozenset({"sendMessage", "sendPhoto", "sendDocument"})
"""Methods that show something to people."""

PROXY_PAGE = b"<html><body>502 Bad Gateway</body></html>"


@dataclass(eq=False)
class Effect:
    """Something that was sent and has arrived."""

    row: OutboxRow
    host: Any
    chat_id: int
    text: str
    at: float
    answered: bool = False
    """Whether the process has been told."""
    garbled: bool = False
    """Whether the answer can't be read."""
    over: bool = False
    """Whether the process no longer waits for an answer."""


@dataclass
class Hooks:
    """Who is told what happens at the server."""

    confirmed: Callable[[dict[str, Any]], None]
    arrived: Callable[[Effect], None]
    asked: Callable[[str, int | None, Any], None]
    put_off: Callable[[int, Any, float], None]


class Server(Loopback):
    """The messenger's server on virtual time. What has been confirmed it never delivers again."""

    def __init__(self, loop: asyncio.AbstractEventLoop, chance: random.Random, faults: Faults) -> None:
        super().__init__(shuffle=chance)
        self.hooks: Hooks
        self.renumbered: set[int] = set()
        """Chats of which an update was delivered again under another number."""
        self._virtual = loop
        self._chance = chance
        self._faults = faults
        self._news = asyncio.Event()

    def deliver(self, kind: str, content: dict[str, Any], chat_id: int) -> None:
        super().deliver(kind, content, chat_id)
        self._news.set()

    def next_update(self, busy: frozenset[int]) -> dict[str, Any] | None:
        """The first update of a chat that is not busy, for a webhook."""
        self._release()
        return next((update for update in self.queue if chat_of(update) not in busy), None)

    def confirm(self, update: dict[str, Any]) -> None:
        """Forgets an update that has been accepted."""
        self.queue.remove(update)
        self.hooks.confirmed(update)
        if self._faults.strikes("numbered anew"):
            kind, content = next((k, v) for k, v in update.items() if k != "update_id")
            self.renumbered.add(int(content.get("chat", {"id": 0})["id"]))
            self.queue.append({"update_id": self._next_update, kind: content})
            self._next_update += 1

    async def news(self, seconds: float) -> None:
        """Returns when there is something new, or after so many seconds."""
        self._news.clear()
        try:
            async with asyncio.timeout(seconds):
                await self._news.wait()
        except TimeoutError:
            return

    async def _getUpdates(
        self, offset: int = 0, limit: int = 100, timeout: int = 0, allowed_updates: list[str] | None = None
    ) -> list[dict[str, Any]]:
        if self.webhook:
            raise Refused(409, "Conflict: can't use getUpdates method while webhook is active")
        self._polls += 1
        mine = self._polls
        self._news.set()
        end = self._virtual.time() + timeout
        while True:
            self._release()
            for update in [update for update in self.queue if update["update_id"] < offset]:
                self.confirm(update)
            if self.queue or self._virtual.time() >= end:
                return self.queue[: self._chance.randint(1, limit)]
            await self.news(end - self._virtual.time())
            if mine != self._polls:
                raise Refused(409, "Conflict: terminated by other getUpdates request")


def chat_of(update: dict[str, Any]) -> int:
    """Where an update comes from; one that can't be read comes from a place of its own."""
    content = next(value for key, value in update.items() if key != "update_id")
    chat = content.get("chat") or content.get("message", {}).get("chat") or {"id": 0}
    return int(chat["id"])


@dataclass
class Network:
    """Carries the calls of the processes to the server, or does not."""

    server: Server
    loop: asyncio.AbstractEventLoop
    world: Context
    faults: Faults
    chance: random.Random
    down: bool = False
    effects: list[Effect] = field(default_factory=list)

    async def call(self, method: str, given: dict[str, str], files: dict[str, bytes], patience: float) -> Any:
        """(status, body) of an answer. NetworkError and TimedOut as the bot library's client raises them."""
        host = HOST.get()
        effects: list[Effect] = []
        row = ROW.get()
        carried = self.loop.create_task(self._carry(host, row, method, given, files, effects), context=self.world)
        carried.add_done_callback(lambda task: task.cancelled() or task.exception())
        try:
            async with asyncio.timeout(patience):
                status, body = await asyncio.shield(carried)
        except TimeoutError:
            raise TimedOut from None
        finally:
            for effect in effects:
                effect.over = True
        for effect in effects:
            effect.answered = not effect.garbled
        return status, body

    async def _carry(
        self,
        host: Any,
        row: OutboxRow | None,
        method: str,
        given: dict[str, str],
        files: dict[str, bytes],
        effects: list[Effect],
    ) -> tuple[int, bytes]:
        await asyncio.sleep(self.chance.expovariate(20))
        if self.down or self.faults.strikes("lost request"):
            await asyncio.sleep(self.chance.choice((0.1, 5.0)))
            raise NetworkError("httpx.ConnectError")
        chat_id = int(given["chat_id"]) if method in CHANGING else None
        self.server.hooks.asked(method, chat_id, host)
        if (refusal := self._refuses(chat_id, host)) is not None:
            return refusal
        try:
            result = await self.server.call(method, given, files)
        except Refused as refused:
            return refused.code, _refusal(refused.code, refused.description, refused.parameters)
        if row is not None and chat_id is not None:
            effect = Effect(row, host, chat_id, given.get("text") or given.get("caption", ""), self.loop.time())
            self.server.hooks.arrived(effect)
            self.effects.append(effect)
            effects.append(effect)
            if self.faults.strikes("killed while sending"):
                host.die()
        if self.faults.strikes("lost answer"):
            await asyncio.sleep(self.chance.choice((0.1, 60.0)))
            raise NetworkError("httpx.ReadError")
        if self.faults.strikes("slow answer"):
            await asyncio.sleep(self.chance.choice((1.0, 10.0, 30.0)))
        await asyncio.sleep(self.chance.expovariate(20))
        body = json.dumps({"ok": True, "result": result}).encode()
        if self.faults.strikes("garbled"):
            for effect in effects:
                effect.garbled = True
            return 200, body[: len(body) // 2]
        return 200, body

    def _refuses(self, chat_id: int | None, host: Any) -> tuple[int, bytes] | None:
        """(status, body) of an answer that says no, or says nothing that can be read; None when there is none."""
        if self.faults.strikes("too many requests"):
            wait = self.chance.randint(1, 40)
            if chat_id is not None:
                self.server.hooks.put_off(chat_id, host, wait)
            return 429, _refusal(429, "Too Many Requests: retry later", {"retry_after": wait})
        if self.faults.strikes("server error"):
            return 500, _refusal(500, "Internal Server Error")
        if self.faults.strikes("proxy page"):
            return self.chance.choice((200, 502)), PROXY_PAGE
        return None


def _refusal(code: int, description: str, more: dict[str, float] | None = None) -> bytes:
    found: dict[str, Any] = {"ok": False, "error_code": code, "description": description}
    return json.dumps(found | ({"parameters": more} if more else {})).encode()
