"""Plain lists of words from a language's pack: `packs/…/<file>.toml`, one list for each thing that a word can do."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache

from bot.language.pack import FOLDER


@cache
def word_lists(file: str) -> Mapping[str, frozenset[str]]:
    """The lists of one file of a pack, read once; a word or a phrase stands in them as it is typed, lower case."""
    text = (FOLDER / f"{file}.toml").read_text("utf-8")
    return {name: frozenset(words) for name, words in tomllib.loads(text).items()}
