"""`tarebook serve` and `tarebook invite` as commands, in processes of their own."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import time
from contextlib import ExitStack
from pathlib import Path

import pytest

from tests.programs import Nursery, Program

from .crowd import Human
from .loopback import PATIENCE, TOKEN, Loopback

ROOT = Path(__file__).parents[2]


@pytest.fixture
def environment(server: Loopback, tmp_path: Path) -> dict[str, str]:
    token_file = tmp_path / "token"
    token_file.write_text(TOKEN + "\n")
    ours = {name: value for name, value in os.environ.items() if not name.startswith("TAREBOOK_")}
    return ours | {
        "TAREBOOK_DATABASE": f"sqlite:///{tmp_path / 'tarebook.db'}",
        "TAREBOOK_TELEGRAM_TOKEN_FILE": str(token_file),
        "TAREBOOK_TELEGRAM_API": server.url,
        "TAREBOOK_LOG": "debug",
    }


def test_it_serves_until_it_is_told_to_stop_and_goes_on_after_being_killed(
    environment: dict[str, str], programs: Nursery, server: Loopback, mira: Human, tmp_path: Path
) -> None:
    # The commands as people start them, but for the second run.
    program = [sys.executable, "-m", "bot"]
    invited = subprocess.run(
        [*program, "invite"], cwd=ROOT, env=environment, capture_output=True, text=True, timeout=60
    )
    assert invited.returncode == 0
    code = re.search(r"/start ([\w-]{22})\n", invited.stdout)
    assert code is not None
    log = tmp_path / "log"
    for end, status in ((signal.SIGKILL, -9), (signal.SIGTERM, 0)):
        with ExitStack() as ending:
            sink = ending.enter_context(log.open("a"))
            bot: subprocess.Popen[bytes] | Program
            if end == signal.SIGKILL:
                bot = subprocess.Popen([*program, "serve"], cwd=ROOT, env=environment, stderr=sink)
                mira.says(f"/start {code[1]}")
                mira.hears()
            else:
                bot = ending.enter_context(programs.start(["serve"], environment, errors=sink))
            assert "180 g" in mira.asks("180 g cooked rice").text
            bot.send_signal(end)
            began = time.monotonic()
            assert bot.wait(PATIENCE) == status
            assert time.monotonic() - began < 40, "docs/running.md promises that"
    said = log.read_text()
    assert said.count("serving as") == 2
    assert "stopped: " in said
    assert TOKEN not in said
    assert TOKEN.partition(":")[2] not in said
    assert "cooked rice" not in said
    assert code[1] not in said


def test_a_webhook_without_a_secret_is_refused(
    environment: dict[str, str], programs: Nursery, server: Loopback
) -> None:
    done = programs.run(["serve", "--webhook", "https://bot.example.org/hook"], environment)
    assert done.returncode == 2
    assert b"TAREBOOK_WEBHOOK_SECRET" in done.stderr.splitlines()[-1]
    assert b"Traceback" not in done.stderr
    assert server.calls == []


def test_a_token_that_the_server_does_not_know_is_said_and_not_shown(
    environment: dict[str, str], programs: Nursery, server: Loopback
) -> None:
    wrong = {"TAREBOOK_TELEGRAM_TOKEN": "4200001:another-token-than-the-servers", "TAREBOOK_TELEGRAM_TOKEN_FILE": ""}
    done = programs.run(["serve"], environment | wrong)
    assert done.returncode == 2
    assert b"does not know this bot" in done.stderr.splitlines()[-1]
    assert b"Traceback" not in done.stderr
    assert b"another-token" not in done.stderr
