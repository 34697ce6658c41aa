"""A Bot API inside the bot's process: updates in batches, immediate answers, and no server whose time is measured."""

from __future__ import annotations

import asyncio
import json
import time
from collections import deque
from typing import Any

import telegram
from telegram.request import BaseRequest, RequestData

from bot.channels.telegram.client import Client
from bot.channels.telegram.reading import Me
from bot.settings import TelegramSettings

TOKEN = "4200001:AAF_this-token_is-no_secret_at_all_1234"  # noqa: S105 (nobody's)
ME = {"id": 4200001, "is_bot": True, "first_name": "Bench", "username": "bench_bot"}
BATCH = 100

SETTINGS = TelegramSettings(TOKEN, "http://wire", "open", frozenset())


def update(number: int, chat_id: int, text: str, at: float | None = None) -> dict[str, Any]:
    """A message in somebody's private chat, as the server shows it."""
    who = {"id": chat_id, "first_name": f"Person {chat_id}"}
    message = {
        "message_id": number,
        "from": who | {"is_bot": False},
        "chat": who | {"type": "private"},
        "date": int(time.time() if at is None else at),
        "text": text,
    }
    return {"update_id": number, "message": message}


class Wire:
    """What people send waits here until it is confirmed, and each answer is noted with its moment."""

    def __init__(self) -> None:
        self.said_at: dict[int, deque[float]] = {}
        self.waits: list[float] = []
        """Seconds from each message to the answer to it, in the order of the answers."""
        self.calls = 0
        """How many messages the bot has sent."""
        self._queue: deque[tuple[int, dict[str, Any]]] = deque()
        self._news = asyncio.Event()
        self._answered = asyncio.Event()
        # No two have the same numbers: what has a number that came before is not new.
        self._next = time.time_ns() // 1000

    def says(self, chat_id: int, text: str, at: float | None = None) -> None:
        """Somebody sends a message, now or at another moment of their clock."""
        self._queue.append((self._next, update(self._next, chat_id, text, at)))
        self._next += 1
        self.said_at.setdefault(chat_id, deque()).append(time.perf_counter())
        self._news.set()

    async def answered(self, count: int, timeout: float = 600) -> None:
        """Returns when the bot has sent so many messages in all. TimeoutError when it takes too long."""
        async with asyncio.timeout(timeout):
            while self.calls < count:
                self._answered.clear()
                await self._answered.wait()

    async def call(self, method: str, given: dict[str, str]) -> object:
        """What the server says."""
        match method:
            case "getUpdates":
                return await self._updates(int(given.get("offset", 0)), float(given.get("timeout", 0)))
            case "sendMessage":
                return self._sent(int(given["chat_id"]), given["text"])
            case "getMe":
                return ME
            case _:
                return True

    async def _updates(self, offset: int, timeout: float) -> list[dict[str, Any]]:
        while self._queue and self._queue[0][0] < offset:
            self._queue.popleft()
        if not self._queue and timeout:
            self._news.clear()
            try:
                async with asyncio.timeout(timeout):
                    await self._news.wait()
            except TimeoutError:
                pass
        return [update for _, update in list(self._queue)[:BATCH]]

    def _sent(self, chat_id: int, text: str) -> dict[str, Any]:
        self.calls += 1
        waiting = self.said_at.get(chat_id)
        if waiting:
            self.waits.append(time.perf_counter() - waiting.popleft())
        self._answered.set()
        chat = {"id": chat_id, "first_name": f"Person {chat_id}", "type": "private"}
        return {"message_id": 10**17 + self.calls, "from": ME, "date": int(time.time()), "chat": chat, "text": text}


class Request(BaseRequest):
    """The library's transport, without a network."""

    def __init__(self, wire: Wire) -> None:
        self._wire = wire

    @property
    def read_timeout(self) -> float | None:
        """As the library's own transport has it."""
        return 5.0

    async def initialize(self) -> None:
        """Nothing to open."""

    async def shutdown(self) -> None:
        """Nothing to close."""

    async def do_request(
        self, url: str, method: str, request_data: RequestData | None = None, *_: object, **__: object
    ) -> tuple[int, bytes]:
        """The status and the body of the server's answer."""
        given = request_data.json_parameters if request_data else {}
        found = await self._wire.call(url.rpartition("/")[2], given)
        return 200, json.dumps({"ok": True, "result": found}).encode()


class WiredClient(Client):
    """The program's own client on such a transport."""

    def __init__(self, wire: Wire) -> None:
        telegram.Bot.__init__(self, TOKEN, request=Request(wire), get_updates_request=Request(wire))

    async def close_connections(self) -> None:
        """There are none."""

    async def introduce(self) -> Me:
        """Who this bot is."""
        return Me(int(str(ME["id"])), str(ME["username"]))
