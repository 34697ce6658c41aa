"""Portions as people name them: the region decides what a pint, a can or a slice is."""

import pytest

from .conftest import Hear

US_PINT_ML, IMPERIAL_PINT_ML = 473.176473, 568.26125
"""NIST Handbook 44, appendix C; UK Weights and Measures Act 1985."""
BEER, MILK = 356 / (12 * 29.5735295625), 244 / 236.5882365
"""g/mL by SR28 14003 (12 fl oz 356 g) and 01077 (a cup 244 g)."""


@pytest.mark.parametrize(
    ("region", "said", "grams"),
    (
        ("UK", "pint of lager", IMPERIAL_PINT_ML * BEER),
        ("US", "pint of lager", US_PINT_ML * BEER),
        ("UK", "half a pint of bitter", IMPERIAL_PINT_ML * BEER / 2),
        ("UK", "pint of milk", IMPERIAL_PINT_ML * MILK),
        ("US", "pint of milk", US_PINT_ML * MILK),
        ("UK", "2 cans of lager", 2 * 440 * BEER),
        ("US", "can of beer", 12 * 29.5735295625 * BEER),
        ("UK", "bottle of beer", 330 * BEER),
        ("US", "a beer", 356),  # NIAAA standard drink: 12 fl oz
    ),
)
def test_pints_bottles_and_cans(heard: Hear, region: str, said: str, grams: float) -> None:
    assert heard(said, region=region).recorded()["as_weighed_g"] == pytest.approx(grams, rel=0.01)


# FSA Food Portion Sizes (from memory) for the UK; SR28's own pieces for the US: 18228, 18192, 18060, 18061.
@pytest.mark.parametrize(
    ("region", "said", "grams"),
    (
        ("UK", "3 digestives", 45),
        ("UK", "2 chocolate digestives", 34),
        ("UK", "2 rich tea biscuits", 14),
        ("UK", "a shortbread", 13),
        ("US", "2 shortbreads", 23.6),
        ("US", "6 saltines", 18),
        ("UK", "4 cream crackers", 28),
        ("UK", "slice of sourdough", 50),
        ("US", "slice of rye bread", 32),
        ("US", "slice of toasted rye bread", 24),
        ("UK", "slice of wholemeal toast", 31),
        ("US", "double espresso", 60),
        ("UK", "a double vodka", 47),
        ("UK", "2 squares of dark choc", 20),
        ("UK", "tin of tomatoes", 400),
        ("UK", "half a tin of baked beans", 207.5),
    ),
)
def test_pieces_slices_and_tins(heard: Hear, region: str, said: str, grams: float) -> None:
    recorded = heard(said, region=region).recorded()
    assert recorded["as_weighed_g"] == pytest.approx(grams)
    assert recorded["evidence"] == "counted"


@pytest.mark.parametrize(("said", "grams"), (("tin of chickpeas", 240), ("can of kidney beans", 266)))
def test_a_tin_holds_the_canned_food_drained(heard: Hear, said: str, grams: float) -> None:
    recorded = heard(said).recorded()
    assert (recorded["as_weighed_g"], recorded["state"]) == (grams, "as_sold")


@pytest.mark.parametrize(
    ("said", "usual"),
    (
        ("handful of almonds", "a usual one, 30 g"),
        ("large glass of white wine", "a usual one, 248 g"),
        ("knob of butter", "a usual one, 10 g"),
        ("glass of milk", "a usual one, 244 g"),
        ("2 yogurts", "usual ones, 300 g"),
    ),
)
def test_what_has_no_size_of_its_own_is_offered_at_its_usual_weight(heard: Hear, said: str, usual: str) -> None:
    answer = heard(said, region="UK")
    answer.asked()
    assert usual in answer.choices


@pytest.mark.parametrize("said", ("can rice be frozen", "can I have rice"))
def test_a_question_that_begins_with_can_is_no_can(heard: Hear, said: str) -> None:
    assert not heard(said).records
