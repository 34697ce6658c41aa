"""Words are kept for a time, records for good."""

from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy import select

from bot.store.delivery import outbox, updates
from bot.store.ownership import retention
from bot.store.schema import arrival, inbound, question, weigh_in
from bot.store.schema import outbox as outbox_table

MARK = "zqx"


def words(talk) -> list[str]:
    """Every text that was said, told or asked in which the mark stands."""
    with talk.tarebook.transaction() as conn:
        columns = (inbound.c.body, outbox_table.c.text, outbox_table.c.choices, question.c.text, question.c.subject)
        found = [str(value) for column in columns for value in conn.execute(select(column)).scalars()]
    return [text for text in found if MARK in text]


def test_old_words_go_and_the_records_stay(talk):
    talk.say(f"tare {MARK}bowl 412 g", at="2026-03-02T12:00:00")
    talk.say("180 g cooked rice", at="2026-03-02T12:01:00")
    assert words(talk)
    talk.advance("2027-04-05T12:00:00")
    assert words(talk), "not before 400 days are over"
    talk.advance("2027-04-07T12:00:00")
    assert words(talk) == []
    assert "412 g" in talk.say("tares", at="2027-04-07T12:01:00")["replies"][0]["text"]
    with talk.tarebook.transaction() as conn:
        assert len(conn.execute(select(weigh_in)).all()) == 1


def test_everybody_says_for_how_long_and_undo_holds_there_too(talk):
    for who in ("mira", "joao"):
        talk.say(f"{MARK} {who}", at="2026-03-02T12:00:00", who=who)
    talk.say("keep my messages 2 weeks", who="mira")
    talk.advance("2026-03-15T12:00:00")
    assert len(words(talk)) == 4, "each message, and the reply that quotes it"
    talk.advance("2026-03-17T12:00:00")
    assert len(words(talk)) == 2
    assert "14 days" in talk.say("/privacy", who="mira")["replies"][0]["text"]
    talk.say("undo", who="mira")
    assert "400 days" in talk.say("/privacy", who="mira")["replies"][0]["text"]


def test_what_waits_for_an_answer_is_kept(talk):
    talk.say("keep my messages 7 days", at="2026-03-02T12:00:00")
    talk.say("200 g rice", at="2026-03-02T12:01:00")
    talk.advance("2026-04-02T12:00:00")
    answer = talk.say("dry", at="2026-04-02T12:01:00")
    assert [event["type"] for event in answer["events"]] == ["weigh_in", "habit_saved"]


def test_updates_and_what_could_not_be_delivered_do_not_stay(talk):
    then, now = datetime(2026, 3, 2, tzinfo=UTC), datetime(2026, 5, 2, tzinfo=UTC)
    with talk.tarebook.transaction() as conn:
        updates.store(conn, "telegram", [("1", MARK), ("2", MARK)], then)
        read, unreadable = updates.next_waiting(conn, "telegram", 2)
        updates.read(conn, [read])
        updates.unreadable(conn, unreadable.id, "ValueError")
        outbox.dead(conn, outbox.put(conn, "telegram", "1", MARK), "Forbidden")
    retention.apply(talk.tarebook.store, now)
    assert words(talk) == []
    with talk.tarebook.transaction() as conn:
        assert conn.execute(select(arrival)).all() == []


def test_many_rows_are_wiped_in_short_transactions(talk, monkeypatch):
    monkeypatch.setattr(retention, "AT_ONCE", 2)
    for number in range(7):
        talk.say(f"tare {MARK}bowl {100 + number} g", at="2026-03-02T12:00:00")
    retention.apply(talk.tarebook.store, datetime(2028, 1, 1, tzinfo=UTC))
    assert words(talk) == []
