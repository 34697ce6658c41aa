"""What a stretch of a message contains, in any order: cues, batches, amounts and foods.

Templates read a sentence word by word; a scene serves frames, which accept any word order.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from bot.language.belongings import read_batch_number
from bot.language.chunks import Chunk
from bot.language.message import Message
from bot.language.pack import Wording, pack
from bot.language.pots import named_at
from bot.language.surroundings import KnownBatch
from bot.language.text import singular
from bot.language.told import Amount, BatchRef

Named = tuple[BatchRef, int, int]

TELLING = frozenset({"amount", "hash", "energy", "macro", "price"})
"""Kinds of chunk that a reading must use."""


@dataclass(frozen=True)
class Scene:
    """A message or a part of one, as frames see it."""

    message: Message

    @cached_property
    def said(self) -> Wording:
        """Its words, normalised as concepts expect them."""
        return self.message.wording

    def cue(self, *concepts: str) -> bool:
        """Whether it contains a phrase of one of the concepts."""
        return not self.said.said.isdisjoint(concepts)

    @cached_property
    def asks(self) -> bool:
        """Whether it asks, plans or supposes, so that nothing of it has happened."""
        message = self.message
        unreal = message.has_any(message.words.plans | message.words.shopping) and not self.cue("has_happened")
        return message.asks or bool(message.when.future) or self.cue("condition") or unreal

    @cached_property
    def named(self) -> list[Named]:
        """The batches it names, each with the first token and the end of the name."""
        found: list[Named] = []
        line, end = self.message.line, 0
        for chunk in self.message.chunks:
            for at in range(max(chunk.start, end), chunk.end):
                if at < end:
                    continue
                numbered = read_batch_number(line, at)
                if numbered is not None and numbered.batch is not None and numbered.batch.number is not None:
                    found.append((numbered.batch, at, numbered.end))
                    end = numbered.end
                    continue
                name = named_at(line, at)
                if name is not None and not (chunk.kind == "food" and at == chunk.start and name[1] < chunk.end):
                    found.append((name[0], at, name[1]))
                    end = name[1]
        return [each for each in found if not self._goes_in(each, found)]

    def _goes_in(self, one: Named, named: list[Named]) -> bool:
        """Whether a weighed food is only in the name of a raw batch named beside it: 'in the buns, 10 g cinnamon'."""
        ref, start, end = one
        again = any(other is not one and set(other[0].candidates) == set(ref.candidates) for other in named)
        food = next((c for c in self.message.of("food") if c.start == start and c.end == end), None)
        if not again or food is None or not ref.candidates:
            return False
        weighed = any(c.end == start and c.amount is not None and c.amount.kind == "mass" for c in self.message.chunks)
        return weighed and all(not b.cooked for b in self.message.around.batches if b.number in ref.candidates)

    @cached_property
    def batches(self) -> list[KnownBatch]:
        """The open batches that the names in it can mean; empty if it names none."""
        numbers = [{ref.number} if ref.number is not None else set(ref.candidates) for ref, _, _ in self.named]
        return [b for b in self.message.around.batches if any(b.number in each for each in numbers)]

    @cached_property
    def amounts(self) -> list[Chunk]:
        """Its amounts, in order."""
        return [c for c in self.message.of("amount") if c.amount is not None]

    @cached_property
    def masses(self) -> list[Amount]:
        """Its weights: masses, and bare numbers that may be grams."""
        return [c.amount for c in self.amounts if c.amount is not None and c.amount.kind in ("mass", "bare")]

    @cached_property
    def foods(self) -> list[Chunk]:
        """The foods it names, without those in the name of a batch."""
        taken = {n for _, start, end in self.named for n in range(start, end)}
        return [c for c in self.message.of("food") if taken.isdisjoint(range(c.start, c.end))]

    def only(self, *amounts: Amount) -> bool:
        """Whether it contains no number other than these amounts."""
        spent = [id(amount) for amount in amounts]
        return all(c.kind == "amount" and id(c.amount) in spent for c in self.message.chunks if c.kind in TELLING)


def ref_of(batches: Iterable[KnownBatch], text: str = "") -> BatchRef:
    """A reference to one of these batches."""
    return BatchRef(candidates=tuple(b.number for b in batches), text=text)


def is_owned_by_others(scene: Scene) -> bool:
    """Whether somebody else stands before a name as its owner: 'my sister's chowder', 'in her chowder'."""
    line = scene.message.line
    before = [line.text(start - 1) for _, start, _ in scene.named if start]
    people = (singular(word.removesuffix("'s")) for word in before if word.endswith("'s"))
    return any(word in pack()["of_others"] for word in before) or any(word in line.words.people for word in people)
