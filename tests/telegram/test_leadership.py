"""Sending under a lease that its holder is late in renewing, or has lost."""

import time
from datetime import UTC, datetime, timedelta

import pytest

from bot.app import Tarebook
from bot.channels.telegram import CHANNEL, leadership, sending
from bot.store.delivery import lease
from bot.store.engine import Connection

from .conftest import Run, Start
from .crowd import Human
from .loopback import Loopback

DATABASES = ("sqlite", "postgresql")
ANOTHER = "1.another"


@pytest.fixture
def leader(start: Start, mira: Human, monkeypatch: pytest.MonkeyPatch) -> Run:
    """A process that leads and, as if the database was out of reach then, does not renew its lease again."""
    monkeypatch.setattr(leadership, "RENEWED", 3600.0)
    run = start()
    mira.asks("hello")
    return run


def runs_out(tarebook: Tarebook, at: datetime) -> None:
    """Has the lease expire at that moment."""
    with tarebook.transaction() as conn:
        expires(conn, at)


def expires(conn: Connection, at: datetime) -> None:
    held = lease.held(conn, CHANNEL)
    assert held is not None
    assert lease.renew(conn, CHANNEL, held.holder, at)


def is_taken_over(tarebook: Tarebook, at: datetime) -> bool:
    """Whether another process gets the lease at that moment."""
    with tarebook.transaction() as conn:
        return lease.take(conn, CHANNEL, ANOTHER, at, at + leadership.TERM)


@pytest.mark.parametrize("left", (-60, 2), ids=("expired", "nearly expired"))
def test_who_sends_late_in_its_term_renews_the_lease_first(leader: Run, mira: Human, left: int) -> None:
    end = datetime.now(UTC) + timedelta(seconds=left)
    runs_out(leader.tarebook, end)
    assert "180 g" in mira.asks("180 g cooked rice").text
    # Whoever took over now would send once more what this process is sending.
    assert not is_taken_over(leader.tarebook, max(end, datetime.now(UTC)) + timedelta(seconds=1))


def test_who_has_lost_the_lease_sends_nothing(leader: Run, server: Loopback, mira: Human) -> None:
    end = datetime.now(UTC)
    with leader.tarebook.transaction() as conn:
        # In one transaction: the sender renews an expired lease as soon as it sees one.
        expires(conn, end)
        assert lease.take(conn, CHANNEL, ANOTHER, end, end + leadership.TERM)
    before = len(server.sent[mira.id])
    mira.says("180 g cooked rice")
    time.sleep(2 * sending.LOOKS)
    assert len(server.sent[mira.id]) == before
    # Its answer is left to the other.
    assert [row.state for row in leader.tarebook.unsent(CHANNEL, str(mira.id))] == ["pending"]
