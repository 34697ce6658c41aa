"""`tarebook serve` in a thread, against the loopback server."""

from __future__ import annotations

import asyncio
import shutil
import threading
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import httpx
import pytest

from bot.app import Tarebook, open_tarebook
from bot.channels.telegram.serving import Service, Serving, serve
from bot.settings import TelegramSettings

from .crowd import Human
from .loopback import PATIENCE, TOKEN, Loopback


@pytest.fixture
def server() -> Iterator[Loopback]:
    loopback = Loopback()
    loopback.start()
    yield loopback
    loopback.stop()
    assert loopback.complaints == []


@pytest.fixture(scope="session", autouse=True)
def one_set_of_certificates() -> Iterator[None]:
    """Reading the system's certificates takes longer than most of these tests, which speak to nobody that has any."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(httpx, "create_ssl_context", cache(httpx.create_ssl_context))
        yield


class Run:
    """One run of the bot on a database, which can be stopped and started again."""

    def __init__(self, url: str, settings: TelegramSettings, serving: Serving) -> None:
        self.error: BaseException | None = None
        self._stopped = False
        self._opened = open_tarebook(url)
        self.tarebook: Tarebook = self._opened.__enter__()
        self._settings = settings
        self._serving = serving
        self._ready = threading.Event()
        self._thread = threading.Thread(target=self._run, daemon=True)
        self._thread.start()
        assert self._ready.wait(PATIENCE)

    def _run(self) -> None:
        try:
            asyncio.run(self._serve())
        except BaseException as error:
            self.error = error

    async def _serve(self) -> None:
        self._loop, self._stop = asyncio.get_running_loop(), asyncio.Event()
        self.service = Service(self.tarebook, self._settings, self._serving, self._stop)
        self._ready.set()
        await serve(self.service)

    def stop(self) -> None:
        """As SIGTERM does; a second time does nothing."""
        if self._stopped:
            return
        self._stopped = True
        if self._thread.is_alive():
            self._loop.call_soon_threadsafe(self._stop.set)
            self._thread.join(PATIENCE)
            assert not self._thread.is_alive()
        self._opened.__exit__(None, None, None)


Start = Callable[..., Run]


@pytest.fixture(scope="session")
def empty_database(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A database without records; tests work on copies of it, which are made sooner than it was."""
    path = tmp_path_factory.mktemp("empty") / "tarebook.db"
    with open_tarebook(f"sqlite:///{path}"):
        return path


@pytest.fixture
def database(request: pytest.FixtureRequest, database_kind: str, tmp_path: Path, empty_database: Path) -> str:
    """The URL of a database without records, for the whole test."""
    if database_kind == "postgresql":
        url: str = request.getfixturevalue("server_database")
        return url
    shutil.copyfile(empty_database, tmp_path / "tarebook.db")
    return f"sqlite:///{tmp_path / 'tarebook.db'}"


@pytest.fixture
def start(server: Loopback, database: str) -> Iterator[Start]:
    """Starts the bot; by default open to everybody, on one database for the whole test."""
    runs: list[Run] = []

    def started(serving: Serving | None = None, **settings: object) -> Run:
        telegram = TelegramSettings(
            **{"token": TOKEN, "api_url": server.url, "access": "open", "listed": frozenset()} | settings  # type: ignore[arg-type]
        )
        run = Run(database, telegram, serving or Serving())
        runs.append(run)
        return run

    yield started
    for run in runs:
        run.stop()
        if run.error is not None:
            raise run.error


@pytest.fixture
def bot(start: Start) -> Run:
    return start()


@pytest.fixture
def mira(server: Loopback) -> Human:
    return Human(server, 1001, "Mira")


@pytest.fixture
def joao(server: Loopback) -> Human:
    return Human(server, 1002, "João")
