"""A stretch of a clause that is read further by whoever asked for it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Words:
    """Tokens start to end."""

    start: int
    end: int
    text: str
    """As typed."""
