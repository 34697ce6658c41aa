"""How a language says its numbers: the words of `packs/…/numbers.toml`, by the part that each can play in a number."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources.abc import Traversable
from typing import Any

from bot.language.pack import FOLDER


@dataclass(frozen=True)
class NumberWords:
    """How a language says its numbers: what each word is worth, by the part that it plays."""

    ones: Mapping[str, float]
    teens: Mapping[str, float]
    tens: Mapping[str, float]
    glued: Mapping[str, float]
    """Tens and ones written as one word ('twentyfive')."""
    below_hundred: Mapping[str, float]
    """Every word for a number from one to ninety-nine."""
    zeros: frozenset[str]
    zeros_inside: frozenset[str]
    scales: Mapping[str, float]
    multiples: Mapping[str, float]
    fractions: Mapping[str, float]
    ordinals: Mapping[str, float]
    """Fractions whose words also put things in order."""
    point: frozenset[str]
    comma: frozenset[str]
    joining: frozenset[str]
    articles: frozenset[str]
    of: frozenset[str]
    heard: Mapping[str, float]
    heard_only_behind: frozenset[str]
    heard_behind: frozenset[str]
    heard_verbs: frozenset[str]
    heard_never_behind: frozenset[str]
    heard_prepositions: frozenset[str]
    values: Mapping[str, float]
    """What each word that is a whole number by itself is worth."""
    parts: Mapping[str, float]
    """Every word for a fraction."""
    openers: frozenset[str]
    """The words with which a number can begin."""


@cache
def number_words() -> NumberWords:
    """The number words of the pack, read once."""
    return read_number_words(FOLDER)


def read_number_words(folder: Traversable, spell: Callable[[str], str] = str) -> NumberWords:
    """The number words in a pack's folder; `spell` puts every word that people may say through a substitution."""
    data: dict[str, dict[str, Any]] = tomllib.loads((folder / "numbers.toml").read_text("utf-8"))

    def values(name: str) -> dict[str, float]:
        return {spell(word): float(value) for word, value in data[name].items()}

    def words(listed: Iterable[str]) -> frozenset[str]:
        return frozenset(spell(word) for word in listed)

    ones, teens, tens = values("ones"), values("teens"), values("tens")
    zeros, scales, multiples = words(data["zero"]["words"]), values("scales"), values("multiples")
    fractions, ordinals, heard = values("fractions"), values("ordinal_fractions"), values("heard")
    signs, limits = data["signs"], data["heard_limits"]
    glued = {ten + one: tens[ten] + ones[one] for ten in tens for one in ones}
    articles, point = words(signs["one"]), words(signs["point"])
    whole = {**ones, **teens, **tens, **glued, **dict.fromkeys(zeros, 0.0), **scales, **multiples}
    inside = words(data["zero"]["inside"])
    return NumberWords(
        ones=ones,
        teens=teens,
        tens=tens,
        glued=glued,
        below_hundred={**tens, **ones, **teens, **glued},
        zeros=zeros,
        zeros_inside=inside,
        scales=scales,
        multiples=multiples,
        fractions=fractions,
        ordinals=ordinals,
        point=point,
        comma=words(signs["comma"]),
        joining=words(signs["and"]),
        articles=articles,
        of=words(signs["of"]),
        heard=heard,
        heard_only_behind=words(limits["only_behind"]),
        heard_behind=words(limits["behind"]),
        heard_verbs=words(limits["verbs"]),
        heard_never_behind=words(limits["verbs_never_behind"]),
        heard_prepositions=words(limits["prepositions"]),
        values=whole,
        parts={**fractions, **ordinals},
        openers=frozenset((*whole, *inside, *fractions, *ordinals, *articles, *point, *heard)),
    )
