"""The outbox: a row first, sent afterwards."""

from datetime import timedelta

import pytest
from sqlalchemy import Connection

from bot.kinds import OutboxKind
from bot.store.delivery import outbox
from bot.store.engine import Store
from tests.store.records import MONDAY, Message

LATER = MONDAY + timedelta(seconds=30)


def front(conn: Connection, now=MONDAY) -> list[int]:
    return [each.id for each in outbox.front(conn, "test", 10, now)]


def test_what_was_put_is_pending(store: Store, message: Message) -> None:
    with message() as books:
        first = outbox.put(
            books.conn,
            "test",
            "mira",
            "Raw or cooked?",
            person_id=books.person.id,
            inbound_id=books.inbound_id,
            choices=["raw", "cooked"],
            question_ref="ref",
            about_ref="7",
        )
        person, inbound_id = books.person.id, books.inbound_id
    with store.transaction() as conn:
        (one,) = outbox.front(conn, "test", 10, MONDAY)
        assert (one.id, one.person_id, one.inbound_id, one.kind, one.state) == (
            first,
            person,
            inbound_id,
            "reply",
            "pending",
        )
        assert (one.text, one.choices, one.question_ref, one.about_ref) == (
            "Raw or cooked?",
            ("raw", "cooked"),
            "ref",
            "7",
        )
        assert (one.channel, one.place, one.tries, one.parts_sent) == ("test", "mira", 0, 0)
        assert outbox.of_message(conn, inbound_id) == [one]
        assert outbox.to_place(conn, "test", "mira") == [one]
        assert outbox.to_place(conn, "another", "mira") == []
        assert outbox.front(conn, "another", 10, MONDAY) == []


def test_each_place_gets_its_texts_in_order_and_does_not_hold_up_the_others(store: Store) -> None:
    with store.transaction() as conn:
        mira1, mira2, joao1 = (outbox.put(conn, "test", who, "Noted.") for who in ("mira", "mira", "joao"))
        assert front(conn) == [mira1, joao1]
        assert outbox.sending(conn, [mira1]) == {mira1}
        assert outbox.sending(conn, [mira1]) == outbox.sending(conn, []) == set()
        assert front(conn) == [joao1]
        outbox.failed(conn, mira1, 1, "429", LATER)
        assert front(conn) == [joao1]
        assert front(conn, LATER) == [mira1, joao1]
        assert outbox.count(conn, "test") == 3
        outbox.sending(conn, [mira1])
        (begun,) = outbox.interrupted(conn, "test")
        outbox.sent(conn, [(begun, LATER, "mira:9001")])
        assert front(conn) == [mira2, joao1]


@pytest.mark.parametrize("ends", ("sent", "dead", "given up"))
def test_a_number_is_not_given_again(store: Store, ends: str) -> None:
    with store.transaction() as conn:
        first = outbox.put(conn, "test", "tap:mira", "No longer.", kind=OutboxKind.TAP)
        outbox.sending(conn, [first])
        (begun,) = outbox.interrupted(conn, "test")
        if ends == "sent":
            outbox.sent(conn, [(begun, MONDAY, None)])
        elif ends == "dead":
            outbox.dead(conn, first, "Forbidden")
        else:
            outbox.give_up_on(conn, "test", "tap:mira", "blocked")
        assert outbox.count(conn, "test") == 0
        reply = outbox.put(conn, "test", "mira", "Noted.")
        assert reply > first
        # Somebody who is late with the news of the first says nothing about the other.
        outbox.sent(conn, [(begun, LATER, None)])
        assert front(conn) == [reply]


def test_answers_go_before_what_nobody_asked_for(store: Store) -> None:
    with store.transaction() as conn:
        reminder = outbox.put(conn, "test", "mira", "Dinner is missing.", kind=OutboxKind.REMINDER)
        reply = outbox.put(conn, "test", "joao", "Noted.")
        assert front(conn) == [reply, reminder]


