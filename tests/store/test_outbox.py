"""The outbox: a row first, sent afterwards."""

from datetime import timedelta

import pytest

from bot.store import outbox
from bot.store.engine import Store

from .records import MONDAY, Message


def test_what_was_put_is_pending_in_order(store: Store, message: Message) -> None:
    with message() as books:
        first = outbox.put(books.conn, books.person.id, books.inbound_id, "Raw or cooked?", ["raw", "cooked"], "ref")
        second = outbox.put(books.conn, books.person.id, None, "Still here?", [], None, kind="reminder")
        person, inbound_id = books.person.id, books.inbound_id
    with store.transaction() as conn:
        one, two = outbox.pending(conn, 10)
        assert (one.id, one.person_id, one.inbound_id, one.kind, one.state) == (
            first,
            person,
            inbound_id,
            "reply",
            "pending",
        )
        assert (one.text, one.choices, one.question_ref) == ("Raw or cooked?", ("raw", "cooked"), "ref")
        assert (two.id, two.inbound_id, two.kind, two.choices) == (second, None, "reminder", ())
        assert outbox.pending(conn, 1) == [one]
        assert outbox.of_message(conn, inbound_id) == [one]


def test_the_way_of_a_reply(store: Store, message: Message) -> None:
    with message() as books:
        new = outbox.put(books.conn, books.person.id, books.inbound_id, "Noted.", [], None)
        inbound_id = books.inbound_id
    with store.transaction() as conn:
        outbox.sending(conn, new)
        assert outbox.pending(conn, 10) == []
        assert [each.id for each in outbox.interrupted(conn)] == [new]
        later = MONDAY + timedelta(seconds=30)
        outbox.failed(conn, new, "network", later)
        (waiting,) = outbox.pending(conn, 10)
        assert (waiting.tries, waiting.not_before) == (1, later)
        assert outbox.pending(conn, 10, now=MONDAY) == []
        assert [each.id for each in outbox.pending(conn, 10, now=later)] == [new]
        outbox.sending(conn, new)
        outbox.sent(conn, new, later, "9001")
        assert outbox.pending(conn, 10) == []
        assert outbox.interrupted(conn) == []
        (sent,) = outbox.of_message(conn, inbound_id)
        assert (sent.state, sent.tries, sent.remote_ref) == ("sent", 2, "9001")


def test_what_is_dead_is_not_tried_again(store: Store, message: Message) -> None:
    with message() as books:
        new = outbox.put(books.conn, books.person.id, books.inbound_id, "Noted.", [], None)
        inbound_id = books.inbound_id
    with store.transaction() as conn:
        outbox.dead(conn, new, "blocked by the user")
        assert outbox.pending(conn, 10) == []
        (dead,) = outbox.of_message(conn, inbound_id)
        assert dead.state == "dead"


@pytest.mark.parametrize("hostile", ("a\0b", "\ud800", "\udfff\ud83d"))
def test_text_that_no_database_takes_is_mended(store: Store, message: Message, hostile: str) -> None:
    with message() as books:
        outbox.put(books.conn, books.person.id, books.inbound_id, hostile, [hostile], None)
    with store.transaction() as conn:
        (row,) = outbox.pending(conn, 10)
        # U+FFFD is the Unicode Standard's replacement character.
        assert row.text.replace("\ufffd", "") == hostile.replace("\0", "").encode("ascii", "ignore").decode()
        assert "\ufffd" in row.text
        assert row.choices == (hostile,)
