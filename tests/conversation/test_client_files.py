"""Files about a client: a page, and tables with a consent of their own, each under the consent of the moment."""

from __future__ import annotations

import csv
import io
import re
import zipfile
from collections.abc import Iterator
from datetime import UTC, datetime

import pytest

from bot.app import Tarebook, open_tarebook
from bot.channels.converse import CHANNEL
from bot.reports import export
from bot.store.delivery import outbox
from tests.talk import Talk

AT = "2026-03-09T08:00"


@pytest.fixture
def talk() -> Iterator[Talk]:
    with open_tarebook("sqlite://") as opened:
        talk = Talk(opened)
        code = re.search(r"/start ([\w-]{22})", str(talk.say("invite Ana", "2026-03-01T08:00", "Ines")))
        assert code is not None
        for text in (f"/start {code[1]}", "yes", "target 1900 kcal protein 100"):
            talk.say(text, "2026-03-01T09:00", "Ana")
        talk.say("label zest bar: serving 40 g, 160 kcal, fat 6, carbs 20, protein 7", "2026-03-02T10:00", "Ana")
        for text in ("600 g cooked rice", "40 g zest bar", "I weigh 71.4 kg", "tell my coach: a secret word"):
            talk.say(text, "2026-03-02T12:00", "Ana")
        yield talk


def said(answer: dict, to: str) -> str:
    return "\n".join(reply["text"] for reply in answer["replies"] if reply["to"] == to)


def person_id(tarebook: Tarebook, name: str) -> int:
    found = tarebook.person(CHANNEL, name)
    assert found is not None
    return found.id


def tables(talk: Talk) -> dict[str, list[dict[str, str]]] | None:
    """The tables of the file as the coach would get it now."""
    at = datetime(2026, 3, 9, 8, tzinfo=UTC)
    shared = talk.tarebook.shared_of(person_id(talk.tarebook, "Ines"), person_id(talk.tarebook, "Ana"), at, at)
    if shared is None:
        return None
    with zipfile.ZipFile(io.BytesIO(export.zipped(shared))) as archive:
        assert b"a secret word" not in b"".join(archive.read(name) for name in archive.namelist())
        return {
            name.removesuffix(".csv"): list(csv.DictReader(io.StringIO(archive.read(name).decode("utf-8-sig"))))
            for name in archive.namelist()
            if name.endswith(".csv")
        }


def test_a_file_of_a_client_needs_the_clients_own_yes_and_ends_with_it(talk: Talk) -> None:
    asked = talk.say("export Ana's data", AT, "Ines")
    assert "I have asked Ana" in said(asked, "Ines")
    assert "May Ines have it?" in said(asked, "Ana")
    assert tables(talk) is None
    assert "Ana lets you have a file" in said(talk.say("yes", AT, "Ana"), "Ines")
    sent = talk.say("export Ana's data", AT, "Ines")
    assert "has taken a file of your records" in said(sent, "Ana")
    (event,) = [event for event in sent["events"] if event["type"] == "exported"]
    assert event["file"] == "Ana-2026-03-09.zip"
    found = tables(talk)
    assert found is not None
    assert set(found) == {"weigh_ins", "measures", "labels", "targets", "day_kinds", "body_weights"}
    assert [row["food"] for row in found["weigh_ins"]] == ["white rice", "zest bar"]
    assert found["weigh_ins"][0]["kcal"] == "780.0"
    talk.say("Ines may not export my data any more", AT, "Ana")
    assert tables(talk) is None


def test_a_no_is_told_and_nothing_is_given(talk: Talk) -> None:
    talk.say("export Ana's data", AT, "Ines")
    assert "does not want a file" in said(talk.say("no", AT, "Ana"), "Ines")
    assert tables(talk) is None


@pytest.mark.parametrize(
    ("hidden", "gone"),
    (
        ("hide my calories from Ines", {"labels"}),
        ("hide my protein from Ines", {"labels", "targets"}),
        ("hide my weight from Ines", {"body_weights"}),
    ),
)
def test_the_file_has_nothing_that_is_withheld(talk: Talk, hidden: str, gone: set[str]) -> None:
    talk.say("Ines may export my data", AT, "Ana")
    whole = tables(talk)
    talk.say(hidden, AT, "Ana")
    left = tables(talk)
    assert whole is not None
    assert left is not None
    assert set(whole) - set(left) == gone
    columns = set(left["weigh_ins"][0])
    assert ("kcal" in columns) is ("weight" in hidden)
    assert ("fat_g" in columns) is ("weight" in hidden)
    assert ("protein_g" in columns) is ("protein" not in hidden)


@pytest.mark.parametrize("ask", ("report for Ana", "make a one page summary of Ana", "Ana's pdf", "pdf of Ana"))
def test_a_page_is_sent_as_a_pdf(talk: Talk, ask: str) -> None:
    answer = talk.say(ask, AT, "Ines")
    (event,) = [event for event in answer["events"] if event["type"] == "exported"]
    assert (event["who"], event["file"]) == ("Ana", "Ana-2026-03-09.pdf")


def test_a_file_that_was_asked_for_before_the_end_is_empty_afterwards(talk: Talk) -> None:
    talk.say("Ines may export my data", AT, "Ana")
    talk.say("export Ana's data", AT, "Ines")
    talk.say("report for Ana", AT, "Ines")
    rows = _files(talk.tarebook)
    assert [talk.tarebook.file_of(row).name for row in rows] == ["Ana-2026-03-09.zip", "Ana-2026-03-09.pdf"]
    talk.say("end coaching with Ines", AT, "Ana")
    assert {talk.tarebook.file_of(row).content for row in rows} == {b"This is not shared with you any more.\n"}
    talk.say("/privacy", AT, "Ana")
    talk.say("yes, erase everything", AT, "Ana")
    talk.say("yes, erase it all", AT, "Ana")
    assert _files(talk.tarebook) == []


def _files(tarebook: Tarebook) -> list[outbox.OutboxRow]:
    """The rows of the outbox that a file goes with."""
    with tarebook.transaction() as conn:
        ids = conn.exec_driver_sql("SELECT id FROM outbox WHERE document IS NOT NULL ORDER BY id").scalars().all()
        conn.exec_driver_sql("UPDATE outbox SET state = 'pending', sent_at = NULL WHERE document IS NOT NULL")
        return [row for row in outbox.to_place(conn, CHANNEL, "Ines") if row.id in ids]