def test_a_clock_that_was_set_back_holds_nothing_up_for_longer_than_a_server_may_ask_for(
    store: Store, message: Message
) -> None:
    with message() as books:
        new = outbox.put(books.conn, "test", "mira", "Noted.")
    with store.transaction() as conn:
        outbox.sending(conn, [new])
        outbox.failed(conn, new, 1, "network", MONDAY + outbox.LONGEST_WAIT)
        assert front(conn, MONDAY) == []
        assert front(conn, MONDAY - timedelta(days=1)) == [new]


def test_whoever_hears_late_that_a_try_failed_puts_nothing_back_that_is_being_tried_again(store: Store) -> None:
    with store.transaction() as conn:
        new = outbox.put(conn, "test", "mira", "Noted.")
        outbox.sending(conn, [new])
        # Another process takes the lead and tries it again.
        outbox.failed(conn, new, 1, "interrupted", MONDAY)
        outbox.sending(conn, [new])
        outbox.failed(conn, new, 1, "network", MONDAY)
        assert front(conn) == []
        outbox.failed(conn, new, 2, "network", MONDAY)
        assert front(conn) == [new]


def test_the_way_of_a_reply(store: Store, message: Message) -> None:
    with message() as books:
        new = outbox.put(books.conn, "test", "mira", "Noted.", inbound_id=books.inbound_id)
        inbound_id = books.inbound_id
    with store.transaction() as conn:
        outbox.sending(conn, [new])
        assert [each.id for each in outbox.interrupted(conn, "test")] == [new]
        outbox.part_sent(conn, new, 1)
        outbox.failed(conn, new, 1, "network", LATER)
        assert front(conn, MONDAY) == []
        (waiting,) = outbox.front(conn, "test", 10, LATER)
        assert (waiting.tries, waiting.not_before, waiting.parts_sent) == (1, LATER, 1)
        outbox.sending(conn, [new])
        outbox.sent(conn, [(waiting, LATER, "9001")])
        assert front(conn, LATER) == []
        assert outbox.interrupted(conn, "test") == []
        (sent,) = outbox.of_message(conn, inbound_id)
        assert (sent.state, sent.tries, sent.remote_ref) == ("sent", 2, "9001")
        assert outbox.by_remote_ref(conn, "test", "9001") == sent
        assert outbox.by_remote_ref(conn, "another", "9001") is None


def test_what_is_dead_is_not_tried_again(store: Store, message: Message) -> None:
    with message() as books:
        new = outbox.put(books.conn, "test", "mira", "Noted.", inbound_id=books.inbound_id)
        inbound_id = books.inbound_id
    with store.transaction() as conn:
        outbox.dead(conn, new, "blocked by the user")
        assert front(conn) == []
        (dead,) = outbox.of_message(conn, inbound_id)
        assert dead.state == "dead"


def test_a_whole_place_is_given_up_or_moved(store: Store) -> None:
    with store.transaction() as conn:
        for place in ("mira", "mira", "group", "joao"):
            outbox.put(conn, "test", place, "Noted.")
        outbox.give_up_on(conn, "test", "mira", "blocked by the user")
        outbox.redirect(conn, "test", "group", "supergroup")
        assert [each.place for each in outbox.front(conn, "test", 10, MONDAY)] == ["supergroup", "joao"]
        assert outbox.count(conn, "test") == 2


@pytest.mark.parametrize("hostile", ("a\0b", "\ud800", "\udfff\ud83d"))
def test_text_that_no_database_takes_is_mended(store: Store, hostile: str) -> None:
    with store.transaction() as conn:
        outbox.put(conn, "test", "mira", hostile, choices=[hostile])
        (row,) = outbox.front(conn, "test", 10, MONDAY)
        # U+FFFD is the Unicode Standard's replacement character.
        assert row.text.replace("\ufffd", "") == hostile.replace("\0", "").encode("ascii", "ignore").decode()
        assert "\ufffd" in row.text
        assert row.choices == (hostile,)
