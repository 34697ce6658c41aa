"""Storage times and very low days."""

from datetime import date, timedelta

import pytest

from domain.cautions import ask_still_good_on, past_fridge_days, several_very_low_days

MONDAY = date(2026, 3, 2)


@pytest.mark.parametrize(("days", "past"), ((0, False), (3, False), (4, True), (30, True)))
def test_leftovers_keep_three_days_in_the_fridge(days, past):
    # USDA FSIS: cooked leftovers 3 to 4 days
    assert past_fridge_days(MONDAY, MONDAY + timedelta(days=days)) is past
    assert (MONDAY + timedelta(days=days) >= ask_still_good_on(MONDAY)) is past


@pytest.mark.parametrize(
    ("kcal", "several"),
    (
        ((700, 799, 500), True),
        ((700, 800, 500), False),  # NICE CG189: a very-low-calorie diet is below 800 kcal
        ((0, 0, 0), False),  # nothing logged is not a low day
        ((700, 700), False),
    ),
)
def test_several_very_low_days(kcal, several):
    days = {MONDAY + timedelta(days=n): float(value) for n, value in enumerate(kcal)}
    assert several_very_low_days(days, MONDAY + timedelta(days=6)) is several


def test_very_low_days_are_those_of_one_week():
    days = {MONDAY + timedelta(days=n): 700.0 for n in (0, 6, 7)}
    assert not several_very_low_days(days, MONDAY + timedelta(days=7))
