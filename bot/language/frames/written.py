"""The frame for what a coach has written, asked for again: 'any message from Ines?', 'what did my coach say?'."""

from __future__ import annotations

from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.practice import WordsFromCoach
from bot.language.scene import Scene

MOST_WORDS = 16
REACH = 3
"""Words before the word for writing among which an 'I' makes it the writer's own."""


def written_to_me(scene: Scene) -> list[Meaning] | None:
    """What the coach who is named, or the only one, has written; None where it asks for something else.

    Somebody asks, a coach is named, and a word for writing or for what was written stands there that is not of the
    writer's own words to the coach.
    """
    message, words = scene.message, scene.said
    coaches = message.around.coaches
    if not coaches or len(words) > MOST_WORDS or not scene.cue("words_written"):
        return None
    if message.of("amount", "hash", "energy", "macro", "batch") or scene.cue("gets_to_see", "condition"):
        return None
    if not words or not (message.asks or words[0] in pack()["asks_for_words"]):
        return None
    named = _coach(message)
    if named is None or _to_the_coach(message) or any(_is_ones_own(words, n) for n in range(len(words))):
        return None
    return [WordsFromCoach(coach=named)]


def _coach(message: Message) -> str | None:
    """The coach who is named; empty for 'my coach', None where none is."""
    said = [t.text.removesuffix("'s") for t in message.tokens]
    for name in message.around.coaches:
        if any(part.casefold() in said for part in name.split()):
            return name
    return "" if pack()["coach_word"].found(message.wording) else None


def _to_the_coach(message: Message) -> bool:
    """Whether the words went, or are to go, to the coach: 'what did I write to my coach?'."""
    said = message.wording
    names = {part.casefold() for name in message.around.coaches for part in name.split()} | {"coach"}
    at = [n for n, word in enumerate(said) if word in names]
    return any(word in pack()["for_whom"] for n in at for word in said[max(0, n - 2) : n])


def _is_ones_own(words: list[str], n: int) -> bool:
    """Whether a word is one for writing with an 'I' shortly before it: 'what should I write'."""
    return words[n] in pack()["words_written"] and any(w in pack()["one_writes"] for w in words[max(0, n - REACH) : n])
