"""Settings, read once from the environment."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal
from urllib.parse import unquote

Access = Literal["open", "invite", "list"]

API_URL = "https://api.telegram.org"

_TOKEN = re.compile(r"\d{1,20}:[A-Za-z0-9_-]{1,200}")
_PASSWORD = re.compile(r"[^:/]+://[^/@]*?:(.+)@")
# core.telegram.org/bots/api#setwebhook
_WEBHOOK_SECRET = re.compile(r"[A-Za-z0-9_-]{1,256}")


class SettingsError(Exception):
    """A setting is missing or invalid; the text says which, without the secret itself."""


@dataclass(frozen=True, slots=True)
class Settings:
    """How this installation is set up.

    `database` is a SQLAlchemy URL; `data_dir` the folder for what belongs to this installation alone, such as the
    console's input history; `log_level` the least important kind of message that is logged.
    """

    database: str = field(repr=False)
    data_dir: Path
    log_level: str = "INFO"

    @classmethod
    def read(cls, environment: Mapping[str, str]) -> Settings:
        """The settings from environment variables. SettingsError when a file that is named can't be read.

        `TAREBOOK_DATABASE`, or `TAREBOOK_DATABASE_FILE` with the path of a file that holds it: a URL; by default a
        SQLite file in the data folder.
        `TAREBOOK_DATA`: the data folder; by default the platform's own place for a person's data.
        `TAREBOOK_LOG`: debug, info (the default), warning or error.
        """
        named = environment.get("TAREBOOK_DATA")
        data_dir = Path(named) if named else _usual_data_dir()
        database = _secret(environment, "TAREBOOK_DATABASE") or f"sqlite:///{data_dir / 'tarebook.db'}"
        log_level = environment.get("TAREBOOK_LOG", "info").upper()
        if log_level not in ("DEBUG", "INFO", "WARNING", "ERROR"):
            raise SettingsError("TAREBOOK_LOG is one of debug, info, warning, error.")
        return cls(database=database, data_dir=data_dir, log_level=log_level)

    @property
    def database_secrets(self) -> tuple[str, ...]:
        """The password in the database's URL, as it stands there and as it is; empty when there is none."""
        found = _PASSWORD.match(self.database)
        return (found[1], unquote(found[1])) if found else ()


@dataclass(frozen=True, slots=True)
class TelegramSettings:
    """How the bot is reached on Telegram, and who may speak with it.

    `access` is `open`, `invite` (those who come with an invitation, and who has spoken before) or `list` (the user ids
    in `listed` only).
    """

    token: str = field(repr=False)
    api_url: str
    access: Access
    listed: frozenset[int]
    webhook_secret: str | None = field(repr=False, default=None)

    @classmethod
    def read(cls, environment: Mapping[str, str]) -> TelegramSettings:
        """The settings from environment variables. SettingsError when one is missing or can't be used.

        `TAREBOOK_TELEGRAM_TOKEN`, or `TAREBOOK_TELEGRAM_TOKEN_FILE` with the path of a file that holds it.
        `TAREBOOK_TELEGRAM_API`: the server's address; by default Telegram's own.
        `TAREBOOK_ACCESS`: open, invite (the default) or list; with list, `TAREBOOK_LISTED` holds the user ids.
        `TAREBOOK_WEBHOOK_SECRET`, or `TAREBOOK_WEBHOOK_SECRET_FILE`: needed for a webhook.
        """
        token = _secret(environment, "TAREBOOK_TELEGRAM_TOKEN")
        if not token:
            raise SettingsError("The bot's token is missing: set TAREBOOK_TELEGRAM_TOKEN, or …_TOKEN_FILE to its file.")
        if not _TOKEN.fullmatch(token):
            raise SettingsError("TAREBOOK_TELEGRAM_TOKEN is no token: it looks like 123456:letters.")
        secret = _secret(environment, "TAREBOOK_WEBHOOK_SECRET")
        if secret and not _WEBHOOK_SECRET.fullmatch(secret):
            raise SettingsError("TAREBOOK_WEBHOOK_SECRET takes 1 to 256 of the letters A-Z a-z 0-9 _ and -.")
        listed = _ids(environment.get("TAREBOOK_LISTED", ""))
        api_url = environment.get("TAREBOOK_TELEGRAM_API", API_URL).rstrip("/")
        return cls(token, api_url, _access(environment, listed), listed, secret or None)

    @property
    def bot_id(self) -> str:
        """The bot's own user id, which a token begins with."""
        return self.token.partition(":")[0]


def database_named(word: str, environment: Mapping[str, str]) -> str:
    """The URL of a database as the command line names it. SettingsError when it can't be read.

    `env:NAME` is what the environment variable holds, `file:PATH` what the file holds; anything else is the URL itself,
    which then must be without a password: everybody on the machine can read the command line of a process.
    """
    kind, _, name = word.partition(":")
    if kind == "env":
        if not environment.get(name, "").strip():
            raise SettingsError(f"The environment variable {name} is not set.")
        return environment[name].strip()
    if kind == "file":
        return _read(name, f"The file {name}")
    if _PASSWORD.match(word) or re.search(r"[?&]password=", word):
        raise SettingsError(
            "A password has no place on the command line. Put the URL into an environment variable or a file, and "
            "name that: env:NAME or file:PATH."
        )
    return word


def _access(environment: Mapping[str, str], listed: frozenset[int]) -> Access:
    match environment.get("TAREBOOK_ACCESS", "invite"):
        case "open":
            return "open"
        case "invite":
            return "invite"
        case "list" if listed:
            return "list"
        case "list":
            raise SettingsError("TAREBOOK_ACCESS is list, so TAREBOOK_LISTED has to name at least one user id.")
        case _:
            raise SettingsError("TAREBOOK_ACCESS is one of open, invite, list.")


def _ids(text: str) -> frozenset[int]:
    try:
        return frozenset(int(word) for word in text.replace(",", " ").split())
    except ValueError:
        raise SettingsError("TAREBOOK_LISTED holds user ids, which are numbers, with commas between them.") from None


def _secret(environment: Mapping[str, str], name: str) -> str:
    """The variable's value, or what is in the file that its `_FILE` names; empty when neither is set."""
    path = environment.get(f"{name}_FILE")
    if not path:
        return environment.get(name, "").strip()
    return _read(path, f"The file that {name}_FILE names")


def _read(path: str, called: str) -> str:
    try:
        return Path(path).read_text(encoding="utf-8").strip()
    except (OSError, UnicodeDecodeError) as error:
        raise SettingsError(f"{called} can't be read: {type(error).__name__}.") from None


def _usual_data_dir() -> Path:
    from platformdirs import user_data_path

    return user_data_path("tarebook", appauthor=False)
