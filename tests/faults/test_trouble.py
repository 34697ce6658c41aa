"""The database locked or full, the server out of reach, a message that breaks the program: nothing lost or doubled."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import socket
import sqlite3
import subprocess
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import text

from bot.app import APOLOGY, TRIES
from bot.channels.telegram import leadership, sending
from bot.channels.telegram.client import pause
from bot.channels.telegram.serving import Serving
from bot.conversation.respond import respond
from bot.messages import Group, Incoming, Said, Turn
from bot.settings import TelegramSettings
from bot.store import engine
from bot.store.books import Books
from bot.store.errors import StoreGone
from tests.telegram.conftest import Run, Start
from tests.telegram.crowd import Human
from tests.telegram.loopback import TOKEN, Loopback
from tests.telegram.test_talking import weights

LONG = "TAREBOOK_TEST_LONG" in os.environ
"""Whether trouble lasts as long as in earnest, as `make faults` has it."""


@contextmanager
def locked(path: Path) -> Iterator[None]:
    """Another program holds the database's write lock."""
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        yield
        other.execute("ROLLBACK")


def free_port() -> int:
    with closing(socket.socket()) as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


def fetched(port: int, page: str) -> tuple[int, dict[str, Any]]:
    """(the status, the JSON) of a page of the monitor."""
    try:
        with urllib.request.urlopen(f"http://127.0.0.1:{port}/{page}", timeout=30) as answer:
            return answer.status, json.load(answer)
    except urllib.error.HTTPError as error:
        return error.code, json.load(error)


