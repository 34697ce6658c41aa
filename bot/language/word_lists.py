"""Plain lists of words from a language's pack: `packs/…/<file>.toml`, one list for each thing that a word can do."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from functools import cache

from bot.language.pack import FOLDER, Spelling


class WordLists(Mapping[str, frozenset[str]]):
    """The lists of one file; a word or a phrase stands in them as it is typed, lower case."""

    def __init__(self, file: str) -> None:
        self.file = file

    def __getitem__(self, name: str) -> frozenset[str]:
        return lists_of(self.file)[name]

    def __iter__(self) -> Iterator[str]:
        return iter(lists_of(self.file))

    def __len__(self) -> int:
        return len(lists_of(self.file))


def word_lists(file: str) -> WordLists:
    """The lists of a file, read when one of them is first asked for."""
    return WordLists(file)


@cache
def lists_of(file: str) -> Mapping[str, frozenset[str]]:
    """The lists of one file, read once."""
    return read_word_lists(file)


def read_word_lists(file: str, spell: Spelling = str) -> Mapping[str, frozenset[str]]:
    """The lists of a file; `spell` puts every word that people may say through a substitution."""
    text = (FOLDER / f"{file}.toml").read_text("utf-8")
    return {name: frozenset(map(spell, words)) for name, words in tomllib.loads(text).items()}
