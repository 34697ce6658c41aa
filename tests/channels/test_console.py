"""`tarebook chat`, through a pipe and in a terminal."""

import os
import pty
import re
import select as polling
import subprocess
import sys
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from sqlalchemy import select, update

from bot.app import open_tarebook
from bot.channels import console
from bot.store import weighins
from bot.store.books import Books
from bot.store.delivery.inbox import NewRow, Say
from bot.store.schema import schedule
from tests.programs import Nursery

# A terminal is told to mark what is pasted (xterm's bracketed paste mode) whenever a prompt begins to listen.
LISTENS = "\x1b[?2004h"


Chat = Callable[[str | bytes], str]
InTerminal = Callable[[Sequence[bytes]], str]


@pytest.fixture
def environment(tmp_path: Path) -> dict[str, str]:
    kept = {name: value for name, value in os.environ.items() if not name.startswith("TAREBOOK_")}
    return kept | {"TAREBOOK_DATA": str(tmp_path / "data"), "TZ": "Europe/Lisbon"}


@pytest.fixture
def chat(programs: Nursery, environment: dict[str, str]) -> Chat:
    """Runs `tarebook chat` with lines through a pipe; gives back what it says."""

    def run(typed: str | bytes) -> str:
        return well(programs.run(["chat"], environment, typed if isinstance(typed, bytes) else typed.encode()))

    return run


def well(run: subprocess.CompletedProcess[bytes]) -> str:
    assert run.returncode == 0
    assert b"Traceback" not in run.stderr
    return run.stdout.decode()


@pytest.fixture
def in_terminal(programs: Nursery, environment: dict[str, str]) -> InTerminal:
    """Runs `tarebook chat` in a terminal of its own: types each line when asked for one; gives back what was shown."""

    def run(lines: Sequence[bytes]) -> str:
        ours, theirs = pty.openpty()
        look = {"TERM": "xterm", "PROMPT_TOOLKIT_NO_CPR": "1"}
        with (
            os.fdopen(ours, "r+b", buffering=0),
            programs.start(["chat"], environment | look, terminal=theirs) as program,
        ):
            os.close(theirs)
            shown = ""
            for line in lines:
                asked = shown.count(LISTENS)
                while shown.count(LISTENS) == asked:
                    more = _more(ours)
                    assert more, f"ended before {line!r} was typed: {shown}"
                    shown += more
                os.write(ours, line)
            while more := _more(ours):
                shown += more
            assert program.wait() == 0
        assert "Traceback" not in shown
        return shown

    return run


def test_lines_through_a_pipe_are_answered_and_kept(chat: Chat, environment: dict[str, str]) -> None:
    # The program as people start it.
    started = [sys.executable, "-m", "bot", "chat"]
    typed = b"180 g cooked rice\n"
    first = well(subprocess.run(started, input=typed, capture_output=True, check=False, timeout=60, env=environment))
    assert first.startswith(console.WELCOME)
    assert "180 g" in first.removeprefix(console.WELCOME)
    second = chat("today\n")
    assert console.WELCOME not in second
    assert "rice" in chat("undo\n")


def test_choices_are_numbered_and_answered_by_number(chat: Chat) -> None:
    asked = chat("200 g rice\n")
    number = re.findall(r"^\[(\d)\] .*cooked", asked, re.MULTILINE)[0]
    answer = chat(f"{number}\n")
    assert "200 g" in answer
    assert "cooked" in answer


def test_end_of_input_and_empty_lines_leave_cleanly(chat: Chat) -> None:
    assert chat("").strip() == console.WELCOME.strip()
    assert chat("\n\n   \n") == ""


def test_the_days_total_stands_in_the_bottom_line_of_a_terminal(in_terminal: InTerminal) -> None:
    shown = in_terminal([b"30 g butter\r", b"target 1500 kcal\r", b"undo\r", b"undo\r", b"\x04"])
    total = [line for line in re.findall(r"Today: [\d,]+ kcal[^\x1b]*", shown) if line.startswith("Today: 0 kcal.")]
    assert total, shown
    # 30 g of butter at 717 kcal per 100 g (SR28, 01001).
    assert re.search(r"Today: 215 kcal\.", shown)


def test_a_backslash_goes_on_in_the_next_line(chat: Chat) -> None:
    answer = chat("180 g cooked rice, \\\n2 eggs\n")
    assert "rice" in answer.removeprefix(console.WELCOME)
    assert "egg" in answer.removeprefix(console.WELCOME)


@pytest.mark.parametrize(
    "typed", (b"\xff\xfe\x00\n", b"caf\xe9 180 g\n", b"\x1b[2J\x1b]0;title\x07 180 g\n", b"x" * 100_000)
)
def test_bytes_that_are_no_text_are_answered_and_never_steer_the_terminal(chat: Chat, typed: bytes) -> None:
    answer = chat(typed).removeprefix(console.WELCOME)
    assert answer.strip()
    assert not re.search(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]", answer)


def test_a_message_that_an_earlier_run_only_stored_is_answered_at_the_start(
    chat: Chat, environment: dict[str, str]
) -> None:
    chat("")
    with open_tarebook(f"sqlite:///{environment['TAREBOOK_DATA']}/tarebook.db") as tarebook:
        said_at = datetime.now(UTC)
        assert tarebook.receive(NewRow(console.CHANNEL, "1", "me", Say(text="180 g cooked rice"), None, said_at))
    assert "180 g" in chat("")
    assert chat("") == ""


