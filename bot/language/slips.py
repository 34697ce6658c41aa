"""What people mistype: which words may be misspelt, and which word was most likely meant."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

from bot.language.lexicon import lexicon
from bot.language.text import singular
from bot.language.word_lists import word_lists
from domain.reference.words import is_real_word

WORDS = word_lists("telling")
LEAST_TOLD_BY_LENGTH = 10
"""Letters of a word from which two slips leave no other word that it may be, whatever its consonants."""


def is_misspelt(word: str, least: int) -> bool:
    """Whether a word of so many letters at least may be a slip: it is no word of the lists and no English word."""
    known = lexicon()
    if len(word) < least or not word.isalpha() or known.knows(word) or word in known.other_foods:
        return False
    return not is_real_word(word)


def likeliest(word: str, found: Mapping[str, float]) -> tuple[str, ...]:
    """The words that a misspelt one was most likely meant to be, of those within reach with their edit distances."""
    nearest = min(found.values())
    doubled = [w for w in found if any(a == b and w[:i] + w[i + 1 :] == word for i, (a, b) in enumerate(pairwise(w)))]
    if len(doubled) == 1:
        return (doubled[0],)  # 'carot': the commonest slip of all
    if len(word) < 6 and all(w[0] != word[0] and sorted(w) != sorted(word) for w, d in found.items() if d == nearest):
        return ()
    if nearest > 1 and len(word) < LEAST_TOLD_BY_LENGTH:
        # 'sossage' is a sausage, but cockles are no cookies, tocino is no tobiko and raclette no rillette
        found = {w: d for w, d in found.items() if _consonants(w) == _consonants(word)}
    return tuple(choice for choice, distance in found.items() if distance == nearest)


def once(word: str, i: int) -> str:
    """The word without its letter i, which it has twice ('haam', 'eggg')."""
    return singular(word[:i] + word[i + 1 :])


def is_slip(word: str, choice: str) -> bool:
    """Whether a misspelling is likely: four letters are not just exchanged for another word's ('soup', 'scup')."""
    if len(word) > 5:
        return True
    return len(word) > 4 or len(choice) != 4 or sorted(word) == sorted(choice)


def _consonants(word: str) -> str:
    """The word's first letter and its consonants, none of them twice in a row: what most misspellings keep."""
    alike = WORDS["sound_alike"]
    kept = ["" if c in alike else c for n, c in enumerate(word) if n == 0 or c not in WORDS["vowels"]]
    return " ".join(c for n, c in enumerate(kept) if n == 0 or kept[n - 1] != c)
