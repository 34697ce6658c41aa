"""Which words are English."""

import pytest

from domain import reference
from domain.reference.words import HERE, is_action, is_notion, is_person_noun, is_real_word

WORDS = (HERE / "words.txt").read_text(encoding="utf-8").splitlines()
ACTIONS = (HERE / "actions.txt").read_text(encoding="utf-8").splitlines()
PERSONS = (HERE / "persons.txt").read_text(encoding="utf-8").splitlines()
NOTIONS = (HERE / "notions.txt").read_text(encoding="utf-8").splitlines()


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


# Senses as WordNet 3.1 gives them: bedtime is a time, stress a state, gorgeous no relation to a noun.
@pytest.mark.parametrize("word", ("bedtime", "stress", "consolation", "gorgeous", "celebration", "reward"))
def test_a_time_a_state_or_a_judgment_is_a_notion(word: str) -> None:
    assert is_notion(word)


# A dish, a nation, a person, an animal, a wish, a denial and a date may all change what was eaten, by whom or when.
@pytest.mark.parametrize(
    "word", ("schnitzel", "turkish", "sister", "duck", "craving", "without", "tomorrow", "surprise", "encrusted")
)
def test_what_may_change_the_food_or_the_eater_is_no_notion(word: str) -> None:
    assert not is_notion(word)


@pytest.mark.parametrize("words", (ACTIONS, NOTIONS))
def test_no_word_that_describes_no_food_is_part_of_a_foods_name(words: list[str]) -> None:
    named = {word for food in reference.load().foods for word in food.lower().replace(",", " ").split()}
    assert named.isdisjoint(words)


@pytest.mark.parametrize("words", (ACTIONS, NOTIONS))
def test_the_words_that_describe_no_food_are_words_in_order(words: list[str]) -> None:
    assert sorted(set(words)) == words
    assert all(is_real_word(word) and is_action(word) != is_notion(word) for word in words)


def test_every_word_of_the_list_is_found() -> None:
    assert all(is_real_word(word) for word in WORDS)


def test_the_list_is_in_order_and_holds_each_word_once() -> None:
    assert sorted(set(WORDS)) == WORDS
    assert len(WORDS) > 30_000
    assert all(word.isascii() and word.isalpha() and word.islower() and len(word) >= 3 for word in WORDS)


# Senses as the Concise Oxford gives them first, from memory.
@pytest.mark.parametrize("word", ("spouse", "lodger", "milkman", "colleague", "tenant", "hostess", "visitor"))
def test_a_word_for_somebody_is_a_person(word: str) -> None:
    assert is_person_noun(word)


@pytest.mark.parametrize("word", ("ate", "shaker", "beater", "portion", "freezer", "tonight", "baker's", "Nurse"))
def test_a_thing_or_a_verb_is_no_person(word: str) -> None:
    assert not is_person_noun(word)


def test_no_food_is_called_after_a_word_for_somebody() -> None:
    names = {word for food in reference.load().foods.values() for word in food.name.split()}
    assert names.isdisjoint(PERSONS)
    assert sorted(set(PERSONS)) == PERSONS
