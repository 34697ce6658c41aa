"""Stretches of a clause that are read further by whoever asked for them, and the slots for any words at all."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from bot.language.chunks import Line
from bot.language.moments import Moment
from bot.language.times import spoken

MOST_LISTED_WORDS = 80
MOST_LOOSE_WORDS = 12
"""Words that a slot for any words takes, unless they reach to the end of the clause."""
_CODE = re.compile(r"[\w-]{22}", re.ASCII)

Filler = Callable[[Line, int, int], Iterator[tuple[object, int]]]
"""What may stand in a slot at a token of a line, before another: each value with the token behind it."""


@dataclass(frozen=True, slots=True)
class Words:
    """Tokens start to end."""

    start: int
    end: int
    text: str
    """As typed."""


def any_words(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """Any words, as many as reach to the end first."""
    yield Words(i, end, line.typed(i, end)), end
    for j in range(min(end - 1, i + MOST_LOOSE_WORDS), i, -1):
        yield Words(i, j, line.typed(i, j)), j


def listed(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A list of weigh-ins, longer than other words may be."""
    for j in range(min(end, i + MOST_LISTED_WORDS), i, -1):
        yield Words(i, j, line.said(i, j)), j


def text(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """Everything up to the end of the clause, as typed."""
    yield line.typed(i, end), end


def some(most: int) -> Filler:
    """A few words as typed, no number among them, the fewest first."""

    def fill(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
        for stop in range(i + 1, min(end, i + most) + 1):
            if line.tokens[stop - 1].kind != "word":
                return
            yield Words(i, stop, line.typed(i, stop)), stop

    return fill


def run_of(concept: str) -> Filler:
    """Words of a concept one after another, as many as there are first."""

    def fill(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
        stops: list[int] = []
        at = i
        while at < end and at < i + MOST_LOOSE_WORDS:
            stop = spoken(line, concept, at, end)
            if stop is None and line.tokens[at].kind not in ("sign", "newline"):
                break
            at = stop or at + 1
            stops.append(at)
        yield from ((Words(i, stop, line.typed(i, stop)), stop) for stop in reversed(stops))

    return fill


def aside(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """What changes nothing beside a whole matter: times, and words of the concept <aside>; the moments among it."""
    found: list[tuple[tuple[Moment, ...], int]] = []
    moments: tuple[Moment, ...] = ()
    at = i
    while at < end:
        read = line.moments.read(at)
        stop = spoken(line, "aside", at, end)
        if read is not None and read[1] <= end:
            moments, at = (*moments, read[0]), read[1]
        elif stop is not None:
            at = stop
        elif at > i and line.tokens[at].kind in ("sign", "newline"):
            at += 1
            continue
        else:
            break
        found.append((moments, at))
    yield from reversed(found)


def holds_code(text: str) -> bool:
    """Whether a word of a text may be an invitation's code."""
    return any(_CODE.fullmatch(word) for word in text.split())


def code(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """An invitation's code: 22 letters, digits, - or _ without a space, whatever tokens that makes."""
    start = line.tokens[i].start
    word = line.whole[start:].split(maxsplit=1)[0].rstrip(".!?")
    stop = i
    while stop < end and line.tokens[stop].start < start + len(word):
        stop += 1
    if _CODE.fullmatch(word):
        yield word, stop
