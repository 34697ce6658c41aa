"""Settings, read once from environment variables. docs/settings.md is generated from the declarations here."""

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
    """A setting is missing or invalid. The text says which, and never contains a secret."""


@dataclass(frozen=True, slots=True)
class Variable:
    """An environment variable. One that is `secret` may be given as a file: `<name>_FILE` holds the path."""

    name: str
    meaning: str
    default: str = ""
    secret: bool = False

    def read(self, environment: Mapping[str, str]) -> str:
        """The value, without white space around it, or the default. SettingsError when the named file is unreadable."""
        path = environment.get(f"{self.name}_FILE") if self.secret else None
        value = _read(path, f"The file that {self.name}_FILE names") if path else environment.get(self.name, "").strip()
        return value or self.default


DATABASE = Variable(
    "TAREBOOK_DATABASE",
    "SQLAlchemy URL of the database. Without it: the SQLite file `tarebook.db` in the data directory",
    secret=True,
)
DATA = Variable(
    "TAREBOOK_DATA",
    "Data directory of this installation. Without it: the platform's directory for a user's data, on Linux "
    "`~/.local/share/tarebook`",
)
LOG = Variable("TAREBOOK_LOG", "Lowest level that is logged: `debug`, `info`, `warning` or `error`", default="info")
TELEGRAM_TOKEN = Variable(
    "TAREBOOK_TELEGRAM_TOKEN", "The bot's token from @BotFather. Required by `tarebook serve`", secret=True
)
TELEGRAM_API = Variable("TAREBOOK_TELEGRAM_API", "Base URL of the Bot API server", default=API_URL)
ACCESS = Variable(
    "TAREBOOK_ACCESS",
    "Who may use the bot: `open` (anyone), `invite` (anyone with an invitation, and whoever has used it before) or "
    "`list` (only the user ids in `TAREBOOK_LISTED`)",
    default="invite",
)
LISTED = Variable("TAREBOOK_LISTED", "Telegram user ids, separated by commas. Required when access is `list`")
WEBHOOK_SECRET = Variable(
    "TAREBOOK_WEBHOOK_SECRET",
    "Secret that Telegram sends with each webhook request, 1 to 256 of `A-Z a-z 0-9 _ -`. Required with `--webhook`",
    secret=True,
)

VARIABLES = (DATABASE, DATA, LOG, TELEGRAM_TOKEN, TELEGRAM_API, ACCESS, LISTED, WEBHOOK_SECRET)
"""Every variable that the program reads, in the order of the table in docs/settings.md."""


@dataclass(frozen=True, slots=True)
class Settings:
    """Settings of every command: a SQLAlchemy URL, the data directory and the log level."""

    database: str = field(repr=False)
    data_dir: Path
    log_level: str = "INFO"

    @classmethod
    def read(cls, environment: Mapping[str, str]) -> Settings:
        """The settings in the environment. SettingsError when a value is invalid or a named file is unreadable."""
        named = DATA.read(environment)
        data_dir = Path(named) if named else _platform_data_dir()
        database = DATABASE.read(environment) or f"sqlite:///{data_dir / 'tarebook.db'}"
        log_level = LOG.read(environment).upper()
        if log_level not in ("DEBUG", "INFO", "WARNING", "ERROR"):
            raise SettingsError("TAREBOOK_LOG is one of debug, info, warning, error.")
        return cls(database=database, data_dir=data_dir, log_level=log_level)

    @property
    def database_secrets(self) -> tuple[str, ...]:
        """The password in the database's URL, encoded and decoded; empty when there is none."""
        found = _PASSWORD.match(self.database)
        return (found[1], unquote(found[1])) if found else ()


@dataclass(frozen=True, slots=True)
class TelegramSettings:
    """How `tarebook serve` reaches Telegram, and who may use the bot. `listed` holds Telegram user ids."""

    token: str = field(repr=False)
    api_url: str
    access: Access
    listed: frozenset[int]
    webhook_secret: str | None = field(repr=False, default=None)

    @classmethod
    def read(cls, environment: Mapping[str, str]) -> TelegramSettings:
        """The settings in the environment. SettingsError when one is missing or invalid."""
        token = TELEGRAM_TOKEN.read(environment)
        if not token:
            raise SettingsError("The bot's token is missing: set TAREBOOK_TELEGRAM_TOKEN, or …_TOKEN_FILE to its file.")
        if not _TOKEN.fullmatch(token):
            raise SettingsError("TAREBOOK_TELEGRAM_TOKEN is no token: it looks like 123456:letters.")
        secret = WEBHOOK_SECRET.read(environment)
        if secret and not _WEBHOOK_SECRET.fullmatch(secret):
            raise SettingsError("TAREBOOK_WEBHOOK_SECRET takes 1 to 256 of the letters A-Z a-z 0-9 _ and -.")
        listed = _ids(LISTED.read(environment))
        api_url = TELEGRAM_API.read(environment).rstrip("/")
        return cls(token, api_url, _access(ACCESS.read(environment), listed), listed, secret or None)

    @property
    def bot_id(self) -> str:
        """The bot's own user id: the part of the token before the colon."""
        return self.token.partition(":")[0]


def database_named(word: str, environment: Mapping[str, str]) -> str:
    """The URL of a database named on the command line. SettingsError when it can't be read.

    `env:NAME` reads it from an environment variable, `file:PATH` from a file. Anything else is the URL itself and must
    not contain a password, because every user of the machine can see the command line of a process.
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


def _access(named: str, listed: frozenset[int]) -> Access:
    match named:
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


def _read(path: str, called: str) -> str:
    try:
        return Path(path).read_text(encoding="utf-8").strip()
    except (OSError, UnicodeDecodeError) as error:
        raise SettingsError(f"{called} can't be read: {type(error).__name__}.") from None


def _platform_data_dir() -> Path:
    from platformdirs import user_data_path

    return user_data_path("tarebook", appauthor=False)
