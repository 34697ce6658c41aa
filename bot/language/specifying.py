"""Kinds and states that are stated after the weight of a food ('yog 200 … yog is nonfat greek, oats dry')."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from bot.language.chunks import Chunk
from bot.language.message import Message, read
from bot.language.pack import pack, plain
from bot.language.text import singular
from domain import reference

MOST_SAID = 4
"""Most foods of a message that are specified afterwards."""
MOST_TOLD = 4
"""Most words that name a kind."""
CUTS = frozenset({",", ";", ".", "!", "(", ")", "\n"})


def specified(message: Message) -> Message:
    """The message with each kind or state that is stated later moved in front of its food."""
    if message.asks or len(message.of("food")) < 2 or not message.of("amount"):
        return message
    for _ in range(MOST_SAID):
        better = _specified(message)
        if better is None:
            return message
        message = read(better, message.around)
    return message


def _specified(message: Message) -> str | None:
    """The text with the first such stretch moved in front of its food; None if there is none."""
    parts = [list(group) for cut, group in groupby(message.chunks, key=lambda c: c.text in CUTS) if not cut]
    named: dict[tuple[str, ...], Chunk] = {}
    measured = False
    for part in parts:
        told = _kind_said(message, part) if measured else None
        before = named.get(_words_of(message, told[0])) if told is not None else None
        generic = _generic(message, part, list(named.values())) if measured else None
        if told is not None and before is not None:
            return _moved(message, part, f"{told[1]} {before.text}", before)
        if generic is not None:
            return _moved(message, part, next(c.text for c in part if c.kind == "food"), generic)
        measured = measured or any(c.kind == "amount" for c in part)
        for chunk in part:
            if chunk.kind == "food":
                named.setdefault(_words_of(message, chunk), chunk)
    return None


def _moved(message: Message, part: Sequence[Chunk], name: str, food: Chunk) -> str:
    """The text with a stretch taken out and the name that it tells in the place of a food."""
    text, tokens = message.whole, message.tokens
    start, end = tokens[part[0].start].start, tokens[part[-1].end - 1].end
    before, behind = text[: tokens[food.start].start], text[tokens[food.end - 1].end : start]
    return f"{before}{name}{behind}{text[end:]}".rstrip(" ,.;")


def _generic(message: Message, part: Sequence[Chunk], before: Sequence[Chunk]) -> Chunk | None:
    """The generic food before ('biscuit') of which a stretch names the kind and nothing else ('…, a digestive')."""
    chunks = [c for c in part if plain(c.text.lower()) not in pack()["beside_kind"]]
    if len(chunks) != 1 or chunks[0].kind != "food":
        return None
    kinds = reference.load().kinds
    of_it = [
        c
        for c in before
        if (generic := kinds.get(c.target.removeprefix("kinds:"))) and chunks[0].target in generic.kinds
    ]
    return of_it[0] if len(of_it) == 1 else None


def _kind_said(message: Message, part: Sequence[Chunk]) -> tuple[Chunk, str] | None:
    """(the food, its kind or state) of a stretch that says nothing else; else None."""
    chunks = [c for c in part if plain(c.text.lower()) not in pack()["beside_kind"]]
    if not chunks or chunks[0].kind != "food" or any(c.kind in ("amount", "batch", "moment", "tare") for c in part):
        return None
    food, told = chunks[0], chunks[1:]
    if not told or len(told) > MOST_TOLD:
        return None
    kind = " ".join(message.whole[message.tokens[c.start].start : message.tokens[c.end - 1].end] for c in told)
    if all(c.kind == "state" for c in told):
        return food, kind
    words = [t.text for c in told if c.kind != "state" for t in message.tokens[c.start : c.end]]
    named = [t.text for t in message.tokens[food.start : food.end]]
    name = message.vocabulary.resolve([*words, *named], " ".join([*words, *named]))
    return (food, kind) if name.foods and not name.unknown and not name.corrected else None


def _words_of(message: Message, food: Chunk) -> tuple[str, ...]:
    """The singulars of a food's words, by which it is the same food."""
    return tuple(singular(t.text) for t in message.tokens[food.start : food.end])
