"""The size of a vessel before its name: no amounts stand in '9x13 pan', '12-inch skillet' and '5 litre pot'."""

from __future__ import annotations

from bot.language.chunks import Chunk, Line
from bot.language.pack import pack

MOST_SIDES = 3
MOST_BETWEEN = 2
"""Words between a size and the vessel: '9x13 glass baking dish'."""
LARGEST = 99
"""No vessel of a kitchen is longer, in inches or centimetres."""


def read_vessel_size(line: Line, i: int) -> Chunk | None:
    """'9x13', '9 by 13 inch', '26 cm', '5 litre' right before a word for a vessel."""
    end = size_ends(line, i)
    return None if end is None else line.make("word", i, end)


def size_ends(line: Line, i: int) -> int | None:
    """Where the size of a vessel that begins at token i ends; None where none does."""
    sides, at = 0, i
    while sides < MOST_SIDES:
        if not line.text(at).isdecimal() or int(line.text(at)[:9]) > LARGEST:
            return None
        sides, at = sides + 1, at + 1
        if line.text(at) not in pack()["by_in_size"]:
            break
        at += 1
    behind = at + (line.text(at) == "-")
    measured = line.text(behind) in pack()["size_units"]
    if not measured and sides < 2:
        return None
    at = behind + 1 if measured else at
    named = range(at, min(at + MOST_BETWEEN + 1, len(line.tokens)))
    for n in named:
        if line.lemmas[n] in line.words.vessels:
            return at
        if line.tokens[n].kind != "word" or line.plain[n] in pack()["ends_a_size"] or line.name(n) is not None:
            return None
    return None
