"""What handling a meaning can leave to do: a question, a refusal, further meanings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bot.kinds import About, Why
from bot.language.meanings import Meaning
from bot.language.told import Item

MAX_CHOICE = 24
"""Longest text of a choice, in characters."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer: its text, and the meaning to handle when it is chosen (None: nothing is recorded)."""

    words: str
    meaning: Meaning | None


def distinct(choices: Sequence[Choice]) -> tuple[Choice, ...]:
    """The choices without those that repeat another; those that only read alike are numbered."""
    kept: list[Choice] = []
    for choice in choices:
        alike = [each for each in kept if each.words.casefold() == choice.words.casefold()]
        if any(each.meaning == choice.meaning for each in alike):
            continue
        number, words = len(alike) + 1, choice.words
        while alike and any(each.words.casefold() == words.casefold() for each in kept):
            words, number = f"{choice.words[: MAX_CHOICE - 3].rstrip()} {number}", number + 1
        kept.append(replace(choice, words=words))
    return tuple(kept)


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
