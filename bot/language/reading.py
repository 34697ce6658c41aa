"""A text as a message that is ready to be understood: scanned, and its repairs carried out."""

from __future__ import annotations

from bot.language.message import Message, scanned
from bot.language.repairs import MOST_REPAIRS, repaired
from bot.language.surroundings import Surroundings


def read(text: str, around: Surroundings) -> Message:
    """The text as a message; what the writer put right in the same breath is already put right."""
    message = scanned(text, around)
    for _ in range(MOST_REPAIRS):
        better = repaired(message)
        if better is None:
            return message
        message = scanned(better, around)
    return message
