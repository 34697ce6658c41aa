"""What a line tells of one food, cut out of it: its weights, each with the words that say what it is of."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from bot.language.chunks import Chunk, Line
from bot.language.pack import pack
from bot.language.reckoning import reckoning
from bot.language.weighed import Said, grams_of, weighs
from domain import quantities

ENDS = frozenset(",.;!?")
MOST_BETWEEN = 3
"""Words between a container and its food."""


@dataclass(frozen=True)
class Weighed:
    """A weight, and the words that say what it is of."""

    weight: Chunk
    context: tuple[Chunk, ...]
    grams: float
    """Its grams; of a volume its millilitres."""

    @property
    def is_volume(self) -> bool:
        """Whether it is a volume in place of a weight."""
        return self.weight.amount is not None and self.weight.amount.kind == "volume"


@dataclass(frozen=True)
class Stretch:
    """What is told of one food: neighbouring segments of a line, and the signs between them."""

    line: Line
    chunks: tuple[Chunk, ...]

    @cached_property
    def said(self) -> Said:
        """The chunks with their phrases."""
        return Said(self.line, self.line.plain, list(self.chunks))

    @property
    def tokens(self) -> list[int]:
        """The places of its tokens."""
        return [n for c in self.chunks for n in range(c.start, c.end)]

    @cached_property
    def foods(self) -> list[Chunk]:
        """The chunks that name the food."""
        return [c for c in self.chunks if is_food(self.line, c)]

    @property
    def one_food(self) -> bool:
        """Whether it names one food, by several words or several times."""
        apart = [b for a, b in pairwise(self.foods) if a.end != b.start and a.target != b.target]
        return bool(self.foods) and not apart

    @cached_property
    def weighed(self) -> list[Weighed]:
        """Its weights in order, each with its context."""
        weights = [c for segment in self.said.segments() for c in segment if self._weighs(c, segment)]
        parts: list[list[Chunk]] = [[]]
        for segment in self.said.segments():
            for chunk in segment:
                parts[-1].append(chunk)
                if chunk in weights[:-1] and any(c in weights for c in segment if c.start > chunk.start):
                    parts.append([])
            if any(c in weights for c in parts[-1]) and len(parts) < len(weights):
                parts.append([])
        return (
            [Weighed(c, tuple(part), self._size(c)) for c, part in zip(weights, parts, strict=True)] if weights else []
        )

    def _size(self, weight: Chunk) -> float:
        amount = weight.amount
        if amount is not None and amount.kind == "volume":
            return quantities.millilitres(amount.value, amount.unit, self.line.around.region)
        return grams_of(weight)

    def _weighs(self, chunk: Chunk, segment: Sequence[Chunk]) -> bool:
        """Whether a chunk is a weight; of a part even a small number is."""
        if is_weight(chunk):
            return True
        small = chunk.kind == "amount" and chunk.amount is not None and chunk.amount.kind == "bare"
        if not small or not chunk.text[:1].isdecimal() or not any(is_part(self.line, c) for c in segment):
            return False
        return sum(c.kind == "amount" for c in segment) == 1 and not any(is_food(self.line, c) for c in segment)

    def says(self, concept: str, chunks: Iterable[Chunk]) -> bool:
        """Whether a phrase of the concept begins in a word of the chunks."""
        return any(self.said.says(concept, n) for c in chunks if not is_weight(c) for n in range(c.start, c.end))

    @cached_property
    def stored(self) -> list[Chunk]:
        """The containers beside the food in which it is kept: 'peanut butter jar', 'tub of yogurt'."""
        jars = [c for c in self.chunks if not is_weight(c) and c not in self.foods and self._stores(c)]
        return [c for c in jars if any(is_beside(c, food) for food in self.foods)]

    def _stores(self, chunk: Chunk) -> bool:
        words = (self.line.lemmas[n].removesuffix("'s") for n in range(chunk.start, chunk.end))
        return any(word in reckoning()["keeps_food"] for word in words)


@dataclass(frozen=True)
class _Told:
    """What a sentence, or several, tells of foods and weights."""

    foods: frozenset[str] = frozenset()
    weights: int = 0
    only_food: bool = True

    @classmethod
    def by(cls, line: Line, chunks: Sequence[Chunk]) -> _Told:
        foods = frozenset(c.target for c in chunks if is_food(line, c))
        return cls(foods, sum(map(is_weight, chunks)), all(c.kind == "food" for c in chunks))

    def and_of(self, more: _Told) -> _Told:
        return _Told(self.foods | more.foods, self.weights + more.weights, self.only_food and more.only_food)

    def goes_on_with(self, sentence: _Told) -> bool:
        """Whether a sentence tells more of the food before it, or names the food of the weights before it."""
        if not sentence.weights:
            return not self.foods and self.weights > 1  # 'Bowl filled: 640. Bowl empty: 395. Tomato soup.'
        if sentence.foods - self.foods:
            return False
        return self.weights > 0 or self.only_food  # 'apple. 171 before, core 22 after'


def stretches(line: Line, chunks: Sequence[Chunk]) -> list[Stretch]:
    """The line cut where another food begins; a sentence that names no other food goes on with the one before it."""
    groups: list[list[Chunk]] = []
    before = _Told()
    for sentence in _sentences(chunks):
        parts = _by_food(line, sentence)
        told = _Told.by(line, sentence)
        if groups and len(parts) == 1 and before.goes_on_with(told):
            groups[-1].extend(sentence)
            before = before.and_of(told)
        else:
            groups.extend(parts)
            before = told if len(parts) == 1 else _Told.by(line, parts[-1] if parts else ())
    inside = ([c for c in chunks if group[0].start <= c.start and c.end <= group[-1].end] for group in groups)
    return [Stretch(line, tuple(group)) for group in inside]


def _sentences(chunks: Sequence[Chunk]) -> list[list[Chunk]]:
    parts: list[list[Chunk]] = [[]]
    for chunk in chunks:
        if chunk.kind == "newline" or (chunk.kind == "sign" and chunk.text in ".!"):
            parts.append([])
        else:
            parts[-1].append(chunk)
    return [part for part in parts if part]


def _by_food(line: Line, sentence: list[Chunk]) -> list[list[Chunk]]:
    """The sentence cut before each segment that names another food."""
    groups: list[list[Chunk]] = [[]]
    foods: set[str] = set()
    for segment in Said(line, line.plain, sentence).segments():
        named = {c.target for c in segment if is_food(line, c)}
        if foods and named - foods:
            groups.append([])
            foods = set()
        groups[-1].extend(segment)
        foods |= named
    return [group for group in groups if group]


def named_once(line: Line, chunks: Sequence[Chunk]) -> list[Chunk]:
    """The chunks without a word of a food's name that stands for it again: 'greek yogurt, bowl and yogurt 500 g'."""
    kept: list[Chunk] = []
    named: Chunk | None = None
    weighed = False
    for chunk in chunks:
        if named is not None and _says_again(line, chunk, named) and not _is_weighed_anew(kept, named):
            continue
        if chunk.kind == "newline" or (chunk.kind == "sign" and chunk.text in ENDS):
            named, weighed = (None if weighed or chunk.text != "," else named), False
        elif chunk.kind == "food":
            named = chunk
        weighed = weighed or chunk.kind == "amount"
        kept.append(chunk)
    return kept


