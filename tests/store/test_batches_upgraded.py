"""Batches of a database from before batches could be changed: the same values, and portions with their figures."""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from alembic import command
from alembic.config import Config

from bot.store import batches, people, weighins
from bot.store.books import Books
from bot.store.engine import open_store
from domain.batch_steps import Ingredient
from domain.batches import Batch
from domain.foods import State
from domain.nutrients import Nutrients
from domain.weighins import Evidence

ROOT = Path(__file__).parents[2]
AT = "2026-03-02 12:00:00.000000"
PORK = Nutrients(2400.0, 180.0, 180.0, 0.0, 0.0)
BARLEY = Nutrients(704.0, 20.0, 2.4, 155.0)

BEFORE = (
    "INSERT INTO kitchen (id, batches) VALUES (1, 2)",
    "INSERT INTO person (id, name, region, timezone, role, kitchen_id) VALUES (1, 'mira', 'US', 'UTC', 'client', 1)",
    "INSERT INTO address (channel, key, person_id) VALUES ('test', 'mira', 1)",
    "INSERT INTO inbound (id, channel, update_key, person_key, kind, body, said_at, state, tries)"
    f" VALUES (1, 'test', '1', 'mira', 'say', '{{}}', '{AT}', 'done', 0)",
    "INSERT INTO batch (id, kitchen_id, number, name, opened_at, closed, inbound_id)"
    f" VALUES (1, 1, 1, 'pork and barley', '{AT}', 0, 1), (2, 1, 2, 'pork', '{AT}', 1, 1)",
    "INSERT INTO batch_ingredient (batch_id, position, food, state, food_group, method, raw_g, kcal, protein_g, fat_g,"
    " carbohydrate_g, fibre_g) VALUES (1, 0, 'pork', 'raw', 'meat', '', 1000, 2400, 180, 180, 0, 0),"
    " (1, 1, 'barley', 'raw', 'grains', '', 200, 704, 20, 2.4, 155, NULL),"
    " (2, 0, 'pork', 'raw', 'meat', '', 1000, 2400, 180, 180, 0, 0)",
)


def event(batch: int, kind: str, grams: float | None, count: int | None = None, after: int | None = None) -> str:
    values = (repr(value) if value is not None else "NULL" for value in (batch, kind, grams, count, after))
    return (
        "INSERT INTO batch_event (batch_id, kind, grams, count, after_row, person_id, inbound_id, at)"
        f" VALUES ({', '.join(values)}, 1, 1, '{AT}')"
    )


def portion(number: int, grams: float, evidence: str, kcal: float) -> str:
    return (
        "INSERT INTO weigh_in (person_id, number, kind, food, state, batch_id, as_weighed_g, edible_g, basis_g, basis,"
        " evidence, kcal, protein_g, fat_g, carbohydrate_g, eaten_at, day, said, inbound_id) VALUES"
        f" (1, {number}, 'recorded', 'pork and barley', 'cooked', 1, {grams}, {grams}, 77, 'raw', '{evidence}',"
        f" {kcal}, 1, 2, 3, '{AT}', '2026-03-02', x'7b7d', 1)"
    )


HAPPENED = (
    event(1, "cooked", 1800.0),
    event(1, "cooked", 1500.0),
    portion(1, 100.0, "weighed", 205.0),
    event(1, "drained", 60.0),
    event(1, "drained", 20.0),
    event(1, "boxed", 350.0, 4, 1),
    portion(2, 350.0, "boxed", 700.0),
    event(1, "boxed", 210.0, 5, 2),
    portion(3, 420.0, "boxed", 840.0),
    event(1, "reduced", 210.0, 1),
    event(2, "cooked", 700.0),
    event(2, "reduced", 50.0),
    event(2, "closed", 650.0),
)


@pytest.fixture
def upgraded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    path = tmp_path / "tarebook.db"
    monkeypatch.setenv("TAREBOOK_DATABASE", f"sqlite:///{path}")
    config = Config()
    config.set_main_option("script_location", str(ROOT / "migrations"))
    command.upgrade(config, "0006")
    with closing(sqlite3.connect(path)) as connection, connection:
        for statement in (*BEFORE, *HAPPENED):
            connection.execute(statement)
    return f"sqlite:///{path}"


def values(batch: Batch | None) -> dict[str, object]:
    assert batch is not None
    return {
        "ingredients": batch.ingredients,
        "weights": (batch.cooked_g, batch.fat_off_g, batch.taken_g, batch.reduced_g, batch.left_g),
        "boxes": ([box.grams for box in batch.boxes], batch.boxes_packed),
        "closed": batch.closed,
    }


def test_old_batches_are_the_same_and_old_portions_keep_their_figures(upgraded: str) -> None:
    pork = Ingredient("pork", State.RAW, 1000.0, PORK, "meat", "")
    barley = Ingredient("barley", State.RAW, 200.0, BARLEY, "grains", "")
    store = open_store(upgraded)
    with store.transaction() as conn:
        person = people.find(conn, "test", "mira")
        assert person is not None
        books = Books(conn, person, 1, datetime(2026, 3, 3, tzinfo=UTC))
        stew = batches.get(books, 1)
        assert values(stew) == {
            "ingredients": (pork, barley),
            "weights": (1500, 80, 870, 210, 420),
            # Five of 210 g, of which two were eaten and one was given away.
            "boxes": ([210, 210], 5),
            "closed": False,
        }
        assert values(batches.get(books, 2)) == {
            "ingredients": (pork,),
            "weights": (700, 0, 0, 50, 650),
            "boxes": ([], 0),
            "closed": True,
        }
        assert batches.open_batches(books) == [stew]
        assert stew is not None
        # (2400 + 704 - 80 × 9) kcal and 1,200 g raw in 1,500 g.
        assert stew.share(150).basis_g == pytest.approx(120)
        assert stew.share(150).nutrients.kcal == pytest.approx(238.4)
        assert stew.share(150).nutrients.fibre_g is None
        kept = weighins.portions(books, 1)
        assert [(each.weigh_in.edible_g, each.weigh_in.basis_g, each.weigh_in.evidence) for each in kept] == [
            (100, 77, Evidence.WEIGHED),
            (350, 77, Evidence.BOXED),
            (420, 77, Evidence.BOXED),
        ]
        assert [each.weigh_in.nutrients and each.weigh_in.nutrients.kcal for each in kept] == [205, 700, 840]
    store.close()
