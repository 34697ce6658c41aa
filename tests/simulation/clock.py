"""An event loop with virtual time, whose choices all come from one seed.

Its clock jumps to the next moment at which something happens. Of the callbacks that are ready it runs any one next.
Work for a thread runs in a greenlet of its own, which can be suspended between two transactions, so that whatever else
goes on in the simulation gets in between. A callback belongs to a simulated process by its context: one that is dead
runs no more, one that is stalled runs later.
"""

from __future__ import annotations

import asyncio
import random
import selectors
from collections import defaultdict, deque
from collections.abc import Callable, Coroutine
from contextvars import ContextVar, copy_context
from itertools import count
from typing import Any, Protocol

from greenlet import getcurrent, greenlet

INSTANT = 1e-6
"""Seconds that pass with each round of the loop: whoever looks again after next to nothing finds another moment."""


class Host(Protocol):
    """What the loop has to know of a simulated process."""

    alive: bool
    stalled: bool


HOST: ContextVar[Host | None] = ContextVar("HOST", default=None)
"""The simulated process to which running code belongs; None for the world around."""


class Killed(BaseException):
    """Unwinds the work of a simulated process that is dead. Nothing catches it but the loop."""


class Jumps(selectors.DefaultSelector):
    """Waits for nothing: the time that would pass is added up instead."""

    passed = 0.0

    def select(self, timeout: float | None = None) -> list[tuple[selectors.SelectorKey, int]]:
        found = super().select(0)
        self.passed += INSTANT + (0 if found or timeout is None else max(timeout, 0))
        return found


class VirtualLoop(asyncio.SelectorEventLoop):
    """Virtual time, in the usual order."""

    def __init__(self) -> None:
        self._jumps = Jumps()
        super().__init__(self._jumps)

    def time(self) -> float:
        return self._jumps.passed


class SeededLoop(VirtualLoop):
    """Virtual time, in an order that follows from the seed alone."""

    def __init__(self, chance: random.Random) -> None:
        super().__init__()
        self._ready: deque[asyncio.Handle] = _AnyNext(self, chance)
        self._chance = chance
        self._parked: dict[Host, list[asyncio.Handle]] = defaultdict(list)
        self._jobs: dict[object, deque[_Job]] = defaultdict(deque)
        self.ending = False
        """Whether dead processes run once more, to let go of what they hold."""
        numbers = count()
        self.set_task_factory(lambda loop, work, context=None: _Task(work, loop, next(numbers), context))

    def may_run(self, handle: asyncio.Handle) -> bool:
        """Whether the callback's process runs; otherwise the callback is kept."""
        host: Host | None = handle._context.get(HOST)  # type: ignore[attr-defined]
        if host is None or self.ending or (host.alive and not host.stalled):
            return True
        self._parked[host].append(handle)
        return False

    def resume(self, host: Host) -> None:
        """Lets a process that was stalled go on."""
        self._ready.extend(self._parked.pop(host, ()))

    def resume_all(self) -> None:
        """Lets every process go on, the dead too."""
        self.ending = True
        for host in list(self._parked):
            self.resume(host)

    def run_in_executor(  # type: ignore[override]
        self, executor: object, func: Callable[..., Any], *args: Any
    ) -> asyncio.Future[Any]:
        job = _Job(self, lambda: func(*args))
        # An executor has one thread; without one every piece of work has its own.
        queue = self._jobs[executor if executor is not None else job]
        queue.append(job)
        if len(queue) == 1:
            self._start(queue)
        return job.future

    def _start(self, queue: deque[_Job]) -> None:
        self.call_later(self._chance.expovariate(1000), self._step, queue, context=queue[0].context)

    def _step(self, queue: deque[_Job]) -> None:
        """Runs the first piece of work up to its next suspension."""
        seconds = queue[0].step()
        if seconds is not None:
            self.call_later(seconds, self._step, queue, context=queue[0].context)
            return
        queue.popleft()
        if queue:
            self._start(queue)

    def close(self) -> None:
        for queue in self._jobs.values():
            for job in queue:
                job.abandon()
        super().close()


def suspend(seconds: float) -> None:
    """Lets others go on for so many seconds. Called from the work for a thread; elsewhere nothing happens."""
    here = getcurrent()
    if isinstance(here, _Thread):
        here.parent.switch(seconds)


class _Thread(greenlet):  # type: ignore[misc]
    """Runs a piece of work."""


class _Job:
    def __init__(self, loop: SeededLoop, work: Callable[[], Any]) -> None:
        self.context = copy_context()
        self.future: asyncio.Future[Any] = loop.create_future()
        self._work = work
        self._thread = _Thread(self._run)
        self._thread.gr_context = copy_context()

    def step(self) -> float | None:
        """Goes on with it. Returns for how many seconds it is suspended; None when it is through."""
        if self._thread.dead:
            return None
        seconds: float | None = self._thread.switch()
        return None if self._thread.dead else seconds

    def abandon(self) -> None:
        if self._thread and not self._thread.dead:
            self._thread.throw(Killed)

    def _run(self) -> None:
        try:
            found = self._work()
        except Killed:
            return
        except BaseException as error:
            if not self.future.done():
                self.future.set_exception(error)
        else:
            if not self.future.done():
                self.future.set_result(found)


class _Task(asyncio.Task):
    """A task whose place in a set follows from when it was made, not from where it is in memory."""

    _number: int

    def __new__(cls, work: Coroutine[Any, Any, Any], loop: SeededLoop, number: int, context: Any) -> _Task:
        made = super().__new__(cls)
        made._number = number
        return made

    def __init__(self, work: Coroutine[Any, Any, Any], loop: SeededLoop, number: int, context: Any) -> None:
        super().__init__(work, loop=loop, context=context)

    def __hash__(self) -> int:
        return self._number


class _AnyNext(deque):
    """What is ready; `popleft` takes any of it, and skips what may not run."""

    def __init__(self, loop: SeededLoop, chance: random.Random) -> None:
        super().__init__()
        self._loop = loop
        self._chance = chance
        self._nothing = asyncio.Handle(lambda: None, (), loop)
        self._nothing.cancel()

    def popleft(self) -> asyncio.Handle:
        if len(self) > 1:
            self.rotate(-self._chance.randrange(len(self)))
        handle: asyncio.Handle = super().popleft()
        return handle if handle._cancelled or self._loop.may_run(handle) else self._nothing
