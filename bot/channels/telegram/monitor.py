"""Monitoring: counters, health and metrics on a local port."""

from __future__ import annotations

import json
import logging
import time
from collections.abc import Awaitable, Callable
from dataclasses import dataclass

import tornado.web
from prometheus_client import CONTENT_TYPE_LATEST, CollectorRegistry, Counter, Gauge, generate_latest
from tornado.httpserver import HTTPServer
from tornado.netutil import bind_sockets

logger = logging.getLogger(__name__)

OUT_OF_TOUCH = 180.0
"""Seconds without an answer from the server after which the program reports itself unhealthy."""


@dataclass(frozen=True, slots=True)
class Backlog:
    """Inbox rows to be handled, and outbox rows to be sent."""

    unhandled: int
    unsent: int


class Monitor:
    """The program's counters."""

    def __init__(self) -> None:
        self.registry = CollectorRegistry()
        self.asking = False
        """Whether this process asks the server for updates, so that a long silence means trouble."""
        self._started = time.monotonic()
        self._in_touch: float | None = None
        self._arrived = self._counter("arrived", "Updates that were stored")
        self._unreadable = self._counter("unreadable", "Updates that could not be read")
        self._handled = self._counter("handled", "Messages that were handled")
        self._broken = self._counter("broken", "Times that handling a message broke")
        self._sent = self._counter("sent", "What was sent", "kind")
        self._unsent = self._counter("not_sent", "Times that sending failed", "kind", "why")
        self._trouble = self._counter("trouble", "Times that something was out of reach", "what")
        self._database: dict[str, str] = {}
        self._waiting = Gauge("tarebook_waiting", "What waits now", ["what"], registry=self.registry)

    def _counter(self, name: str, what: str, *labels: str) -> Counter:
        return Counter(f"tarebook_{name}", what, labels, registry=self.registry)

    def in_touch(self) -> None:
        """The server has answered, or delivered something."""
        self._in_touch = time.monotonic()

    def arrived(self, new: int) -> None:
        """So many updates were stored."""
        self._arrived.inc(new)

    def read(self, unreadable: int) -> None:
        """So many updates turned out to be unreadable."""
        self._unreadable.inc(unreadable)

    def handled(self, done: int, broken: int) -> None:
        """So many messages were handled; so many tries at others broke."""
        self._handled.inc(done)
        self._broken.inc(broken)

    def sent(self, kind: str) -> None:
        """Something was sent."""
        self._sent.labels(kind).inc()

    def unsent(self, kind: str, why: str) -> None:
        """Something could not be sent."""
        self._unsent.labels(kind, why).inc()

    def trouble(self, what: str) -> None:
        """The database or the server is out of reach."""
        self._trouble.labels(what).inc()

    def database_failed(self, part: str, reason: str) -> None:
        """A part of the program can't use the database; until it can, the program reports itself unhealthy."""
        self.trouble("database")
        self._database[part] = reason

    def database_works(self, part: str) -> None:
        """The part can use the database."""
        self._database.pop(part, None)

    @property
    def well(self) -> bool:
        """Whether the server was heard from lately, where this process polls it."""
        if not self.asking:
            return True
        last = self._in_touch if self._in_touch is not None else self._started
        return time.monotonic() - last < OUT_OF_TOUCH

    def health(self, backlog: Backlog | None) -> dict[str, object]:
        """The health in a few figures; `backlog` is None when the database can't be used."""
        since = None if self._in_touch is None else round(time.monotonic() - self._in_touch)
        return {
            "well": self.well and backlog is not None and not self._database,
            "database": next(iter(self._database.values()), "ok" if backlog is not None else "it does not answer"),
            "up_s": round(time.monotonic() - self._started),
            "in_touch_s_ago": since,
            "unhandled": None if backlog is None else backlog.unhandled,
            "unsent": None if backlog is None else backlog.unsent,
        }

    def metrics(self, backlog: Backlog | None) -> bytes:
        """All counts in Prometheus's text format."""
        if backlog is not None:
            self._waiting.labels("unhandled").set(backlog.unhandled)
            self._waiting.labels("unsent").set(backlog.unsent)
        return generate_latest(self.registry)


Look = Callable[[], Awaitable[Backlog | None]]


def serve(monitor: Monitor, look: Look, port: int) -> HTTPServer:
    """Shows /healthz and /metrics on the local port (0: any that is free), to this machine only."""
    server = HTTPServer(
        tornado.web.Application(
            [
                ("/healthz", _Health, {"monitor": monitor, "look": look}),
                ("/metrics", _Metrics, {"monitor": monitor, "look": look}),
            ]
        )
    )
    server.add_sockets(bind_sockets(port, "127.0.0.1"))
    return server


class _Page(tornado.web.RequestHandler):
    def initialize(self, monitor: Monitor, look: Look) -> None:
        self.monitor = monitor
        self.look = look


class _Health(_Page):
    async def get(self) -> None:
        health = self.monitor.health(await self.look())
        self.set_status(200 if health["well"] else 503)
        self.set_header("Content-Type", "application/json")
        self.write(json.dumps(health) + "\n")


class _Metrics(_Page):
    async def get(self) -> None:
        self.set_header("Content-Type", CONTENT_TYPE_LATEST)
        self.write(self.monitor.metrics(await self.look()))
