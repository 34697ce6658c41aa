"""A database moved to the other kind and back: the same rows, the numbers go on, and nothing is overwritten."""

import subprocess
import sys
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import text

from bot.app import Tarebook, arriving, open_tarebook
from bot.store.delivery import lease
from bot.store.delivery.inbox import NewRow, Say
from bot.store.engine import StoreError, open_store, place_of
from bot.store.maintenance import transfer
from bot.store.maintenance.transfer import Content
from tests.programs import Nursery

ROOT = Path(__file__).parents[3]
NOW = datetime(2026, 3, 9, 12, tzinfo=UTC)

LINES = (
    "180 g cooked rice",
    "batch chilli: 1200 g raw chicken breast, 800 g raw potatoes",
    "batch 1 cooked 1500 g",
    "took 220 g from batch 1",
    "change last to 200 g",
    "8 oz milk",
    "my steel pan weighs 845 g",
    "target 1900 kcal",
    "I weigh 81.4 kg",
    "½ banana 🍌 \0 \ud800 43 g",
)


def talk(url: str, lines: tuple[str, ...] = LINES, who: str = "mira") -> list[str]:
    """Says the lines, and gives the first replies to them."""
    with open_tarebook(url) as tarebook:
        return [_answer(tarebook, who, line, number) for number, line in enumerate(lines)]


def _answer(tarebook: Tarebook, who: str, line: str, number: int) -> str:
    at = NOW + timedelta(minutes=number)
    new = NewRow("test", f"{who}:{line}", who, Say(text=line), None, at)
    (turn,) = [each.turn for each in tarebook.handle(arriving(new), shown=True)]
    assert turn is not None
    return turn.replies[0].text


def moved(source: str, target: str) -> list[Content]:
    with closing(transfer.open_source(source)) as old, closing(open_store(target)) as new:
        return transfer.move(old, new, NOW + timedelta(days=1))


@pytest.fixture
def source(tmp_path: Path) -> str:
    url = f"sqlite:///{tmp_path / 'old.db'}"
    talk(url)
    talk(url, who="joão")
    return url


def test_there_and_back_it_is_the_same(source: str, server_database: str, tmp_path: Path) -> None:
    back = f"sqlite:///{tmp_path / 'back.db'}"
    there = moved(source, server_database)
    assert moved(server_database, back) == there
    rows = {content.table: content.rows for content in there}
    assert rows["inbound"] == 2 * len(LINES)
    assert rows["weigh_in"] > 4
    assert {rows[name] for name in ("batch", "tare", "target", "body_weight", "question")} == {2}
    # Compared by the databases' own means, too.
    with closing(open_store(source)) as old, closing(open_store(back)) as new:
        for table in rows:
            with old.transaction() as before, new.transaction() as after:
                query = text(f"SELECT * FROM {table} ORDER BY 1, 2")
                assert before.execute(query).all() == after.execute(query).all()


def test_one_goes_on_where_one_was(source: str, server_database: str) -> None:
    moved(source, server_database)
    goes_on = ("banana 118 g peeled", "took 100 g from batch 1", "batch soup: 900 g raw carrots")
    assert talk(server_database, goes_on) == talk(source, goes_on)


def test_what_is_not_empty_is_left_alone(source: str, tmp_path: Path) -> None:
    full = f"sqlite:///{tmp_path / 'full.db'}"
    talk(full, LINES[:1], who="kim")
    with pytest.raises(StoreError, match=r"is not empty: its table inbound has rows"):
        moved(source, full)
    with closing(open_store(full)) as store, store.transaction() as conn:
        assert conn.execute(text("SELECT name FROM person")).scalars().all() == ["kim"]
    with pytest.raises(StoreError, match="one and the same"):
        moved(source, source)


def test_a_row_that_does_not_arrive_as_it_was_stops_it(source: str, tmp_path: Path) -> None:
    target = f"sqlite:///{tmp_path / 'new.db'}"
    with closing(open_store(target)) as store, store.transaction() as conn:
        conn.execute(
            text("CREATE TRIGGER t AFTER INSERT ON weigh_in BEGIN UPDATE weigh_in SET edible_g = edible_g + 1e-9; END")
        )
    with pytest.raises(StoreError, match="The table weigh_in arrived as"):
        moved(source, target)
    with closing(open_store(target)) as store, store.transaction() as conn:
        assert conn.execute(text("SELECT count(*) FROM inbound")).scalar_one() == 0


def test_nobody_writes_meanwhile(source: str, tmp_path: Path) -> None:
    with closing(open_store(source)) as store, store.transaction() as conn:
        assert lease.take(conn, "telegram", "me", NOW, NOW + timedelta(days=2))
    with pytest.raises(StoreError, match="still serves"):
        moved(source, f"sqlite:///{tmp_path / 'new.db'}")


def test_a_source_that_is_not_there_is_not_made(tmp_path: Path) -> None:
    with pytest.raises(StoreError, match="There is no database"):
        moved(f"sqlite:///{tmp_path / 'none.db'}", f"sqlite:///{tmp_path / 'new.db'}")
    assert list(tmp_path.iterdir()) == []


def test_the_command_shows_what_arrived_and_no_password(
    source: str, server_database: str, tmp_path: Path, programs: Nursery
) -> None:
    secret = place_of(server_database).password
    assert secret
    (tmp_path / "url").write_text(server_database + "\n")
    # The command as people start it.
    started = [sys.executable, "-m", "bot", "move", "--from", "env:OLD", "--to", f"file:{tmp_path / 'url'}"]
    done = subprocess.run(started, cwd=ROOT, env={"OLD": source}, capture_output=True, text=True, timeout=60)
    assert done.returncode == 0, done.stderr
    assert f"from {source}" in done.stdout
    assert "counts and checksums agree" in done.stdout
    for where in (server_database, server_database.replace("psycopg", "nothing")):
        again = programs.run(["move", "--from", source, "--to", "env:NEW"], {"NEW": where})
        complaint = again.stderr.decode()
        assert again.returncode == 2
        assert "Traceback" not in complaint
        assert all(word not in done.stdout + complaint for word in (str(secret), server_database.split("@")[0]))


def test_a_password_on_the_command_line_is_refused(source: str, programs: Nursery) -> None:
    for url in ("postgresql+psycopg://me:pa/ss@db/food", "postgresql+psycopg://db/food?user=me&password=pa"):
        done = programs.run(["move", "--from", source, "--to", url], {})
        assert done.returncode == 2
        assert b"no place on the command line" in done.stderr
        assert b"pa/ss" not in done.stderr