def _is_weighed_anew(before: Sequence[Chunk], food: Chunk) -> bool:
    """'100 g tofu 100 g tofu': whether a weight stands right before what comes now, and right before the food too."""
    first = next((c for c in before if c.end == food.start), None)
    return first is not None and is_weight(first) and is_weight(before[-1])


def _says_again(line: Line, chunk: Chunk, food: Chunk) -> bool:
    """Whether a generic word of a food's name stands for it: 'yogurt' behind 'greek yogurt', but not 'butter'."""
    generic = chunk.kind == "food" and chunk.target.startswith("kinds:") and chunk.end - chunk.start == 1
    dish = pack()["dish"].found(line.plain[food.end - 1 : food.end])  # what goes into a chicken pie is chicken
    return generic and line.lemmas[chunk.start] in line.lemmas[food.end - 1 if dish else food.start : food.end]


def is_weight(chunk: Chunk) -> bool:
    """Whether a chunk is a weight, or a volume in its place."""
    amount = chunk.amount
    return weighs(chunk) or (
        chunk.kind == "amount" and amount is not None and amount.kind == "volume" and amount.doubt is None
    )


def is_food(line: Line, chunk: Chunk) -> bool:
    """Whether a chunk names a food, and not a part of one ('stone') or what a vessel is for ('pudding basin')."""
    if chunk.kind != "food" or is_part(line, chunk):
        return False
    if line.plain[chunk.start - 1 : chunk.start] and line.plain[chunk.start - 1] in reckoning()["before_or_after"]:
        return False  # 'before pancakes 633 g'
    behind = line.lemmas[chunk.end] if chunk.end < len(line.lemmas) else ""
    return not (behind in line.words.vessels and behind not in reckoning()["keeps_food"])


def is_part(line: Line, chunk: Chunk) -> bool:
    """Whether a chunk names a part that is thrown away or may be left: a core, a crust."""
    if chunk.kind not in ("word", "food"):
        return False
    word = line.lemmas[chunk.end - 1].removesuffix("'s")
    alone = chunk.end - chunk.start == 1
    return alone and (word in line.words.parts or word in reckoning()["may_be_left"])


def is_beside(jar: Chunk, food: Chunk) -> bool:
    """Whether a container stands next to a food: 'peanut butter jar', 'jar of peanut butter'."""
    return 0 <= jar.start - food.end < MOST_BETWEEN or 0 <= food.start - jar.end < MOST_BETWEEN
