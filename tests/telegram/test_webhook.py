"""Being told of updates: 200 only for what is stored, and only to who knows the secret."""

from __future__ import annotations

import json
import socket
import time
import urllib.error
import urllib.request
from collections.abc import Callable
from contextlib import closing

import pytest

from bot.channels.telegram import intake, webhook
from bot.channels.telegram.serving import Serving, run
from bot.settings import SettingsError, TelegramSettings
from bot.store.delivery import updates
from bot.store.errors import StoreUnavailable

from .conftest import Run, Start
from .crowd import Human
from .loopback import TOKEN, Loopback
from .test_talking import RICE, weights

SECRET = "a-webhook-secret_0"


def free_port() -> int:
    with closing(socket.socket()) as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


def update(number: int, text: str) -> bytes:
    sender = {"id": 1001, "is_bot": False, "first_name": "Mira"}
    chat = {"id": 1001, "type": "private", "first_name": "Mira"}
    message = {"message_id": number, "from": sender, "chat": chat, "date": int(time.time()), "text": text}
    return json.dumps({"update_id": number, "message": message}).encode()


Post = Callable[..., int]


@pytest.fixture
def hooked(start: Start, server: Loopback) -> tuple[Run, Post]:
    port = free_port()
    running = start(Serving(webhook_url="https://bot.example.org/hook", port=port), webhook_secret=SECRET)
    server.until(lambda: server.webhook)

    def post(body: bytes, secret: str | None = SECRET, path: str = "/hook") -> int:
        headers = {} if secret is None else {webhook.SECRET_HEADER: secret}
        request = urllib.request.Request(f"http://127.0.0.1:{port}{path}", body, headers)
        for _ in range(50):
            try:
                with urllib.request.urlopen(request, timeout=30) as answer:
                    status: int = answer.status
                    return status
            except urllib.error.HTTPError as error:
                error.close()
                return error.code
            except urllib.error.URLError:
                time.sleep(0.05)
        raise AssertionError("nobody listens")

    return running, post


def test_what_is_answered_with_200_is_handled(hooked: tuple[Run, Post], server: Loopback, mira: Human) -> None:
    running, post = hooked
    server.message_id(mira.id)
    assert post(update(1, RICE)) == 200
    assert "180 g" in mira.hears()[0].text
    assert post(update(1, RICE)) == 200
    assert post(update(2, "90 g cooked rice")) == 200
    mira.hears()
    assert weights(running, mira) == [180, 90]
    assert server.webhook["secret_token"] == SECRET
    assert server.webhook["url"] == "https://bot.example.org/hook"


@pytest.mark.parametrize("secret", (None, "", "wrong", SECRET + "x", SECRET[:-1], "caf\u00e9"))
def test_without_the_secret_nothing_is_taken(hooked: tuple[Run, Post], secret: str | None) -> None:
    running, post = hooked
    assert post(update(1, RICE), secret) == 403
    with running.tarebook.transaction() as conn:
        assert updates.next_waiting(conn, "telegram") == []


def test_no_secret_no_start(server: Loopback) -> None:
    settings = TelegramSettings(TOKEN, server.url, "open", frozenset())
    with pytest.raises(SettingsError, match="secret"):
        run(None, settings, Serving(webhook_url="https://bot.example.org/hook"))  # type: ignore[arg-type]
    assert server.calls == []


@pytest.mark.parametrize(
    "body", (b"", b"no json", b"[1]", b"{}", b"\xff\xfe", b'{"update_id": "x"}', b'{"update_id":1e999}', b"[" * 5000)
)
def test_what_makes_no_sense_is_kept_and_holds_up_nobody(
    hooked: tuple[Run, Post], server: Loopback, mira: Human, body: bytes
) -> None:
    _, post = hooked
    server.message_id(mira.id)
    assert post(body) == 200
    assert post(update(1, RICE)) == 200
    mira.hears()


def test_a_body_that_is_too_large_is_refused(hooked: tuple[Run, Post], server: Loopback, mira: Human) -> None:
    _, post = hooked
    assert post(b"x" * (webhook.MAX_BODY + 1)) == 400
    server.message_id(mira.id)
    assert post(update(1, RICE)) == 200


def test_while_the_database_is_out_of_reach_the_server_is_asked_to_come_again(
    hooked: tuple[Run, Post], server: Loopback, mira: Human, monkeypatch: pytest.MonkeyPatch
) -> None:
    _, post = hooked
    server.message_id(mira.id)
    monkeypatch.setattr(webhook, "PATIENCE", 0.2)

    def broken(*given: object) -> int:
        raise StoreUnavailable("locked")

    monkeypatch.setattr("bot.channels.telegram.serving.keep", broken)
    assert post(update(1, RICE)) == 503
    monkeypatch.setattr("bot.channels.telegram.serving.keep", intake.keep)
    assert post(update(1, RICE)) == 200
    mira.hears()
