"""A month of three people: nothing false is on record, and the questions end."""

import pytest

from tests.pages import EFFORT, generated

from . import month
from .month import Week


@pytest.fixture(scope="module")
def months() -> dict[str, list[Week]]:
    return month.months()


def test_the_table_is_up_to_date(months: dict[str, list[Week]]) -> None:
    assert generated(EFFORT, "month") == month.table(months), "to write it: python -m tests.conversation.month"


def test_nothing_false_is_on_record(months: dict[str, list[Week]]) -> None:
    assert [each for weeks in months.values() for week in weeks for each in week.false] == []


def test_the_questions_end(months: dict[str, list[Week]]) -> None:
    """Under 5 for 100 weigh-ins from the third week on, and under 2 in the last, of all three together."""
    for n, most in ((2, 5), (3, 2)):
        together = [weeks[n] for weeks in months.values()]
        assert 100 * sum(week.questions for week in together) / sum(week.weigh_ins for week in together) < most


def test_fifteen_weighings_take_two_minutes(months: dict[str, list[Week]]) -> None:
    everything = [week for weeks in months.values() for week in weeks]
    assert 15 * sum(week.seconds for week in everything) / sum(week.weighings for week in everything) <= 120
