"""What handling a meaning can leave to do: a question, a refusal, further meanings."""

from __future__ import annotations

from dataclasses import dataclass

from bot.kinds import About, Why
from bot.language.meanings import Meaning
from bot.language.told import Item


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer: its text, and the meaning to handle when it is chosen (None: nothing is recorded)."""

    words: str
    meaning: Meaning | None


@dataclass(frozen=True, slots=True)
class Ask:
    """A question about a pending meaning; `about` decides which free answers it takes."""

    about: About
    text: str
    pending: Meaning
    choices: tuple[Choice, ...] = ()


@dataclass(frozen=True, slots=True)
class Refuse:
    """Nothing is recorded and nothing waits; the text says why."""

    text: str
    why: Why = Why.IMPOSSIBLE
    says_so: bool = False
    """Whether the text itself tells that nothing is recorded; otherwise the reply adds it."""


@dataclass(frozen=True, slots=True)
class Then:
    """What the dispatcher handles next, in order."""

    meanings: tuple[Meaning, ...]


Outcome = Item | Ask | Refuse | Then | None
"""What handling a meaning leaves to do: an item to record, a question, a refusal, further meanings, or nothing."""
