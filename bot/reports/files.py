"""Which file goes with a message, as a value that can be kept until the file is made."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

import msgspec


@dataclass(frozen=True, slots=True, kw_only=True)
class Export:
    """Everything of the person's that the message goes to, asked for at the moment `at` (UTC)."""

    name: str
    at: datetime


def encode(export: Export) -> str:
    """The value as JSON."""
    return msgspec.json.encode(export).decode()


def decode(text: str) -> Export:
    """The value that `encode` made the text of."""
    return msgspec.json.decode(text, type=Export)
