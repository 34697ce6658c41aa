"""Foods near in meaning to a name that is none: what to offer, or nothing.

The last word of what a food is says what kind of thing it is: a rye cracker is a cracker, soup with beans a soup. Foods
of that kind are near; those that share another word with the name are nearest, and then the only ones. Where no food is
of that kind, a food that shares a word and stands in the group of the last word is near: to an oat drink, oat milk.
Spelling plays no part.
"""

import re
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from domain.foods import Kinds
from domain.reference import load

MOST = 3
_SHAPES = frozenset(
    (
        *("ball", "bowl", "cube", "dish", "drink", "fat", "fillet", "flake", "food", "leaf", "meal", "mix", "oil"),
        *("paste", "piece", "portion", "powder", "product", "root", "seed", "slice", "snack", "stick"),
        *("tablet", "thing", "water"),
    )
)
"""Last words that many unlike foods have: without another word in common they say nothing."""
_WITH = frozenset(("with", "in", "on", "for", "without", "from"))
"""What follows these is beside the food."""
_WORD = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)*")
_MAJORITY = 0.7
_NAMED_OFTEN = 3

Words = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Named:
    """A name of the table: its words, the food, and how many names that has. What many eat has many names."""

    words: Words
    food: str
    names: int


@dataclass(frozen=True, slots=True)
class _Index:
    by_last: Mapping[str, Sequence[_Named]]
    by_word: Mapping[str, Sequence[_Named]]
    group_of: Mapping[str, str]


def near(name: str) -> tuple[str, ...]:
    """Up to three foods of the table near in meaning to a name, the nearest first; none rather than a wrong one."""
    words = _words(name)
    if not words:
        return ()
    last = _last(words)
    others = {*words} - {last} - _WITH
    alike = _of_that_kind(last, others) or _of_that_group(last, others) or _of_its_make(words[: words.index(last)])
    return tuple(dict.fromkeys(named.food for named in alike))[:MOST]


def _of_that_kind(last: str, others: set[str]) -> list[_Named]:
    """Foods with that last word: those that share another word too, else those that the word means first."""
    alike = _index().by_last.get(last, ())
    closer = [named for named in alike if others.intersection(named.words)]
    if closer or last in _SHAPES:
        return _ranked(closer, others, None)
    ranked = _ranked(alike, others, load().kinds.get(last))
    groups = load().groups
    return [named for named in ranked if groups[named.food] == groups[ranked[0].food]]


def _of_that_group(last: str, others: set[str]) -> list[_Named]:
    index, groups = _index(), load().groups
    group = index.group_of.get(last)
    if group is None:
        return []
    alike = [named for word in others for named in index.by_word.get(word, ()) if groups[named.food] == group]
    return _ranked(alike, others, None)


def _of_its_make(words: Words) -> list[_Named]:
    """The food that the words before the last one name: of a skyr drink, skyr."""
    return [named for named in _index().by_last.get(words[-1], ()) if named.words == words] if words else []


def _ranked(alike: Sequence[_Named], others: set[str], kinds: Kinds | None) -> list[_Named]:
    plain = kinds.kinds if kinds else ()
    return sorted(
        alike,
        key=lambda named: (
            -len(others.intersection(named.words)),
            plain.index(named.food) if named.food in plain else len(plain),
            -named.names,
            len(named.words),
            named.words,
        ),
    )


@cache
def _index() -> _Index:
    by_last: dict[str, list[_Named]] = defaultdict(list)
    by_word: dict[str, list[_Named]] = defaultdict(list)
    table = load()
    often = Counter(table.names.values())
    for name, food in table.names.items():
        named = _Named(_words(name), food, often[food])
        by_last[_last(named.words)].append(named)
        for word in named.words:
            by_word[word].append(named)
    return _Index(by_last, by_word, dict(_groups(by_last)))


def _groups(by_last: Mapping[str, Sequence[_Named]]) -> list[tuple[str, str]]:
    groups = load().groups
    found = []
    for last, alike in by_last.items():
        group, often = Counter(groups[named.food] for named in alike).most_common(1)[0]
        if len(alike) >= _NAMED_OFTEN and often >= _MAJORITY * len(alike):
            found.append((last, group))
    return found


def _words(name: str) -> Words:
    return tuple(_singular(word) for word in _WORD.findall(name.lower()))


def _last(words: Words) -> str:
    """The last word of what the food is."""
    end = next((place for place, word in enumerate(words) if place and word in _WITH), len(words))
    return words[end - 1]


def _singular(word: str) -> str:
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("oes", "ches", "shes", "xes", "sses")):
        return word[:-2]
    return word[:-1] if word.endswith("s") and not word.endswith(("ss", "us", "is")) else word
