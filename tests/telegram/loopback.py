"""A Bot API server on this machine, for tests: written from the public description, never talked to by anybody else.

It keeps updates until they are confirmed, delivers them again until then, and can be told to fail. What a bot should
not have sent is collected in `complaints`.
"""

from __future__ import annotations

import asyncio
import random
import threading
import time
from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, TypeVar

import tornado.web
from tornado.httpserver import HTTPServer
from tornado.netutil import bind_sockets

from .botapi import METHODS, Refused, parameters, units

TOKEN = "4200001:AAF_this-token_is-no_secret_at_all_1234"
BOT_ID = 4200001
USERNAME = "tarebook_test_bot"

PATIENCE = 60.0
"""Seconds until a test gives up; it waits no longer than it has to, and a busy machine is slow."""

R = TypeVar("R")


@dataclass
class Sent:
    """A message of the bot's as it stands now."""

    chat_id: int
    message_id: int
    text: str
    buttons: list[tuple[str, str]] = field(default_factory=list)
    replies_to: int | None = None
    edited: int = 0
    photo: bytes | None = None
    """The picture; `text` is then what stands under it."""
    document: bytes | None = None
    """The file; `text` is then what stands under it."""
    silent: bool = False
    fixed: bool = False
    """Whether the server says that it can't be edited."""


@dataclass
class Fault:
    """What befalls the next calls of a method: an answer with an error, or none at all."""

    method: str
    times: int
    status: int = 0
    retry_after: float = 0
    chat_id: int | None = None
    done_anyway: bool = False
    """Whether the call takes effect although the bot is not told so."""
    body: bytes | None = None
    """What is answered instead of JSON; with the status, or 200 without one."""


class Garbled(Exception):
    """An answer that no Bot API gives."""

    def __init__(self, status: int, body: bytes) -> None:
        super().__init__()
        self.status, self.body = status, body


