"""A clause as templates see it, and the conditions that its words meet."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import reduce
from operator import or_


@dataclass(frozen=True)
class Clause:
    """The tokens of a clause as templates see them."""

    words: Sequence[str]
    """Their texts, lower case, without apostrophes."""
    openings: Sequence[str]
    """The same as what may begin with them is told by: `opening` of each."""
    skipped: Mapping[int, bool]
    """Which of them change nothing wherever they stand."""
    start: int
    end: int
    fill: Callable[[str, int, int], Sequence[tuple[object, int]]]
    """(slot, first token, clause's end) → (value, end) of each way to fill the slot there."""
    starts: Callable[[str], Iterable[int]]
    """Slot → the tokens at which it can begin, of this clause and of others."""
    _held: dict[str, bool] = field(default_factory=dict)

    def holds(self, slots: Iterable[str]) -> bool:
        """Whether something in it can fill each of the slots."""
        for slot in slots:
            if slot not in self._held:
                inside = (at for at in self.starts(slot) if self.start <= at < self.end)
                self._held[slot] = any(self.fill(slot, at, self.end) for at in inside)
            if not self._held[slot]:
                return False
        return True


class Conditions:
    """Sets of words, each with a bit of its own: what templates need and what a clause says are compared as numbers."""

    def __init__(self) -> None:
        self._bits: dict[frozenset[str], int] = {}
        self._of_word: defaultdict[str, int] = defaultdict(int)

    def bit(self, words: frozenset[str]) -> int:
        """The bit that stands for one of the words."""
        if words not in self._bits:
            self._bits[words] = 1 << len(self._bits)
            for word in words:
                self._of_word[word] |= self._bits[words]
        return self._bits[words]

    def met(self, words: Iterable[str]) -> int:
        """The bits of all sets of which one of the words is."""
        return reduce(or_, [self._of_word[word] for word in words if word in self._of_word], 0)
