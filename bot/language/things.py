"""He and she for things, as people say who speak another language first: 'potato, he is 285 g, on him cheddar'."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Line
from bot.language.pack import pack
from bot.language.text import Token, singular

HEAVIEST_G = 5000
"""From here on 'he is …' tells of a body."""


def with_things(line: Line) -> Sequence[Token]:
    """The tokens, with 'it' for a pronoun of persons that can only mean a food named before it.

    That is so where nobody is named, no such pronoun is the subject of any verb but that of a weight, and at least one
    has a weight behind it or something put on it.
    """
    words = pack()
    at = [i for i, token in enumerate(line.tokens) if token.text in words["he_or_she"]]
    if not at or not any(line.name(i) is not None for i in range(at[0])):
        return line.tokens
    if any(singular(t.text.removesuffix("'s")) in line.words.people for t in line.tokens):
        return line.tokens
    if not all(_is_thing(line, i) for i in at):
        return line.tokens
    return [t._replace(text="it", raw="it") if i in at else t for i, t in enumerate(line.tokens)]


def _is_thing(line: Line, i: int) -> bool:
    """Whether a pronoun stands where a thing does: before its weight, behind a preposition, eaten."""
    words = pack()
    behind = words["weighs_so_much"].end(line.plain, i + 1)
    if behind is not None:
        read = line.amounts.quantity(behind) if behind < len(line.tokens) else None
        return read is not None and read[0].grams is not None and read[0].grams < HEAVIEST_G
    owns = line.text(i) in words["may_own"] and _is_owner(line, i)
    if line.text(i) not in words["him_or_her"] or owns:
        return False
    return line.text(i - 1) in words["onto_that"] or line.text(i - 1) in words["ate_or_weighed"]


def _is_owner(line: Line, i: int) -> bool:
    """Whether a pronoun says whose the word behind it is: 'her plate', but not 'on her I put'."""
    return i + 1 < len(line.tokens) and line.tokens[i + 1].kind == "word" and line.text(i + 1) not in pack()["no_noun"]