class Loopback:
    """The server's state. Every method may be called from any thread."""

    def __init__(self, shuffle: random.Random | None = None) -> None:
        self.lock = threading.RLock()
        self.queue: list[dict[str, Any]] = []
        self.sent: dict[int, list[Sent]] = defaultdict(list)
        self.pinned: dict[int, list[int]] = defaultdict(list)
        """The pinned messages of each chat, the newest last."""
        self.reactions: dict[tuple[int, int], str] = {}
        """By chat and message, which need not be the bot's."""
        self.answered: dict[str, str] = {}
        self.alerted: set[str] = set()
        self.commands: dict[tuple[str, str], list[str]] = {}
        self.calls: list[tuple[str, dict[str, Any]]] = []
        self.complaints: list[str] = []
        self.faults: list[Fault] = []
        self.blocked: set[int] = set()
        self.migrated: dict[int, int] = {}
        self.webhook: dict[str, Any] = {}
        self.delivered = 0
        self.url = ""
        self._held: dict[int, list[dict[str, Any]]] = defaultdict(list)
        self._shuffle = shuffle
        self._next_update = 700_000
        self._next_message: dict[int, int] = defaultdict(lambda: 1)
        self._polls = 0
        self._taps: set[str] = set()
        self._changed: asyncio.Event | None = None
        self._loop: asyncio.AbstractEventLoop | None = None

    # What people do.

    def deliver(self, kind: str, content: dict[str, Any], chat_id: int) -> None:
        """Queues an update; with `shuffle` it may overtake those of other chats, never one of its own."""
        with self.lock:
            self._held[chat_id].append({kind: content})
            if self._shuffle is None:
                self._release()
        self._wake()

    def message_id(self, chat_id: int) -> int:
        """A new message's id; they count up within a chat."""
        with self.lock:
            number = self._next_message[chat_id]
            self._next_message[chat_id] += 1
            return number

    def tap(self, query: dict[str, Any], chat_id: int) -> None:
        """Queues a press of a button."""
        with self.lock:
            self._taps.add(query["id"])
        self.deliver("callback_query", query, chat_id)

    def fail(self, method: str, times: int, status: int = 0, **details: Any) -> None:
        """The next calls of the method fail so often: with a status, or (0) with a connection that just ends."""
        with self.lock:
            self.faults.append(Fault(method, times, status, **details))

    def well_again(self) -> None:
        with self.lock:
            self.faults.clear()

    def until(self, look: Callable[[], R], timeout: float = PATIENCE) -> R:
        """Waits until something is true, and gives it. AssertionError when it takes too long."""
        end = time.monotonic() + timeout
        while True:
            with self.lock:
                found = look()
            if found:
                return found
            assert time.monotonic() < end, f"it did not happen; complaints: {self.complaints}"
            time.sleep(0.005)

    @property
    def idle(self) -> bool:
        """Whether every update is confirmed."""
        return not self.queue and not any(self._held.values())

    # What the bot does.

    async def call(self, method: str, given: dict[str, str], files: dict[str, bytes]) -> Any:
        """The result of a call. Refused when the server says no, ConnectionError when it says nothing."""
        if method not in METHODS:
            self.complaints.append(f"no method {method}")
            raise Refused(404, "Not Found")
        try:
            found = parameters(method, given, files)
        except (AssertionError, ValueError) as wrong:
            self.complaints.append(f"{method}: {wrong}")
            raise Refused(400, f"Bad Request: {wrong}") from None
        with self.lock:
            self.calls.append((method, found))
            fault = self._fault(method, found)
        if fault is not None:
            if fault.done_anyway:
                await getattr(self, f"_{method}")(**found)
            if fault.body is not None:
                raise Garbled(fault.status or 200, fault.body)
            if not fault.status:
                raise ConnectionError
            more = {"retry_after": fault.retry_after} if fault.retry_after else {}
            raise Refused(fault.status, "Too Many Requests" if fault.status == 429 else "scripted", **more)
        return await getattr(self, f"_{method}")(**found)

    def _fault(self, method: str, given: dict[str, Any]) -> Fault | None:
        for fault in self.faults:
            hits = fault.method in (method, "*") and fault.chat_id in (None, given.get("chat_id"))
            if hits and fault.times > 0:
                fault.times -= 1
                return fault
        return None

    async def _getMe(self) -> dict[str, Any]:
        return {"id": BOT_ID, "is_bot": True, "first_name": "Tarebook", "username": USERNAME}

    async def _getUpdates(
        self, offset: int = 0, limit: int = 100, timeout: int = 0, allowed_updates: list[str] | None = None
    ) -> list[dict[str, Any]]:
        if self.webhook:
            raise Refused(409, "Conflict: can't use getUpdates method while webhook is active")
        self._polls += 1
        mine = self._polls
        self._wake()
        end = time.monotonic() + timeout
        while True:
            with self.lock:
                self._release()
                # An update is confirmed as soon as getUpdates is called with an offset higher than its id.
                self.queue = [update for update in self.queue if update["update_id"] >= offset]
                found = self.queue[:limit]
                self.delivered += len(found)
            if found or time.monotonic() >= end:
                return found
            await self._changes(end - time.monotonic())
            if mine != self._polls:
                raise Refused(409, "Conflict: terminated by other getUpdates request")

    async def _setWebhook(self, url: str, **others: Any) -> bool:
        self.webhook = {"url": url, **others} if url else {}
        return True

    async def _deleteWebhook(self, drop_pending_updates: bool = False) -> bool:
        self.webhook = {}
        return True

    async def _setMyCommands(
        self, commands: list[dict[str, str]], scope: dict[str, str] | None = None, language_code: str = ""
    ) -> bool:
        names = [command["command"] for command in commands]
        self.commands[(scope or {"type": "default"})["type"], language_code] = names
        return True

    async def _sendMessage(
        self, chat_id: int, text: str, reply_markup: Any = None, reply_parameters: Any = None, **others: Any
    ) -> dict[str, Any]:
        self._reachable(chat_id)
        self._check_text(text)
        with self.lock:
            message = Sent(chat_id, self.message_id(chat_id), text, _buttons(reply_markup))
            message.silent = bool(others.get("disable_notification"))
            if reply_parameters:
                message.replies_to = reply_parameters["message_id"]
            self.sent[chat_id].append(message)
        return self.as_message(message)

    async def _sendPhoto(
        self, chat_id: int, photo: bytes, caption: str = "", reply_markup: Any = None, **others: Any
    ) -> dict[str, Any]:
        self._reachable(chat_id)
        with self.lock:
            message = Sent(chat_id, self.message_id(chat_id), caption, _buttons(reply_markup), photo=photo)
            self.sent[chat_id].append(message)
        return self.as_message(message)

    async def _sendDocument(
        self, chat_id: int, document: bytes, caption: str = "", reply_markup: Any = None, **others: Any
    ) -> dict[str, Any]:
        self._reachable(chat_id)
        with self.lock:
            message = Sent(chat_id, self.message_id(chat_id), caption, _buttons(reply_markup), document=document)
            self.sent[chat_id].append(message)
        return self.as_message(message)

    async def _editMessageText(
        self, text: str, chat_id: int, message_id: int, reply_markup: Any = None, **others: Any
    ) -> dict[str, Any]:
        self._check_text(text)
        return self._edit(chat_id, message_id, text, reply_markup)

    async def _editMessageReplyMarkup(self, chat_id: int, message_id: int, reply_markup: Any = None) -> dict[str, Any]:
        return self._edit(chat_id, message_id, None, reply_markup)

    async def _pinChatMessage(self, chat_id: int, message_id: int, **others: Any) -> bool:
        self._reachable(chat_id)
        with self.lock:
            if all(each.message_id != message_id for each in self.sent[chat_id]):
                raise Refused(400, "Bad Request: message to pin not found")
            if message_id not in self.pinned[chat_id]:
                self.pinned[chat_id].append(message_id)
        return True

    async def _unpinChatMessage(self, chat_id: int, message_id: int = 0, **others: Any) -> bool:
        self._reachable(chat_id)
        with self.lock:
            if message_id not in self.pinned[chat_id]:
                raise Refused(400, "Bad Request: message to unpin not found")
            self.pinned[chat_id].remove(message_id)
        return True

    async def _setMessageReaction(self, chat_id: int, message_id: int, reaction: list[dict[str, str]]) -> bool:
        self._reachable(chat_id)
        with self.lock:
            self.reactions[chat_id, message_id] = reaction[0]["emoji"]
        return True

    async def _answerCallbackQuery(
        self, callback_query_id: str, text: str = "", show_alert: bool = False, **others: Any
    ) -> bool:
        if len(text) > 200:
            self.complaints.append("the answer to a tap is over 200 characters")
        if callback_query_id not in self._taps:
            raise Refused(400, "Bad Request: query is too old and response timeout expired or query ID is invalid")
        self.answered[callback_query_id] = text
        if show_alert:
            self.alerted.add(callback_query_id)
        return True

    def _edit(self, chat_id: int, message_id: int, text: str | None, markup: Any) -> dict[str, Any]:
        self._reachable(chat_id)
        with self.lock:
            message = next((each for each in self.sent[chat_id] if each.message_id == message_id), None)
            if message is None:
                raise Refused(400, "Bad Request: message to edit not found")
            if message.fixed:
                raise Refused(400, "Bad Request: message can't be edited")
            if message.photo is not None and text is not None:
                raise Refused(400, "Bad Request: there is no text in the message to edit")
            wanted = (message.text if text is None else text, _buttons(markup))
            if (message.text, message.buttons) == wanted:
                raise Refused(400, "Bad Request: message is not modified")
            message.text, message.buttons = wanted
            message.edited += 1
            return self.as_message(message)

    def _reachable(self, chat_id: int) -> None:
        if chat_id in self.migrated:
            raise Refused(
                400,
                "Bad Request: group chat was upgraded to a supergroup chat",
                migrate_to_chat_id=self.migrated[chat_id],
            )
        if chat_id in self.blocked:
            raise Refused(403, "Forbidden: bot was blocked by the user")
        if chat_id not in self._next_message:
            raise Refused(400, "Bad Request: chat not found")

    def _check_text(self, text: str) -> None:
        if not text.strip():
            self.complaints.append("an empty text")
            raise Refused(400, "Bad Request: message text is empty")
        if units(text) > 4096:
            self.complaints.append(f"a text of {units(text)} units")
            raise Refused(400, "Bad Request: message is too long")

    def as_message(self, message: Sent) -> dict[str, Any]:
        """The bot's message as the API shows it."""
        group = message.chat_id < 0
        chat = {"id": message.chat_id, "type": "supergroup" if group else "private"}
        me = {"id": BOT_ID, "is_bot": True, "first_name": "Tarebook", "username": USERNAME}
        shown: dict[str, Any] = {
            "message_id": message.message_id,
            "date": int(time.time()),
            "chat": chat | ({"title": "Kitchen"} if group else {"first_name": "Somebody"}),
            "from": me,
        }
        if message.document is not None:
            shown |= {"document": {"file_id": "d", "file_unique_id": "d"}, "caption": message.text}
        elif message.photo is None:
            shown["text"] = message.text
        else:
            size = {"file_id": "p", "file_unique_id": "p", "width": 1080, "height": 900}
            shown |= {"photo": [size], **({"caption": message.text} if message.text else {})}
        if message.buttons:
            shown["reply_markup"] = {
                "inline_keyboard": [[{"text": text, "callback_data": data}] for text, data in message.buttons]
            }
        return shown

    def _release(self) -> None:
        """Gives held updates their numbers, each chat's in order."""
        while chats := [chat_id for chat_id, updates in self._held.items() if updates]:
            chat_id = self._shuffle.choice(chats) if self._shuffle else chats[0]
            self.queue.append({"update_id": self._next_update, **self._held[chat_id].pop(0)})
            self._next_update += 1

    def _wake(self) -> None:
        if self._loop is not None and self._changed is not None:
            self._loop.call_soon_threadsafe(self._changed.set)

    async def _changes(self, seconds: float) -> None:
        assert self._changed is not None
        self._changed.clear()
        if self._held or self.queue:
            seconds = min(seconds, 0.01)
        try:
            async with asyncio.timeout(max(seconds, 0.001)):
                await self._changed.wait()
        except TimeoutError:
            return

    # The server itself.

    def start(self, port: int = 0) -> None:
        """Answers on a port of 127.0.0.1 from a thread of its own."""
        ready = threading.Event()
        self._thread = threading.Thread(target=lambda: asyncio.run(self._run(port, ready)), daemon=True)
        self._thread.start()
        assert ready.wait(PATIENCE)

    def stop(self) -> None:
        """Ends; open requests end with it."""
        assert self._loop is not None
        self._loop.call_soon_threadsafe(self._end.set)
        self._thread.join(PATIENCE)

    async def _run(self, port: int, ready: threading.Event) -> None:
        self._loop, self._changed, self._end = asyncio.get_running_loop(), asyncio.Event(), asyncio.Event()
        server = HTTPServer(tornado.web.Application([(r"/bot([^/]+)/(\w+)", _Method, {"loopback": self})]))
        sockets = bind_sockets(port, "127.0.0.1")
        server.add_sockets(sockets)
        self.url = f"http://127.0.0.1:{sockets[0].getsockname()[1]}"
        ready.set()
        await self._end.wait()
        server.stop()
        await server.close_all_connections()


class _Method(tornado.web.RequestHandler):
    def initialize(self, loopback: Loopback) -> None:
        self.loopback = loopback

    async def post(self, token: str, method: str) -> None:
        if token != TOKEN:
            self.set_status(401)
            self.write({"ok": False, "error_code": 401, "description": "Unauthorized"})
            return
        given = {name: values[-1].decode() for name, values in self.request.body_arguments.items()}
        files = {name: sent[-1].body for name, sent in self.request.files.items()}
        try:
            self.write({"ok": True, "result": await self.loopback.call(method, given, files)})
        except ConnectionError:
            # Tornado's own way to drop a connection without an answer.
            self.detach().close()
        except Garbled as garbled:
            self.set_status(garbled.status)
            self.write(garbled.body)
        except Refused as refusal:
            self.set_status(refusal.code)
            answer = {"ok": False, "error_code": refusal.code, "description": refusal.description}
            self.write(answer | ({"parameters": refusal.parameters} if refusal.parameters else {}))


def _buttons(markup: Any) -> list[tuple[str, str]]:
    if markup is None:
        return []
    return [(button["text"], button["callback_data"]) for row in markup["inline_keyboard"] for button in row]
