"""Leaving without a trace: nothing of somebody who was erased is in any table, nor in the file's bytes."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import Connection, LargeBinary, Text, insert, select, update
from sqlalchemy.types import TypeDecorator

from bot.app import Tarebook, open_tarebook
from bot.channels.converse import CHANNEL, Converse
from bot.kinds import OutboxKind
from bot.store import people, schema
from bot.store.delivery import outbox, updates
from bot.store.maintenance import integrity
from bot.store.ownership.erasure import references_to
from bot.store.schema import metadata

MARK = "zqx"
"""Stands in all that Mira says and in what she is called."""
MIRA = f"{MARK}mira"
BATCH = ("800 g raw ground beef 80/20, 400 g canned tomatoes", "batch {} cooked 1040 g")


class Kitchen:
    """People who talk to the program, on a database that can be looked into."""

    def __init__(self, tarebook: Tarebook) -> None:
        self.tarebook = tarebook
        self._converse = Converse(tarebook)
        self._steps = 0

    def say(self, who: str, text: str) -> dict:
        self._steps += 1
        step = json.dumps({"say": text, "who": who}).encode()
        answer = json.loads(self._converse.step(self._steps, step))
        assert "error" not in answer, answer
        return answer

    def says(self, who: str, *texts: str) -> None:
        for text in texts:
            self.say(who, text)

    def id_of(self, who: str) -> int:
        person = self.tarebook.person(CHANNEL, who)
        assert person is not None
        return person.id

    def share(self, host: str, guest: str) -> None:
        """Moves the guest into the host's kitchen."""
        host_id, guest_id = self.id_of(host), self.id_of(guest)
        with self.tarebook.transaction() as conn:
            found = people.by_id(conn, host_id)
            assert found is not None
            move = update(schema.person).where(schema.person.c.id == guest_id)
            conn.execute(move.values(kitchen_id=found.kitchen_id))

    def coach(self, coach: str, client: str, called: str) -> None:
        now = datetime.now(UTC)
        row = {"coach_id": self.id_of(coach), "client_id": self.id_of(client), "called": called, "agreed_at": now}
        with self.tarebook.transaction() as conn:
            conn.execute(insert(schema.coaching).values(row))

    def erased(self, who: str) -> dict:
        """Has somebody erased as they would themselves."""
        assert self.say(who, "forget me")["events"][-1]["about"] == "erase"
        answer = self.say(who, "yes")
        assert [event["type"] for event in answer["events"]] == ["erased"]
        return answer


@pytest.fixture
def kitchen(url: str) -> Iterator[Kitchen]:
    with open_tarebook(url) as tarebook:
        yield Kitchen(tarebook)


@pytest.fixture
def one_kitchen() -> Iterator[Kitchen]:
    """For what is the same on every database."""
    with open_tarebook("sqlite://") as tarebook:
        yield Kitchen(tarebook)


def lives(kitchen: Kitchen) -> None:
    """All kinds of things that Mira says, and that others have of her."""
    kitchen.says(
        MIRA,
        f"new batch {MARK}stew: {BATCH[0]}",
        BATCH[1].format(1),
        "split batch 1 into 4 boxes",
        f"tare {MARK}bowl 412 g",
        f"label {MARK}bar: serving 40 g, 160 kcal, fat 6, carbs 20, protein 7",
        f"40 g {MARK}bar",
        "a box from batch 1",
        "200 g rice",
        "dry",
        "change last to 210 g",
        "I weigh 82 kg",
        "target 2100 kcal",
        "remind me at 21:15",
        f"what about {MARK}?",
        "200 g pasta",
    )


def rows_with(conn: Connection, mark: re.Pattern[str]) -> list[tuple[str, str, str]]:
    """Every text or blob in which the mark stands: (table, column, value)."""
    found = []
    for table in metadata.sorted_tables:
        for column in table.c:
            kind = column.type.impl if isinstance(column.type, TypeDecorator) else column.type
            if isinstance(kind, (Text, LargeBinary)):
                values = conn.execute(select(column)).scalars()
                texts = [v.decode("utf-8", "replace") if isinstance(v, bytes) else str(v or "") for v in values]
                found += [(table.name, column.name, text) for text in texts if mark.search(text)]
    return found


def references(conn: Connection, person_id: int) -> list[str]:
    return [
        str(column)
        for column in references_to(schema.person)
        if conn.execute(select(column).where(column == person_id)).first() is not None
    ]


def left_of(kitchen: Kitchen, who: str) -> str:
    return kitchen.say(who, "how much is left of batch 1?")["replies"][0]["text"].rpartition(":")[2]


def test_nothing_of_somebody_alone_stays(kitchen: Kitchen) -> None:
    lives(kitchen)
    person_id = kitchen.id_of(MIRA)
    with kitchen.tarebook.transaction() as conn:
        updates.store(conn, CHANNEL, [("1", f'{{"from": "{MIRA}", "text": "?"}}')], datetime.now(UTC))
        outbox.put(conn, CHANNEL, f"tap:{MIRA}", "No longer.", kind=OutboxKind.TAP)
        assert len(references(conn, person_id)) > 8
        assert len(rows_with(conn, re.compile(MARK))) > 20
    answer = kitchen.erased(MIRA)
    assert "erased" in answer["replies"][0]["text"]
    with kitchen.tarebook.transaction() as conn:
        assert rows_with(conn, re.compile(MARK)) == []
        assert references(conn, person_id) == []
        for table in (schema.batch, schema.batch_event, schema.tare, schema.weigh_in, schema.outbox, schema.journal):
            assert conn.execute(select(table)).first() is None, table.name


