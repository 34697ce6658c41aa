"""Several foods and then as many weights, and a dish whose parts are listed behind its colon."""

from __future__ import annotations

import pytest

from .conftest import Hear

PAIRS = (
    ("cheddar and oatcakes: 40 + 28", {"cheddar cheese": 40, "oatcake": 28}),
    ("had 1 rice cake w peanut butter, 9g + 16g", {"rice cakes": 9, "peanut butter": 16}),
    ("cooked pasta and pesto, 180 and 30", {"pasta": 180, "pesto": 30}),
    ("rye bread, butter, honey 60/10/15", {"rye bread": 60, "butter": 10, "honey": 15}),
    ("2 eggs and a banana, 102 + 118", {"egg": 102, "banana": 118}),
)
DISHES = (
    ("tuna sandwich: rye bread 88, mayo 14, cucumber 25", {"rye bread": 88, "mayonnaise": 14, "cucumber": 25}),
    ("my salad: tomato 150, onion 20, olive oil 10", {"tomato": 150, "onion": 20, "olive oil": 10}),
)


@pytest.mark.parametrize(("text", "weights"), (*PAIRS, *DISHES))
def test_each_food_has_its_own_weight(heard: Hear, text: str, weights: dict[str, float]) -> None:
    said = heard(text)
    assert {event["food"]: event["as_weighed_g"] for event in said.all("weigh_in")} == weights
    assert said.all("question") == []


@pytest.mark.parametrize("text", ("apple and banana 150 g", "cheddar and granola 150, 40 blueberries"))
def test_fewer_weights_than_foods_are_nobodys_own(heard: Hear, text: str) -> None:
    assert "how much of each" in heard(text).text


def test_a_scale_that_runs_on_is_not_read_in_pairs(heard: Hear) -> None:
    said = heard("bowl 250, plain yogurt 430, blueberries 512")
    assert [event["as_weighed_g"] for event in said.all("weigh_in")] == [180, 82]
