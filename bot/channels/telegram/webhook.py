"""The webhook: an update is answered with 200 only once it is stored."""

from __future__ import annotations

import asyncio
import hmac
from urllib.parse import urlsplit

import tornado.web
from tornado.httpserver import HTTPServer
from tornado.netutil import bind_sockets

from bot.channels.telegram.monitor import Monitor
from bot.channels.telegram.polling import Keep
from bot.store.errors import StoreUnavailable

SECRET_HEADER = "X-Telegram-Bot-Api-Secret-Token"  # noqa: S105 (a header's name)

MAX_BODY = 1 << 20

PATIENCE = 20.0
"""Seconds to wait for the commit before the server is asked to deliver the update again."""

COME_AGAIN = 5


def serve(url: str, secret: str, keep: Keep, monitor: Monitor, listen: str, port: int) -> HTTPServer:
    """Accepts updates on the URL's path, at the address and port (0: any free one) to which a proxy forwards them."""
    path = urlsplit(url).path or "/"
    given = {"secret": secret.encode(), "keep": keep, "monitor": monitor}
    server = HTTPServer(tornado.web.Application([(path.replace("%", "%%"), _Hook, given)]), max_body_size=MAX_BODY)
    server.add_sockets(bind_sockets(port, listen))
    return server


class _Hook(tornado.web.RequestHandler):
    def initialize(self, secret: bytes, keep: Keep, monitor: Monitor) -> None:
        self.secret = secret
        self.keep = keep
        self.monitor = monitor

    async def post(self) -> None:
        given = self.request.headers.get(SECRET_HEADER, "")
        # As bytes: compare_digest raises TypeError for text that is not ASCII.
        if not hmac.compare_digest(given.encode("utf-8", "surrogateescape"), self.secret):
            self.set_status(403)
            return
        self.monitor.in_touch()
        try:
            async with asyncio.timeout(PATIENCE):
                await self.keep([self.request.body.decode("utf-8", "replace")])
        except (TimeoutError, StoreUnavailable):
            self.set_status(503)
            self.set_header("Retry-After", str(COME_AGAIN))
