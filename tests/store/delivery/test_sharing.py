"""Several processes on one PostgreSQL: what one transaction has in hand, no other takes."""

import time
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from datetime import timedelta

import pytest

from bot.store import people
from bot.store.delivery import inbox, lease, updates
from bot.store.engine import Connection, Store, open_store
from tests.store.delivery.test_inbox import say
from tests.store.records import MONDAY, Message, share_kitchen

Elsewhere = Callable[[Callable[[Connection], object]], "Future[object]"]
"""Does work in a transaction of another process's, which may have to wait."""

LATER = MONDAY + timedelta(seconds=20)

pytestmark = pytest.mark.parametrize("url", ("postgresql",), indirect=True)


@pytest.fixture
def elsewhere(url: str) -> Iterator[Elsewhere]:
    another = open_store(url)

    def in_transaction(work: Callable[[Connection], object]) -> object:
        with another.transaction() as conn:
            return work(conn)

    with ThreadPoolExecutor(max_workers=1) as pool:
        yield lambda work: pool.submit(in_transaction, work)
    another.close()


def waits(work: "Future[object]") -> bool:
    time.sleep(0.2)
    return not work.done()


def test_a_message_in_hand_is_nobody_elses(store: Store, elsewhere: Elsewhere) -> None:
    with store.transaction() as conn:
        first, second, other = say(conn, "1"), say(conn, "2"), say(conn, "3", who="joao")
    assert first is not None
    assert second is not None
    assert other is not None
    with store.transaction() as conn:
        assert inbox.claim(conn, first) is not None
        assert elsewhere(lambda conn: inbox.claim(conn, first)).result(5) is None
        assert elsewhere(lambda conn: inbox.claim(conn, second)).result(5) is None
        assert elsewhere(lambda conn: inbox.claim(conn, other)).result(5) is not None
        inbox.done(conn, first)
    assert elsewhere(lambda conn: inbox.claim(conn, first)).result(5) is None
    assert elsewhere(lambda conn: inbox.claim(conn, second)).result(5) is not None


def test_what_arrives_is_read_in_its_order(store: Store, elsewhere: Elsewhere) -> None:
    with store.transaction() as conn:
        assert updates.store(conn, "test", [(str(number), f"update {number}") for number in range(5)], MONDAY) == 5
    with store.transaction() as conn:
        mine = updates.next_waiting(conn, "test", 2)
        theirs = elsewhere(lambda conn: updates.next_waiting(conn, "test", 2))
        assert waits(theirs), "the second could be read before the first was"
        updates.read(conn, mine)
    following = theirs.result(5)
    assert isinstance(following, list)
    assert [each.body for each in [*mine, *following]] == [f"update {number}" for number in range(4)]


def test_an_update_that_two_are_told_of_is_stored_once(store: Store, elsewhere: Elsewhere) -> None:
    with store.transaction() as conn:
        assert updates.store(conn, "test", [("1", "update"), ("2", "another")], MONDAY) == 2
        theirs = elsewhere(lambda conn: updates.store(conn, "test", [("1", "update"), ("3", "third")], MONDAY))
        assert waits(theirs), "it was confirmed before anybody had it"
    assert theirs.result(5) == 1


def test_two_who_share_a_kitchen_take_turns(store: Store, message: Message, elsewhere: Elsewhere) -> None:
    share_kitchen(message, "mira", "joao")
    with store.transaction() as conn:
        mira, joao = people.find(conn, "test", "mira"), people.find(conn, "test", "joao")
        assert mira is not None
        assert joao is not None
        people.hold_kitchen(conn, mira)
        theirs = elsewhere(lambda conn: people.hold_kitchen(conn, joao))
        assert waits(theirs)
    theirs.result(5)


def test_nobody_takes_over_from_a_transaction_that_relies_on_its_lease(store: Store, elsewhere: Elsewhere) -> None:
    with store.transaction() as conn:
        lease.take(conn, "test", "a", MONDAY, LATER)
    with store.transaction() as conn:
        assert lease.holds(conn, "test", "a", MONDAY)
        theirs = elsewhere(lambda conn: lease.take(conn, "test", "b", LATER, LATER))
        assert waits(theirs)
    assert theirs.result(5) is True
