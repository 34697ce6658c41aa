"""The words of sums and roles: what stands between and beside numbers that belong together."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources.abc import Traversable

from bot.language.pack import FOLDER, Concept, Spelling, concept


@dataclass(frozen=True)
class Reckoning:
    """What a word between two numbers does with them, and the phrases that give a number its role."""

    operations: Mapping[str, str]
    concepts: Mapping[str, Concept]

    def __getitem__(self, name: str) -> Concept:
        return self.concepts[name]


@cache
def reckoning() -> Reckoning:
    """The words of the pack, read once."""
    return read_reckoning(FOLDER)


def read_reckoning(folder: Traversable, spell: Spelling = str) -> Reckoning:
    """The words in a pack's folder; `spell` puts every word that people may say through a substitution."""
    data = tomllib.loads((folder / "reckoning.toml").read_text("utf-8"))
    operations = {spell(word): what for what, words in data["operations"].items() for word in words}

    return Reckoning(operations, {name: concept(phrases, spell) for name, phrases in data["concepts"].items()})
