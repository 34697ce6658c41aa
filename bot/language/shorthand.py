"""Common words as they are texted, put in full before anything else reads them: 'bc', 'thru', 'w/o', '2nite'."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from bot.language.lexicon import lexicon
from bot.language.pack import pack
from bot.language.short_words import own_names
from bot.language.surroundings import Surroundings
from bot.language.text import Token, tokenise


@cache
def _shorthand() -> dict[str, tuple[tuple[tuple[str, ...], str], ...]]:
    """What is typed for a word, by its first token: its tokens and the word, longest first."""
    told = [(tuple(token.text for token in tokenise(short)), word) for short, word in lexicon().shorthand.items()]
    told.sort(key=lambda each: -len(each[0]))
    return {first: tuple(each for each in told if each[0][0] == first) for first in {texts[0] for texts, _ in told}}


def with_shorthand(tokens: Sequence[Token], around: Surroundings) -> list[Token]:
    """The tokens with a word that is typed short as that word; in a name that the person gave it stays."""
    if _shorthand().keys().isdisjoint(token.text for token in tokens):
        return list(tokens)
    found, names, i = list[Token](), own_names(around), 0
    while i < len(tokens):
        texts, word = _typed_short(tokens, i)
        if word and "".join(texts) not in names:
            last = tokens[i + len(texts) - 1]
            found.append(tokens[i]._replace(kind="word", text=word, raw=word, end=last.end))
            i += len(texts)
        else:
            found.append(tokens[i])
            i += 1
    return found


def _typed_short(tokens: Sequence[Token], i: int) -> tuple[tuple[str, ...], str]:
    """The tokens that are typed for a word at token i, and the word; empty where none is."""
    if i and not tokens[i].spaced and tokens[i - 1].kind in ("word", "number"):
        return (), ""
    for texts, word in _shorthand().get(tokens[i].text, ()):
        end = i + len(texts)
        typed = tokens[i:end]
        if tuple(token.text for token in typed) != texts or any(token.spaced for token in typed[1:]):
            continue
        behind = tokens[end] if end < len(tokens) else None
        ends = behind is None or behind.kind in ("sign", "newline")
        if not ends and behind is not None and not behind.spaced:
            continue
        if ends and word in pack()["gives_a_reason"]:
            continue  # 'cheers, cuz'
        if not _may_be_pot(tokens, i, end):
            return texts, word
    return (), ""


def _may_be_pot(tokens: Sequence[Token], i: int, end: int) -> bool:
    """Whether letters with a number may be a pot: '200 g from b4', 'b4 cooked 900 g'."""
    if end == i + 1 or tokens[end - 1].kind != "number":
        return False
    before = tokens[i - 1].text if i else ""
    behind = tokens[end].text if end < len(tokens) else ""
    return before in pack()["comes_from"] or behind in lexicon().states
