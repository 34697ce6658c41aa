"""One of several processes has the watch, and another takes over when it is silent."""

import threading
from datetime import timedelta

from bot.store import watch
from bot.store.engine import Store

from .records import MONDAY

LATER = MONDAY + timedelta(seconds=20)


def test_a_watch_is_one_holders_until_it_runs_out(store: Store) -> None:
    with store.transaction() as conn:
        assert watch.holder_of(conn, "test") is None
        assert watch.take(conn, "test", "a", MONDAY, LATER)
        assert watch.holder_of(conn, "test") == "a"
        assert not watch.take(conn, "test", "b", LATER - timedelta(seconds=1), LATER)
        assert watch.take(conn, "another", "b", MONDAY, LATER)
        assert watch.holds(conn, "test", "a")
        assert not watch.holds(conn, "test", "b")
        assert watch.take(conn, "test", "b", LATER, LATER + timedelta(seconds=20))
        assert not watch.holds(conn, "test", "a")
        assert watch.holds(conn, "test", "b")


def test_a_watch_that_is_renewed_does_not_run_out(store: Store) -> None:
    with store.transaction() as conn:
        assert not watch.renew(conn, "test", "a", LATER)
        watch.take(conn, "test", "a", MONDAY, LATER)
        assert watch.renew(conn, "test", "a", LATER + timedelta(seconds=5))
        assert not watch.take(conn, "test", "b", LATER, LATER + timedelta(seconds=20))
        assert not watch.renew(conn, "test", "b", LATER)


def test_a_watch_that_is_given_up_is_free(store: Store) -> None:
    with store.transaction() as conn:
        watch.take(conn, "test", "a", MONDAY, LATER)
        watch.give_up(conn, "test", "b")
        assert watch.holds(conn, "test", "a")
        watch.give_up(conn, "test", "a")
        assert not watch.holds(conn, "test", "a")
        assert watch.take(conn, "test", "b", MONDAY, LATER)


def test_whoever_has_a_watch_can_be_relieved(store: Store) -> None:
    with store.transaction() as conn:
        watch.take(conn, "test", "a", MONDAY, LATER)
        assert watch.take(conn, "test", "b", MONDAY, LATER, whoever_has_it=True)
        assert not watch.renew(conn, "test", "a", LATER)


def test_of_many_who_want_it_at_once_one_gets_it(store: Store) -> None:
    with store.transaction() as conn:
        watch.take(conn, "test", "dead", MONDAY, LATER)
    got: list[str] = []
    ready = threading.Barrier(6)

    def try_to_take(holder: str) -> None:
        ready.wait()
        with store.transaction() as conn:
            if watch.take(conn, "test", holder, LATER, LATER + timedelta(seconds=20)):
                got.append(holder)

    threads = [threading.Thread(target=try_to_take, args=(str(number),)) for number in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(got) == 1
