"""Foods, their states, and the parts that are eaten or not, where they stand in a message."""

from __future__ import annotations

from bot.language.chunks import Chunk, Line
from domain.foods import State

MOST_LINKING = 6
"""Words from 'before' or 'after' to what was done to the food: 'before I had cooked it'."""


def read_long_name(line: Line, i: int) -> Chunk | None:
    """A name of several words, or one that begins with a number: it goes before any other reading."""
    if line.tokens[i].kind not in ("word", "number"):
        return None
    found = line.name(i)
    if found is None or found[1] - i < 2:
        return None
    return line.make("food", i, found[1], target=found[0])


def read_name(line: Line, i: int) -> Chunk | None:
    """A food's name of one word."""
    if line.tokens[i].kind != "word":
        return None
    if line.text(i - 1) in ("a", "an", "my") and line.text(i - 2) == "as":
        return None
    if line.text(i - 1) in ("i", "we", "i've", "you", "they", "he", "she"):
        return None
    if line.tokens[i].text == "water" and line.text(i - 1) in ("in", "salted"):
        return None
    found = line.name(i)
    return line.make("food", i, found[1], target=found[0]) if found else None


def read_state_phrase(line: Line, i: int) -> Chunk | None:
    """A state said in several words: 'pan fried', 'sunny side up', 'before it was cooked', 'once boiled'."""
    for words, state in line.words.state_phrases.get(line.text(i), ()):
        if all(line.text(i + n) == word for n, word in enumerate(words)):
            return _state(line, i, i + len(words), state)
    for before, listed in (*line.words.state_moments.items(),):
        for words in listed:
            if line.text(i) != words[0] or any(line.text(i + n) != word for n, word in enumerate(words)):
                continue
            j = i + len(words)
            while j < i + MOST_LINKING and line.text(j) in line.words.state_links:
                j += 1
            said = line.words.gerunds.get(line.text(j)) or (line.text(j) if line.text(j) in line.words.states else None)
            if said is not None and line.words.states[said][0] is State.COOKED:
                return _state(line, i, j + 1, "raw" if before == "before" else said)
    return None


def read_state(line: Line, i: int) -> Chunk | None:
    """A state, in one word or several."""
    if i >= len(line.tokens):
        return None
    phrase = read_state_phrase(line, i)
    if phrase is not None:
        return phrase
    return _state(line, i, i + 1, line.text(i)) if line.text(i) in line.words.states else None


def _state(line: Line, start: int, end: int, word: str) -> Chunk:
    state, method = line.words.states[word]
    return line.make("state", start, end, state=state, method=method)


def read_part(line: Line, i: int) -> Chunk | None:
    """'with core', 'skin on', 'without the stone or skin', 'unpeeled', 'boneless'."""
    word = line.text(i)
    if word in line.words.whole and word != "whole":
        return line.make("whole", i, i + 1, whole=True)
    if (
        word in ("bone", "skin", "shell", "peel")
        and line.text(i + 1) in ("in", "on")
        and line.lemmas[i + 2 : i + 3] not in (["bowl"], ["the"])
    ):
        return line.make("whole", i, i + 2, whole=True, part=word)
    if (
        word in ("in", "with")
        and line.text(i + 1) in ("its", "their", "the")
        and line.lemmas[i + 2 : i + 3]
        and line.lemmas[i + 2] in line.words.parts
    ):
        return line.make("whole", i, i + 3, whole=True, part=line.lemmas[i + 2])
    if word in ("skinless", "stoneless", "seedless", "shell-less", "pitless"):
        return line.make("whole", i, i + 1, whole=False, part=word.removesuffix("less"))
    if word in line.words.edible:
        return line.make("whole", i, i + 1, whole=False)
    if word == "whole" and line.name(i) is None:
        return line.make("whole", i, i + 1, whole=True)
    without = word in ("without", "no", "minus", "w/o", "excluding", "excl", "off") or (
        word == "w" and line.text(i + 1) == "/" and line.text(i + 2) == "o"
    )
    including = word in ("with", "including", "incl", "inc", "w", "plus", "in")
    if not (without or including):
        return None
    j = i + (3 if word == "w" and without else 1)
    while line.text(j) in ("/", ".", "the", "its", "their", "any", "my", "all", "a") and j < i + 6:
        j += 1
    return _parts_from(line, i, j, whole=not without)


def _parts_from(line: Line, start: int, j: int, whole: bool) -> Chunk | None:
    part = ""
    end = start
    while j < len(line.tokens) and line.lemmas[j] in line.words.parts:
        part, end = part or line.lemmas[j], j + 1
        j = j + 2 if line.text(j + 1) in ("or", "and", "&", "/") else j + 1
        while line.text(j) in ("the", "its"):
            j += 1
    if not part:
        return None
    if line.text(end) in ("on", "in", "still", "left", "attached") and line.text(end + 1) not in ("the", "my"):
        end += 1 if line.text(end) != "still" else 2
    if end < len(line.tokens) and line.tokens[end].kind == "number" and line.text(start) in ("minus", "off"):
        return None
    return line.make("whole", start, min(end, len(line.tokens)), whole=whole, part=part)
