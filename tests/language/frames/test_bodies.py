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
