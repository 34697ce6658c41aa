"""Which words are English."""

import pytest

from domain.reference.words import WORDS_TXT, is_real_word

WORDS = WORDS_TXT.read_text(encoding="utf-8").splitlines()


# The first of the New General Service List (Browne, Culligan & Phillips, 2013), from memory, and words of the kitchen.
@pytest.mark.parametrize(
    "word",
    (
        *(
            "the",
            "and",
            "people",
            "because",
            "other",
            "time",
            "think",
            "between",
            "important",
            "table",
            "train",
            "coach",
        ),
        *("walked", "running", "better", "glasses", "bigger", "whisk", "oven", "spoons", "weighed", "wine", "beer"),
    ),
)
def test_a_common_word_is_one(word: str) -> None:
    assert is_real_word(word)


@pytest.mark.parametrize(
    "word", ("chiken", "tomatoe", "brocoli", "yoghrt", "bananna", "quxfrob", "avacado", "spagetti", "zuchini", "lettus")
)
def test_a_misspelt_food_is_none(word: str) -> None:
    assert not is_real_word(word)


@pytest.mark.parametrize("word", ("", "a", "an", "Table", "two words", "crème", "7up", "it's", "\n", "the\nand"))
def test_what_is_no_small_word_is_none(word: str) -> None:
    assert not is_real_word(word)


def test_every_word_of_the_list_is_found() -> None:
    assert all(is_real_word(word) for word in WORDS)


def test_the_list_is_in_order_and_holds_each_word_once() -> None:
    assert sorted(set(WORDS)) == WORDS
    assert len(WORDS) > 30_000
    assert all(word.isascii() and word.isalpha() and word.islower() and len(word) >= 3 for word in WORDS)
