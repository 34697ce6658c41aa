"""A simulated process: one run of `tarebook serve`, which can die, stall and be told to stop at any moment."""

from __future__ import annotations

import asyncio
from contextvars import copy_context
from typing import Protocol

from bot.app import Tarebook
from bot.channels.telegram import serving
from bot.channels.telegram.serving import Service, Serving
from bot.settings import TelegramSettings
from bot.store.engine import open_store

from .clock import HOST, SeededLoop
from .plan import Faults, Plan

TROUBLED_FOR = 120.0
"""Seconds for which a process counts as troubled after the database failed it or it stalled: what it has sent by then
may not be noted yet."""

ENDS_WITHIN = 40.0
"""docs/running.md: seconds within which a process ends that is told to."""


class Surroundings(Protocol):
    """What processes share."""

    loop: SeededLoop
    plan: Plan
    faults: Faults
    url: str
    settings: TelegramSettings
    disk_full: bool

    def pauses(self) -> float:
        """Seconds until the database has done the next piece of work."""

    def committed(self, changed: bool) -> None:
        """Somebody has committed a transaction."""

    def ended(self, process: Process, error: BaseException | None) -> None:
        """A process has ended, killed or by itself."""


class Process:
    """One incarnation of a process."""

    def __init__(self, world: Surroundings, number: int, pid: int) -> None:
        self.number, self.pid = number, pid
        self.alive = True
        self.stalled = False
        self.stopping_since: float | None = None
        self.faults = world.faults
        self._world = world
        self._troubled_at = float("-inf")
        self.stalled_until = float("-inf")
        self._context = copy_context()
        self._context.run(HOST.set, self)
        self._context.run(self._start)

    def _start(self) -> None:
        world = self._world
        self.store = open_store(world.url)
        self._stop = asyncio.Event()
        where = Serving(webhook_url="https://bot.example.org/hook" if world.plan.webhook else None)
        self.service = Service(Tarebook(self.store), world.settings, where, self._stop)
        self._task = world.loop.create_task(serving.serve(self.service))
        self._task.add_done_callback(self._is_through)

    @property
    def shared(self) -> bool:
        return self._world.plan.shared

    @property
    def disk_full(self) -> bool:
        return self._world.disk_full

    @property
    def steady(self) -> bool:
        """Whether it has not stalled lately, so that no other process has taken it for dead."""
        return self._world.loop.time() - self.stalled_until > TROUBLED_FOR

    def untroubled_since(self, at: float) -> bool:
        """Whether it was able to note everything that it has sent since then."""
        return max(self._troubled_at, self.stalled_until) < at - TROUBLED_FOR

    def pauses(self) -> float:
        return self._world.pauses()

    def trouble(self) -> None:
        self._troubled_at = self._world.loop.time()

    def committed(self, changed: bool) -> None:
        self._world.committed(changed)

    def die(self) -> None:
        """SIGKILL."""
        if self.alive:
            self.alive = False
            self._world.ended(self, None)

    def stall(self, seconds: float) -> None:
        """Does nothing for so long, as on a machine that is overloaded or suspended."""
        self.stalled = True
        self.stalled_until = self._world.loop.time() + seconds
        self._world.loop.call_later(seconds, self.wake)

    def wake(self) -> None:
        """Goes on."""
        self.stalled = False
        self._world.loop.resume(self)

    def stop(self) -> None:
        """SIGTERM."""
        if self.stopping_since is None:
            self.stopping_since = self._world.loop.time()
            self._stop.set()

    def _is_through(self, task: asyncio.Task[None]) -> None:
        if self.alive:
            self.alive = False
            self._world.ended(self, None if task.cancelled() else task.exception())
