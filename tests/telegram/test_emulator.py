"""The same bot against an emulator of the Bot API that somebody else wrote: telegram-test-api, from npm."""

from __future__ import annotations

import json
import shutil
import socket
import subprocess
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from .conftest import Start
from .crowd import Human
from .loopback import PATIENCE, TOKEN, Loopback

VERSION = "4.2.1"

pytestmark = pytest.mark.skipif(shutil.which("npm") is None, reason="node and npm are not installed")

Ask = Callable[[str, dict[str, Any]], Any]


@pytest.fixture(scope="module")
def emulator(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a running emulator."""
    folder = tmp_path_factory.mktemp("emulator")
    (folder / "package.json").write_text("{}")
    shutil.copy(Path(__file__).with_name("emulator.js"), folder)
    options = ["--prefer-offline", "--no-audit", "--no-fund", "--loglevel=error"]
    install = ["npm", "install", *options, f"telegram-test-api@{VERSION}"]
    try:
        done = subprocess.run(install, cwd=folder, capture_output=True, text=True, timeout=120)
    except subprocess.TimeoutExpired:
        pytest.skip("npm took too long to fetch the emulator")
    if done.returncode:
        pytest.skip(f"npm could not fetch the emulator: {done.stderr.strip()[:200]}")
    with closing(socket.socket()) as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    running = subprocess.Popen(["node", "emulator.js", str(port)], cwd=folder, stdout=subprocess.PIPE, text=True)
    try:
        assert running.stdout is not None
        assert running.stdout.readline() == "listening\n"
        yield f"http://127.0.0.1:{port}"
    finally:
        running.terminate()
        running.communicate(timeout=PATIENCE)


@pytest.fixture
def ask(emulator: str) -> Ask:
    def asked(path: str, content: dict[str, Any]) -> Any:
        request = urllib.request.Request(
            f"{emulator}/{path}", json.dumps(content).encode(), {"Content-Type": "application/json"}
        )
        with urllib.request.urlopen(request, timeout=PATIENCE) as answer:
            return json.load(answer)["result"]

    return asked


def says(ask: Ask, person: Human, text: str) -> None:
    chat = {"id": person.id, "type": "private", "first_name": person.name}
    ask(
        "sendMessage",
        {"botToken": TOKEN, "from": person.user, "chat": chat, "date": int(time.time()), "text": text},
    )


def hears(ask: Ask, person: Human) -> dict[str, Any]:
    """The next message of the bot's to the person."""
    for _ in range(200):
        found = ask("getUpdates", {"token": TOKEN, "chatId": person.id})
        if found:
            assert len(found) == 1
            message: dict[str, Any] = found[0]["message"]
            return message | {"message_id": found[0]["messageId"]}
        time.sleep(0.05)
    raise AssertionError("no answer")


def test_a_conversation_through_the_emulator(
    start: Start, server: Loopback, emulator: str, ask: Ask, mira: Human
) -> None:
    start(api_url=emulator)
    says(ask, mira, "180 g cooked rice")
    assert "180 g" in hears(ask, mira)["text"]
    says(ask, mira, "200 g pasta")
    question = hears(ask, mira)
    buttons = [button for row in question["reply_markup"]["inline_keyboard"] for button in row]
    assert [button["text"] for button in buttons] == ["cooked", "dry"]
    chat = {"id": mira.id, "type": "private", "first_name": mira.name}
    shown = {"message_id": question["message_id"], "date": 1, "chat": chat, "text": question["text"]}
    callback = {"botToken": TOKEN, "from": mira.user, "message": shown, "data": buttons[1]["callback_data"]}
    ask("sendCallback", callback)
    assert "200 g" in hears(ask, mira)["text"]
    for _ in range(100):
        history = ask("getUpdatesHistory", {"token": TOKEN})
        if any("Chosen: dry" in str(entry["message"].get("text")) for entry in history if "message" in entry):
            break
        time.sleep(0.05)
    else:
        raise AssertionError("the buttons were not replaced by what was chosen")
