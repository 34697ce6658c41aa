"""The operator's commands, as they are typed."""

from __future__ import annotations

import json
import os
import shutil
import sqlite3
import threading
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from bot.__main__ import main
from bot.app import open_tarebook
from bot.store.delivery import lease
from bot.store.errors import StoreError
from bot.store.maintenance import backups
from tests.talk import Talk


@pytest.fixture(scope="session")
def with_two_people(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A database with two people in it; tests work on copies of it."""
    file = tmp_path_factory.mktemp("two") / "tarebook.db"
    with open_tarebook(f"sqlite:///{file}") as tarebook:
        talk = Talk(tarebook)
        for text in (
            "180 g cooked rice",
            "change last to 200 g",
            "new batch stew: 800 g raw beef chuck",
            "I ate 2 eggs",
        ):
            talk.say(text, who="mira")
        talk.say("hello", who="joao")
    return file


@pytest.fixture
def path(with_two_people: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The database that the commands work on."""
    monkeypatch.setenv("TAREBOOK_DATABASE", f"sqlite:///{tmp_path / 'tarebook.db'}")
    return Path(shutil.copyfile(with_two_people, tmp_path / "tarebook.db"))


def change(path: Path, statement: str) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA foreign_keys = OFF")
        connection.execute(statement)
        connection.commit()


def said(capsys: pytest.CaptureFixture[str], *arguments: str, status: int = 0) -> str:
    assert main(arguments) == status
    shown = capsys.readouterr()
    return shown.out + shown.err


def found(capsys: pytest.CaptureFixture[str], *arguments: str, status: int = 0) -> dict:
    assert main((*arguments, "--json")) == status
    return json.loads(capsys.readouterr().out)


def test_people_are_listed_without_what_they_eat(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    people = found(capsys, "people")
    assert [(each["name"], each["addresses"], each["weigh_ins"]) for each in people] == [
        ("mira", ["converse:mira"], 2),
        ("joao", ["converse:joao"], 0),
    ]
    assert people[0]["last_said"] == "2026-03-02T12:03:00+00:00"
    assert "rice" not in said(capsys, "people")


def test_a_backup_is_of_one_moment_while_it_is_written_to(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = path.with_name("copy.db")
    with open_tarebook(f"sqlite:///{path}") as tarebook:
        talk, stop = Talk(tarebook), threading.Event()

        def write() -> None:
            while not stop.is_set():
                talk.say("180 g cooked rice", who="mira")

        writer = threading.Thread(target=write)
        writer.start()
        try:
            assert "bytes" in said(capsys, "backup", str(target))
        finally:
            stop.set()
            writer.join()
    assert {each.name for each in path.parent.iterdir() if "copy" in each.name} == {"copy.db"}
    assert target.stat().st_mode & 0o077 == 0
    shutil.copyfile(target, path)
    assert found(capsys, "check")["ok"]


def test_a_backup_is_put_back_only_where_nobody_is_or_when_said_so(
    path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    copy = path.with_name("copy.db")
    said(capsys, "backup", str(copy))
    with open_tarebook(f"sqlite:///{path}") as tarebook:
        Talk(tarebook).say("180 g cooked rice", who="ana")
    assert "--replace" in said(capsys, "restore", str(copy), status=2)
    assert len(found(capsys, "people")) == 3
    assert found(capsys, "restore", str(copy), "--replace")["restored"]
    assert [each["name"] for each in found(capsys, "people")] == ["mira", "joao"]
    monkeypatch.setenv("TAREBOOK_DATABASE", f"sqlite:///{path.parent}/new/tarebook.db")
    assert "is as it was" in said(capsys, "restore", str(copy))
    assert found(capsys, "check")["ok"]


@pytest.mark.parametrize(
    ("damage", "why"),
    (
        ("UPDATE alembic_version SET version_num = '9999'", "newer"),
        ("DROP TABLE alembic_version", "another program"),
    ),
)
def test_what_is_no_backup_of_this_program_is_not_put_back(
    path: Path, capsys: pytest.CaptureFixture[str], damage: str, why: str
) -> None:
    copy = path.with_name("copy.db")
    said(capsys, "backup", str(copy))
    change(copy, damage)
    assert why in said(capsys, "restore", str(copy), "--replace", status=2)
    assert len(found(capsys, "people")) == 2


def test_nothing_is_put_back_under_a_running_bot(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    copy = path.with_name("copy.db")
    said(capsys, "backup", str(copy))
    with open_tarebook(f"sqlite:///{path}") as tarebook:
        Talk(tarebook).say("180 g cooked rice", who="ana")
        with tarebook.transaction() as conn:
            now = datetime.now(UTC)
            assert lease.take(conn, "telegram", "a bot", now, now + timedelta(seconds=20))
        assert "still serves" in said(capsys, "restore", str(copy), "--replace", status=2)
        with tarebook.transaction() as conn:
            lease.release(conn, "telegram", "a bot")
    assert len(found(capsys, "people")) == 3
    assert found(capsys, "restore", str(copy), "--replace")["restored"]


def test_a_damaged_backup_is_not_put_back(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    copy = path.with_name("copy.db")
    said(capsys, "backup", str(copy))
    content = bytearray(copy.read_bytes())
    for page in range(3, len(content) // 4096 - 1):
        content[page * 4096 : page * 4096 + 200] = os.urandom(200)
    copy.write_bytes(content)
    assert "damaged" in said(capsys, "restore", str(copy), "--replace", status=2)
    copy.write_text("no database at all, but long enough to be looked at")
    assert said(capsys, "restore", str(copy), "--replace", status=2)
    assert len(found(capsys, "people")) == 2


@pytest.mark.parametrize(
    ("damage", "kind"),
    (
        ("UPDATE weigh_in SET inbound_id = 999999 WHERE id = 1", "orphan"),
        ("UPDATE weigh_in SET number = 7 WHERE id = 1", "chain"),
        ("UPDATE weigh_in SET replaces = NULL, kind = 'recorded', number = 99 WHERE id = 2", None),
        ("UPDATE weigh_in SET edible_g = -5 WHERE id = 1", "amount"),
        ("UPDATE batch SET closed = 1", "batch"),
        ("UPDATE kitchen SET batches = 0", "batch"),
        ("UPDATE inbound SET state = 'waiting' WHERE id = 1", "queue"),
        ("UPDATE inbound SET state = 'set_aside', said_at = '2999-01-01 00:00:00' WHERE id = 1", "queue"),
    ),
)
def test_check_finds_what_can_not_be(
    path: Path, capsys: pytest.CaptureFixture[str], damage: str, kind: str | None
) -> None:
    assert found(capsys, "check")["problems"] == []
    change(path, damage)
    report = found(capsys, "check", status=0 if kind is None else 1)
    assert report["rows"]["weigh_in"] == 3
    if kind is not None:
        assert kind in {problem["kind"] for problem in report["problems"]}
        assert kind in said(capsys, "check", status=1)


def test_a_row_that_replaces_nothing_makes_a_days_sum_differ(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    change(path, "DROP INDEX uq_weigh_in_first_row")
    change(path, "UPDATE weigh_in SET replaces = NULL, kind = 'recorded' WHERE id = 2")
    kinds = {problem["kind"] for problem in found(capsys, "check", status=1)["problems"]}
    assert kinds >= {"chain", "sum"}


def test_an_export_is_brought_back_from_the_command_line(
    path: Path, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    from tests.test_export import as_json, everything

    with open_tarebook(f"sqlite:///{path}") as tarebook:
        (tmp_path / "mira.json").write_bytes(as_json(everything(tarebook)))
    assert "2 weigh-ins" in said(capsys, "import", str(tmp_path / "mira.json"), "--person", "converse:joao")
    assert "already" in said(capsys, "import", str(tmp_path / "mira.json"), "--person", "2")
    assert found(capsys, "import", str(tmp_path / "mira.json"), "--person", "2")["added"]["weigh_ins"] == 0
    assert "nobody" in said(capsys, "import", str(tmp_path / "mira.json"), "--person", "99", status=1)
    assert "not a Tarebook export" in said(capsys, "import", str(path), "--person", "1", status=1)
    assert "can't be read" in said(capsys, "import", str(tmp_path / "none"), "--person", "1", status=2)
    assert found(capsys, "check")["ok"]


@pytest.mark.parametrize("command", (("people",), ("check",), ("backup", "x.db"), ("import", "x", "--person", "1")))
def test_no_database_is_made_where_there_is_none(
    command: tuple[str, ...], capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "x").write_text("{}")
    monkeypatch.setenv("TAREBOOK_DATABASE", f"sqlite:///{tmp_path / 'nowhere.db'}")
    assert "no database" in said(capsys, *command, status=2)
    assert [each.name for each in tmp_path.iterdir()] == ["x"]


def test_an_invitation_in_json(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert len(found(capsys, "invite")["code"]) == 22


def test_a_server_is_copied_by_its_own_program(
    server_database: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with open_tarebook(server_database) as tarebook:
        Talk(tarebook).say("180 g cooked rice", who="mira")
        with tarebook.transaction() as conn:
            version = int(conn.exec_driver_sql("SHOW server_version_num").scalar_one()) // 10_000
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(StoreError, match="pg_dump, which is not installed"):
        backups.backup(server_database, tmp_path / "copy")
    programs = Path(f"/usr/lib/postgresql/{version}/bin")
    if not (programs / "pg_dump").exists():
        pytest.skip(f"pg_dump {version} is not installed")
    monkeypatch.setenv("PATH", str(programs))
    backups.backup(server_database, tmp_path / "copy")
    with open_tarebook(server_database) as tarebook:
        Talk(tarebook).say("180 g cooked rice", who="joao")
    with pytest.raises(StoreError, match="--replace"):
        backups.restore(server_database, tmp_path / "copy", datetime.now(UTC))
    backups.restore(server_database, tmp_path / "copy", datetime.now(UTC), replace=True)
    with open_tarebook(server_database) as tarebook:
        assert tarebook.person("converse", "mira") is not None
        assert tarebook.person("converse", "joao") is None
