"""The word lists of `packs/…/lexicon.toml`, turned round for looking up: word → what it does in a message."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from typing import Any, TypeVar

from bot.language.number_words import number_words
from bot.language.pack import FOLDER, Spelling
from bot.language.text import singular
from domain.foods import State
from domain.quantities import UNITS, UnitKind
from domain.reference.words import is_given_name, is_real_word

T = TypeVar("T")
NO_WORDS_ALONE = frozenset(
    (
        "abbreviations",
        "cooking_verbs",
        "fat_classes",
        "heard_as",
        "other_foods",
        "percentages",
        "phrases",
        "same_sound",
        "shorthand",
        "state_links",
        "state_moments",
        "state_phrases",
    )
)
"""Sections whose words may stand in the name of a food."""


@dataclass(frozen=True)
class Lexicon:
    """Each mapping goes from a lower-case word to its meaning; sets hold singular forms where nouns count."""

    mass_units: dict[str, str]
    volume_units: dict[str, str]
    unit_phrases: tuple[tuple[tuple[str, ...], str], ...]
    """Names of several words ("fl oz"), longest first, each with its unit's symbol."""
    loose_units: frozenset[str]
    piece_nouns: frozenset[str]
    sizes: dict[str, str]
    abbreviations: dict[str, str]
    fat_classes: dict[str, tuple[str, ...]]
    percentages: dict[str, tuple[str, ...]]
    units: frozenset[str]
    """The words with which the names of masses and volumes begin."""
    numbers: Mapping[str, float]
    states: dict[str, tuple[State, str]]
    state_phrases: dict[str, tuple[tuple[tuple[str, ...], tuple[State, str]], ...]]
    """First word → the phrases that say a state, longest first, each with the state and its method."""
    gerunds: dict[str, tuple[State, str]]
    state_moments: dict[str, tuple[tuple[tuple[str, ...], bool], ...]]
    """First word → the phrases for the time of a weight, each with whether that is before what was done."""
    state_links: frozenset[str]
    verb_states: frozenset[str]
    bare_verbs: dict[str, str]
    """What a cook does, each with the state that it leads to, as the lists of states have it."""
    heard_as: dict[str, str]
    """What a microphone writes in place of a word of a food's name, each with that word."""
    same_sound: dict[str, str]
    shorthand: dict[str, str]
    """What is typed for common words, each with the word."""
    """Letters that may be written for others, the longest first."""
    whole: frozenset[str]
    edible: frozenset[str]
    parts: frozenset[str]
    meals: dict[str, str]
    weekdays: dict[str, int]
    months: dict[str, int]
    people: frozenset[str]
    pronouns: frozenset[str]
    eating: frozenset[str]
    gave: frozenset[str]
    discarded: frozenset[str]
    finished: frozenset[str]
    plans: frozenset[str]
    shopping: frozenset[str]
    negations: frozenset[str]
    asking: frozenset[str]
    vessels: frozenset[str]
    harmless: frozenset[str]
    filler: frozenset[str]
    attributive: frozenset[str]
    other_foods: frozenset[str]
    phrases: dict[str, tuple[str, ...]]
    known: frozenset[str]
    """All words of all lists."""

    def knows(self, word: str) -> bool:
        """Whether the word is one of the lists' own, so that it is never taken for a misspelt food."""
        return word in self.known


def _turned(lists: dict[str, list[str]]) -> dict[str, str]:
    return {word: meaning for meaning, words in lists.items() for word in words}


def _units(kind: UnitKind) -> dict[str, str]:
    return {name: unit.symbol for unit in UNITS.values() if unit.kind is kind for name in unit.names if " " not in name}


def _unit_phrases() -> tuple[tuple[tuple[str, ...], str], ...]:
    phrases = [(tuple(name.split()), unit.symbol) for unit in UNITS.values() for name in unit.names if " " in name]
    return tuple(sorted(phrases, key=lambda phrase: -len(phrase[0])))


def _by_first(
    meanings: Mapping[str, T], lists: dict[str, list[str]]
) -> dict[str, tuple[tuple[tuple[str, ...], T], ...]]:
    """The phrases of the lists by their first words, longest first, each with what its list means."""
    told = [(tuple(phrase.split()), meanings[name]) for name, phrases in lists.items() for phrase in phrases]
    told.sort(key=lambda phrase: -len(phrase[0]))
    firsts = dict.fromkeys(words[0] for words, _ in told)
    return {first: tuple((words, meant) for words, meant in told if words[0] == first) for first in firsts}


def _state(meaning: str) -> tuple[State, str]:
    if meaning in ("raw", "cooked"):
        return State(meaning), ""
    if meaning == "dried":
        return State.RAW, "dried"
    if meaning == "as_sold":
        return State.AS_SOLD, "canned"
    return State.COOKED, meaning


