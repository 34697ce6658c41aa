"""A clause with its weights and the words that tell what each weight is: gross, tare, net or waste."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from bot.language.chunks import Chunk, Line
from bot.language.pack import pack
from bot.language.reckoning import reckoning
from bot.language.told import Amount

MOST_PHRASE = 4
"""Words of the longest phrase before a number."""
LEAST_GRAMS = 12
"""A bare number above this is in grams, because nobody counts that many pieces."""


@dataclass
class Said:
    """A clause, with what is needed to find the roles of its numbers."""

    line: Line
    words: Sequence[str]
    """All words of the line, normalised for comparison with phrases."""
    chunks: list[Chunk]

    def __post_init__(self) -> None:
        self.weights = [c for c in self.chunks if weighs(c)]
        self.end = self.chunks[-1].end

    def says(self, concept: str, i: int) -> int | None:
        """The end of the longest phrase of the concept that begins at token i; None if there is none."""
        return reckoning()[concept].end(self.words, i)

    def behind(self, concept: str, i: int) -> bool:
        """Whether a phrase of the concept ends right before token i."""
        return any(i in reckoning()[concept].ends(self.words, j) for j in range(max(0, i - MOST_PHRASE), i))

    def before(self, concept: str, weight: Chunk) -> list[Chunk]:
        """The words right before a weight that are the longest phrase of the concept."""
        words = [c for c in self.chunks if weight.start - MOST_PHRASE <= c.start < weight.start and c.kind == "word"]
        start = next((c.start for c in words if weight.start in reckoning()[concept].ends(self.words, c.start)), None)
        return [c for c in words if start is not None and c.start >= start]

    def anywhere(self, concept: str, chunks: Sequence[Chunk]) -> bool:
        """Whether a phrase of the concept begins with one of the chunks."""
        return any(self.says(concept, c.start) for c in chunks if c.kind not in ("amount", "food", "batch"))

    def vessel(self, chunk: Chunk) -> bool:
        """Whether a chunk is a vessel, or a word for one."""
        return chunk.kind == "tare" or (
            chunk.kind == "word" and self.line.lemmas[chunk.start] in self.line.words.vessels
        )

    def plans(self, chunks: Iterable[Chunk]) -> bool:
        """Whether a word of what is still to come stands in the chunks; 'going in' is none, 'going to' is one."""
        line = self.line
        for n in (n for c in chunks for n in range(c.start, c.end)):
            if line.text(n) not in line.words.plans or line.plain[n] in pack()["would_or_had"]:
                continue
            if (
                line.plain[n] in pack()["i_will"]
                and line.plain[n + 1 : n + 2]
                and line.plain[n + 1] in pack()["only_says"]
            ):
                continue
            goes = line.plain[n] in reckoning()["plans_before_to"]
            if not goes or reckoning().operations.get(line.text(n + 1)) == "to":
                return True
        return False

    def segments(self) -> list[list[Chunk]]:
        """The clause, cut at commas and joining words."""
        parts: list[list[Chunk]] = [[]]
        for chunk in self.chunks:
            operation = reckoning().operations.get(chunk.text.lower()) if chunk.kind in ("word", "sign") else None
            if (chunk.kind == "sign" and chunk.text in ",;:()=.") or operation in ("and", "+"):
                parts.append([])
            else:
                parts[-1].append(chunk)
        return [part for part in parts if part]

    def but(self, dropped: Iterable[Chunk], changed: Mapping[int, Amount]) -> list[Chunk]:
        """The clause without some chunks, and with the amounts in `changed`, keyed by a chunk's first token."""
        gone = {id(c) for c in dropped}
        kept = [c for c in self.chunks if id(c) not in gone]
        return [c._replace(amount=changed[c.start]) if c.kind == "amount" and c.start in changed else c for c in kept]


def weighs(chunk: Chunk) -> bool:
    """Whether a chunk is a weight: a mass, or a bare number large enough to be grams."""
    amount = chunk.amount
    if chunk.kind != "amount" or amount is None or amount.doubt:
        return False
    return amount.kind == "mass" or (amount.kind == "bare" and amount.value > LEAST_GRAMS)


def grams_of(chunk: Chunk) -> float:
    """The grams of a weight."""
    assert chunk.amount is not None
    return chunk.amount.grams if chunk.amount.grams is not None else chunk.amount.value


def less(more: Chunk, fewer: Chunk) -> Amount:
    """The difference of two weights."""
    grams = grams_of(more) - grams_of(fewer)
    return Amount(kind="mass", value=grams, unit="g", grams=grams, text=f"{text_of(more)} less {text_of(fewer)}")


def text_of(chunk: Chunk) -> str:
    """A weight as the person wrote it."""
    return chunk.amount.text if chunk.amount is not None else chunk.text
