"""The bot is killed while people write to it: nothing lost, nothing doubled, no reply missing."""

from pathlib import Path

import pytest

from tests.postgres import PASSWORD, Postgres
from tests.telegram.hook import SECRET
from tests.telegram.loopback import TOKEN

from .killing import Setting, Tally, free_port, run


def nothing_is_amiss(tally: Tally, kills: int, messages: int) -> None:
    print(tally)
    assert tally.wrong == []
    assert tally.kills == kills
    assert tally.kills_at_work >= kills // 2, "the kills have to hit a bot that is at work"
    assert tally.messages >= messages
    assert (tally.lost, tally.doubled, tally.out_of_order, tally.wrong_sums, tally.missing_replies) == (0, 0, 0, 0, 0)
    # At the most, each kill has what was on its way just then sent once more.
    assert tally.repeated_replies <= tally.messages + tally.edits


def test_a_stream_of_messages_survives_being_killed(tmp_path: Path) -> None:
    tally = run(kills=25, seed=11, folder=tmp_path, setting=Setting(f"sqlite:///{tmp_path / 'tarebook.db'}"))
    nothing_is_amiss(tally, kills=25, messages=100)
    assert tally.redelivered > 0, "no update was delivered twice: the kills came at harmless moments"


def test_processes_share_the_work_while_one_after_the_other_is_killed(
    tmp_path: Path, server_database: str, postgresql: Postgres
) -> None:
    setting = Setting(server_database, processes=2, ports=(free_port(), free_port()))
    before = postgresql.since()
    tally = run(kills=8, seed=12, folder=tmp_path, setting=setting, trouble=postgresql.restart)
    nothing_is_amiss(tally, kills=8, messages=60)
    assert tally.redelivered > 0, "no update was delivered twice"
    said = (tmp_path / "log").read_text()
    assert said.count("leadership: leading") > 2, "nobody took over"
    assert postgresql.since() > before, "the database was not restarted"
    for secret in (TOKEN, TOKEN.partition(":")[2], PASSWORD, SECRET, server_database):
        assert secret not in said
    assert "cooked rice" not in said


@pytest.mark.parametrize("database_kind", ("sqlite", "postgresql"))
def test_of_two_processes_that_poll_one_takes_over_from_the_other(tmp_path: Path, database: str) -> None:
    tally = run(kills=3, seed=13, folder=tmp_path, setting=Setting(database, processes=2))
    nothing_is_amiss(tally, kills=3, messages=30)
    assert (tmp_path / "log").read_text().count("leadership: leading") >= 2, "nobody took over"
