"""The inbox: stored once, handled in each person's order, found again for edits."""

import threading
from datetime import datetime, timedelta, timezone

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import Connection

from bot.store.delivery import inbox
from bot.store.delivery.inbox import Edit, InboxRow, NewRow, Say
from bot.store.engine import Store, open_store
from tests.store.records import MONDAY


def say(conn: Connection, key: str, who: str = "mira", channel: str = "test", **others: object) -> int | None:
    values = {"content": Say(text=key), "message_ref": None, "said_at": MONDAY} | others
    return inbox.receive(conn, NewRow(channel, key, who, **values))  # type: ignore[arg-type]


def test_what_came_in_comes_back(store: Store) -> None:
    said_at = datetime(2026, 3, 2, 7, 30, 0, 5, tzinfo=timezone(timedelta(hours=-3)))
    with store.transaction() as conn:
        new = inbox.receive(conn, NewRow("test", "u1", "4503599627370496", Edit(text="250 g", edits="7"), "7", said_at))
        assert new is not None
    with store.transaction() as conn:
        found = inbox.get(conn, new)
        assert found == InboxRow(new, "test", "4503599627370496", Edit(text="250 g", edits="7"), "7", said_at, 0)
        assert found.said_at.utcoffset() == timedelta(0)
        assert inbox.get(conn, new + 1) is None


def test_an_update_is_stored_once_for_each_channel(store: Store) -> None:
    with store.transaction() as conn:
        assert say(conn, "u1") is not None
        assert say(conn, "u1", content=Say(text="something else")) is None
    with store.transaction() as conn:
        assert say(conn, "u1", who="joao") is None
        assert say(conn, "u1", channel="another") is not None
        assert len(inbox.waiting(conn, "test", 10)) == 1
        assert len(inbox.waiting(conn, "another", 10)) == 1


def test_an_update_that_is_done_is_not_stored_again(store: Store) -> None:
    with store.transaction() as conn:
        first = say(conn, "u1")
        assert first is not None
        inbox.done(conn, first)
        assert say(conn, "u1") is None
        assert inbox.waiting(conn, "test", 10) == []


def test_at_most_the_oldest_of_each_person_waits_in_front(store: Store) -> None:
    with store.transaction() as conn:
        mira1, mira2, joao1 = say(conn, "1"), say(conn, "2"), say(conn, "3", who="joao")
        assert [each.id for each in inbox.waiting(conn, "test", 10)] == [mira1, joao1]
        assert [each.id for each in inbox.waiting(conn, "test", 1)] == [mira1]
        assert mira1 is not None
        inbox.done(conn, mira1)
        assert [each.id for each in inbox.waiting(conn, "test", 10)] == [mira2, joao1]


def test_a_later_message_cannot_be_claimed_before_an_earlier_one(store: Store) -> None:
    with store.transaction() as conn:
        first, second = say(conn, "1"), say(conn, "2")
        assert first is not None
        assert second is not None
        assert inbox.claim(conn, second) is None
        claimed = inbox.claim(conn, first)
        assert claimed is not None
        assert claimed.id == first
        inbox.done(conn, first)
        assert inbox.claim(conn, first) is None
        assert inbox.claim(conn, second) is not None


def test_failing_counts_and_keeps_the_message_in_front(store: Store) -> None:
    with store.transaction() as conn:
        first, second = say(conn, "1"), say(conn, "2")
        assert first is not None
        assert [inbox.failed(conn, first, "ZeroDivisionError") for _ in range(3)] == [1, 2, 3]
        assert [(each.id, each.tries) for each in inbox.waiting(conn, "test", 10)] == [(first, 3)]
        inbox.set_aside(conn, first)
        assert [each.id for each in inbox.waiting(conn, "test", 10)] == [second]
        assert inbox.claim(conn, first) is None
        kept = inbox.get(conn, first)
        assert kept is not None
        assert kept.content == Say(text="1")


def test_a_message_is_found_by_its_reference(store: Store) -> None:
    with store.transaction() as conn:
        say(conn, "1", message_ref="7")
        again = say(conn, "2", message_ref="7")
        say(conn, "3", message_ref="7", content=Edit(text="3", edits="7"))
        say(conn, "4", message_ref="7", who="joao")
        found = inbox.find_message(conn, "test", "mira", "7")
        assert found is not None
        assert found.id == again
        assert inbox.find_message(conn, "test", "mira", "8") is None
        assert inbox.find_message(conn, "another", "mira", "7") is None
        assert inbox.find_message(conn, "test", "nobody", "7") is None


@pytest.mark.parametrize(
    "hostile", ("\0", "a\0b", "\ud800", "\udfff\ud83d", "\U0001f958" * 50, "'; DROP TABLE inbound", "")
)
def test_any_text_is_taken_and_comes_back(store: Store, hostile: str) -> None:
    with store.transaction() as conn:
        new = say(conn, f"u{hostile}", who=f"w{hostile}", content=Say(text=hostile), message_ref=hostile)
        assert new is not None
        found = inbox.find_message(conn, "test", f"w{hostile}", hostile)
        assert found is not None
        assert found.content == Say(text=hostile)
        assert inbox.failed(conn, new, hostile) == 1


def test_a_moment_without_a_zone_is_refused(store: Store) -> None:
    with store.transaction() as conn, pytest.raises(Exception, match="time zone"):
        say(conn, "1", said_at=datetime(2026, 3, 2))  # noqa: DTZ001


PEOPLE = st.sampled_from(("mira", "joao", "ana"))
HAPPENINGS = st.lists(
    st.one_of(st.tuples(st.just("say"), PEOPLE), st.tuples(st.sampled_from(("done", "failed", "set_aside")), PEOPLE)),
    max_size=40,
)


@settings(max_examples=60, deadline=None)
@given(HAPPENINGS)
def test_each_persons_messages_are_handled_in_order(happenings: list[tuple[str, str]]) -> None:
    queues: dict[str, list[int]] = {"mira": [], "joao": [], "ana": []}
    store = open_store("sqlite://")
    with store.transaction() as conn:
        for number, (what, who) in enumerate(happenings):
            if what == "say":
                new = say(conn, str(number), who=who)
                assert new is not None
                queues[who].append(new)
            elif queues[who]:
                if what == "failed":
                    inbox.failed(conn, queues[who][0], "")
                else:
                    getattr(inbox, what)(conn, queues[who].pop(0))
            front = sorted(queue[0] for queue in queues.values() if queue)
            assert [each.id for each in inbox.waiting(conn, "test", 10)] == front
    store.close()


def test_no_message_is_handled_twice_or_out_of_order(store: Store) -> None:
    with store.transaction() as conn:
        for number in range(24):
            say(conn, str(number), who=("mira", "joao", "ana")[number % 3])
    handled: list[tuple[str, int]] = []

    def handle_all() -> None:
        while True:
            with store.transaction() as conn:
                front = inbox.waiting(conn, "test", 10)
            if not front:
                return
            for each in front:
                with store.transaction() as conn:
                    claimed = inbox.claim(conn, each.id)
                    if claimed is not None:
                        handled.append((claimed.person_key, claimed.id))
                        inbox.done(conn, claimed.id)

    threads = [threading.Thread(target=handle_all) for _ in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    for who in ("mira", "joao", "ana"):
        mine = [inbound_id for key, inbound_id in handled if key == who]
        assert len(mine) == 8
        assert mine == sorted(set(mine))
