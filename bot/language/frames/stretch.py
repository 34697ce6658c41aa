"""A stretch of a message word by word: where phrases of concepts stand in it, and which words precede them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from bot.language.message import Message
from bot.language.pack import Concept, Wording, pack, plain
from bot.language.scene import Scene
from bot.language.told import Amount

KITCHEN_TALK = (
    "a_box", "box_beside", "dividing_up", "equally", "eating_it", "gave_it", "took_it", "came_to_grief", "a_rest",
    "went_to_me", "from_a_place", "to_a_place", "pieces_made", "polite", "thawing_out",
    "loose_food", "joining", "pointing",
)  # fmt: skip
"""Concepts whose words are no names of people."""


@dataclass(frozen=True)
class Stretch:
    """A scene with the positions of the phrases in it."""

    scene: Scene

    @property
    def message(self) -> Message:
        """The part of the message that it covers."""
        return self.scene.message

    @cached_property
    def at(self) -> list[int]:
        """The numbers of its tokens."""
        return [n for chunk in self.message.chunks for n in range(chunk.start, chunk.end)]

    @cached_property
    def words(self) -> Wording:
        """Its words, normalised as concepts expect them."""
        plain, wording = self.message.line.plain, self.message.wording
        return wording if len(wording) == len(self.at) else Wording(plain[n] for n in self.at)

    def places(self, *concepts: str) -> Iterator[tuple[int, int]]:
        """The token ranges of the concepts' phrases, the longest at each position."""
        for name in concepts:
            last = 0
            for i, end in self.words.places(name):
                if i >= last:
                    last = end
                    yield self.at[i], self.at[end - 1] + 1

    def cue(self, *concepts: str) -> bool:
        """Whether it contains a phrase of one of the concepts."""
        return not self.words.said.isdisjoint(concepts)

    def word(self, n: int) -> str:
        """The word at a token, normalised; empty outside the stretch."""
        first, last, plain_words = self._span
        return plain_words[n] if first <= n <= last else ""

    @cached_property
    def _span(self) -> tuple[int, int, Sequence[str]]:
        """Its first and last token, and the words of all the message, normalised."""
        return (self.at[0], self.at[-1], self.message.line.plain) if self.at else (0, -1, ())

    def named_at(self, n: int) -> bool:
        """Whether the token is part of a batch's name."""
        return n in self._in_names

    @cached_property
    def _in_names(self) -> frozenset[int]:
        return frozenset(n for _, start, end in self.scene.named for n in range(start, end))

    def led_by(self, n: int, concept: str) -> bool:
        """Whether a word of the concept precedes the token, ignoring articles."""
        while self.word(n - 1) in pack()["before_a_place"]:
            n -= 1
        before = [self.word(k) for k in range(max(n - 3, 0), n)]
        return any(end == len(before) for i in range(len(before)) for end in pack()[concept].ends(before, i))


def of_kitchens(word: str) -> bool:
    """Whether a word belongs to concepts about boxes, food and kitchens, and so is not a person's name."""
    return plain(word) in pack().beginning(KITCHEN_TALK)


def grams_of(amount: Amount) -> float:
    """The grams of an amount; a bare number counts as grams."""
    return amount.grams if amount.grams is not None else amount.value


def as_mass(amount: Amount, unit_of: Amount | None = None) -> Amount:
    """The amount as a mass; a bare number takes the unit of another ('four ounces … and three')."""
    if amount.kind == "mass":
        return amount
    factor = unit_of.grams / unit_of.value if unit_of is not None and unit_of.grams and unit_of.value else 1.0
    grams = amount.value * factor
    return Amount(kind="mass", value=grams, unit="g", grams=grams, text=f"{grams:g} g")


def cut_at(message: Message, marks: Concept) -> list[Message]:
    """The message, cut at separating words."""
    parts, start = [], 0
    for i, chunk in enumerate(message.chunks):
        if chunk.kind in ("word", "sign", "newline") and plain(chunk.text.lower()) in marks:
            parts.append(message.part(start, i))
            start = i + 1
    parts.append(message.part(start, len(message.chunks)))
    return [part for part in parts if part.chunks]
