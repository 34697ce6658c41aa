"""Answers of a person that would be the same next time, each kept under what it is about and a word of theirs.

Words and values are texts, as `bot.kinds.Remembered` says for each kind. Words are kept in lower case, and found
whatever their case. The standing answers to 'raw or cooked?' are habits (`bot.store.facts`).
"""

from __future__ import annotations

from dataclasses import dataclass

from bot.kinds import Remembered
from bot.store import facts
from bot.store.books import Books


@dataclass(frozen=True, slots=True)
class Memory:
    """One remembered answer."""

    what: Remembered
    word: str
    value: str


def everything(books: Books) -> list[Memory]:
    """All that is remembered, the oldest first."""
    return [Memory(Remembered(what), word, value) for (what, word), value in facts.memory(books).items()]


def recall(books: Books, what: Remembered, word: str) -> str | None:
    """What is remembered for that word, or None."""
    return facts.memory(books).get((what, word.casefold()))


def keep(books: Books, what: Remembered, word: str, value: str) -> bool:
    """Remembers a value for a word, in place of an earlier one. Returns whether that was new. Undo takes it back."""
    if recall(books, what, word) == value:
        return False
    facts.save_memory(books, what, word.casefold(), value)
    return True


def forget(books: Books, what: Remembered, word: str) -> bool:
    """Forgets what is remembered for a word. Returns whether there was anything. Undo brings it back."""
    if recall(books, what, word) is None:
        return False
    facts.save_memory(books, what, word.casefold(), None)
    return True


def first_use(books: Books, remembered: Memory) -> bool:
    """True the first time that this very answer is used, when the reply says so."""
    return facts.first_time(books, f"memory:{remembered.what}:{remembered.word}:{remembered.value}")
