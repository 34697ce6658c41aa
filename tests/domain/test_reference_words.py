"""Which words are English."""

import pytest

from domain import reference
from domain.reference.words import HERE, is_action, is_real_word

WORDS = (HERE / "words.txt").read_text(encoding="utf-8").splitlines()
ACTIONS = (HERE / "actions.txt").read_text(encoding="utf-8").splitlines()


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


# Parts of speech as the Concise Oxford gives them, from memory.
@pytest.mark.parametrize(
    "word", ("poured", "obviously", "shaken", "tipped", "scoffed", "roughly", "remembered", "dished")
)
def test_a_verb_or_an_adverb_is_an_action(word: str) -> None:
    assert is_action(word)


@pytest.mark.parametrize(
    "word", ("smoked", "mashed", "skimmed", "breaded", "night", "plain", "never", "usually", "without")
)
def test_what_may_describe_a_food_or_deny_it_is_none(word: str) -> None:
    assert not is_action(word)


def test_no_action_is_part_of_a_foods_name() -> None:
    named = {word for food in reference.load().foods for word in food.lower().replace(",", " ").split()}
    assert named.isdisjoint(ACTIONS)


def test_the_actions_are_words_in_order() -> None:
    assert sorted(set(ACTIONS)) == ACTIONS
    assert all(is_real_word(word) and is_action(word) for word in ACTIONS)


def test_every_word_of_the_list_is_found() -> None:
    assert all(is_real_word(word) for word in WORDS)


def test_the_list_is_in_order_and_holds_each_word_once() -> None:
    assert sorted(set(WORDS)) == WORDS
    assert len(WORDS) > 30_000
    assert all(word.isascii() and word.isalpha() and word.islower() and len(word) >= 3 for word in WORDS)
