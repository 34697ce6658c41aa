"""Numbers in free words that may be energy though no unit says so: 'stay at 1800', 'that was fifteen hundred'."""

from __future__ import annotations

from bot.language.lexicon import lexicon
from bot.language.numbers import Number, NumberReader
from bot.language.pack import pack
from bot.language.text import Token, tokenise

LEAST = 50
"""A smaller number without a unit is a count far more often than energy, in kcal."""
LONGEST_DAY = 31
"""A larger number after a month is a year."""
THOUSAND = 1000


def bare_figures(text: str) -> list[tuple[int, int]]:
    """Where in the text numbers stand that may be energy, in order, without overlaps: (start, end) in characters.

    None for a number that has a unit or a noun of time, distance or counting behind it, nor for one of a weigh-in, a
    batch, a clock or a year.
    """
    tokens = tokenise(text)
    reader = NumberReader(tokens, lexicon().units)
    found: list[tuple[int, int]] = []
    i = 0
    while i < len(tokens):
        number = _grouped(tokens, i) or max(reader.at(i), key=lambda each: each.end, default=None)
        if number is None:
            i += 1
            continue
        number = _in_thousands(tokens, number)
        if number.value >= LEAST and not _is_something_else(tokens, i, number):
            found.append((tokens[i].start, tokens[number.end - 1].end))
        i = number.end
    return found


def _grouped(tokens: list[Token], i: int) -> Number | None:
    """'1 800': thousands set apart by a space."""
    here = tokens[i]
    following = tokens[i + 1] if i + 1 < len(tokens) else None
    if here.kind != "number" or following is None or following.kind != "number" or not following.spaced:
        return None
    if len(here.text) > 2 or len(following.text) != 3 or not (here.text + following.text).isdigit():
        return None
    return Number(float(here.text + following.text), i + 2)


def _in_thousands(tokens: list[Token], number: Number) -> Number:
    """'1.8k'."""
    if number.end < len(tokens) and tokens[number.end].text == "k" and not tokens[number.end].spaced:
        return number._replace(value=number.value * THOUSAND, end=number.end + 1)
    return number


def _is_something_else(tokens: list[Token], i: int, number: Number) -> bool:
    words = lexicon()
    before = tokens[i - 1] if i else None
    behind = tokens[number.end] if number.end < len(tokens) else None
    if before is not None:
        if before.text in pack()["numbered"].words:
            return True
        if before.text in words.months and number.value > LONGEST_DAY:
            return True
        if before.text == ":" and not before.spaced and not tokens[i].spaced:
            return True
    if behind is None:
        return False
    if behind.text == ":" and not behind.spaced:
        return True
    return behind.text in words.units or behind.text in pack()["counted"].words
