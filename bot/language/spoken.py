"""Signs that were dictated: 'comma', 'full stop', 'new line' between what they part."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from bot.language.number_words import number_words
from bot.language.pack import pack
from bot.language.text import Token

SIGNS = {"spoken_comma": ",", "spoken_stop": ".", "spoken_line": "\n"}
"""The concepts of dictated signs, with the sign that each says."""


def with_spoken_signs(tokens: Sequence[Token]) -> list[Token]:
    """The tokens with dictated signs as the signs that they say; a 'comma' inside a number stays a word."""
    words, said = pack(), [token.text for token in tokens]
    if all(words[name].words.isdisjoint(said) for name in SIGNS):
        return list(tokens)
    found: list[Token] = []
    i = 0
    while i < len(tokens):
        sign, end = next(((mark, end) for name, mark in SIGNS.items() for end in words[name].ends(said, i)), ("", i))
        if sign and i and not _inside_number(tokens, i, end):
            last = tokens[end - 1]
            kind: Literal["sign", "newline"] = "newline" if sign == "\n" else "sign"
            found.append(tokens[i]._replace(kind=kind, text=sign, raw=sign, end=last.end))
            i = end
        else:
            found.append(tokens[i])
            i += 1
    return found


def _inside_number(tokens: Sequence[Token], i: int, end: int) -> bool:
    """Whether a dictated sign stands between digits ('six comma two')."""
    if end >= len(tokens):
        return False
    numbers = number_words().values
    return all(t.kind == "number" or t.text in numbers for t in (tokens[i - 1], tokens[end]))
