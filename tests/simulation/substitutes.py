"""What the program meets instead of the clock, of chance, of the network and of the machine."""

from __future__ import annotations

import random
from collections.abc import Callable, Coroutine
from datetime import datetime
from functools import cache
from itertools import count
from types import SimpleNamespace
from typing import Any, Protocol

import httpx
import pytest
from sqlalchemy import create_engine
from telegram.request import HTTPXRequest

from bot import app
from bot.channels.telegram import leadership, monitor, polling, scheduler, sending, serving, webhook
from bot.schedule import sweeping
from bot.store import engine, invites, questions
from bot.store.ownership import retention
from tests.telegram import crowd, loopback

from .clock import HOST, SeededLoop, suspend
from .database import FaultyStore
from .hook import Hook
from .network import ROW, Network

USUAL_PATIENCE = 15.0
"""bot.channels.telegram.client.Client: seconds to wait for an answer unless the call says otherwise."""

_PNG = b"\x89PNG\r\n\x1a\n" + bytes(8) + (90).to_bytes(4) * 2
"""As much of a picture as the messenger's server looks at."""


class World(Protocol):
    """What the substitutes are made of."""

    loop: SeededLoop
    chance: random.Random
    network: Network
    hook: Hook
    pace: float

    def true_time(self) -> datetime:
        """The time at the messenger's server."""

    def wall_time(self) -> datetime:
        """The time as the bot's machine has it."""

    def is_there(self, pid: int, signal: int) -> None:
        """ProcessLookupError when there is no such process."""


def put_in_place(world: World, patch: pytest.MonkeyPatch) -> None:
    """Puts them into the program's modules, until the patch is undone."""
    _time(world, patch)
    _chance(world, patch)
    _pace(world.pace, patch)
    _network(world, patch)
    patch.setattr(leadership, "os", SimpleNamespace(getpid=lambda: HOST.get().pid, kill=world.is_there))  # type: ignore[union-attr]
    patch.setattr(engine, "Store", FaultyStore)
    patch.setattr(engine, "create_engine", _compiled_once)
    patch.setattr(sending, "_drawn", lambda _figures: _PNG)


def _time(world: World, patch: pytest.MonkeyPatch) -> None:
    class Clock(datetime):
        @classmethod
        def now(cls, tz: Any = None) -> datetime:  # type: ignore[override]
            return world.wall_time()

    worked = 0.0

    def work() -> float:
        """A stopwatch: some milliseconds pass between two looks at it."""
        nonlocal worked
        worked += world.chance.expovariate(500)
        return worked

    for each in (serving, sending, leadership, scheduler):
        patch.setattr(each, "datetime", Clock)
    for each in (polling, monitor, retention, leadership):
        patch.setattr(each, "time", SimpleNamespace(monotonic=world.loop.time, sleep=suspend))
    for each in (app, sweeping):
        patch.setattr(each, "time", SimpleNamespace(monotonic=work, perf_counter=work))
    true_time = SimpleNamespace(time=lambda: world.true_time().timestamp(), monotonic=world.loop.time)
    for each in (crowd, loopback):
        patch.setattr(each, "time", true_time)


def _chance(world: World, patch: pytest.MonkeyPatch) -> None:
    tokens = SimpleNamespace(
        token_hex=lambda size: world.chance.randbytes(size).hex(),
        token_urlsafe=lambda size: f"{world.chance.getrandbits(size * 8):x}".zfill(22)[:22],
    )
    for each in (leadership, questions, invites):
        patch.setattr(each, "secrets", tokens)
    patch.setattr(sending, "random", SimpleNamespace(uniform=world.chance.uniform))
    patch.setattr(crowd, "_queries", count(1))


def _pace(pace: float, patch: pytest.MonkeyPatch) -> None:
    # The sender looks four times as often as anybody else, nearly always in vain: news wakes it.
    patch.setattr(sending, "LOOKS", sending.LOOKS * (pace if pace == 1 else 4 * pace))
    for module, name in (
        (serving, "LOOKS"),
        (serving, "HEARTBEAT"),
        (leadership, "RENEWED"),
        (leadership, "TERM"),
        (scheduler, "SWEEP_EVERY"),
    ):
        patch.setattr(module, name, getattr(module, name) * pace)


def _network(world: World, patch: pytest.MonkeyPatch) -> None:
    deliver = sending.Sender._deliver

    async def noting(sender: sending.Sender, row: Any) -> Any:
        ROW.set(row)
        return await deliver(sender, row)

    patch.setattr(sending.Sender, "_deliver", noting)
    patch.setattr(HTTPXRequest, "do_request", _request(world.network))
    patch.setattr(httpx, "create_ssl_context", _certificates)
    patch.setattr(webhook, "serve", world.hook.serve)


def _request(network: Network) -> Callable[..., Coroutine[Any, Any, tuple[int, bytes]]]:
    async def do_request(
        request: HTTPXRequest, url: str, method: str, request_data: Any = None, read_timeout: Any = None, **_: Any
    ) -> tuple[int, bytes]:
        given = request_data.json_parameters if request_data else {}
        parts = (request_data.multipart_data if request_data else None) or {}
        files = {name: part[1] for name, part in parts.items()}
        patience = read_timeout if isinstance(read_timeout, (int, float)) else USUAL_PATIENCE
        found: tuple[int, bytes] = await network.call(url.rpartition("/")[2], given, files, patience)
        return found

    return do_request


_first: list[Any] = []


def _compiled_once(place: Any, **how: Any) -> Any:
    """An engine that shares what SQLAlchemy has compiled for the first: compiling takes longer than a simulation."""
    made = create_engine(place, **how)
    if _first:
        made.dialect, made._compiled_cache = _first[0].dialect, _first[0]._compiled_cache
    else:
        _first.append(made)
    return made


_certificates = cache(httpx.create_ssl_context)
