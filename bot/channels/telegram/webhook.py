"""Being told of updates by the server, and answering 200 only once they are stored."""

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
"""Seconds that the server is kept waiting for the commit; then it is asked to come again."""

COME_AGAIN = 5


def serve(url: str, secret: str, keep: Keep, monitor: Monitor, listen: str, port: int) -> HTTPServer:
    """Takes updates on the URL's path, at the address and port (0: any that is free) that a proxy passes them on to."""
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
        # As bytes: the comparison refuses text that is not ASCII, and a stranger could make it raise.
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
