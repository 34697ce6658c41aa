"""What can be set, and what is said when it can't be used."""

from __future__ import annotations

from pathlib import Path

import pytest

from bot.settings import Settings, SettingsError, TelegramSettings

TOKEN = {"TAREBOOK_TELEGRAM_TOKEN": "4200001:a-token"}


def test_a_secret_may_be_in_a_file(tmp_path: Path) -> None:
    files = {}
    for name, value in (
        ("TAREBOOK_TELEGRAM_TOKEN", "4200001:a-token"),
        ("TAREBOOK_WEBHOOK_SECRET", "hush"),
        ("TAREBOOK_DATABASE", "sqlite:///x.db"),
    ):
        path = tmp_path / name
        path.write_text(f"{value}\n")
        files[f"{name}_FILE"] = str(path)
    settings = TelegramSettings.read(files)
    assert (settings.token, settings.webhook_secret, settings.bot_id) == ("4200001:a-token", "hush", "4200001")
    assert Settings.read(files).database == "sqlite:///x.db"


def test_only_invited_people_come_in_unless_something_else_is_said() -> None:
    settings = TelegramSettings.read(TOKEN)
    assert (settings.access, settings.listed, settings.webhook_secret) == ("invite", frozenset(), None)
    assert settings.api_url == "https://api.telegram.org"
    listed = TelegramSettings.read(TOKEN | {"TAREBOOK_ACCESS": "list", "TAREBOOK_LISTED": "1001, 4503599627370496"})
    assert listed.listed == {1001, 4503599627370496}


@pytest.mark.parametrize(
    ("environment", "says"),
    (
        ({}, "TAREBOOK_TELEGRAM_TOKEN"),
        ({"TAREBOOK_TELEGRAM_TOKEN_FILE": "/nowhere/at/all"}, "TAREBOOK_TELEGRAM_TOKEN_FILE"),
        ({"TAREBOOK_TELEGRAM_TOKEN": "verysecret"}, "no token"),
        ({"TAREBOOK_TELEGRAM_TOKEN": "4200001:very secret"}, "no token"),
        (TOKEN | {"TAREBOOK_ACCESS": "everybody"}, "TAREBOOK_ACCESS"),
        (TOKEN | {"TAREBOOK_ACCESS": "list"}, "TAREBOOK_LISTED"),
        (TOKEN | {"TAREBOOK_ACCESS": "list", "TAREBOOK_LISTED": "mira"}, "TAREBOOK_LISTED"),
        (TOKEN | {"TAREBOOK_WEBHOOK_SECRET": "very secret"}, "TAREBOOK_WEBHOOK_SECRET"),
    ),
)
def test_what_cannot_be_used_is_said_in_a_sentence(environment: dict[str, str], says: str) -> None:
    with pytest.raises(SettingsError, match=says) as refusal:
        TelegramSettings.read(environment)
    assert "very" not in str(refusal.value)
    assert str(refusal.value).endswith(".")


def test_an_unknown_log_level_is_refused() -> None:
    with pytest.raises(SettingsError, match="TAREBOOK_LOG"):
        Settings.read({"TAREBOOK_LOG": "loud"})
