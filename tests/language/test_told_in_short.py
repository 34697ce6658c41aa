"""Dashes, counts before weights, weights of one piece, and dishes that are still to come."""

import pytest

from tests.language.conftest import Hear


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("just the 1 crumpet 55 g butter 5 g", {"crumpet": 55.0, "butter": 5.0}),
        ("2 crumpets 108 g honey 9 g", {"crumpet": 108.0, "honey": 9.0}),
        ("Side salad for me - olive oil 10 g, tomato 60 g", {"olive oil": 10.0, "tomato": 60.0}),
        ("tonight's dinner: boiled green beans 100 g, cooked rice 190 g", {"green beans": 100.0, "white rice": 190.0}),
        ("apple 190 - core 17", {"apple": 173.0}),
    ),
)
def test_a_list_told_in_short(heard: Hear, said: str, grams: dict[str, float]) -> None:
    assert {e["food"]: e["edible_g"] for e in heard(said).all("weigh_in")} == grams


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("falafel, 3 pieces, one piece is 22 g", 66.0),
        ("wheat crackers x5.. hang on, x6. each one is 3 g", 18.0),
        ("4 dates. Each was 8 g", 32.0),
        ("one banana, without peel it is 109 g", 109.0),
    ),
)
def test_the_weight_of_one_is_multiplied(heard: Hear, said: str, grams: float) -> None:
    (told,) = heard(said).all("weigh_in")
    assert told["edible_g"] == pytest.approx(grams)


@pytest.mark.parametrize(
    "said", ("Friday there'll be a fish pie. Prawns 100 g, cod 400 g.", "tonight's dinner of my brother: 300 g rice")
)
def test_what_is_not_eaten_yet_or_not_by_the_writer_is_not_recorded(heard: Hear, said: str) -> None:
    assert not heard(said).all("weigh_in")


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("For your files, my rye bread runs 38 g to the slice.", 38.0),
        ("And a spoon of peanut butter, the way I do it, is 17 g.", 17.0),
    ),
)
def test_what_a_measure_weighs_is_kept(heard: Hear, said: str, grams: float) -> None:
    (kept,) = heard(said).all("measure_saved")
    assert kept["grams"] == grams