def read_lists(spell: Spelling = str) -> dict[str, Any]:
    """The sections of `lexicon.toml`; `spell` puts every word that people may say through a substitution."""
    data = tomllib.loads((FOLDER / "lexicon.toml").read_text("utf-8"))
    for section in ("abbreviations", "cooking_verbs", "heard_as", "same_sound", "shorthand"):
        data[section] = {spell(word): spell(meant) for word, meant in data[section].items()}
    return {
        name: {key: [spell(word) for word in told] if isinstance(told, list) else told for key, told in lists.items()}
        for name, lists in data.items()
    }


@cache
def lexicon() -> Lexicon:
    """The lists, read once."""
    data = read_lists()

    def words(name: str) -> frozenset[str]:
        listed = data[name]["words"]
        return frozenset(listed) | frozenset(singular(w) for w in listed)

    def order(name: str) -> dict[str, int]:
        return {w: i for i, ws in enumerate(data[name].values()) for w in ws}

    leaving = data["leaving"]
    leaves = {kind: frozenset(leaving[kind]) for kind in ("gave", "discarded", "finished")}
    spoken = number_words()
    known = frozenset((*spoken.values, *spoken.parts)) | frozenset(
        w for name in data if name not in NO_WORDS_ALONE for w in _all_words(data[name])
    )
    mass_units, volume_units = _units(UnitKind.MASS), _units(UnitKind.VOLUME)
    phrases = _unit_phrases()
    known = known.union(mass_units, volume_units)
    return Lexicon(
        mass_units=mass_units,
        volume_units=volume_units,
        unit_phrases=phrases,
        loose_units=words("loose_units"),
        piece_nouns=words("piece_nouns"),
        sizes=_turned(data["sizes"]),
        abbreviations={singular(w): long for w, long in data["abbreviations"].items()},
        units=frozenset((*mass_units, *volume_units, *(phrase[0] for phrase, _ in phrases))),
        numbers=spoken.values,
        states={w: _state(m) for w, m in _turned(data["states"]).items()},
        state_phrases=_by_first({name: _state(name) for name in data["state_phrases"]}, data["state_phrases"]),
        gerunds={w: _state(m) for w, m in _turned(data["gerunds"]).items()},
        state_moments=_by_first({name: name == "before" for name in data["state_moments"]}, data["state_moments"]),
        state_links=words("state_links"),
        verb_states=words("verb_states"),
        bare_verbs=data["cooking_verbs"],
        heard_as=data["heard_as"],
        same_sound=data["same_sound"],
        shorthand=data["shorthand"],
        whole=words("whole"),
        edible=words("edible"),
        parts=words("parts"),
        meals=_turned(data["meals"]),
        weekdays=order("weekdays"),
        months={w: i + 1 for w, i in order("months").items()},
        people=words("people"),
        pronouns=frozenset(data["people"]["pronouns"]),
        eating=words("eating"),
        gave=leaves["gave"],
        discarded=leaves["discarded"],
        finished=leaves["finished"],
        plans=words("plans"),
        shopping=words("shopping"),
        negations=words("negations"),
        asking=words("asking"),
        vessels=words("vessels"),
        harmless=words("harmless"),
        filler=words("filler"),
        attributive=words("attributive"),
        other_foods=words("other_foods"),
        fat_classes={name: tuple(listed) for name, listed in data["fat_classes"].items()},
        percentages={name: tuple(listed) for name, listed in data["percentages"].items()},
        phrases={name: tuple(listed) for name, listed in data["phrases"].items()},
        known=known | frozenset(singular(w) for w in known),
    )


def first_names(words: Iterable[str], known: Iterable[str]) -> frozenset[str]:
    """The first names among words in small letters, also in "beth's" and 'beths', but not of persons who are known."""
    others = {part for name in known for part in name.casefold().split()}
    bare = (word.removesuffix("'s") for word in words)
    one = {singular(word) if not (is_given_name(word) or is_real_word(word)) else word for word in bare}
    names = {word for word in one if is_given_name(word) and word not in others}
    return frozenset(names | {singular(name) for name in names})


@lru_cache(maxsize=1024)
def with_names(names: frozenset[str], addressed: frozenset[str], vessels: frozenset[str]) -> Lexicon:
    """The lexicon with these first names among its words for people, without what one calls somebody, and vessels."""
    if not (names or addressed or vessels):
        return lexicon()
    people = (lexicon().people | names) - addressed
    return replace(lexicon(), people=people, vessels=lexicon().vessels | vessels)


def _all_words(section: dict[str, object]) -> Iterator[str]:
    """Every word of a section of the file, whichever way it is laid out."""
    for key, value in section.items():
        if isinstance(value, list):
            yield from value
        else:
            yield key
