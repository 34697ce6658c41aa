"""One of several processes holds the lease, and another takes over when it is not renewed."""

import threading
from datetime import timedelta

from bot.store.delivery import lease
from bot.store.engine import Store
from tests.store.records import MONDAY

LATER = MONDAY + timedelta(seconds=20)


def test_a_lease_is_one_holders_until_it_expires(store: Store) -> None:
    with store.transaction() as conn:
        assert lease.held(conn, "test") is None
        assert lease.take(conn, "test", "a", MONDAY, LATER)
        assert lease.held(conn, "test") == lease.Held("a", LATER)
        assert not lease.take(conn, "test", "b", LATER - timedelta(seconds=1), LATER)
        assert lease.take(conn, "another", "b", MONDAY, LATER)
        assert lease.holds(conn, "test", "a", MONDAY)
        assert not lease.holds(conn, "test", "b", MONDAY)
        assert lease.take(conn, "test", "b", LATER, LATER + timedelta(seconds=20))
        assert not lease.holds(conn, "test", "a", MONDAY)
        assert lease.holds(conn, "test", "b", MONDAY)


def test_a_lease_that_is_renewed_does_not_expire(store: Store) -> None:
    with store.transaction() as conn:
        assert not lease.renew(conn, "test", "a", LATER)
        lease.take(conn, "test", "a", MONDAY, LATER)
        assert lease.renew(conn, "test", "a", LATER + timedelta(seconds=5))
        assert not lease.take(conn, "test", "b", LATER, LATER + timedelta(seconds=20))
        assert not lease.renew(conn, "test", "b", LATER)


def test_a_lease_that_has_expired_is_nobodys_until_it_is_renewed(store: Store) -> None:
    with store.transaction() as conn:
        lease.take(conn, "test", "a", MONDAY, LATER)
        assert lease.holds(conn, "test", "a", LATER - timedelta(seconds=1))
        assert not lease.holds(conn, "test", "a", LATER)
        assert lease.renew(conn, "test", "a", LATER + timedelta(seconds=5))
        assert lease.holds(conn, "test", "a", LATER)


def test_a_lease_that_is_released_is_free(store: Store) -> None:
    with store.transaction() as conn:
        lease.take(conn, "test", "a", MONDAY, LATER)
        lease.release(conn, "test", "b")
        assert lease.holds(conn, "test", "a", MONDAY)
        lease.release(conn, "test", "a")
        assert not lease.holds(conn, "test", "a", MONDAY)
        assert lease.take(conn, "test", "b", MONDAY, LATER)


def test_an_abandoned_lease_can_be_taken_unless_it_was_renewed_meanwhile(store: Store) -> None:
    with store.transaction() as conn:
        lease.take(conn, "test", "a", MONDAY, LATER)
        seen = lease.held(conn, "test")
        lease.renew(conn, "test", "a", LATER + timedelta(seconds=5))
        assert not lease.take(conn, "test", "b", MONDAY, LATER, abandoned=seen)
        assert lease.take(conn, "test", "b", MONDAY, LATER, abandoned=lease.held(conn, "test"))
        assert not lease.renew(conn, "test", "a", LATER)


def test_of_many_who_want_it_at_once_one_gets_it(store: Store) -> None:
    with store.transaction() as conn:
        lease.take(conn, "test", "dead", MONDAY, LATER)
    got: list[str] = []
    ready = threading.Barrier(6)

    def try_to_take(holder: str) -> None:
        ready.wait()
        with store.transaction() as conn:
            if lease.take(conn, "test", holder, LATER, LATER + timedelta(seconds=20)):
                got.append(holder)

    threads = [threading.Thread(target=try_to_take, args=(str(number),)) for number in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(got) == 1
