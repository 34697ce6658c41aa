"""The client of the Bot API, on top of the library's, and how long to wait after its errors."""

from __future__ import annotations

import asyncio
import json
import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from typing import Any, ParamSpec, TypeVar

import httpx
import telegram
from telegram import InlineKeyboardMarkup, InputFile, LinkPreviewOptions, ReplyParameters
from telegram.error import RetryAfter
from telegram.request import HTTPXRequest

from bot.channels.telegram.reading import Me
from bot.settings import TelegramSettings

# Makes the library return periods as timedelta.
os.environ.setdefault("PTB_TIMEDELTA", "1")

ALLOWED_UPDATES = ("message", "edited_message", "callback_query", "my_chat_member")
"""What the server is asked to deliver; it remembers the last list, so it is set at every start."""

LONG_POLL = 50
"""Seconds for which the server holds a request for updates when there are none; it allows no more."""

CONNECTIONS = 24

_NO_PREVIEW = LinkPreviewOptions(is_disabled=True).to_dict()

P = ParamSpec("P")
R = TypeVar("R")


class Client(telegram.Bot):
    """The library's bot, with calls that read no more of an answer than they need.

    A message counts as sent although the library can't parse how the server shows it, and updates are stored before
    they are parsed.
    """

    def __init__(self, settings: TelegramSettings) -> None:
        # One set of certificates for both: loading them takes longer than everything else here.
        shared = {"verify": httpx.create_ssl_context()}
        self._calls = HTTPXRequest(
            connection_pool_size=CONNECTIONS,
            read_timeout=15,
            write_timeout=10,
            connect_timeout=10,
            pool_timeout=30,
            httpx_kwargs=shared,
        )
        self._polls = HTTPXRequest(connection_pool_size=1, connect_timeout=10, pool_timeout=5, httpx_kwargs=shared)
        super().__init__(
            settings.token, f"{settings.api_url}/bot", request=self._calls, get_updates_request=self._polls
        )

    async def close_connections(self) -> None:
        """Closes the connections to the server."""
        await asyncio.gather(self._calls.shutdown(), self._polls.shutdown())

    async def introduce(self) -> Me:
        """Who this bot is."""
        found: Any = await self._post("getMe")
        return Me(int(found["id"]), str(found.get("username", "")))

    async def raw_updates(self, offset: int | None, timeout: float) -> list[str]:
        """The JSON of the next updates; asking with an offset confirms all those before it."""
        asked: dict[str, Any] = {"timeout": int(timeout), "allowed_updates": list(ALLOWED_UPDATES), "limit": 100}
        if offset is not None:
            asked["offset"] = offset
        found: Any = await self._post("getUpdates", asked, read_timeout=timeout + 15)
        return [json.dumps(update) for update in found]

    async def send_text(
        self, chat_id: int, text: str, buttons: InlineKeyboardMarkup | None, answers: int | None
    ) -> int:
        """Sends a message, hanging on the message `answers` where that is still there. Returns its id."""
        asked: dict[str, Any] = {
            "chat_id": chat_id,
            "text": text,
            "link_preview_options": _NO_PREVIEW,
        }
        if buttons is not None:
            asked["reply_markup"] = buttons
        if answers is not None:
            asked["reply_parameters"] = ReplyParameters(answers, allow_sending_without_reply=True)
        found: Any = await self._post("sendMessage", asked)
        return int(found["message_id"])

    async def send_picture(self, chat_id: int, png: bytes, caption: str, buttons: InlineKeyboardMarkup | None) -> int:
        """Sends a picture with a text under it, or none. Returns the message's id."""
        asked: dict[str, Any] = {"chat_id": chat_id, "photo": InputFile(png, filename="tarebook.png")}
        if caption:
            asked["caption"] = caption
        if buttons is not None:
            asked["reply_markup"] = buttons
        found: Any = await self._post("sendPhoto", asked)
        return int(found["message_id"])

    async def send_file(self, chat_id: int, name: str, content: bytes, caption: str) -> int:
        """Sends a file under that name, with a text under it. Returns the message's id."""
        asked: dict[str, Any] = {"chat_id": chat_id, "document": InputFile(content, filename=name), "caption": caption}
        found: Any = await self._post("sendDocument", asked, write_timeout=120, read_timeout=120)
        return int(found["message_id"])

    async def replace(self, chat_id: int, message_id: int, text: str | None) -> None:
        """Takes a message's buttons away, and gives it another text if there is one."""
        asked: dict[str, Any] = {"chat_id": chat_id, "message_id": message_id}
        if text is None:
            await self._post("editMessageReplyMarkup", asked)
        else:
            await self._post("editMessageText", asked | {"text": text})


def pause(tries: int, longest: float = 60.0) -> float:
    """Seconds to wait after so many failures in a row: half a second, doubling, up to `longest`."""
    return float(min(longest, 0.5 * 2 ** min(tries - 1, 16)))


def retry_after(error: RetryAfter) -> timedelta:
    """How long the server wants to be left alone."""
    period = error.retry_after
    return period if isinstance(period, timedelta) else timedelta(seconds=period)


class DatabaseThread:
    """Runs the database's work in a thread of its own, in order, so that it does not block the event loop."""

    def __init__(self) -> None:
        self._pool = ThreadPoolExecutor(max_workers=1, thread_name_prefix="database")

    async def __call__(self, work: Callable[P, R], *args: P.args, **kwargs: P.kwargs) -> R:
        """What the work returns or raises."""
        loop = asyncio.get_running_loop()
        return await loop.run_in_executor(self._pool, lambda: work(*args, **kwargs))

    def close(self) -> None:
        """Waits for what is being done."""
        self._pool.shutdown(wait=True)
