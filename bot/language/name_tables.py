"""The names of the food table, of a person's labels and of their own words, by the words that they consist of."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import cache, lru_cache

from bot.language.lexicon import lexicon
from bot.language.modifiers import FatClass, fat_classes
from bot.language.surroundings import OwnWords
from bot.language.text import normalise, singular, tokenise
from domain import reference
from domain.reference.words import is_real_word

Lemmas = tuple[str, ...]
COMBINATION = "combination:"
"""Before a person's own word for several foods, as `kinds:` stands before a generic word."""
COMMON_USES = 2
"""Foods from which on a word is so common that a short misspelt one may be meant to be it."""
LEAST_RARE = 7
"""Letters of a word that is recognised though it is rare and misspelt: 'shito' is no shiro."""
_PLAIN = re.compile(r"[a-z ]+")


def lemmas_of(text: str) -> Lemmas:
    """The words of a name, singular, as the vocabulary compares them."""
    if _PLAIN.fullmatch(text):
        return tuple(singular(w) for w in text.split())  # most names are such, and thousands are read at start-up
    return tuple(singular(t.text) for t in tokenise(normalise(text)) if t.kind != "sign")


@dataclass
class Names:
    """Names by their words: looked up in sequence, as a bag of words, glued together, or misspelt."""

    exact: dict[Lemmas, str] = field(default_factory=dict)
    """Words of a name → the food, or 'kinds:word' for a generic word."""
    longest: dict[str, int] = field(default_factory=dict)
    """First word → how many words the longest name that begins with it has."""
    by_word: dict[str, list[Lemmas]] = field(default_factory=dict)
    glued: dict[str, Lemmas] = field(default_factory=dict)
    shared: bool = False
    """Whether they are everybody's, and not one person's own."""

    def add(self, name: str, target: str) -> None:
        """Adds a name that leads to a food, or to 'kinds:word'; a food's name goes before a generic word."""
        lemmas = lemmas_of(name)
        if not lemmas or (lemmas in self.exact and target.startswith("kinds:")):
            return
        self.exact[lemmas] = target
        self.longest[lemmas[0]] = max(self.longest.get(lemmas[0], 0), len(lemmas))
        for word in set(lemmas):
            self.by_word.setdefault(word, []).append(lemmas)
        if len(lemmas) > 1:
            self.glued.setdefault("".join(lemmas), lemmas)


@cache
def table_names() -> Names:
    """The names of the food table, made once."""
    table = reference.load()
    names = Names(shared=True)
    for alias, food in table.names.items():
        names.add(alias, food)
    for word in table.kinds:
        names.add(word, f"kinds:{word}")
    return names


def is_rare(word: str) -> bool:
    """Whether a short word is so rare that another one like it is rather a food of its own: 'shito' is no shiro."""
    if len(word) >= LEAST_RARE or is_real_word(word):
        return False
    names = table_names()
    return len({names.exact[lemmas] for lemmas in names.by_word.get(word, ())}) < COMMON_USES


@cache
def table_fat_classes() -> dict[FatClass, set[str]]:
    """The table's names that say how much fat there is, by that."""
    return fat_classes(table_names().exact)


@cache
def personal_names(labels: tuple[str, ...]) -> Names:
    """The names of a person's own labels."""
    names = Names()
    for label in labels:
        names.add(label, label)
    return names


@lru_cache(maxsize=1024)
def own_words(words: OwnWords) -> Names:
    """What a person's own words mean: foods, and combinations of several. A word of the table's with which they also
    name a combination ('tea') means that only as theirs ('my tea').
    """
    names = Names()
    for word, food in words.foods:
        names.add(word, food)
    for word in words.combinations:
        if word in lexicon().meals:
            continue  # it only says which usual meal is repeated
        plain = () if lemmas_of(word) in table_names().exact else (word,)
        for name in (*plain, f"my {word}", f"my usual {word}", f"usual {word}"):
            names.add(name, f"{COMBINATION}{word}")
    return names
