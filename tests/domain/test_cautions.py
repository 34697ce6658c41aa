"""Storage times and very low days."""

from datetime import date, timedelta

import pytest

from domain.cautions import (
    ask_still_good_on,
    hazardous_loss,
    hazardous_weight,
    past_fridge_days,
    several_very_low_days,
)

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


# 18.5 kg/m² is where underweight begins (WHO TRS 894, from memory): at 1.47 m that is 39.98 kg.
def test_a_weight_that_is_underweight_at_147_cm_is_hazardous() -> None:
    assert hazardous_weight(18.5 * 1.47**2 - 0.1)
    assert not hazardous_weight(18.5 * 1.48**2)


# At most 1 kg a week (NHS advice on losing weight, from memory).
@pytest.mark.parametrize(("kg", "days", "hazardous"), ((20, 14, True), (2, 14, False), (5, 30, True), (4, 30, False)))
def test_a_loss_faster_than_a_kilogram_a_week_is_hazardous(kg: float, days: float, hazardous: bool) -> None:
    assert hazardous_loss(kg, days) is hazardous
    assert not hazardous_loss(kg, 0)
