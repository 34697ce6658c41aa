"""Telegram's side of a webhook: what people do is posted to the bots, each chat's updates one after the other."""

from __future__ import annotations

import random
import threading
import time
import urllib.error
import urllib.request
from collections.abc import Sequence
from json import dumps
from types import TracebackType
from typing import Any

from bot.channels.telegram.webhook import SECRET_HEADER

from .loopback import Loopback

CONNECTIONS = 6
SECRET = "a-webhook-secret_0"


class Hook:
    """Takes updates from the loopback server's queue and posts them to any of the addresses until one says 200.

    Now and then it behaves as if the answer had been lost, and posts the update again.
    """

    def __init__(self, server: Loopback, urls: Sequence[str], chance: random.Random) -> None:
        self.repeated = 0
        self._server = server
        self._urls = urls
        self._chance = chance
        self._busy: set[int] = set()
        self._end = threading.Event()
        self._threads = [threading.Thread(target=self._deliver, daemon=True) for _ in range(CONNECTIONS)]

    def __enter__(self) -> Hook:
        for thread in self._threads:
            thread.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, where: TracebackType | None
    ) -> None:
        self._end.set()
        for thread in self._threads:
            thread.join(30)

    def _deliver(self) -> None:
        while not self._end.is_set():
            update = self._next()
            if update is None:
                time.sleep(0.005)
                continue
            lose = self._chance.random() < 0.05
            if self._post(update) and not lose:
                with self._server.lock:
                    self._server.queue.remove(update)
            self.repeated += lose
            with self._server.lock:
                self._busy.discard(_chat(update))

    def _next(self) -> dict[str, Any] | None:
        with self._server.lock:
            self._server._release()
            for update in self._server.queue:
                if _chat(update) not in self._busy:
                    self._busy.add(_chat(update))
                    return update
        return None

    def _post(self, update: dict[str, Any]) -> bool:
        headers = {SECRET_HEADER: SECRET, "Content-Type": "application/json"}
        request = urllib.request.Request(self._chance.choice(self._urls), dumps(update).encode(), headers)
        try:
            with urllib.request.urlopen(request, timeout=30) as answer:
                return bool(answer.status == 200)
        except urllib.error.HTTPError as error:
            error.close()
        except OSError:
            time.sleep(0.02)
        return False


def _chat(update: dict[str, Any]) -> int:
    content = next(value for key, value in update.items() if key != "update_id")
    chat = content.get("chat") or content["message"]["chat"]
    return int(chat["id"])
