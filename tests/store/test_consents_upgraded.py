"""Consents of a database from before protein was a part of its own: nobody sees more than they did."""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from alembic import command
from alembic.config import Config

from bot.store import coaching, people
from bot.store.books import Books
from bot.store.engine import open_store

ROOT = Path(__file__).parents[2]
AT = "2026-03-02 12:00:00.000000"


@pytest.mark.parametrize(
    ("before", "withheld"),
    (
        ("energy", {"energy", "protein", "cautions", "export"}),
        ("body_weight energy", {"body_weight", "energy", "protein", "cautions", "export"}),
        ("body_weight", {"body_weight", "cautions", "export"}),
    ),
)
def test_who_withheld_energy_keeps_protein_withheld(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, before: str, withheld: set[str]
) -> None:
    path = tmp_path / "tarebook.db"
    monkeypatch.setenv("TAREBOOK_DATABASE", f"sqlite:///{path}")
    config = Config()
    config.set_main_option("script_location", str(ROOT / "migrations"))
    command.upgrade(config, "0010")
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("INSERT INTO kitchen (id, batches) VALUES (1, 0), (2, 0)")
        for number, name in ((1, "Ana"), (2, "Ines")):
            connection.execute(
                "INSERT INTO person (id, name, region, timezone, role, kitchen_id)"
                " VALUES (?, ?, 'US', 'UTC', 'client', ?)",
                (number, name, number),
            )
        connection.execute(
            "INSERT INTO inbound (id, channel, update_key, person_key, kind, body, said_at, state, tries)"
            f" VALUES (1, 'test', '1', 'Ana', 'say', '{{}}', '{AT}', 'done', 0)"
        )
        connection.execute(
            f"INSERT INTO coaching (coach_id, client_id, called, agreed_at) VALUES (2, 1, 'Ana', '{AT}')"
        )
        connection.execute(
            "INSERT INTO setting (person_id, name, value, inbound_id, at) VALUES (1, 'withheld from 2', ?, 1, ?)",
            (before, AT),
        )
    store = open_store(f"sqlite:///{path}")
    with store.transaction() as conn:
        coach = people.by_id(conn, 2)
        assert coach is not None
        books = coaching.books_of_client(Books(conn, coach, 1, datetime(2026, 3, 3, tzinfo=UTC)), 1)
        assert books is not None
        assert books.withheld == withheld
    store.close()