def test_a_reply_that_was_not_shown_is_shown_at_the_next_start_and_once(
    chat: Chat, environment: dict[str, str]
) -> None:
    chat("")
    with open_tarebook(f"sqlite:///{environment['TAREBOOK_DATA']}/tarebook.db") as tarebook:
        said_at = datetime.now(UTC)
        tarebook.receive(NewRow(console.CHANNEL, "1", "me", Say(text="180 g cooked rice"), None, said_at))
        assert len(tarebook.catch_up(console.CHANNEL)) == 1
    assert "180 g" in chat("")
    assert chat("") == ""


def test_a_database_that_cannot_be_opened_is_said_and_exits_with_2(
    programs: Nursery, environment: dict[str, str]
) -> None:
    run = programs.run(["chat"], environment | {"TAREBOOK_DATABASE": "sqlite:////proc/none/tarebook.db"})
    assert run.returncode == 2
    assert run.stderr
    assert b"Traceback" not in run.stderr


@pytest.mark.parametrize("leave", (b"\x03", b"\x04"), ids=("Ctrl-C", "Ctrl-D"))
def test_in_a_terminal_the_first_things_typed_are_taken_and_leaving_is_clean(
    in_terminal: InTerminal, environment: dict[str, str], leave: bytes
) -> None:
    environment["LC_ALL"] = "en_GB.UTF-8"
    first = in_terminal([b"180 g cooked rice\r", b"20 g butter\r", leave])
    assert first.count("What time suits you?") == 1, "offered once, after the first weigh-in"
    with open_tarebook(f"sqlite:///{environment['TAREBOOK_DATA']}/tarebook.db") as tarebook:
        person = tarebook.person(console.CHANNEL, console.PERSON_KEY)
        assert person is not None
        assert (person.region, person.timezone.key) == ("UK", "Europe/Lisbon")
        with tarebook.transaction() as conn:
            books = Books(conn, person, 0, datetime.now(UTC))
            found = weighins.on_day(books, books.today)
            assert [each.weigh_in.as_weighed_g for each in found] == [180, 20]
    second = in_terminal([b"30 g cheddar\r", leave])
    assert "What time suits you?" not in second
    assert "kcal" in second


@pytest.mark.parametrize(
    ("locale", "region"),
    (
        ("en_US.UTF-8", "US"), ("en_GB", "UK"), ("de_DE.UTF-8@euro", "metric"), ("C.UTF-8", "US"), ("", "US"),
        ("en", "US"), ("en-GB", "UK"), ("pt-br", "metric"), ("fr", "metric"), ("zh-Hans-CN", "metric"),
    ),
)  # fmt: skip
def test_the_default_region_follows_the_locale(locale: str, region: str) -> None:
    assert console.machine_region({"LANG": locale}) == region


def test_in_a_terminal_the_reminders_time_is_offered_after_the_first_weigh_in_and_it_comes_when_due(
    chat: Chat, in_terminal: InTerminal, environment: dict[str, str]
) -> None:
    in_terminal([b"180 g cooked rice yesterday\r", b"19:15\r", b"\x04"])
    with open_tarebook(f"sqlite:///{environment['TAREBOOK_DATA']}/tarebook.db") as tarebook:
        now = datetime.now(UTC)
        with tarebook.transaction() as conn:
            evening = schedule.c.kind == "evening"
            assert conn.execute(select(schedule.c.time).where(evening)).scalars().all() == ["19:15"]
            due = {"time": f"{now.astimezone(ZoneInfo('Europe/Lisbon')):%H:%M}", "next_due": now}
            conn.execute(update(schedule).where(evening).values(next_date=now.date(), **due))
    assert "Today's record may be incomplete" not in chat("batches\n")
    assert "Today's record may be incomplete" in in_terminal([b"\x04"])
    assert "Today's record may be incomplete" not in in_terminal([b"\x04"])


def test_the_terminal_is_plain_where_colour_is_not_wanted(in_terminal: InTerminal, environment: dict[str, str]) -> None:
    environment["NO_COLOR"] = "1"
    shown = in_terminal([b"\x04"])
    assert "\x1b[36m" not in shown


def _more(terminal: int) -> str:
    """What the terminal shows next; empty when its program has ended."""
    assert polling.select([terminal], [], [], 30)[0], "nothing more is shown"
    try:
        return os.read(terminal, 65536).decode(errors="replace")
    except OSError:
        return ""


def test_the_time_zone_is_the_machines(tmp_path: Path) -> None:
    no_file = tmp_path / "none"
    link = tmp_path / "localtime"
    link.symlink_to("/usr/share/zoneinfo/Asia/Kolkata")
    name = tmp_path / "timezone"
    name.write_text("America/Lima\n")
    zones = [
        console.machine_zone({"TZ": "Europe/Lisbon"}, link, name),
        console.machine_zone({"TZ": ":Europe/Lisbon"}, link, name),
        console.machine_zone({}, link, name),
        console.machine_zone({"TZ": "nowhere"}, no_file, name),
        console.machine_zone({}, no_file, no_file),
    ]
    assert [zone.key for zone in zones] == ["Europe/Lisbon", "Europe/Lisbon", "Asia/Kolkata", "America/Lima", "UTC"]