def test_what_a_kitchen_shares_stays_right_without_name_and_words(kitchen: Kitchen) -> None:
    lives(kitchen)
    kitchen.says("joao", "180 g cooked rice")
    kitchen.share(MIRA, "joao")
    kitchen.coach("joao", MIRA, f"Little {MARK}")
    kitchen.says(
        "joao",
        "took 100 g from batch 1",
        "100 g from all of it",
        "a box from batch 1",
        f"what does {MIRA} think?",
        "200 g pasta",
    )
    kitchen.says(MIRA, "took 50 g from batch 1", "50 g from all of it")
    before = left_of(kitchen, "joao")
    day = kitchen.say("joao", "today")["events"][0]["kcal"]
    mira = kitchen.id_of(MIRA)
    kitchen.erased(MIRA)
    with kitchen.tarebook.transaction() as conn:
        assert rows_with(conn, re.compile(MARK)) == []
        assert references(conn, mira) == []
        assert integrity.problems(conn, datetime(2026, 3, 3, tzinfo=UTC)) == []
    assert left_of(kitchen, "joao") == before
    assert kitchen.say("joao", "today")["events"][0]["kcal"] == day
    listed = kitchen.say("joao", "batches")["replies"][0]["text"]
    assert "ground beef" in listed
    # The 150 g that were taken loose came out of a box.
    assert "1 of 4 boxes" in listed
    assert "412 g" in kitchen.say("joao", "tares")["replies"][0]["text"]
    assert kitchen.say("joao", "undo")["events"], "what they did themselves can still be undone"
    kitchen.say("joao", "a box from batch 1")
    assert "0 of 4 boxes" not in kitchen.say("joao", "batches")["replies"][0]["text"]


def test_a_group_is_told_nothing_any_more_by_somebody_who_has_left_either(one_kitchen: Kitchen) -> None:
    one_kitchen.says(MIRA, f"new batch stew: {BATCH[0]}")
    for who in ("joao", "ana"):
        one_kitchen.says(who, "180 g cooked rice")
    joao, mira_id = one_kitchen.id_of("joao"), one_kitchen.id_of(MIRA)
    with one_kitchen.tarebook.transaction() as conn:
        before = people.by_id(conn, joao)
        assert before is not None
    for who in ("joao", "ana"):
        one_kitchen.share(MIRA, who)
    with one_kitchen.tarebook.transaction() as conn:
        mira = people.by_id(conn, mira_id)
        assert mira is not None
        conn.execute(insert(schema.room).values(kitchen_id=mira.kitchen_id, channel="telegram", place="-5"))
        said = conn.execute(
            select(schema.weigh_in.c.inbound_id).where(schema.weigh_in.c.person_id == joao)
        ).scalar_one()
        outbox.put(conn, "telegram", "-5", f"joao: {MIRA} weighed 1040 g", inbound_id=said, kind=OutboxKind.LETTER)
        moved = update(schema.person).where(schema.person.c.id == joao)
        conn.execute(moved.values(kitchen_id=before.kitchen_id))
    one_kitchen.erased(MIRA)
    with one_kitchen.tarebook.transaction() as conn:
        assert rows_with(conn, re.compile(MARK)) == []


def test_boxes_count_on_after_rows_have_been_given_again(one_kitchen: Kitchen) -> None:
    one_kitchen.says("joao", f"new batch stew: {BATCH[0]}", BATCH[1].format(1))
    one_kitchen.says(MIRA, *["180 g cooked rice"] * 5)
    one_kitchen.says("joao", "split batch 1 into 4 boxes")
    one_kitchen.erased(MIRA)
    one_kitchen.say("joao", "a box from batch 1")
    assert "3 of 4 boxes" in one_kitchen.say("joao", "batches")["replies"][0]["text"]


def test_who_was_erased_and_writes_again_is_new(one_kitchen: Kitchen) -> None:
    one_kitchen.says(MIRA, "180 g cooked rice", "batches")
    one_kitchen.erased(MIRA)
    assert one_kitchen.say(MIRA, "yes")["events"] == []
    assert one_kitchen.say(MIRA, "180 g cooked rice")["events"][0]["id"] == 1
    one_kitchen.erased(MIRA)


def test_only_a_yes_to_that_question_erases(one_kitchen: Kitchen) -> None:
    one_kitchen.say(MIRA, "180 g cooked rice")
    for texts in (("forget me", "no"), ("/privacy", "no"), ("/privacy", "yes", "no"), ("forget me", "2 eggs", "yes")):
        one_kitchen.says(MIRA, *texts)
    one_kitchen.says(MIRA, "/privacy", "180 g cooked rice", "yes")
    assert one_kitchen.say(MIRA, "show my log")["events"][0]["count"] == 3
    assert one_kitchen.say(MIRA, "/privacy")["events"][-1]["choices"] == [
        "yes, erase everything",
        "no, keep everything",
    ]
    assert one_kitchen.say(MIRA, "yes")["events"][-1]["choices"] == ["yes, erase it all", "no, keep it"]
    assert one_kitchen.say(MIRA, "yes")["events"][0]["type"] == "erased"


def test_the_bytes_of_the_file_hold_nothing(tmp_path: Path) -> None:
    path = tmp_path / "tarebook.db"
    with open_tarebook(f"sqlite:///{path}") as tarebook:
        kitchen = Kitchen(tarebook)
        lives(kitchen)
        kitchen.says(MIRA, *[f"{MARK} {number} and some more words that fill pages" for number in range(60)])
        kitchen.says("joao", "180 g cooked rice")
        kitchen.erased(MIRA)
        contents = {each.name: each.read_bytes() for each in tmp_path.iterdir()}
        assert contents["tarebook.db-wal"] == b""
        assert not any(MARK.encode() in content for content in contents.values())
        assert any(b"joao" in content for content in contents.values())
