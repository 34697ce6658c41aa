"""Which words are English, so that none of them is taken for a misspelt food.

`words.txt` was made from the word frequencies of wordfreq 3.1; README.md beside this says how. It is kept as one text
and searched: 40,000 words in a set would take ten times the memory.
"""

from functools import cache
from pathlib import Path

WORDS_TXT = Path(__file__).with_name("words.txt")


def is_real_word(word: str) -> bool:
    """Whether a word, in small letters, is in common English use; of fewer than three letters none is."""
    if not (word.isascii() and word.isalpha() and word.islower()):
        return False
    text = _text()
    return text.find(f"\n{word}\n", _start(word[0]), _start(chr(ord(word[0]) + 1)) + 1) >= 0


@cache
def _text() -> str:
    return "\n" + WORDS_TXT.read_text(encoding="utf-8")


@cache
def _start(letter: str) -> int:
    """Where the words of a letter begin, with the line break before them; the words stand in alphabetical order."""
    found = _text().find(f"\n{letter}")
    return found if found >= 0 else len(_text())
