"""A person's own weight, told beside the scales in any order, and scales that hold something else."""

import pytest


@pytest.mark.parametrize(
    ("text", "kg"),
    (
        ("got on the scales, 79.9kg, not thrilled", 79.9),
        ("hopped on the scale before the shower: 164.2 lbs!", 74.48),
        ("85.7 kg me", 85.7),
        ("I stood on the scales this morning and they said 68.2 kilos, so there's something", 68.2),
        ("My weight this morning was ten stone three pounds, which is a little better than last week.", 64.86),
        ("scale 11 stone 4 lb this aft", 71.67),
        ("the scale reads one ninety eight point four pounds ouch", 89.99),
    ),
)
def test_a_weight_beside_the_scales_is_the_persons(heard, text, kg):
    assert heard(text, region="US").one("body_weight")["kg"] == pytest.approx(kg, abs=0.01)


@pytest.mark.parametrize(
    "text",
    (
        "scale says 250 g of rice",
        "the bowl on the scale says 2.5 kg",
        "I put on 2 kg",
        "the dog was 24 kg on the scales at the vet's",
        "on the scales I want to see 75 kg",
        "what should the scale say, 70 kg?",
        "down 0.4 kg on the scales",
    ),
)
def test_what_else_is_on_the_scales_is_no_body_weight(heard, text):
    assert not heard(text).all("body_weight")


@pytest.mark.parametrize(
    ("text", "kg"),
    (
        ("nurse says weigh so ok. 171 pounds in my shoes", 77.56),
        ("i weigh 158 and a half, pounds", 71.89),
        ("201 flat this am on the scale (lbs)", 91.17),
        ("scales say 12 st 3 and a half", 77.79),
        ("weight this morning 58.9 kg, nearly forgot", 58.9),
        ("My weight is two oh four even, pounds of course.", 92.53),
        ("74.3 kg this morning before breakfast", 74.3),
        ("my sister says I should weigh myself. 163 pounds with my slippers", 73.94),
    ),
)
def test_a_unit_or_a_circumstance_apart_from_the_number(heard, text, kg):
    assert heard(text, region="US").one("body_weight")["kg"] == pytest.approx(kg, abs=0.01)


@pytest.mark.parametrize(
    "text",
    (
        "trainer wants me at 170 lbs by june",
        "162 lb deadlift at the gym",
        "lifted 100 kg today",
        "my bike weighs 30 kg",
        "if only I was 70 kg",
        "got 50 lb of rice before dinner",
    ),
)
def test_weights_that_are_no_persons(heard, text):
    assert not heard(text, region="US").all("body_weight")
