"""The client of the Bot API, on top of the library's, and how long to wait after its errors."""

from __future__ import annotations

import asyncio
import json
import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from typing import Annotated, Any, Literal, ParamSpec, TypeVar

import httpx
import msgspec
import telegram
from telegram import InlineKeyboardMarkup, InputFile, LinkPreviewOptions, ReplyParameters
from telegram.error import NetworkError, RetryAfter
from telegram.request import HTTPXRequest

from bot.channels.telegram.reading import Me
from bot.settings import TelegramSettings
from bot.store.delivery.outbox import LONGEST_WAIT

# Makes the library return periods as timedelta.
os.environ.setdefault("PTB_TIMEDELTA", "1")

ALLOWED_UPDATES = ("message", "edited_message", "callback_query", "my_chat_member")
"""What the server is asked to deliver; it remembers the last list, so it is set at every start."""

LONG_POLL = 50
"""Seconds for which the server holds a request for updates when there are none; it allows no more."""

CONNECTIONS = 24

THUMB_UP = "\U0001f44d"
"""One of the emoji that every chat allows (core.telegram.org/bots/api#reactiontypeemoji)."""

_NO_PREVIEW = LinkPreviewOptions(is_disabled=True).to_dict()

P = ParamSpec("P")
T = TypeVar("T")
R = TypeVar("R")


class UnreadableAnswer(NetworkError):
    """An answer that is not one of the Bot API, such as a proxy's page: as good as none."""


class _Parameters(msgspec.Struct):
    retry_after: Annotated[float, msgspec.Meta(ge=0)] | None = None
    migrate_to_chat_id: int | None = None


class _Refusal(msgspec.Struct):
    """core.telegram.org/bots/api#making-requests."""

    ok: Literal[False]
    description: str
    parameters: _Parameters = msgspec.field(default_factory=_Parameters)


class Request(HTTPXRequest):
    """The library's requests; answers are checked before the library draws conclusions from their status."""

    async def do_request(self, *args: Any, **kwargs: Any) -> tuple[int, bytes]:
        """The status and the body. Raises UnreadableAnswer, or RetryAfter with a period that has a ceiling."""
        status, body = await super().do_request(*args, **kwargs)
        if 200 <= status < 300:
            return status, body
        try:
            refusal = msgspec.json.decode(body, type=_Refusal)
        except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError):
            raise UnreadableAnswer(f"status {status}, and no answer of the Bot API") from None
        if refusal.parameters.retry_after is not None:
            raise RetryAfter(timedelta(seconds=min(refusal.parameters.retry_after, LONGEST_WAIT.total_seconds())))
        return status, body

    @staticmethod
    def parse_json_payload(payload: bytes) -> dict[str, Any]:
        """The object in the payload. Raises UnreadableAnswer when there is none."""
        # Not by msgspec: people send unpaired surrogates, which it refuses.
        try:
            found = json.loads(payload.decode("utf-8", "replace"))
        except (ValueError, RecursionError):
            raise UnreadableAnswer("the answer is not JSON") from None
        return _as(dict[str, Any], found)


