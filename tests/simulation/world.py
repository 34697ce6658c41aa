"""One seed's simulation, from its start to the last check."""

from __future__ import annotations

import asyncio
import hashlib
import logging
import random
import shutil
from collections import Counter
from collections.abc import Callable, Coroutine
from contextvars import copy_context
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from typing import Any

import pytest

from bot.app import open_tarebook
from bot.channels.telegram import CHANNEL, scheduler, sending
from bot.settings import TelegramSettings
from bot.store.errors import StoreUnavailable
from tests.telegram.loopback import TOKEN

from .clock import SeededLoop
from .hook import Hook
from .invariants import Observer, Sends, Violation
from .machine import ENDS_WITHIN, TROUBLED_FOR, Process
from .network import Effect, Hooks, Network, Server
from .people import Client, Coach, Stranger, malformed
from .plan import HOUR, Faults, Plan
from .substitutes import put_in_place

START = datetime(2026, 3, 6, 18, tzinfo=UTC)
"""A Friday evening, so that reminders and the week's summary are soon due."""

QUIET_WITHIN = 2 * HOUR
"""Seconds after the last fault within which everything has to be handled and answered."""

MOST_TRANSACTIONS = 30_000
"""Many times what any seed takes."""


@dataclass
class Outcome:
    """What came out of one seed."""

    seed: int
    plan: Plan
    hours: float = 0.0
    messages: int = 0
    sends: int = 0
    commits: int = 0
    checks: int = 0
    starts: int = 0
    faults: Counter[str] = field(default_factory=Counter)
    trace: str = ""
    """Stands for everything that happened, in order: the same seed has the same."""
    violation: str | None = None


def simulate(seed: int, folder: Path, alter: Callable[[pytest.MonkeyPatch], None] | None = None) -> Outcome:
    """Runs one seed. `alter` may take a safeguard out of the program first."""
    logging.disable(logging.CRITICAL)
    world = World(seed, folder)
    with pytest.MonkeyPatch.context() as patch:
        put_in_place(world, patch)
        if alter is not None:
            alter(patch)
        try:
            return world.run()
        finally:
            world.close()
            logging.disable(logging.NOTSET)


