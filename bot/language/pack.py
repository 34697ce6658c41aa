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
LANGUAGE = "en"
FOLDER = resources.files("bot.language") / "packs" / LANGUAGE
"""Where the words of the language are, for every reader of its files."""
LEAST_CLIPPED = 6
"""Letters of the shortest word that is said without its ending: 'putting', and not 'going'."""
NUMERAL = "0"
"""Stands for every word that begins with a digit where it is asked what may begin with it."""


def plain(word: str) -> str:
    """The word as phrases are compared: without apostrophes, which half of the people leave out."""
    return word.replace("'", "")


def opening(word: str) -> str:
    """A word as what may begin with it is told by: all numerals are one."""
    return NUMERAL if word[:1].isdecimal() or (word[:1] == "." and word != ".") else word


class Wording(list[str]):
    """Words in which the phrases of all concepts of the pack are looked for at once, when the first is asked for."""

    @cached_property
    def phrases(self) -> Sequence[tuple[int, int, frozenset[str]]]:
        """Where phrases begin and end, each with its concepts' names: in order, the longest of each word first."""
        found: list[tuple[int, int, frozenset[str]]] = []
        index, last = pack().index, len(self) - 1
        for i, word in enumerate(self):
            begun = index.get(word)
            if begun is None:
                continue
            if begun.longer and i < last:
                for length, phrase, names in begun.longer.get(self[i + 1], ()):
                    if length == 2 or tuple(self[i : i + length]) == phrase:
                        found.append((i, i + length, names))
            if begun.alone:
                found.append((i, i + 1, begun.alone))
        return found

    @cached_property
    def said(self) -> frozenset[str]:
        """The names of all concepts that are said."""
        return frozenset[str]().union(*[names for _, _, names in self.phrases])

    def places(self, concept: str) -> Sequence[tuple[int, int]]:
        """Where phrases of a concept begin and end, in order, the longest of each word first."""
        return [(i, end) for i, end, names in self.phrases if concept in names] if concept in self.said else ()


@dataclass(frozen=True, slots=True)
class Begun:
    """The phrases that begin with one word, with the names of their concepts."""

    alone: frozenset[str]
    """The concepts that the word says by itself."""
    longer: Mapping[str, Sequence[tuple[int, Phrase, frozenset[str]]]]
    """Longer phrases and their lengths, by their second word, the longest first."""


@dataclass(frozen=True)
class Concept:
    """All the ways of saying one thing, found by their first word, longest first."""

    by_first: Mapping[str, tuple[Phrase, ...]]
    name: str = ""
    """What it is called in the pack; empty for one that is not of the pack."""

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
        return word.replace("'", "") in self.alone

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

    def places(self, words: Wording) -> Sequence[tuple[int, int]]:
        """Where its phrases begin and end, in order: of those that begin at one word the longest."""
        said = words.places(self.name)
        return [place for n, place in enumerate(said) if n == 0 or said[n - 1][0] != place[0]]

    def found(self, words: Sequence[str]) -> bool:
        """Whether it is said anywhere in the words."""
        if self.name and isinstance(words, Wording):
            return self.name in words.said
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

    def beginning(self, concepts: tuple[str, ...]) -> frozenset[str]:
        """The words with which phrases of the concepts can begin."""
        if concepts not in self._beginnings:
            self._beginnings[concepts] = frozenset[str]().union(*(self[name].words for name in concepts))
        return self._beginnings[concepts]

    @cached_property
    def _beginnings(self) -> dict[tuple[str, ...], frozenset[str]]:
        return {}

    @cached_property
    def index(self) -> Mapping[str, Begun]:
        """All phrases by their first word."""
        said: dict[str, dict[Phrase, list[str]]] = {}
        for name, concept in self.concepts.items():
            for first, phrases in concept.by_first.items():
                for phrase in phrases:
                    said.setdefault(first, {}).setdefault(phrase, []).append(name)
        return {first: _begun(first, phrases) for first, phrases in said.items()}


def _begun(first: str, phrases: Mapping[Phrase, Sequence[str]]) -> Begun:
    longer: dict[str, list[tuple[int, Phrase, frozenset[str]]]] = {}
    for phrase in sorted(phrases, key=len, reverse=True):
        if len(phrase) > 1:
            longer.setdefault(phrase[1], []).append((len(phrase), phrase, frozenset(phrases[phrase])))
    return Begun(frozenset(phrases.get((first,), ())), longer)


def concept(
    phrases: Sequence[str], spell: Spelling = str, name: str = "", clipped: Mapping[str, str] | None = None
) -> Concept:
    """The concept that the phrases make; `clipped` are the endings that many people shorten ('startin')."""
    by_first: dict[str, set[Phrase]] = {}
    for text in phrases:
        words = [plain(w) for w in text.split()]
        for said in (words, [_clip(w, clipped or {}) for w in words]):
            phrase = tuple(spell(w) for w in said)
            by_first.setdefault(phrase[0], set()).add(phrase)
    return Concept({first: tuple(sorted(some, key=len, reverse=True)) for first, some in by_first.items()}, name)


def _clip(word: str, endings: Mapping[str, str]) -> str:
    found = next((ending for ending in endings if word.endswith(ending) and len(word) >= LEAST_CLIPPED), None)
    return word if found is None else word.removesuffix(found) + endings[found]


@cache
def pack() -> Pack:
    """The pack of the language, read once."""
    return read_pack(FOLDER)


def read_pack(folder: Traversable, spell: Spelling = str) -> Pack:
    """The pack in a folder; `spell` puts every word that people may say through a substitution."""
    concepts: dict[str, Concept] = {}
    lists = tomllib.loads((folder / "concepts.toml").read_text("utf-8"))
    for name, phrases in lists["concepts"].items():
        concepts[name] = concept(phrases, spell, name, lists["clipped_endings"])
    short = {spell(plain(k)): tuple(spell(w) for w in v.split()) for k, v in lists["short_forms"].items()}
    intents: list[IntentData] = []
    for path in sorted((folder / "templates").iterdir(), key=lambda p: p.name):
        if path.name.endswith(".toml"):
            for entry in tomllib.loads(path.read_text("utf-8")).get("intent", ()):
                values = {k: v for k, v in entry.items() if k not in ("means", "say")}
                intents.append(IntentData(entry["means"], tuple(entry["say"]), values))
    return Pack(concepts, short, tuple(intents), spell)
