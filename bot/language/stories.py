"""Stories around a weigh-in: what tells of people, places and old days is no second item and asks nothing."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from bot.language.chunks import Chunk
from bot.language.message import Message
from bot.language.pack import pack, plain

BEARING = frozenset(
    {"food", "batch", "hash", "tare", "whole", "state", "size", "energy", "macro", "price", "newline", "part"}
)
"""Kinds of chunk that bear on what was eaten; a stretch with one of them is no story."""
CUTS = frozenset({",", ";", ".", "!", "?", "(", ")", ":", "-", "+", "/", "\n"})


def without_stories(message: Message) -> Message:
    """The sentences without the stretches that only tell a story; all of them where nothing else is told."""
    told = [c for c in message.chunks if c.kind in ("food", "batch") or _measured(c)]
    if not told or message.asks:
        return message
    dropped: list[Chunk] = []
    for stretch in _stretches(message):
        if _is_story(message, stretch):
            dropped.extend(c for c in stretch if c.kind != "moment")
    return message.without(dropped) if dropped else message


def _measured(chunk: Chunk) -> bool:
    return chunk.kind == "amount" and chunk.amount is not None and chunk.amount.kind != "bare"


def _stretches(message: Message) -> list[list[Chunk]]:
    """The message cut at signs and at words that begin another clause."""
    opening = pack()["clause_openers"]
    said = [plain(t.text) for t in message.tokens]
    number, numbered = 0, []
    for chunk in message.chunks:
        if chunk.kind in ("sign", "newline") and chunk.text in CUTS:
            number += 1
            continue
        if chunk.kind == "word" and any(True for _ in opening.ends(said, chunk.start)):
            number += 1
        numbered.append((number, chunk))
    return [[chunk for _, chunk in group] for _, group in groupby(numbered, key=lambda pair: pair[0])]


def _is_story(message: Message, stretch: Sequence[Chunk]) -> bool:
    """Whether a stretch tells nothing of what was eaten, by whom or how much, and yet says something."""
    if any(c.kind in BEARING or _measured(c) for c in stretch):
        return False
    words = pack()
    said = [plain(t.text) for c in stretch for t in message.tokens[c.start : c.end]]
    if words["bearing"].found(said):
        return False
    numbers = [c for c in stretch if c.kind == "amount"]
    if numbers and (words["weighing"].found(said) or not words["story_verbs"].found(said)):
        return False
    unknown = [c for c in stretch if c.kind == "word" and not message.words.knows(c.text.lower())]
    return bool(numbers) or (bool(unknown) and len(said) > 1 and words["story_verbs"].found(said))
