"""Which file goes with a message, as a value that can be kept until the file is made."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

import msgspec


@dataclass(frozen=True, slots=True, kw_only=True)
class Export:
    """A file of somebody's records, asked for at the moment `at` (UTC) by the person that the message goes to."""

    name: str
    at: datetime
    client_id: int | None = None
    """Whose records they are, where that is a client of the person's; None: the person's own."""
    form: Literal["file", "page"] = "file"
    """Tables of everything, or a page to print."""


def encode(export: Export) -> str:
    """The value as JSON."""
    return msgspec.json.encode(export).decode()


def decode(text: str) -> Export:
    """The value that `encode` made the text of."""
    return msgspec.json.decode(text, type=Export)
