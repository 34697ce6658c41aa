"""Slots for foods, and for what holds or measures them: vessels, the person's own measures, words for one piece."""

from __future__ import annotations

from collections.abc import Iterator

from bot.language.chunks import Line
from bot.language.pack import pack
from bot.language.told import Amount, Name
from bot.language.words import Words, some

MOST_FOOD_WORDS = 7
MOST_VESSEL_WORDS = 4


def food(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A food of the table or of the person's own, the longest name first."""
    in_no_name = pack()["in_no_name"]
    while i < end and line.text(i) in ("the", "my", "some", "a", "an", "that", "those", "our"):
        i += 1
    for j in range(min(end, i + MOST_FOOD_WORDS), i, -1):
        tokens = line.tokens[i:j]
        if any(t.text in in_no_name for t in tokens):
            continue
        if _may_name(line, i, j):
            words = [t.text for t in tokens]
            name = line.vocabulary.resolve(words, " ".join(words))
            if (name.foods or name.kinds) and not name.unknown:
                yield name, j


def _may_name(line: Line, i: int, j: int) -> bool:
    """Whether tokens i…j can be a food's name: words, none of them at either end one that carries no food."""
    tokens = line.tokens[i:j]
    if not all(t.kind in ("word", "number") for t in tokens) or not any(t.kind == "word" for t in tokens):
        return False
    exact = line.name(i)
    filler = line.words.filler
    return (exact is not None and exact[1] == j) or not (tokens[0].text in filler or tokens[-1].text in filler)


def thing(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """What somebody calls a food, known or not."""
    yield from food(line, i, end)
    while i < end and line.text(i) in ("the", "my", "some", "a", "an", "that", "those", "our"):
        i += 1
    for j in range(min(end, i + MOST_FOOD_WORDS), i, -1):
        tokens = line.tokens[i:j]
        if all(t.kind == "word" for t in tokens):
            yield Name(text=" ".join(t.text for t in tokens)), j


def measured_food(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """The food that a measure is of, known or not; its state is left out of the name."""
    for stop in range(min(end, i + MOST_FOOD_WORDS), i, -1):
        tokens = line.tokens[i:stop]
        if all(t.kind == "word" for t in tokens) and not any(t.text in pack()["weighs_empty"] for t in tokens):
            kept = [t.text for t in tokens if t.text not in line.words.states]
            if kept:
                yield line.vocabulary.resolve(kept, " ".join(kept)), stop


def piece(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """'slice', 'scoop': a word for one of something."""
    word = line.lemmas[i]
    if word in line.words.piece_nouns or word in line.words.loose_units:
        yield word, i + 1


def own_measure(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """'ladle', 'serving spoon', 'tablespoon': one of the person's own, whatever describes it."""
    words = line.words
    for stop in range(i + 1, min(end, i + 2) + 1):
        word = line.lemmas[stop - 1]
        unit = word if word in words.loose_units or word in words.piece_nouns else words.volume_units.get(word)
        if unit is not None and len(line.text(stop - 1)) > 1:
            # 'serving spoon' is called by its first word.
            both = stop < end and line.lemmas[stop] in words.loose_units
            yield Amount(kind="measure", value=1.0, unit=unit), stop + both


def vessel_name(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """Words of which the last is a vessel ('soup pot'), or a known vessel's name."""
    for words, stop in some(MOST_VESSEL_WORDS)(line, i, end):
        if line.plain[i] in pack()["empty"]:
            break
        if line.plain[stop - 1] in line.words.filler and line.lemmas[stop - 1] not in line.words.vessels:
            break
        if line.lemmas[stop - 1] in line.words.vessels:
            yield words, stop
    yield from known_vessel(line, i, end)


def known_vessel(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """The name of one of the person's vessels."""
    for lemmas, _, _ in line.tare_names:
        stop = i + len(lemmas)
        if stop <= end and tuple(line.lemmas[i:stop]) == lemmas:
            yield Words(i, stop, line.typed(i, stop)), stop
