"""An export: what is in it, that other programs can read it, and that it can be brought back."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import update

from bot.app import Tarebook, open_tarebook
from bot.channels.converse import CHANNEL
from bot.reports import tables
from bot.reports.export import Everything, as_csv, as_json, zipped
from bot.reports.reading import Unreadable, read
from bot.store.schema import person as person_table
from tests.talk import Talk

DOCS = Path(__file__).parents[1] / "docs" / "export.md"
NOW = datetime(2026, 3, 9, tzinfo=UTC)

SAID = (
    "timezone Europe/Lisbon",
    "180 g cooked rice",
    "new batch chilli: 800 g raw ground beef 80/20, 400 g canned tomatoes",
    "batch 1 cooked 1040 g",
    "took 220 g from batch 1",
    "change last to 200 g",
    "split batch 1 into 4 boxes",
    "a box from batch 1",
    "undo",
    "a box from batch 1",
    "apple 190 with core",
    "delete #1",
    "tare blue bowl 412 g",
    "my scoop of whey is 31 g",
    "label =1+2 bar: serving 40 g, 160 kcal, fat 6, carbs 20, protein 7",
    "2 eggs",
    "200 g rice",
    "dry",
    "I weigh 82.4 kg",
    "target 2100 kcal protein 150",
    "remind me at 21:15",
    "quiet hours 22:00 to 7:00",
    "new batch: 1000 g raw chicken breast",
    "batch 2 cooked 720 g",
    "finished batch 2",
)


@pytest.fixture
def mira() -> Iterator[Talk]:
    with open_tarebook("sqlite://") as tarebook:
        talk = Talk(tarebook)
        for text in SAID:
            talk.say(text, who="mira")
        yield talk


def everything(tarebook: Tarebook, who: str = "mira") -> Everything:
    found = tarebook.person(CHANNEL, who)
    assert found is not None
    return tarebook.everything_of(found.id, NOW)


def restorable(tarebook: Tarebook, who: str = "mira") -> dict:
    content = json.loads(as_json(everything(tarebook, who)))
    kept = {table.name for table in tables.TABLES if table.restored} | {"weigh_ins"}
    return {name: rows for name, rows in content.items() if name in kept}


def bring_back(tarebook: Tarebook, content: bytes, who: str = "mira", minute: int = 0) -> dict[str, int]:
    found = tarebook.person(CHANNEL, who)
    assert found is not None
    return tarebook.bring_back(found, content, NOW.replace(minute=minute))


def erase(talk: Talk, who: str = "mira") -> None:
    talk.say("forget me", who=who)
    talk.say("yes", who=who)
    talk.say("hello", who=who)


def test_the_page_names_every_column() -> None:
    page = DOCS.read_text(encoding="utf-8")
    sections = {part.split("\n", 1)[0].strip("` "): part for part in page.split("\n### ")[1:]}
    assert list(sections) == [table.name for table in tables.TABLES]
    for table in tables.TABLES:
        rows = [line.split("|")[1].strip(" `") for line in sections[table.name].splitlines() if line.startswith("| `")]
        assert rows == [column.name for column in table.columns], table.name
        for column in table.columns:
            assert f"| `{column.name}` | {column.what} |" in sections[table.name]


def test_every_value_is_of_its_columns_kind(mira: Talk) -> None:
    found = everything(mira.tarebook)
    seen = 0
    for table in tables.TABLES:
        for row in found.tables[table.name]:
            for column in table.columns:
                value = row[column.name]
                if value is None:
                    assert column.optional, (table.name, column.name)
                else:
                    assert tables.TYPES[column.kind](value), (table.name, column.name, value)
                    assert not column.among or value in column.among, (table.name, column.name, value)
                seen += 1
    assert seen > 500


def test_moments_are_told_in_utc_and_on_the_persons_clock(mira: Talk) -> None:
    mira.say("150 g cooked rice", at="2026-07-01T23:30:00", who="mira")
    last = json.loads(as_json(everything(mira.tarebook)))["weigh_ins"][-1]
    assert last["eaten_at_utc"] == "2026-07-01T23:30:00+00:00"
    assert last["eaten_at_local"] == "2026-07-02 00:30:00"
    assert last["day"] == "2026-07-02"


def test_no_cell_begins_like_a_formula() -> None:
    table = next(table for table in tables.TABLES if table.name == "tares")
    names = ["=1+2", "+1", "-1", "@x", "\tx", "\rx", 'a "quoted", one', "two\nlines", "plain"]
    rows = [{"name": name, "grams": 1.0, "at_utc": NOW, "undone": False} for name in names]
    content = as_csv(table, rows)
    assert content.startswith(b"\xef\xbb\xbf")
    assert b"\r\n'=1+2,1.0,2026-03-09T00:00:00+00:00,false\r\n" in content
    assert b'"a ""quoted"", one"' in content
    for name in names[:6]:
        assert b"'" + name.encode() in content


def test_pandas_and_a_spreadsheet_library_open_it(mira: Talk, tmp_path: Path) -> None:
    import pandas as pd
    import pyexcel

    day = mira.say("today", who="mira")["events"][0]
    with zipfile.ZipFile(io.BytesIO(zipped(everything(mira.tarebook)))) as archive:
        archive.extractall(tmp_path)
    frame = pd.read_csv(tmp_path / "weigh_ins.csv", parse_dates=["eaten_at_utc", "eaten_at_local", "day"])
    assert frame["kcal"].sum() == pytest.approx(day["kcal"], abs=0.01)
    assert frame["eaten_at_utc"].dt.tz is not None
    assert frame["number"].dtype.kind == "i"
    content = json.loads((tmp_path / "tarebook.json").read_bytes())
    again = pd.DataFrame(content["weigh_ins"])
    assert list(again.columns) == list(frame.columns)
    assert again["kcal"].tolist() == frame["kcal"].tolist(), "not a digit is lost"
    for table in tables.TABLES:
        sheet = pyexcel.get_sheet(file_name=str(tmp_path / f"{table.name}.csv"), encoding="utf-8-sig")
        head, *rows = sheet.to_array()
        assert head == [column.name for column in table.columns]
        assert len(rows) == len(content[table.name])
    label = pyexcel.get_array(file_name=str(tmp_path / "labels.csv"), encoding="utf-8-sig")[1]
    assert not label[0].startswith(("=", "+", "-", "@")), "no formula"
    assert (tmp_path / "pictures" / "week-2026-03-08.png").read_bytes().startswith(b"\x89PNG")


def test_what_is_exported_erased_and_brought_back_is_the_same(mira: Talk) -> None:
    before, content = restorable(mira.tarebook), zipped(everything(mira.tarebook))
    left = mira.say("batches", who="mira")["replies"][0]["text"]
    erase(mira)
    added = bring_back(mira.tarebook, content)
    assert added["weigh_ins"] == 7
    assert added["batches"] == 2
    assert restorable(mira.tarebook) == before
    assert mira.say("batches", who="mira")["replies"][0]["text"] == left
    assert mira.say("change #7 to 50 g", who="mira")["events"][0]["was"] == 7
    assert mira.say("a box from batch 1", who="mira")["events"][0]["evidence"] == "boxed"
    assert "2 of 4 boxes" in mira.say("batches", who="mira")["replies"][0]["text"]


def test_what_is_on_record_is_not_recorded_again(mira: Talk) -> None:
    before, content = restorable(mira.tarebook), as_json(everything(mira.tarebook))
    assert not any(bring_back(mira.tarebook, content).values())
    assert restorable(mira.tarebook) == before


def test_a_copy_beside_other_records_gets_free_numbers_once(mira: Talk) -> None:
    content = as_json(everything(mira.tarebook))
    mira.say("100 g banana", who="ana")
    mira.say("new batch soup: 500 g carrots", who="ana")
    mira.say("I weigh 60 kg", at="2026-03-05T09:00:00", who="ana")
    added = bring_back(mira.tarebook, content, "ana")
    numbers = [row["number"] for row in restorable(mira.tarebook, "ana")["weigh_ins"]]
    assert len(numbers) == len(set(numbers)) == 1 + 5
    assert added["weigh_ins"] == 7
    once = restorable(mira.tarebook, "ana")
    assert len(once["batches"]) == 3
    assert not any(bring_back(mira.tarebook, content, "ana", minute=1).values())
    assert restorable(mira.tarebook, "ana") == once
    assert mira.say("180 g cooked rice", who="ana")["events"][0]["id"] == max(numbers) + 1


def test_what_was_told_since_stays(mira: Talk) -> None:
    content = as_json(everything(mira.tarebook))
    mira.say("I weigh 81 kg", at="2026-03-02T20:00:00", who="mira")
    mira.say("tare blue bowl 500 g", who="mira")
    with mira.tarebook.transaction() as conn:
        conn.execute(update(person_table).values(day_starts=3))
    bring_back(mira.tarebook, content)
    assert "500 g" in mira.say("tares", who="mira")["replies"][0]["text"]
    assert everything(mira.tarebook).person["day_starts"] == 3


@pytest.mark.parametrize(
    "change",
    (
        {"format": "another"},
        {"version": 2},
        {"weigh_in_versions": None},
        {"batches": []},
        {"person": {"name": "x", "region": "moon", "timezone": "UTC", "day_starts": 0}},
        {"tares": [{"name": 5, "grams": 1.0, "at_utc": NOW.isoformat(), "undone": False}]},
        {"tares": [{"name": "pot", "grams": -1.0, "at_utc": NOW.isoformat(), "undone": False}]},
        {"tares": [{"name": "pot", "grams": 1.0, "at_utc": "2026-03-09", "undone": False}]},
        {"habits": [{"food": "rice", "state": "frozen", "at_utc": NOW.isoformat(), "undone": False}]},
    ),
)
def test_what_is_no_whole_export_changes_nothing(mira: Talk, change: dict) -> None:
    before = restorable(mira.tarebook)
    content = json.loads(as_json(everything(mira.tarebook))) | change
    mira.say("hello", who="ana")
    with pytest.raises(Unreadable):
        bring_back(mira.tarebook, json.dumps(content).encode(), "ana")
    assert restorable(mira.tarebook) == before
    assert not restorable(mira.tarebook, "ana")["tares"]


@pytest.mark.parametrize("content", (b"", b"PK\x03\x04", b"[" * 100_000, b"{}", b"\xff\xfe", b'"text"'))
def test_any_bytes_are_refused_in_a_sentence(content: bytes) -> None:
    with pytest.raises(Unreadable, match=r"\.$"):
        read(content)
