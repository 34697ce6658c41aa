"""Signs that were dictated: 'comma', 'full stop', 'new line' between what they part, 'percent' behind a number."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from bot.language.lexicon import lexicon
from bot.language.number_words import number_words
from bot.language.numbers import NumberReader
from bot.language.pack import pack
from bot.language.text import Token

SIGNS = {"spoken_comma": ",", "spoken_stop": ".", "spoken_line": "\n"}
"""The concepts of dictated signs, with the sign that each says."""


def with_spoken_signs(tokens: Sequence[Token]) -> list[Token]:
    """The tokens with dictated signs as the signs that they say; a 'comma' inside a number stays a word."""
    words, said = pack(), [token.text for token in tokens]
    openers = {first for name in SIGNS for first in words[name].words}
    if openers.isdisjoint(said):
        return list(tokens)
    found: list[Token] = []
    i = 0
    while i < len(tokens):
        sign, end = next(((mark, end) for name, mark in SIGNS.items() for end in words[name].ends(said, i)), ("", i))
        if sign and i and not _inside_number(tokens, i, end):
            last = tokens[end - 1]
            kind: Literal["sign", "newline"] = "newline" if sign == "\n" else "sign"
            found.append(replace(tokens[i], kind=kind, text=sign, raw=sign, end=last.end))
            i = end
        else:
            found.append(tokens[i])
            i += 1
    return found


NONE = "0%"
MOST_NUMBER_WORDS = 5
"""Words of a number before 'percent': 'ninety seven point five'."""


def with_percentages(tokens: Sequence[Token]) -> list[Token]:
    """The tokens with 'ninety three percent' as the one word '93%', which belongs to a name, and 'zero fat' as '0%'."""
    percent, none, said = pack()["spoken_percent"], pack()["spoken_nonfat"], [token.text for token in tokens]
    if percent.words.isdisjoint(said) and none.words.isdisjoint(said):
        return list(tokens)
    numbers = NumberReader(tokens, lexicon().units)
    found: list[Token] = []
    starts: list[int] = []
    i = 0
    while i < len(tokens):
        end = next(percent.ends(said, i), i)
        first = next((j for j in range(max(0, i - MOST_NUMBER_WORDS), i) if _number(numbers, j) == i), i)
        fat_free = next(none.ends(said, i), None)
        if fat_free is not None and fat_free < len(tokens) and tokens[fat_free].kind == "word":
            starts.append(i)
            found.append(replace(tokens[i], kind="word", text=NONE, raw=NONE, end=tokens[fat_free - 1].end))
            end = fat_free
        elif end > i > first:
            while starts and starts[-1] >= first:
                found.pop()
                starts.pop()
            value = numbers.best(first)
            text = f"{value.value:g}%" if value is not None else ""
            starts.append(first)
            found.append(replace(tokens[first], kind="word", text=text, raw=text, end=tokens[end - 1].end))
        else:
            end = i + 1
            starts.append(i)
            found.append(tokens[i])
        i = end
    return found


def _number(numbers: NumberReader, i: int) -> int:
    """Where the number that begins at word i ends; i where there is none."""
    read = numbers.best(i)
    return i if read is None else read.end


def _inside_number(tokens: Sequence[Token], i: int, end: int) -> bool:
    """Whether a dictated sign stands between digits ('six comma two')."""
    if end >= len(tokens):
        return False
    numbers = number_words().values
    return all(t.kind == "number" or t.text in numbers for t in (tokens[i - 1], tokens[end]))
