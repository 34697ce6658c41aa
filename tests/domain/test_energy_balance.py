"""Energy balance against SciPy's regression, and against people whose energy is known."""

import random
from datetime import date, timedelta

import pytest
from scipy import stats

from domain.energy_balance import energy_balance, student_t_975

FIRST = date(2026, 3, 1)


def days(values):
    return {FIRST + timedelta(days=n): value for n, value in enumerate(values)}


@pytest.mark.parametrize("freedom", (10, 12, 20, 28, 60, 365))
def test_students_t_against_scipy(freedom):
    assert student_t_975(freedom) == pytest.approx(stats.t.ppf(0.975, freedom), abs=5e-4)


@pytest.mark.parametrize("freedom", (4, 5, 7))
def test_students_t_of_few_values_against_scipy(freedom):
    assert student_t_975(freedom) == pytest.approx(stats.t.ppf(0.975, freedom), abs=1e-2)


@pytest.mark.parametrize("seed", range(5))
def test_slope_and_interval_against_scipy(seed):
    """Every other day has a weight, so that no two are alike because one follows the other."""
    chance = random.Random(seed)
    weights = {FIRST + timedelta(days=n): 80 - 0.05 * n + chance.gauss(0, 0.6) for n in range(0, 56, 2)}
    found = energy_balance(days([2000.0] * 28), weights)
    assert found is not None
    line = stats.linregress(range(0, 56, 2), list(weights.values()))
    assert found.kg_per_week == pytest.approx(7 * line.slope)
    assert found.kg_per_week_error == pytest.approx(7 * line.stderr * stats.t.ppf(0.975, 26), rel=1e-3)


def test_days_that_resemble_their_neighbours_widen_the_interval():
    weights = [80.0 + (0.5 if n // 4 % 2 else -0.5) for n in range(28)]
    shuffled = weights[::2] + weights[1::2]
    alike, other = (energy_balance(days([2000.0] * 28), days(each)) for each in (weights, shuffled))
    assert alike is not None
    assert other is not None
    plain = stats.linregress(range(28), weights).stderr * stats.t.ppf(0.975, 26) * 7700
    assert alike.spent_error_kcal > 1.3 * plain


def test_losing_half_a_kilogram_a_week_is_550_kcal_a_day():
    # 0.5 kg/week x 7,700 kcal/kg / 7 days
    found = energy_balance(days([1800.0] * 21), days([80 - n / 14 for n in range(21)]))
    assert found is not None
    assert found.spent_kcal == pytest.approx(1800 + 550)
    assert found.spent_error_kcal == pytest.approx(0, abs=1e-6)


def test_the_interval_holds_the_truth_about_95_times_in_100():
    chance = random.Random(7)
    held = 0
    for _ in range(400):
        weights = [75 - 0.04 * n + chance.gauss(0, 0.5) for n in range(30)]
        found = energy_balance(days([2100.0] * 30), days(weights))
        assert found is not None
        held += abs(found.spent_kcal - (2100 + 0.04 * 7700)) <= found.spent_error_kcal
    assert 0.92 < held / 400 < 0.98


@pytest.mark.parametrize(("eaten", "weighed"), ((13, 20), (20, 13), (0, 0)))
def test_two_weeks_of_both_are_needed(eaten, weighed):
    assert energy_balance(days([2000.0] * eaten), days([80.0] * weighed)) is None
