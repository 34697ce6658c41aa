"""Words that a microphone wrote for a food that sounds the same: '30 g flower', 'lam chop 160 g', 'bred roll 60 g'."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Line
from bot.language.number_words import number_words
from bot.language.text import Token, singular


def with_misheard_foods(line: Line) -> Sequence[Token]:
    """The tokens with each such word as the food that sounds like it; the same sequence where there is none.

    That is so right behind a weight or a volume, before a weight at the beginning of a part of a list, and where the
    word makes one name with the word beside it.
    """
    heard = line.words.heard_as
    if heard.keys().isdisjoint(token.text for token in line.tokens):
        return line.tokens
    return [
        token._replace(text=heard[token.text], raw=heard[token.text])
        if token.text in heard and _is_food(line, i, heard[token.text])
        else token
        for i, token in enumerate(line.tokens)
    ]


def _is_food(line: Line, i: int, meant: str) -> bool:
    """Whether token i stands where only a food can."""
    if any((found := line.name(j)) is not None and found[1] > i for j in range(max(0, i - 3), i + 1)):
        return False
    lemma, lemmas = singular(meant), line.lemmas
    beside = [(lemma, *lemmas[i + 1 : i + 2]), (*lemmas[max(0, i - 1) : i], lemma)]
    if any(len(name) > 1 and line.vocabulary.exact(name) is not None for name in beside):
        return True
    first = i == 0 or line.tokens[i - 1].kind in ("sign", "newline")
    weight = line.amounts.quantity(i + 1) if first and i + 1 < len(lemmas) else None
    if weight is not None and weight[0].kind == "mass":
        return True
    last = i - 2 if line.text(i - 1) in number_words().of else i - 1
    if last < 1 or line.text(last) not in line.words.units:
        return False
    return line.amounts.number(last - 1) is not None or line.tokens[last - 1].kind == "number"
