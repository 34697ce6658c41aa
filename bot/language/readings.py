"""Readings of a scale over a whole message: what it showed after each food, and what a jar weighed at two times.

Neither depends on how the sentences are cut or on the order of their words: the numbers grow, and there are as many
foods as there are steps; or there is one jar with one food and two weights.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from bot.language.chunks import Chunk
from bot.language.on_the_scale import SMALL_STEP_G
from bot.language.pack import pack
from bot.language.text import singular
from bot.language.told import Amount
from bot.language.weighed import Said, grams_of, less, weighs
from bot.language.word_lists import word_lists

LEAST_STEPS = 2
MOST_TAKEN = 0.75
"""More of a jar than this is hardly taken out at once."""
MOST_BEFORE = 3
"""Words before a weight among which the verb of eating stands that makes it a portion."""
MOST_BESIDE = 3
"""Words between a jar and what is in it."""
WORDS = word_lists("telling")
ABOUT_FOOD = ("food", "state", "size", "whole", "moment")
"""Kinds of chunk that are kept beside a reading."""


def totals_in_order(said: Said) -> list[Chunk] | None:
    """'plate is 412. cod on, went to 573, then potato took it to 801': as many foods as there are growing totals."""
    weights, foods = said.weights, _runs(said)
    if len(foods) < LEAST_STEPS or _not_mine(said) or any(c.kind in ("batch", "hash") for c in said.chunks):
        return None
    if any(c.kind == "amount" and not weighs(c) and not _article(c) for c in said.chunks):
        return None
    zeroed = _zeroed_once(said)
    empty = None if zeroed else _empty_vessel(said, foods[0][0])
    if empty is not None:
        weights = weights[1:]
    elif not zeroed:
        return None
    totals = [*([empty] if empty is not None else []), *weights]
    if len(weights) != len(foods) or any(grams_of(b) - grams_of(a) < SMALL_STEP_G for a, b in pairwise(totals)):
        return None
    bounds = [0, *(c.end for c in weights), said.end]
    for n, run in enumerate(foods):
        behind = weights[n + 1].start if n + 1 < len(weights) else said.end
        if not bounds[n] <= run[0].start or not run[-1].end <= behind:
            return None
    changed = {b.start: less(b, a) for a, b in pairwise(totals)}
    return _steps(said, foods, weights, changed)


def _steps(
    said: Said, foods: Sequence[Sequence[Chunk]], weights: Sequence[Chunk], changed: dict[int, Amount]
) -> list[Chunk]:
    """Each food with its weight, what parts them kept once and other words dropped."""
    ends = [max(run[-1].end, w.end) for run, w in zip(foods, weights, strict=True)]
    kept: set[int] = {id(w) for w in weights}
    kept |= {id(c) for c in said.chunks if c.kind in ABOUT_FOOD}
    kept |= {id(c) for run in foods for c in run}
    for end, (run, weight) in zip(ends, list(zip(foods, weights, strict=True))[1:], strict=False):
        start = min(run[0].start, weight.start)
        between = [c for c in said.chunks if end <= c.start < start and _parts(said, c)]
        kept |= {id(c) for c in between[:1]}
    return said.but([c for c in said.chunks if id(c) not in kept], changed)


def _parts(said: Said, chunk: Chunk) -> bool:
    """Whether a chunk parts two things told."""
    return chunk.kind == "newline" or chunk.text in (",", ";", ".") or bool(said.says("then_shows", chunk.start))


def _runs(said: Said) -> list[list[Chunk]]:
    """The foods, those with nothing between them together."""
    runs: list[list[Chunk]] = []
    for chunk in said.chunks:
        if chunk.kind == "food":
            if runs and runs[-1][-1].end == chunk.start:
                runs[-1].append(chunk)
            else:
                runs.append([chunk])
    return runs


def _empty_vessel(said: Said, first: Chunk) -> Chunk | None:
    """The weight of a vessel that is told before the first food; None if there is none."""
    head = [c for c in said.chunks if c.start < first.start]
    weights = [c for c in head if weighs(c)]
    return weights[0] if len(weights) == 1 and any(said.vessel(c) for c in head) else None


def _zeroed_once(said: Said) -> bool:
    """Whether the scale was set to zero once, and what it read is told of what is on it.

    So it is too where each reading but the first is said to be after something was added.
    """
    later = said.weights[1:]
    if said.anywhere("scale", said.chunks) and all(said.says("with_added", w.end) for w in later):
        return True
    zeroed = [c for c in said.chunks if c.kind != "food" and said.says("zeroed", c.start)]
    up_to = all(said.behind("up_to", w.start) for w in later)
    return len(zeroed) == 1 and (said.anywhere("scale_read", said.chunks) or up_to)


def _article(chunk: Chunk) -> bool:
    return chunk.amount is not None and chunk.amount.value == 1 and not chunk.amount.unit


def jar_read_twice(said: Said) -> list[Chunk] | None:
    """'409 g on the peanut butter jar now. was 437 before I got into it': the difference of the two readings."""
    if len(said.weights) != LEAST_STEPS or len(_runs(said)) != 1 or any(c.kind == "batch" for c in said.chunks):
        return None
    if _not_mine(said):
        return None
    jars = _jars(said)
    if not any(_beside(c, _runs(said)[0]) for c in jars) or said.anywhere("is_label", said.chunks):
        return None
    if any(c.kind in ("amount", "part") and not weighs(c) and c not in jars for c in said.chunks):
        return None
    more, fewer = sorted(said.weights, key=grams_of, reverse=True)
    if not said.anywhere("at_two_times", said.chunks) or any(_is_portion(said, c) for c in said.weights):
        return None
    if not 0 < grams_of(more) - grams_of(fewer) <= MOST_TAKEN * grams_of(more):
        return None
    if any(abs(each.grams - grams_of(w)) < 1 for each in said.line.around.recorded() for w in said.weights):
        return None
    kept = [c for c in said.chunks if c is said.weights[0] or c.kind in ("food", "moment")]
    return said.but([c for c in said.chunks if c not in kept], {said.weights[0].start: less(more, fewer)})


def _not_mine(said: Said) -> bool:
    """Whether a word of a plan, of shopping, of a negation or for somebody else stands in it."""
    words = said.line.words
    for n in range(said.chunks[0].start, said.end):
        word = said.line.text(n)
        if said.line.plain[n] in pack()["would_or_had"] or said.line.plain[n] in pack()["things_too"]:
            continue
        if word in words.plans | words.shopping | words.negations:
            return True
        verb = said.line.text(n - 1) in pack()["writer_alone"]  # 'I dug in', for all that a dug is a dog to some
        if not verb and singular(word.removesuffix("'s")) in words.people | words.pronouns:
            return True
    return False


def _jars(said: Said) -> list[Chunk]:
    """The words for what food is kept in."""
    return [c for c in said.chunks if c.kind in ("word", "tare", "amount") and _is_jar(said, c)]


def _is_jar(said: Said, chunk: Chunk) -> bool:
    words = [said.line.text(n).removesuffix("'s") for n in range(chunk.start, chunk.end)]
    return not WORDS["stored_in"].isdisjoint(words) or said.line.lemmas[chunk.start] in WORDS["stored_in"]


def _beside(jar: Chunk, food: Sequence[Chunk]) -> bool:
    """'peanut butter jar', 'jar of peanut butter'."""
    return 0 <= jar.start - food[-1].end < MOST_BESIDE or 0 <= food[0].start - jar.end < MOST_BESIDE


def _is_portion(said: Said, weight: Chunk) -> bool:
    """'had 30 g from the jar': what was eaten, no reading."""
    before = range(max(said.chunks[0].start, weight.start - MOST_BEFORE), weight.start)
    words = said.line.words.eating
    return any(said.line.text(n) in words for n in before) and not any(
        said.says("linking", n) or said.says("scale_read", n) for n in before
    )
