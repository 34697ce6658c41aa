"""What is to come, and how a dish is made in general, beside what was eaten."""

import pytest


@pytest.mark.parametrize(
    "text",
    (
        "thinking samosas for Saturday, maybe 30",
        "sunday I'm making 2 kg of chicken curry again",
        "throwing a pack of chicken drumsticks on the grill tonight, probably six of them",
        "meal prep tonight, 2 kg chicken breast",
        "The way you make a brack, you steep 350 g of raisins in tea and then add 225 g of flour",
        "a proper recipe wants 400 g of butter and 8 eggs",
        "might do 250 g pasta on Friday",
    ),
)
def test_what_has_not_been_eaten_records_nothing(heard, text):
    assert not heard(text).events


@pytest.mark.parametrize(
    "text",
    (
        "tonight 200 g cooked salmon",
        "dinner tonight: 200 g chicken breast cooked",
        "on Sunday I had 200 g cooked rice",
        "I'm having 40 g oats dry now",
    ),
)
def test_what_is_eaten_now_is_no_plan(heard, text):
    assert heard(text, at="2026-03-02T20:00:00+00:00").one("weigh_in")