class Client(telegram.Bot):
    """The library's bot, with calls that read no more of an answer than they need.

    A message counts as sent although the library can't parse how the server shows it, and updates are stored before
    they are parsed.
    """

    def __init__(self, settings: TelegramSettings) -> None:
        # One set of certificates for both: loading them takes longer than everything else here.
        shared = {"verify": httpx.create_ssl_context()}
        self._calls = Request(
            connection_pool_size=CONNECTIONS,
            read_timeout=15,
            write_timeout=10,
            connect_timeout=10,
            pool_timeout=30,
            httpx_kwargs=shared,
        )
        self._polls = Request(connection_pool_size=1, connect_timeout=10, pool_timeout=5, httpx_kwargs=shared)
        super().__init__(
            settings.token, f"{settings.api_url}/bot", request=self._calls, get_updates_request=self._polls
        )

    async def close_connections(self) -> None:
        """Closes the connections to the server."""
        await asyncio.gather(self._calls.shutdown(), self._polls.shutdown())

    async def _post(self, *args: Any, **kwargs: Any) -> Any:
        try:
            return await super()._post(*args, **kwargs)
        except KeyError:
            raise UnreadableAnswer("the answer has no result") from None

    async def introduce(self) -> Me:
        """Who this bot is."""
        return _as(Me, await self._post("getMe"))

    async def raw_updates(self, offset: int | None, timeout: float) -> list[str]:
        """The JSON of the next updates; asking with an offset confirms all those before it."""
        asked: dict[str, Any] = {"timeout": int(timeout), "allowed_updates": list(ALLOWED_UPDATES), "limit": 100}
        if offset is not None:
            asked["offset"] = offset
        try:
            found: Any = await self._post("getUpdates", asked, read_timeout=timeout + 15)
            _as(list[_Numbered], found)
            return [json.dumps(update) for update in found]
        except RecursionError:
            raise UnreadableAnswer("updates that are nested too deeply") from None

    async def send_text(
        self, chat_id: int, text: str, buttons: InlineKeyboardMarkup | None, answers: int | None, silent: bool = False
    ) -> int:
        """Sends a message, hanging on the message `answers` where that is still there. Returns its id.

        A `silent` one makes no sound.
        """
        asked: dict[str, Any] = {
            "chat_id": chat_id,
            "text": text,
            "link_preview_options": _NO_PREVIEW,
        }
        if silent:
            asked["disable_notification"] = True
        if buttons is not None:
            asked["reply_markup"] = buttons
        if answers is not None:
            asked["reply_parameters"] = ReplyParameters(answers, allow_sending_without_reply=True)
        return _as(_Sent, await self._post("sendMessage", asked)).message_id

    async def send_picture(self, chat_id: int, png: bytes, caption: str, buttons: InlineKeyboardMarkup | None) -> int:
        """Sends a picture with a text under it, or none. Returns the message's id."""
        asked: dict[str, Any] = {"chat_id": chat_id, "photo": InputFile(png, filename="tarebook.png")}
        if caption:
            asked["caption"] = caption
        if buttons is not None:
            asked["reply_markup"] = buttons
        return _as(_Sent, await self._post("sendPhoto", asked)).message_id

    async def send_file(self, chat_id: int, name: str, content: bytes, caption: str) -> int:
        """Sends a file under that name, with a text under it. Returns the message's id."""
        asked: dict[str, Any] = {"chat_id": chat_id, "document": InputFile(content, filename=name), "caption": caption}
        return _as(_Sent, await self._post("sendDocument", asked, write_timeout=120, read_timeout=120)).message_id

    async def replace(self, chat_id: int, message_id: int, text: str | None) -> None:
        """Takes a message's buttons away, and gives it another text if there is one."""
        asked: dict[str, Any] = {"chat_id": chat_id, "message_id": message_id}
        if text is None:
            await self._post("editMessageReplyMarkup", asked)
        else:
            await self._post("editMessageText", asked | {"text": text})

    async def rewrite(self, chat_id: int, message_id: int, text: str) -> None:
        """Gives a message another text. BadRequest when it has it already, or is gone."""
        asked = {"chat_id": chat_id, "message_id": message_id, "text": text, "link_preview_options": _NO_PREVIEW}
        await self._post("editMessageText", asked)

    async def pin(self, chat_id: int, message_id: int) -> None:
        """Pins a message at the top of its chat, without a sound."""
        await self._post("pinChatMessage", {"chat_id": chat_id, "message_id": message_id, "disable_notification": True})

    async def unpin(self, chat_id: int, message_id: int) -> None:
        """Takes the pin from a message."""
        await self._post("unpinChatMessage", {"chat_id": chat_id, "message_id": message_id})

    async def react(self, chat_id: int, message_id: int) -> None:
        """Puts a thumb up under somebody's message."""
        reaction = [{"type": "emoji", "emoji": THUMB_UP}]
        await self._post("setMessageReaction", {"chat_id": chat_id, "message_id": message_id, "reaction": reaction})


class _Numbered(msgspec.Struct):
    update_id: int


class _Sent(msgspec.Struct):
    message_id: int


def _as(kind: type[T], found: Any) -> T:
    """What the server answered as that type. Raises UnreadableAnswer when it is something else."""
    try:
        return msgspec.convert(found, kind)
    except (msgspec.ValidationError, RecursionError):
        raise UnreadableAnswer(f"the answer is not {kind}") from None


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
