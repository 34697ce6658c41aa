"""First names as people type them, small letters and all, are somebody."""

import pytest

from domain import reference
from domain.reference.words import HERE, is_given_name
from tests.language.conftest import Hear

NAMES = (HERE / "given_names.txt").read_text(encoding="utf-8").splitlines()


# The five most frequent of either sex in the census of the United States of 1990 that are no other word, from memory.
@pytest.mark.parametrize(
    "name", ("mary", "patricia", "linda", "barbara", "elizabeth", "james", "john", "robert", "michael", "william")
)
def test_a_frequent_first_name_is_one(name: str) -> None:
    assert is_given_name(name)


@pytest.mark.parametrize("word", ("rosemary", "basil", "olive", "ginger", "will", "may", "mark", "rose", "rice"))
def test_a_word_for_something_else_is_none(word: str) -> None:
    assert not is_given_name(word)


def test_the_names_are_in_order_and_no_food_goes_by_one() -> None:
    assert sorted(set(NAMES)) == NAMES
    assert not set(NAMES) & set(reference.load().names)


@pytest.mark.parametrize(
    "said",
    (
        "beth had 366 g of rice",
        "gave sam 200 g of pasta",
        "120 g of the cake was for priya",
        "sam's plate, 240 g potatoes",
    ),
)
def test_what_somebody_had_is_not_the_writers(heard: Hear, said: str) -> None:
    assert not heard(said).all("weigh_in")


@pytest.mark.parametrize(
    ("said", "food", "grams"),
    (
        ("banana, half each with beth, mine was 56 g peeled", "banana", 56.0),
        ("omar and I split one banana, my half without the peel was 56 g", "banana", 56.0),
        ("180 g peach off omar's tree", "peach", 180.0),
        ("150 g cooked rice, beth sends her love", "rice", 150.0),
    ),
)
def test_the_writers_part_is_recorded(heard: Hear, said: str, food: str, grams: float) -> None:
    told = heard(said).all("weigh_in")
    assert [(food in e["food"], e["as_weighed_g"]) for e in told] == [(True, grams)]


def test_what_another_ate_of_it_is_not_taken_for_ones_own(heard: Hear) -> None:
    assert not heard("500 g yogurt, sam ate 200 g").all("weigh_in")


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("bro 2 scoops of whey protein powder, 62 g", 62.0),
        ("200 g cooked pasta mate", 200.0),
        ("love, 150 g of cooked rice", 150.0),
    ),
)
def test_what_one_calls_somebody_in_passing_is_nobody_who_ate(heard: Hear, said: str, grams: float) -> None:
    assert [e["edible_g"] for e in heard(said).all("weigh_in")] == [grams]


@pytest.mark.parametrize(
    "said", ("gave my mate 200 g of rice", "200 g cooked pasta for the boss", "mate had 150 g rice")
)
def test_somebody_who_is_spoken_of_is(heard: Hear, said: str) -> None:
    assert not heard(said).all("weigh_in")


@pytest.mark.parametrize(
    "said", ("split 300 g of cooked white rice with my co driver", "split 240 g cooked pasta with my bandmate")
)
def test_what_was_split_with_anybody_is_asked_about(heard: Hear, said: str) -> None:
    told = heard(said)
    assert not told.all("weigh_in")
    assert told.all("question")
