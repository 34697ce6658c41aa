"""Words of a food's name that have several forms: shorthand, how much fat is in it, percentages.

A name is looked up as it stands first. Then each word of other spelling is put as the table spells it, what says how
much fat there is ('0%', 'fat free', 'skimmed') is compared as one thing, and a percentage picks among the kinds of a
food: of fat by what the table publishes, of cocoa by the range in the name.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cache
from itertools import product

from bot.language.lexicon import lexicon
from bot.language.text import singular
from domain import reference
from domain.reference.words import is_real_word

Lemmas = tuple[str, ...]
FatClass = tuple[frozenset[str], frozenset[str]]
"""The classes of fat that a name says, and its other words."""
Meant = Callable[[Lemmas], str | None]
"""What words name: a food, or `kinds:` and a generic word."""
MOST_SHORT = 4
"""Words of other spelling in one name that are tried one by one."""
MOSTLY_LEAN = 60.0
"""From here on the percentage of a meat is what is lean; below it is fat."""
SAME_FAT = 0.6
"""Grams of fat in 100 g by which a food may differ from what was said and still be that one; or a tenth of it."""

_PERCENT = re.compile(r"([0-9]+(?:[.,][0-9]+)?)%")
_RATIO = re.compile(r"([0-9]{2})/([0-9]{1,2})")
_RANGE = re.compile(r"([0-9]+)-([0-9]+)%")
_FIGURE = re.compile(r"[0-9]%|[0-9]/[0-9]")


def in_full(words: Lemmas, typed: Sequence[str]) -> Iterator[Lemmas]:
    """The words as they stand, then with words of other spelling as the table spells them, alone and together.

    One that is an English word by itself, as `typed`, is short for nothing ('tom', 'pot').
    """
    yield words
    short = lexicon().abbreviations
    if short.keys().isdisjoint(words):
        return
    if len(words) == 1 and (lexicon().knows(words[0]) or is_real_word(typed[-1])):
        return
    options: list[list[Lemmas]] = [
        [(w,), _lemmas(short[w])] if w in short and not _holds_it(words, i) else [(w,)] for i, w in enumerate(words)
    ]
    if sum(len(ways) > 1 for ways in options) > MOST_SHORT:
        options = [ways[-1:] for ways in options]
    for way in product(*options):
        phrase = tuple(word for part in way for word in part)
        if phrase != words:
            yield phrase


def _holds_it(words: Lemmas, i: int) -> bool:
    """Whether word i is the vessel of a food: 'pot soup' and 'new pot' are out of a pot, a 'sweet pot' is none."""
    known = lexicon()
    return words[i] in known.vessels and (i == 0 or words[i - 1] in known.harmless)


def says_kind(words: Lemmas) -> bool:
    """Whether any of the words may say how much fat or cocoa there is."""
    return not _phrases().keys().isdisjoint(words) or any(w[:1].isdecimal() for w in words)


def fat_classes(names: Mapping[Lemmas, str]) -> dict[FatClass, set[str]]:
    """What the names that say how much fat there is lead to, by that and their other words."""
    found: dict[FatClass, set[str]] = {}
    telling = _phrases().keys()
    for words, target in names.items():
        if not telling.isdisjoint(words):
            classes, rest = _classed(words)
            if classes and rest:
                found.setdefault((classes, frozenset(rest)), set()).add(target)
    return found


def by_fat_class(words: Lemmas, classes: Mapping[FatClass, set[str]], meant: Meant) -> tuple[str, ...]:
    """What the words name when 'fat free', '0%' and 'skimmed' are one word; the plain food for 'full fat'."""
    said, rest = _classed(words)
    if not said or not rest:
        return ()
    found = classes.get((said, frozenset(rest)))
    if found:
        return tuple(sorted(found))
    plain = meant(rest) if said == {"full"} else None
    return () if plain is None else (plain,)


def by_percentage(words: Lemmas, meant: Meant) -> tuple[str, ...]:
    """The foods that a percentage picks, the likeliest first; none where it picks none.

    `meant`: what the rest of the words names.
    """
    figures = [w for w in words if _PERCENT.fullmatch(w) or _RATIO.fullmatch(w)]
    if len(figures) != 1:
        return ()
    said = lexicon().percentages
    beside = {word: kind for kind, listed in said.items() for word in listed}
    kinds = {beside[w] for w in words if w in beside}
    rest = tuple(w for w in words if w not in beside and w not in figures)
    if not rest:
        return ()
    percent = _value(figures[0])
    ranged = tuple(food for food in _ranged() if set(rest) <= _words(food) and _in_range(food, percent))
    if ranged or "cocoa" in kinds:
        return ranged
    lean = "/" in figures[0] or (percent >= MOSTLY_LEAN and "fat" not in kinds)  # 'lean mince (5%)' has 5 % of fat
    family = list(_family(meant(rest), rest))
    if lean:
        family = [food for food in family if _FIGURE.search(food)]
    return _nearest(family, 100 - percent if lean else percent)


def _lemmas(text: str) -> Lemmas:
    return tuple(singular(word) for word in text.split())


@cache
def _phrases() -> dict[str, tuple[tuple[Lemmas, str], ...]]:
    """First word → the phrases that say how much fat there is, longest first, each with its class."""
    told = [(_lemmas(phrase), name) for name, listed in lexicon().fat_classes.items() for phrase in listed]
    told.sort(key=lambda phrase: -len(phrase[0]))
    firsts = dict.fromkeys(words[0] for words, _ in told)
    return {first: tuple(phrase for phrase in told if phrase[0][0] == first) for first in firsts}


def _classed(words: Lemmas) -> tuple[frozenset[str], Lemmas]:
    """The classes of fat that the words say, and the other words."""
    phrases = _phrases()
    classes: set[str] = set()
    rest: list[str] = []
    i = 0
    while i < len(words):
        found = next((p for p in phrases.get(words[i], ()) if words[i : i + len(p[0])] == p[0]), None)
        if found is None:
            rest.append(words[i])
            i += 1
        else:
            classes.add(found[1])
            i += len(found[0])
    return frozenset(classes), tuple(rest)


def _family(target: str | None, rest: Lemmas) -> Iterator[str]:
    """The foods among which a percentage picks: the kinds of what was named, and its like with figures in the name."""
    kinds = reference.load().kinds.get((target or "").removeprefix("kinds:"))
    named = kinds.kinds if kinds is not None else (target,) if target is not None else ()
    yield from named
    like = [set(rest), *(_stem(food) for food in named if _FIGURE.search(food))]
    for food in _with_figures():
        if food not in named and _stem(food) in like:
            yield food


def _stem(food: str) -> set[str]:
    """The words of a food's name that are neither figures nor say what these are of."""
    known = lexicon()
    beside = known.harmless.union(*known.percentages.values())
    return {w for w in _words(food) if w not in beside and not _FIGURE.search(w)}


