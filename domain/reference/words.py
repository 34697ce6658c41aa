"""Which words are English, so that none of them is taken for a misspelt food, and which of them describe no food.

The text files beside this were made from published word lists; README.md says how. Each is kept as one text and
searched: 40,000 words in a set would take ten times the memory.
"""

from functools import cache, lru_cache
from pathlib import Path

HERE = Path(__file__).parent


def is_real_word(word: str) -> bool:
    """Whether a word, in small letters, is in common English use; of fewer than three letters none is."""
    return _listed("words.txt", word)


def is_action(word: str) -> bool:
    """Whether a word is an English verb or adverb and nothing else, and part of no food's name: 'poured', 'obviously'.

    Beside a food it tells what was done, or how, and not which food it was.
    """
    return _listed("actions.txt", word)


def is_notion(word: str) -> bool:
    """Whether a word is an English noun or adjective with no sense of a food, plant, animal, person or thing to hold.

    'Bedtime', 'stress', 'gorgeous': beside a food it tells when, why or how good, and not which food it was.
    """
    return _listed("notions.txt", word)


def is_person_noun(word: str) -> bool:
    """Whether a word is an English noun for somebody first of all, and for no food or thing: 'spouse', 'milkman'."""
    return _listed("persons.txt", word)


@lru_cache(maxsize=8192)
def is_thing(first: str, second: str) -> bool:
    """Whether two words, in small letters, together are the name of something else than food: 'dressing gown'."""
    return (first + second).isalpha() and _has_line("things.txt", f"{first} {second}")


def begins_thing(word: str) -> bool:
    """Whether a word is the first of two for which `is_thing` may hold."""
    return word.isalpha() and word.islower() and f"\n{word} " in _text("things.txt")


def is_short_food_word(word: str) -> bool:
    """Whether a word of three or four letters, and no English one, stands in descriptions of foods: 'aloo'."""
    return _listed("short_words.txt", word)


def is_given_name(word: str) -> bool:
    """Whether a word, in small letters, is a first name and no word for anything else: 'beth', 'priya'."""
    return _listed("given_names.txt", word)


def is_animal(word: str) -> bool:
    """Whether a word is an English noun for a mammal, bird, reptile or amphibian first of all: 'squirrel', 'mare'."""
    return _listed("animals.txt", word)


def is_finite(word: str) -> bool:
    """Whether a word is a past tense or third person of an English verb and in no food's name: 'fed', 'owns'."""
    return _listed("finite.txt", word)


@lru_cache(maxsize=32_768)
def _listed(name: str, word: str) -> bool:
    if not (word.isascii() and word.isalpha() and word.islower()):
        return False
    return _has_line(name, word)


def _has_line(name: str, line: str) -> bool:
    text = _text(name)
    return text.find(f"\n{line}\n", _start(name, line[0]), _start(name, chr(ord(line[0]) + 1)) + 1) >= 0


@cache
def _text(name: str) -> str:
    return "\n" + (HERE / name).read_text(encoding="utf-8")


@cache
def _start(name: str, letter: str) -> int:
    """Where the words of a letter begin, with the line break before them; the words stand in alphabetical order."""
    found = _text(name).find(f"\n{letter}")
    return found if found >= 0 else len(_text(name))
