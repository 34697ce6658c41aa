"""Resting energy, activity and goal rates against published worked examples."""

import pytest

from domain.errors import DomainError
from domain.targets import (
    ACTIVITY_FACTORS,
    FLOORS_KCAL,
    KCAL_PER_KG,
    Activity,
    Body,
    Sex,
    compute,
    daily_change_kcal,
    resting_kcal,
)


@pytest.mark.parametrize(
    ("body", "published"),
    (
        # dummies.com, article 166764: 1,396 kcal
        (Body(Sex.FEMALE, 75, 165.1, 45), 1396),
        # askvity.info: 1,400.25 kcal
        (Body(Sex.FEMALE, 68, 165, 30), 1400.25),
    ),
)
def test_worked_examples(body, published):
    assert resting_kcal(body) == pytest.approx(published, abs=0.5)


@pytest.mark.parametrize(("factor", "published"), ((1.2, 1675), (1.375, 1920)))
def test_worked_examples_with_activity(factor, published):
    # dummies.com, article 166764, the same woman
    # from the rounded 1,396 on
    assert round(resting_kcal(Body(Sex.FEMALE, 75, 165.1, 45))) * factor == pytest.approx(published, abs=0.5)


@pytest.mark.parametrize(
    ("body", "as_fitted"),
    (
        # University coursework NTR 404 (studylib.net 8989900), with the coefficients as fitted: 1,429.749 kcal.
        (Body(Sex.FEMALE, 63.6, 170.18, 22), 1429.749),
        # 9.99 kg + 6.25 cm - 4.92 years + 166 for men - 161 (abstract of Mifflin 1990), worked out by hand
        (Body(Sex.MALE, 82.4, 178, 41), 1738.96),
        (Body(Sex.MALE, 70, 175, 25), 1675.05),
        (Body(Sex.MALE, 110, 185, 55), 1989.55),
        (Body(Sex.FEMALE, 61, 168, 34), 1331.11),
        (Body(Sex.FEMALE, 92.5, 160, 48), 1526.91),
        (Body(Sex.FEMALE, 54, 158, 67), 1036.32),
    ),
)
def test_the_simplified_form_stays_within_half_a_percent_of_the_fitted_one(body, as_fitted):
    assert resting_kcal(body) == pytest.approx(as_fitted, rel=0.005)


@pytest.mark.parametrize(
    ("body", "resting", "times_1_55"),
    (
        # Simplified equation of the abstract, worked out by hand
        (Body(Sex.MALE, 82.4, 178, 41), 1736.50, 2691.58),
        (Body(Sex.MALE, 70, 175, 25), 1673.75, 2594.31),
        (Body(Sex.MALE, 110, 185, 55), 1986.25, 3078.69),
        (Body(Sex.FEMALE, 61, 168, 34), 1329.00, 2059.95),
        (Body(Sex.FEMALE, 92.5, 160, 48), 1524.00, 2362.20),
    ),
)
def test_steps_to_a_target_that_keeps_the_weight(body, resting, times_1_55):
    computed = compute(body, Activity.LIGHT)
    assert computed.resting_kcal == pytest.approx(resting)
    assert computed.kcal == computed.spent_kcal == pytest.approx(times_1_55, abs=0.006)


@pytest.mark.parametrize(
    ("activity", "low", "high"),
    (
        # FAO/WHO/UNU 2001, table 5.3
        (Activity.SITTING, 1.40, 1.69),
        (Activity.LIGHT, 1.40, 1.69),
        (Activity.ACTIVE, 1.70, 1.99),
        (Activity.VIGOROUS, 2.00, 2.40),
    ),
)
def test_factors_lie_in_the_published_ranges(activity, low, high):
    assert low <= ACTIVITY_FACTORS[activity] <= high


def test_the_active_factor_is_the_mid_point_of_the_report():
    # FAO/WHO/UNU 2001, section 5.4.1: women of 20 to 30 years and 55 kg, resting energy 1,302, PAL 1.85: 2,410 kcal
    assert 1302 * ACTIVITY_FACTORS[Activity.ACTIVE] == pytest.approx(2410, abs=2)


def test_energy_of_a_kilogram():
    # Hall 2008: 32.2 MJ/kg; a thermochemical kcal is 4.184 kJ
    assert pytest.approx(32_200 / 4.184, rel=0.001) == KCAL_PER_KG


@pytest.mark.parametrize(
    ("kg_per_week", "kcal"),
    (
        # 3,500 kcal a pound: a pound a week is 500 kcal a day (NHLBI: 500 to 1,000 for 1 to 2 lb a week)
        (0.45359237, 500),
        (-0.5, -550),
        (-1.0, -1100),
    ),
)
def test_goal_rates(kg_per_week, kcal):
    assert daily_change_kcal(kg_per_week) == pytest.approx(kcal, rel=0.003)


def test_no_target_below_the_floor():
    # 1,200 (women) and 1,500 (men) kcal are common practice; NHLBI's usual low-calorie diet ends at 1,000 and 1,200
    small = compute(Body(Sex.FEMALE, 54, 158, 67), Activity.SITTING, -1.0)
    assert (small.kcal, small.floored) == (1200, True)
    man = compute(Body(Sex.MALE, 60, 165, 70), Activity.SITTING, -1.0)
    assert (man.kcal, man.floored) == (1500, True)
    assert FLOORS_KCAL[Sex.FEMALE] > 1000
    assert FLOORS_KCAL[Sex.MALE] > 1200


@pytest.mark.parametrize(
    ("body", "rate"),
    (
        (Body(Sex.FEMALE, 60, 165, 17.9), 0.0),  # under 18
        (Body(Sex.FEMALE, 60, 165, 30), -1.01),  # NICE: 0.5 to 1 kg a week at most
        (Body(Sex.MALE, 80, 20, 30), 0.0),
        (Body(Sex.MALE, 80, 300, 30), 0.0),
        (Body(Sex.MALE, 80, 180, 200), 0.0),
    ),
)
def test_what_no_target_is_computed_for(body, rate):
    with pytest.raises(DomainError):
        compute(body, Activity.LIGHT, rate)
