"""How far a plate may be from its row of the table."""

import math

import pytest

from domain.foods import State
from domain.nutrients import Nutrients
from domain.table_errors import SPREADS, Likeness, likeness, table_error
from domain.weighins import Evidence, WeighIn


def weigh_in(food, evidence=Evidence.WEIGHED, batch=None):
    return WeighIn(
        food=food, state=State.AS_SOLD, as_weighed_g=100, edible_g=100, basis_g=100, basis=State.AS_SOLD,
        evidence=evidence, nutrients=Nutrients(100, 0, 0, 0), batch=batch,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("food", "kind"),
    (
        ("cheddar cheese", Likeness.STEADY),
        ("egg", Likeness.STEADY),
        ("broccoli", Likeness.GROWN),
        ("lentils", Likeness.GROWN),
        ("chicken breast", Likeness.MEAT),
        ("lasagna", Likeness.DISH),
        ("granola of a packet", Likeness.LABEL),
    ),
)
def test_a_food_is_off_as_its_kind_is(food, kind):
    assert likeness(weigh_in(food)) is kind
    assert table_error(weigh_in(food)) == SPREADS[kind]


def test_a_portion_of_a_batch_is_off_as_pots_are_whatever_it_is_called():
    assert likeness(weigh_in("lasagna", batch=3)) is Likeness.POT
    assert SPREADS[Likeness.POT] < SPREADS[Likeness.DISH]


def test_energy_that_was_only_guessed_has_its_error_from_the_guess():
    assert table_error(weigh_in("lasagna", Evidence.ESTIMATED)) == 0


def test_a_label_may_be_off_by_a_fifth():
    # 21 CFR 101.9(g)(5): calories, sugars and fat may not exceed the declared value by more than 20 %
    assert SPREADS[Likeness.LABEL] * math.sqrt(3) == pytest.approx(0.2)