def test_a_locked_database_delays_messages_and_loses_none(
    start: Start, server: Loopback, mira: Human, joao: Human, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    if not LONG:
        # So that it runs out several times while the lock is held.
        monkeypatch.setitem(engine._PRAGMAS, "busy_timeout", "100")
        monkeypatch.setattr(engine, "PATIENCE_S", 0.1)
    run = start()
    mira.asks("hello")
    with locked(tmp_path / "tarebook.db"):
        for grams in range(100, 110):
            mira.says(f"{grams} g cooked rice")
            joao.says(f"{grams} g cooked pasta")
        # The busy timeout is 10 s, so this is just beyond it.
        time.sleep(11 if LONG else 2)
        assert len(server.sent[mira.id]) == 1
        assert not server.idle, "updates were confirmed that could not be stored"
    assert [f"{grams} g" in sent.text for grams, sent in zip(range(100, 110), mira.hears(10, 30), strict=True)] == [
        True
    ] * 10
    joao.hears(10)
    assert weights(run, mira) == weights(run, joao) == list(range(100, 110))


def test_a_lock_while_answers_are_under_way_sends_none_twice(
    start: Start, server: Loopback, mira: Human, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(engine._PRAGMAS, "busy_timeout", "100")
    monkeypatch.setattr(engine, "PATIENCE_S", 0.1)
    run = start()
    mira.asks("hello")
    for grams in range(100, 120):
        mira.says(f"{grams} g cooked rice")
    server.until(lambda: len(server.sent[mira.id]) > 3)
    with locked(tmp_path / "tarebook.db"):
        time.sleep(1)
    mira.hears(20)
    run.stop()
    assert len(server.sent[mira.id]) == 21


def test_a_full_disk_delays_messages_and_loses_none(
    start: Start, server: Loopback, mira: Human, caplog: pytest.LogCaptureFixture
) -> None:
    port = free_port()
    bot = start(Serving(monitor_port=port))
    mira.asks("hello")
    with bot.tarebook.transaction() as conn:
        pages = conn.execute(text("PRAGMA page_count")).scalar_one()
        # What SQLite answers then is what it answers when the disk is full: sqlite.org/rescode.html#full
        conn.execute(text(f"PRAGMA max_page_count = {pages + 8}"))
    for grams in range(100, 200):
        mira.says(f"{grams} g cooked rice")
    server.until(lambda: bot.service.monitor._trouble.labels("database")._value.get() > 0)
    assert len(server.sent[mira.id]) < 100
    assert "the disk is full" in caplog.text
    status, health = fetched(port, "healthz")
    assert (status, health["database"]) == (503, "the disk is full")
    time.sleep(1)
    with bot.tarebook.transaction() as conn:
        conn.execute(text("PRAGMA max_page_count = 1000000"))
    mira.hears(100)
    server.until(lambda: fetched(port, "healthz")[0] == 200)
    assert weights(bot, mira) == list(range(100, 200))
    assert not any(APOLOGY in sent.text for sent in server.sent[mira.id])


@pytest.mark.parametrize("how", ("deleted", "replaced"))
def test_a_database_file_that_is_gone_ends_the_program_and_loses_nothing(
    start: Start, server: Loopback, mira: Human, tmp_path: Path, how: str
) -> None:
    run = start()
    assert "180 g" in mira.asks("180 g cooked rice").text
    path = tmp_path / "tarebook.db"
    if how == "deleted":
        path.unlink()
    else:
        shutil.copyfile(path, tmp_path / "copy.db")
        (tmp_path / "copy.db").replace(path)
    mira.says("90 g cooked rice")
    server.until(lambda: run.error is not None)
    assert isinstance(run.error, StoreGone)
    assert "deleted or replaced" in str(run.error)
    assert len(server.sent[mira.id]) == 1, "a message was answered that nobody keeps"
    assert not server.idle, "an update was confirmed that nobody keeps"
    (rescued,) = tmp_path.glob("tarebook.db.rescued-*")
    assert str(rescued) in str(run.error)
    run.error = None
    with closing(sqlite3.connect(rescued)) as found:
        assert found.execute("SELECT as_weighed_g FROM weigh_in").fetchall()[0] == (180.0,)


def test_under_a_lock_health_answers_at_once_and_the_program_ends_in_time(
    start: Start, server: Loopback, mira: Human, tmp_path: Path
) -> None:
    port = free_port()
    run = start(Serving(monitor_port=port))
    mira.asks("hello")
    with locked(tmp_path / "tarebook.db"):
        for grams in range(100, 110):
            mira.says(f"{grams} g cooked rice")
        time.sleep(1)
        for _ in range(2):
            began = time.monotonic()
            status, health = fetched(port, "healthz")
            assert (status, health["well"]) == (503, False)
            # It gives the database 2 s.
            assert time.monotonic() - began < 10
        began = time.monotonic()
        run.stop()
        # docs/running.md and deploy/ promise 40 s, of which sending may take 20.
        assert time.monotonic() - began < 30
    run = start()
    mira.hears(10)


# On a file the lease is taken from another process alone, and these two are one; test_killing.py has real ones.
@pytest.mark.parametrize("database_kind", ("postgresql",))
def test_two_that_poll_record_once_and_one_takes_over(
    start: Start, server: Loopback, mira: Human, joao: Human, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(leadership, "RENEWED", 0.5)
    first = start()
    mira.asks("hello")
    second = start()
    for grams in range(100, 110):
        mira.says(f"{grams} g cooked rice")
        joao.says(f"{grams} g cooked rice")
    mira.hears(10)
    joao.hears(10)
    for ends in (second, first):
        ends.stop()
        if ends is second:
            mira.says("120 g cooked rice")
            server.until(lambda: any("120 g" in sent.text for sent in server.sent[mira.id]))
            assert weights(first, mira) == [*range(100, 110), 120]
            assert weights(first, joao) == list(range(100, 110))
    assert len(server.sent[mira.id]) == 12
    assert len(server.sent[joao.id]) == 10


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A small file system, which only root can make: room for the database and for the log that it writes first."""
    place = tmp_path / "disk"
    place.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=16m", "tmpfs", place], capture_output=True, check=False
    )
    if mounted.returncode:
        pytest.skip("no file system can be mounted here")
    yield place
    subprocess.run(["umount", "--lazy", place], check=True)


def _fill(path: Path) -> None:
    with path.open("wb", buffering=0) as filling, contextlib.suppress(OSError):
        while filling.write(b"x" * 4096):
            continue
    assert shutil.disk_usage(path.parent).free == 0


@pytest.mark.skipif(shutil.which("mount") is None, reason="there is no mount here")
def test_a_disk_that_is_really_full_delays_messages_and_loses_none(
    small_disk: Path, empty_database: Path, server: Loopback, mira: Human
) -> None:
    shutil.copyfile(empty_database, small_disk / "tarebook.db")
    settings = TelegramSettings(TOKEN, server.url, "open", frozenset())
    run = Run(f"sqlite:///{small_disk / 'tarebook.db'}", settings, Serving())
    try:
        mira.asks("hello")
        _fill(small_disk / "filling")
        for grams in range(100, 130):
            mira.says(f"{grams} g cooked rice")
        server.until(lambda: run.service.monitor._trouble.labels("database")._value.get() > 0)
        (small_disk / "filling").unlink()
        mira.hears(30)
        assert weights(run, mira) == list(range(100, 130))
        assert not any(APOLOGY in sent.text for sent in server.sent[mira.id])
    finally:
        run.stop()


def test_the_server_is_out_of_reach_for_a_while(bot: Run, server: Loopback, mira: Human, joao: Human) -> None:
    mira.asks("hello")
    server.fail("*", 10**9)
    for grams in range(100, 110):
        mira.says(f"{grams} g cooked rice")
        joao.says(f"{grams} g cooked rice")
    time.sleep(2)
    server.well_again()
    mira.hears(10)
    joao.hears(10)
    assert weights(bot, mira) == weights(bot, joao) == list(range(100, 110))


def test_an_outage_of_an_hour_and_of_a_day_is_waited_out() -> None:
    def tried_for(tries: int) -> timedelta:
        return timedelta(seconds=sum(pause(number) for number in range(1, tries + 1)))

    assert pause(1) < 1
    assert pause(10**6) == 60, "after any outage it takes a minute at the most until the first answer"
    within_an_hour = next(tries for tries in range(1, 10**4) if tried_for(tries) > timedelta(hours=1))
    assert within_an_hour < 100
    # core.telegram.org/bots/api#getting-updates: the server itself gives up after 24 hours.
    assert tried_for(sending.TRIES) > timedelta(hours=24)


def test_a_message_that_breaks_the_program_is_set_aside(
    bot: Run, server: Loopback, mira: Human, joao: Human, monkeypatch: pytest.MonkeyPatch
) -> None:
    broken = []

    def breaks_on_poison(books: Books, incoming: Incoming, group: Group | None = None) -> Turn:
        turn = respond(books, incoming, group)
        if isinstance(incoming, Said) and incoming.text.startswith("666"):
            broken.append(incoming.text)
            raise RuntimeError(incoming.text)
        return turn

    monkeypatch.setattr("bot.handling.respond", breaks_on_poison)
    for message in ("100 g cooked rice", "666 g cooked rice", "110 g cooked rice"):
        mira.says(message)
    joao.says("120 g cooked rice")
    first, apology, second = mira.hears(3)
    joao.hears()
    assert ("100 g" in first.text, apology.text, "110 g" in second.text) == (True, APOLOGY, True)
    # Once more than it counts: together with somebody else's.
    assert len(broken) == TRIES + 1
    assert weights(bot, mira) == [100, 110]