@cache
def _with_figures() -> tuple[str, ...]:
    return tuple(food for food in reference.load().foods if _FIGURE.search(food))


@cache
def _ranged() -> tuple[str, ...]:
    return tuple(food for food in _with_figures() if _RANGE.search(food))


def _words(food: str) -> set[str]:
    return set(_lemmas(food))


def _value(figure: str) -> float:
    percent = _PERCENT.fullmatch(figure)
    return float((percent[1] if percent else figure.partition("/")[0]).replace(",", "."))


def _in_range(food: str, percent: float) -> bool:
    said = _RANGE.search(food)
    return said is not None and float(said[1]) <= percent <= float(said[2])


def _nearest(family: Sequence[str], fat_g: float) -> tuple[str, ...]:
    """The food with so much fat in 100 g; the two on either side of it where none has; nothing beyond all."""
    foods = reference.load().foods
    rows = {food: row for food in family if food in foods and (row := foods[food].row()) is not None}
    off = {food: row.per_100g.fat_g - fat_g for food, row in rows.items()}
    ranked = sorted(off, key=lambda food: abs(off[food]))
    if not ranked:
        return ()
    if abs(off[ranked[0]]) <= max(SAME_FAT, fat_g / 10):
        return (ranked[0],)
    under, over = (next((f for f in ranked if (off[f] > 0) is more), None) for more in (False, True))
    return () if under is None or over is None else tuple(f for f in ranked if f in (under, over))
