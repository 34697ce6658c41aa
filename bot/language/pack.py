"""The words of one language, read from `packs/`: concepts (words for one thing) and templates (what people say)."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from importlib import resources
from importlib.resources.abc import Traversable

Phrase = tuple[str, ...]
Spelling = Callable[[str], str]
NUMERAL = "0"
"""Stands for every word that begins with a digit where it is asked what may begin with it."""


def plain(word: str) -> str:
    """The word as phrases are compared: without apostrophes, which half of the people leave out."""
    return word.replace("'", "")


def opening(word: str) -> str:
    """A word as what may begin with it is told by: all numerals are one."""
    return NUMERAL if word[:1].isdecimal() or (word[:1] == "." and word != ".") else word


@dataclass(frozen=True)
class Concept:
    """All the ways of saying one thing, found by their first word, longest first."""

    by_first: Mapping[str, tuple[Phrase, ...]]

    def ends(self, words: Sequence[str], i: int) -> list[int]:
        """Where phrases of the concept that begin at word i end, the longest first."""
        phrases = self.by_first.get(words[i]) if i < len(words) else None
        if phrases is None:
            return []
        return [i + len(phrase) for phrase in phrases if tuple(words[i : i + len(phrase)]) == phrase]

    def end(self, words: Sequence[str], i: int) -> int | None:
        """Where the longest phrase of the concept that begins at word i ends; None where none begins."""
        ends = self.ends(words, i)
        return ends[0] if ends else None

    def __contains__(self, word: str) -> bool:
        """Whether one word by itself says it."""
        return plain(word) in self.alone

    @cached_property
    def alone(self) -> frozenset[str]:
        """The words that say it by themselves."""
        return frozenset(first for first, phrases in self.by_first.items() if (first,) in phrases)

    @cached_property
    def words(self) -> frozenset[str]:
        """The words with which it can begin."""
        return frozenset(self.by_first)

    @cached_property
    def telling(self) -> frozenset[str]:
        """Words of which one is in every way of saying it: the longest of each phrase, as the rarest as a rule."""
        return frozenset(max(phrase, key=len) for phrases in self.by_first.values() for phrase in phrases)

    def found(self, words: Sequence[str]) -> bool:
        """Whether it is said anywhere in the words."""
        return not self.words.isdisjoint(words) and any(self.ends(words, i) for i in range(len(words)))


@dataclass(frozen=True)
class IntentData:
    """One intent as written in a pack: the reader of its slots, constants, and what people say."""

    means: str
    say: tuple[str, ...]
    values: Mapping[str, object]


@dataclass(frozen=True)
class Pack:
    """A language: its concepts by name, its short forms, its intents in order."""

    concepts: Mapping[str, Concept]
    short_forms: Mapping[str, Phrase]
    """'whats' → ('what', 'is'): either may stand where a template has the short form."""
    intents: tuple[IntentData, ...]
    spell: Spelling = str
    """What words of templates are put through, as those of the concepts were."""

    def __getitem__(self, name: str) -> Concept:
        return self.concepts[name]


def concept(phrases: Sequence[str], spell: Spelling = str) -> Concept:
    """The concept that the phrases make."""
    by_first: dict[str, set[Phrase]] = {}
    for text in phrases:
        phrase = tuple(spell(plain(w)) for w in text.split())
        by_first.setdefault(phrase[0], set()).add(phrase)
    return Concept({first: tuple(sorted(some, key=len, reverse=True)) for first, some in by_first.items()})


@cache
def pack(locale: str = "en") -> Pack:
    """The pack of a language, read once."""
    return read_pack(resources.files("bot.language") / "packs" / locale)


def read_pack(folder: Traversable, spell: Spelling = str) -> Pack:
    """The pack in a folder; `spell` puts every word that people may say through a substitution."""
    concepts: dict[str, Concept] = {}
    lists = tomllib.loads((folder / "concepts.toml").read_text("utf-8"))
    for name, phrases in lists["concepts"].items():
        concepts[name] = concept(phrases, spell)
    short = {spell(plain(k)): tuple(spell(w) for w in v.split()) for k, v in lists["short_forms"].items()}
    intents: list[IntentData] = []
    for path in sorted((folder / "templates").iterdir(), key=lambda p: p.name):
        if path.name.endswith(".toml"):
            for entry in tomllib.loads(path.read_text("utf-8")).get("intent", ()):
                values = {k: v for k, v in entry.items() if k not in ("means", "say")}
                intents.append(IntentData(entry["means"], tuple(entry["say"]), values))
    return Pack(concepts, short, tuple(intents), spell)
