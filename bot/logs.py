"""Logging, with every secret masked."""

from __future__ import annotations

import logging
import os
import re
import sys
import traceback
from collections.abc import Iterable
from pathlib import Path
from urllib.parse import quote

MASK = "***"

# A Bot API token: the bot's number, a colon and 35 letters (core.telegram.org/bots/api#authorizing-your-bot).
_TOKEN = re.compile(r"\d{5,}:[\w-]{20,}")

_HOME = str(Path(__file__).parents[1]) + os.sep
_OURS = tuple(f"{_HOME}{package}{os.sep}" for package in ("bot", "domain"))

_VERBOSE = {
    # These log request URLs, which contain the token.
    "httpx": logging.WARNING,
    "httpcore": logging.WARNING,
    # These log the content of requests and statements, which is what people wrote.
    "telegram": logging.CRITICAL + 1,
    "sqlalchemy": logging.WARNING,
    "tornado.access": logging.WARNING,
}


class Redacting(logging.Filter):
    """Masks secrets in everything a record shows: its message, its exception and its stack."""

    def __init__(self, secrets: Iterable[str]) -> None:
        super().__init__()
        known = {secret for secret in secrets if secret}
        known |= {quote(secret, safe="") for secret in known}
        longest_first = sorted(known, key=len, reverse=True)
        self._known = re.compile("|".join(map(re.escape, longest_first))) if known else None
        self._formatter = logging.Formatter()

    def redacted(self, text: str) -> str:
        """The text with a mask for each secret in it."""
        if self._known is not None:
            text = self._known.sub(MASK, text)
        return _TOKEN.sub(MASK, text)

    def filter(self, record: logging.LogRecord) -> bool:
        """Lets every record pass, rewritten."""
        try:
            message = record.getMessage()
        except (TypeError, ValueError):
            message = str(record.msg)
        record.msg, record.args = self.redacted(message), None
        if record.exc_info:
            record.exc_text = self.redacted(self._formatter.formatException(record.exc_info))
            record.exc_info = None
        elif record.exc_text:
            record.exc_text = self.redacted(record.exc_text)
        if record.stack_info:
            record.stack_info = self.redacted(record.stack_info)
        return True


def set_up(level: str, secrets: Iterable[str]) -> None:
    """Logs to the standard error from now on: this program from `level` on, verbose libraries only what is harmless.

    ValueError when there is no such level.
    """
    handler = logging.StreamHandler(sys.stderr)
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(name)s: %(message)s"))
    handler.addFilter(Redacting(secrets))
    root = logging.getLogger()
    root.setLevel(level.upper())
    root.handlers[:] = [handler]
    for name, least in _VERBOSE.items():
        logging.getLogger(name).setLevel(max(least, root.level))
    logging.captureWarnings(True)


def where(error: BaseException) -> str:
    """The error's type and the frames of this program, without its text, which may contain what a person wrote."""
    frames = [frame for frame in traceback.extract_tb(error.__traceback__) if frame.filename.startswith(_OURS)]
    way = [f"{frame.filename.removeprefix(_HOME)}:{frame.lineno} {frame.name}" for frame in reversed(frames)]
    return f"{type(error).__name__} at {' < '.join(way[:4])}"
