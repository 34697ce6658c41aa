"""A person's own weight."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from domain.bodyweight import Trend, check_body_weight, trend
from domain.errors import DomainError

MONDAY = date(2026, 3, 2)


@pytest.mark.parametrize("kg", (20, 82.4, 300))
def test_a_body_weighs_20_to_300_kg(kg: float) -> None:
    check_body_weight(kg)


@pytest.mark.parametrize("kg", (0, -82.4, 19.99, 300.01, 824, float("nan")))
def test_nothing_else_is_a_body_weight(kg: float) -> None:
    with pytest.raises(DomainError, match="20 and 300 kg"):
        check_body_weight(kg)


def test_the_trend_is_the_mean_of_the_days_there_are() -> None:
    assert trend({MONDAY: 82.0, MONDAY + timedelta(days=1): 83.0}) == Trend(mean=82.5, days=2, least=82.0, most=83.0)


def test_the_trend_looks_at_the_last_seven_days_that_have_a_value() -> None:
    every_third_day = {MONDAY + timedelta(days=3 * number): 80.0 + number for number in range(10)}
    assert trend(every_third_day) == Trend(mean=86.0, days=7, least=83.0, most=89.0)


def test_without_a_value_there_is_no_trend() -> None:
    assert trend({}) is None


@given(st.dictionaries(st.dates(), st.floats(min_value=20, max_value=300), min_size=1, max_size=30))
def test_a_trend_lies_within_its_values_whatever_their_order(values: dict[date, float]) -> None:
    found = trend(values)
    assert found is not None
    last = [values[day] for day in sorted(values)[-7:]]
    assert found.days == len(last)
    assert min(last) - 1e-9 <= found.mean <= max(last) + 1e-9
    assert trend(dict(reversed(values.items()))) == found