class World:
    """Everything there is in one seed's simulation."""

    def __init__(self, seed: int, folder: Path) -> None:
        self.chance = random.Random(seed)
        self.plan = Plan.of(self.chance)
        self.faults = Faults(self.plan, self.chance)
        self.loop = SeededLoop(self.chance)
        self.loop.set_exception_handler(self._unexpected)
        self.outcome = Outcome(seed, self.plan)
        self.pace = self.plan.pace
        self.disk_full = False
        self.file = folder / "tarebook.db"
        for each in folder.glob("tarebook.db*"):
            each.unlink()
        shutil.copyfile(_empty(folder), self.file)
        self.url = f"sqlite:///{self.file}"
        self.failed = asyncio.Event()
        self.processes: dict[int, Process] = {}
        self._all: list[Process] = []
        self._pids = count(100)
        self._transactions = 0
        self._offset = timedelta(0)
        self._jumped_at = float("-inf")
        self._trace = hashlib.sha256()
        self._context = copy_context()
        self.server = Server(self.loop, self.chance, self.faults)
        self.network = Network(self.server, self.loop, self._context, self.faults, self.chance)
        self.hook = Hook(self.server, self.network, self.loop, self.faults, self.chance)
        self.clients = [Client(self.server, number, self.true_time, self.chance) for number in range(self.plan.clients)]
        self.coach = Coach(self.server, self.clients[0], self.true_time) if self.plan.coach else None
        self.stranger = Stranger(self.server, self.true_time)
        listed = [*self.clients, *([self.coach] if self.coach else [])]
        self.settings = TelegramSettings(
            TOKEN, "https://api.example.org", "list", frozenset(person.id for person in listed), "secret"
        )
        self.observer = Observer(self.file, self.clients, self.coach, self.stranger, self.wall_time)
        self.sends = Sends(self.observer, lambda at: self._jumped_at < at - TROUBLED_FOR)
        self.server.hooks = Hooks(self._confirmed, self._arrived, self._asked, self._put_off)

    # Time.

    def true_time(self) -> datetime:
        """The time at the messenger's server."""
        return START + timedelta(seconds=self.loop.time())

    def wall_time(self) -> datetime:
        """The time as the bot's machine has it."""
        return self.true_time() + self._offset

    def pauses(self) -> float:
        return self.chance.expovariate(500)

    # What happens.

    def committed(self, changed: bool) -> None:
        self._transactions += 1
        if self._transactions > MOST_TRANSACTIONS:
            self._fail(f"{MOST_TRANSACTIONS:,} transactions and no end: something is tried again without a pause")
        if not changed:
            return
        self.outcome.commits += 1
        self.note("commit")
        self._check(self.observer.after_commit)

    def ended(self, process: Process, error: BaseException | None) -> None:
        self.hook.gone(process)
        if error is not None and not isinstance(error, StoreUnavailable):
            self._fail(f"a process ended by itself: {error!r}")
        if process.stopping_since is not None and process.steady:
            took = self.loop.time() - max(process.stopping_since, process.stalled_until)
            if took > ENDS_WITHIN + sending.LOOKS:
                self._fail(f"a process took {took:.0f} s to stop")
        self.note("ended", process.number)
        self.loop.call_later(self.chance.uniform(0.1, 10), self._start, process.number, context=self._context)

    def note(self, *what: object) -> None:
        """Adds to the trace."""
        self._trace.update(f"{self.loop.time():.6f} {what}\n".encode())

    def _confirmed(self, update: dict[str, Any]) -> None:
        self.note("confirmed", update["update_id"])
        self._check(lambda: self.observer.stored(update))

    def _arrived(self, effect: Effect) -> None:
        self.outcome.sends += 1
        self.note("arrived", effect.chat_id, effect.text)
        self._check(lambda: self.sends.arrived(effect))

    def _asked(self, method: str, chat_id: int | None, host: Process) -> None:
        self.note("asked", method, chat_id)
        if chat_id is not None:
            self._check(lambda: self.sends.asked(chat_id, host, self.loop.time()))

    def _put_off(self, chat_id: int, host: Process, seconds: float) -> None:
        self.sends.put_off(chat_id, host, self.loop.time(), seconds)

    def _check(self, check: Callable[[], None]) -> None:
        if self.outcome.violation is None:
            try:
                check()
            except Violation as violation:
                self._fail(str(violation))

    def _fail(self, what: str) -> None:
        if self.outcome.violation is None and not self.loop.ending:
            self.outcome.violation = f"{what} (after {self.loop.time():.3f} s)"
            self.failed.set()

    def _unexpected(self, _loop: asyncio.AbstractEventLoop, context: dict[str, Any]) -> None:
        if not self.loop.ending:
            self._fail(f"{context['message']}: {context.get('exception')!r}")

    # The course of it.

    def run(self) -> Outcome:
        main = self.loop.create_task(self._main())
        failing = self.loop.create_task(self.failed.wait())
        try:
            self.loop.run_until_complete(asyncio.wait({main, failing}, return_when=asyncio.FIRST_COMPLETED))
            if main.done() and main.exception() is not None:
                self._fail(f"the simulation broke: {main.exception()!r}")
            self.outcome.hours = self.loop.time() / HOUR
        finally:
            self.loop.run_until_complete(self._tear_down())
        outcome = self.outcome
        outcome.messages = sum(len(each.awaited) for each in self.clients) + len(self.stranger.messages)
        outcome.checks = self.observer.checks
        outcome.starts = len(self._all)
        outcome.faults = self.faults.count
        outcome.trace = self._trace.hexdigest()
        return outcome

    async def _main(self) -> None:
        if self.coach is not None:
            with open_tarebook(self.url) as tarebook:
                tarebook.set_up(CHANNEL, self.coach.key, role="coach", at=self.wall_time())
        for number in range(self.plan.processes):
            self._start(number)
        tasks = [self._writes(client.acts) for client in self.clients]
        tasks += [self._writes(self.stranger.acts, rarely=True), self._nonsense(), self._coaching()]
        tasks += [self._happens(kind, how) for kind, how in self._events().items()]
        if self.plan.webhook:
            tasks.append(self.hook.run())
        running = [self.loop.create_task(task) for task in tasks]
        await asyncio.sleep(self.plan.hours * HOUR)
        self._heal()
        if self.plan.clock_changes and self.plan.pace > 1:
            await self._clock_is_right_again()
        await self._becomes_quiet()
        for task in running:
            task.cancel()
        self._check(lambda: self.observer.at_the_end(self.server, self.network.effects))
        if self.server.complaints:
            self._fail(f"the server complains: {self.server.complaints[0]}")
        await self._stops()

    def _start(self, number: int) -> None:
        if self.loop.ending or self.outcome.violation is not None:
            return
        process = Process(self, number, next(self._pids))
        self.processes[number] = process
        self._all.append(process)
        self.note("started", number)

    def _events(self) -> dict[str, Callable[[], Coroutine[Any, Any, None]]]:
        return {
            "kill": self._kill,
            "stop": self._stop,
            "stall": self._stall,
            "network down": self._cut,
            "disk full for long": self._fill,
            "clock forward": lambda: self._jump(1),
            "clock back": lambda: self._jump(-1),
        }

    async def _happens(self, kind: str, how: Callable[[], Coroutine[Any, Any, None]]) -> None:
        """Something that happens so often in the time there is."""
        times = self.plan.rates.get(kind, 0.0)
        while times and self.faults.on:
            await asyncio.sleep(self.chance.expovariate(times / (self.plan.hours * HOUR)))
            if self.faults.on:
                self.faults.count[kind] += 1
                self.note(kind)
                await how()

    def _any_process(self) -> Process:
        return self.processes[self.chance.randrange(self.plan.processes)]

    async def _kill(self) -> None:
        self._any_process().die()

    async def _stop(self) -> None:
        self._any_process().stop()

    async def _stall(self) -> None:
        process = self._any_process()
        if process.alive and not process.stalled and process.stopping_since is None:
            process.stall(self.chance.choice((1.0, 15.0, 90.0)) * self.plan.pace)

    async def _cut(self) -> None:
        self.network.down = True
        await asyncio.sleep(self.chance.choice((5.0, 60.0, 900.0)))
        self.network.down = False

    async def _fill(self) -> None:
        self.disk_full = True
        await asyncio.sleep(self.chance.choice((5.0, 60.0, 600.0)))
        self.disk_full = False

    async def _jump(self, sign: int) -> None:
        self._jumped_at = self.loop.time()
        self._offset += sign * timedelta(seconds=self.chance.choice((2, 30, 600, 3 * HOUR)))

    async def _writes(self, act: Callable[[], None], rarely: bool = False) -> None:
        """Writes now and then, several messages in a short time, most often while something goes wrong."""
        for _ in range(2 if rarely else self.plan.bursts):
            await asyncio.sleep(self.chance.uniform(0, 1.5 * self.plan.hours * HOUR / self.plan.bursts))
            for _ in range(self.chance.randint(1, 2 if rarely else 8)):
                if not self.faults.on:
                    return
                act()
                await asyncio.sleep(self.chance.expovariate(1 / self.chance.choice((0.2, 3, 20))))

    async def _nonsense(self) -> None:
        for _ in range(self.chance.choice((0, 0, 2))):
            await asyncio.sleep(self.chance.uniform(0, self.plan.hours * HOUR / 2))
            self.server.deliver("message", malformed(self.chance), 5000)

    async def _coaching(self) -> None:
        """A coach asks for a client's day, before, while and after the client agrees."""
        if self.coach is None:
            return
        client, coach = self.coach.client, self.coach
        coach.invites()
        while self.faults.on:
            await asyncio.sleep(self.chance.expovariate(8 / (self.plan.hours * HOUR)))
            code = coach.code()
            if not self.faults.on:
                return
            if code is not None and not client.agreed:
                client.agrees(code)
            elif client.agreed and self.chance.random() < 0.15:
                client.ends_coaching()
            coach.acts()

    def _heal(self) -> None:
        """From now on nothing goes wrong any more."""
        self.note("healed")
        self.faults.on = False
        self.network.down = self.disk_full = False
        for process in self.processes.values():
            process.wake()

    async def _clock_is_right_again(self) -> None:
        """A time service sets the clock right, and what is set for a moment soon afterwards comes then."""
        self._offset = timedelta(0)
        self._jumped_at = self.loop.time()
        for client in self.clients:
            client.moves_the_reminder()
        await asyncio.sleep(0.5 * HOUR)

    async def _becomes_quiet(self) -> None:
        end = self.loop.time() + QUIET_WITHIN
        overdue = timedelta(seconds=2 * scheduler.SWEEP_EVERY + 60)
        while True:
            await asyncio.sleep(30 * self.plan.pace)
            # Twice, so that nothing is between the queue and the database.
            waiting = self.observer.unfinished(overdue) or ("" if self.server.idle else "updates at the server")
            if not waiting:
                return
            if self.loop.time() > end:
                self._fail(f"not through {QUIET_WITHIN / HOUR:.0f} hours after the last fault: {waiting}")
                return

    async def _stops(self) -> None:
        begun = self.loop.time()
        for process in self.processes.values():
            process.stop()
        while any(process.alive and process.stopping_since is not None for process in self.processes.values()):
            await asyncio.sleep(1)
            if self.loop.time() - begun > ENDS_WITHIN + sending.LOOKS:
                self._fail("a process does not stop")
                return

    async def _tear_down(self) -> None:
        self.loop.resume_all()
        for _ in range(5):
            rest = asyncio.all_tasks() - {asyncio.current_task()}
            if not rest:
                break
            for task in rest:
                task.cancel()
            await asyncio.wait(rest, timeout=60)
        for process in self._all:
            process.store.close()

    def close(self) -> None:
        self.observer.close()
        self.loop.close()

    def is_there(self, pid: int, signal: int) -> None:
        """ProcessLookupError when no process has that id."""
        if not any(process.pid == pid and process.alive for process in self.processes.values()):
            raise ProcessLookupError


def _empty(folder: Path) -> Path:
    """A database without records, made once."""
    path = folder / "empty.db"
    if not path.exists():
        with open_tarebook(f"sqlite:///{path}"):
            pass
    return path
