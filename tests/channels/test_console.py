"""`tarebook chat`, through a pipe and in a terminal."""

import fcntl
import os
import pty
import re
import select as polling
import subprocess
import sys
import termios
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from sqlalchemy import select, update

from bot.app import open_tarebook
from bot.channels import console
from bot.store.schema import schedule

# A terminal is told to mark what is pasted (xterm's bracketed paste mode) whenever a prompt begins to listen.
LISTENS = "\x1b[?2004h"

CHAT = [sys.executable, "-m", "bot", "chat"]


@pytest.fixture
def environment(tmp_path: Path) -> dict[str, str]:
    kept = {name: value for name, value in os.environ.items() if not name.startswith("TAREBOOK_")}
    return kept | {"TAREBOOK_DATA": str(tmp_path / "data"), "TZ": "Europe/Lisbon"}


def chat(environment: dict[str, str], text: str | bytes) -> str:
    typed = text if isinstance(text, bytes) else text.encode()
    run = subprocess.run(CHAT, input=typed, capture_output=True, check=False, timeout=60, env=environment)
    assert run.returncode == 0
    assert b"Traceback" not in run.stderr
    return run.stdout.decode()


def test_lines_through_a_pipe_are_answered_and_kept(environment: dict[str, str]) -> None:
    first = chat(environment, "180 g cooked rice\n")
    assert first.startswith(console.WELCOME)
    assert "180 g" in first.removeprefix(console.WELCOME)
    second = chat(environment, "today\n")
    assert console.WELCOME not in second
    assert "rice" in chat(environment, "undo\n")


def test_choices_are_numbered_and_answered_by_number(environment: dict[str, str]) -> None:
    asked = chat(environment, "200 g rice\n")
    number = re.findall(r"^  (\d)  .*cooked", asked, re.MULTILINE)[0]
    answer = chat(environment, f"{number}\n")
    assert "200 g" in answer
    assert "cooked" in answer


def test_end_of_input_and_empty_lines_leave_cleanly(environment: dict[str, str]) -> None:
    assert chat(environment, "").strip() == console.WELCOME.strip()
    assert chat(environment, "\n\n   \n") == ""


def test_a_backslash_goes_on_in_the_next_line(environment: dict[str, str]) -> None:
    answer = chat(environment, "180 g cooked rice, \\\n2 eggs\n")
    assert "rice" in answer.removeprefix(console.WELCOME)
    assert "egg" in answer.removeprefix(console.WELCOME)


@pytest.mark.parametrize(
    "typed", (b"\xff\xfe\x00\n", b"caf\xe9 180 g\n", b"\x1b[2J\x1b]0;title\x07 180 g\n", b"x" * 100_000)
)
def test_bytes_that_are_no_text_are_answered_and_never_steer_the_terminal(
    environment: dict[str, str], typed: bytes
) -> None:
    answer = chat(environment, typed).removeprefix(console.WELCOME)
    assert answer.strip()
    assert not re.search(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]", answer)


def test_a_message_that_an_earlier_run_only_stored_is_answered_at_the_start(environment: dict[str, str]) -> None:
    chat(environment, "")
    with open_tarebook(f"sqlite:///{environment['TAREBOOK_DATA']}/tarebook.db") as tarebook:
        said_at = datetime.now(UTC)
        assert tarebook.receive(console.CHANNEL, "1", "me", "say", {"text": "180 g cooked rice"}, None, said_at)
    assert "180 g" in chat(environment, "")
    assert chat(environment, "") == ""


def test_a_reply_that_was_not_shown_is_shown_at_the_next_start_and_once(environment: dict[str, str]) -> None:
    chat(environment, "")
    with open_tarebook(f"sqlite:///{environment['TAREBOOK_DATA']}/tarebook.db") as tarebook:
        said_at = datetime.now(UTC)
        inbound_id = tarebook.receive(console.CHANNEL, "1", "me", "say", {"text": "180 g cooked rice"}, None, said_at)
        assert inbound_id is not None
        assert tarebook.handle(inbound_id) is not None
    assert "180 g" in chat(environment, "")
    assert chat(environment, "") == ""


def test_a_database_that_cannot_be_opened_is_said_and_exits_with_2(environment: dict[str, str]) -> None:
    environment["TAREBOOK_DATABASE"] = "sqlite:////proc/none/tarebook.db"
    run = subprocess.run(CHAT, input=b"", capture_output=True, check=False, timeout=60, env=environment)
    assert run.returncode == 2
    assert run.stderr
    assert b"Traceback" not in run.stderr


@pytest.mark.parametrize("leave", (b"\x03", b"\x04"), ids=("Ctrl-C", "Ctrl-D"))
def test_in_a_terminal_the_region_is_asked_once_and_leaving_is_clean(environment: dict[str, str], leave: bytes) -> None:
    first = in_terminal(environment, [b"9\r", b"2\r", leave])
    assert first.count(console.REGION_QUESTION) == 2, "asked again after an answer that is none"
    with open_tarebook(f"sqlite:///{environment['TAREBOOK_DATA']}/tarebook.db") as tarebook:
        person = tarebook.person(console.CHANNEL, console.PERSON_KEY)
        assert person is not None
        assert (person.region, person.timezone.key) == ("UK", "Europe/Lisbon")
    assert "At what time shall that be?" in first
    second = in_terminal(environment, [b"180 g cooked rice\r", leave])
    assert console.REGION_QUESTION not in second
    assert "kcal" in second


def test_in_a_terminal_the_reminders_time_is_asked_at_the_start_and_it_comes_when_due(
    environment: dict[str, str],
) -> None:
    in_terminal(environment, [b"3\r", b"19:15\r", b"\x04"])
    with open_tarebook(f"sqlite:///{environment['TAREBOOK_DATA']}/tarebook.db") as tarebook:
        now = datetime.now(UTC)
        with tarebook.transaction() as conn:
            evening = schedule.c.kind == "evening"
            assert conn.execute(select(schedule.c.time).where(evening)).scalars().all() == ["19:15"]
            due = {"time": f"{now.astimezone(ZoneInfo('Europe/Lisbon')):%H:%M}", "next_due": now}
            conn.execute(update(schedule).where(evening).values(next_date=now.date(), **due))
    assert "Something of today may be missing" not in chat(environment, "batches\n")
    assert "Something of today may be missing" in in_terminal(environment, [b"\x04"])
    assert "Something of today may be missing" not in in_terminal(environment, [b"\x04"])


def test_the_terminal_is_plain_where_colour_is_not_wanted(environment: dict[str, str]) -> None:
    environment["NO_COLOR"] = "1"
    shown = in_terminal(environment, [b"\x04"])
    assert "\x1b[36m" not in shown


def in_terminal(environment: dict[str, str], lines: Sequence[bytes]) -> str:
    """Runs `tarebook chat` in a terminal of its own: types each line when asked for one; gives back what was shown."""
    ours, theirs = pty.openpty()
    process = subprocess.Popen(
        CHAT,
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env=environment | {"TERM": "xterm", "PROMPT_TOOLKIT_NO_CPR": "1"},
        start_new_session=True,
        preexec_fn=lambda: fcntl.ioctl(0, termios.TIOCSCTTY, 0),
    )
    os.close(theirs)
    try:
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
        assert process.wait(timeout=30) == 0
    finally:
        process.kill()
        process.wait()
        os.close(ours)
    assert "Traceback" not in shown
    return shown


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
