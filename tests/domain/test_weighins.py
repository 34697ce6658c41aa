"""What can be a weigh-in, and how much of a day was weighed."""

from math import nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from domain.errors import DomainError
from domain.foods import State
from domain.nutrients import Nutrients
from domain.weighins import Evidence, WeighIn, check_batch_weight, check_weight, weighed_share


def eaten(kcal: float | None, evidence: Evidence = Evidence.WEIGHED) -> WeighIn:
    nutrients = None if kcal is None else Nutrients(kcal, 0, 0, 0)
    return WeighIn("rice", State.COOKED, 100, 100, 100, State.COOKED, evidence, nutrients)


@pytest.mark.parametrize("grams", (0.1, 300, 5000))
def test_a_weigh_in_of_up_to_five_kilos_is_fine(grams: float) -> None:
    check_weight(grams)


@pytest.mark.parametrize("grams", (0, -1, 5000.001, nan, float("inf")))
def test_no_weigh_in_weighs_nothing_or_over_five_kilos(grams: float) -> None:
    with pytest.raises(DomainError):
        check_weight(grams)


def test_a_refusal_says_why() -> None:
    with pytest.raises(DomainError, match=r"6\.2 kg is too much for one weigh-in: 5 kg is the most\."):
        check_weight(6200)
    with pytest.raises(DomainError, match="more than zero"):
        check_weight(0)


def test_a_batch_may_weigh_up_to_25_kilos() -> None:
    check_batch_weight(25_000)
    for grams in (0, -3, 25_001):
        with pytest.raises(DomainError):
            check_batch_weight(grams)


def test_the_weighed_share_is_a_share_of_the_energy() -> None:
    assert weighed_share([eaten(600), eaten(200, Evidence.COUNTED)]) == 0.75


@pytest.mark.parametrize("evidence", Evidence)
def test_only_what_was_on_the_scale_counts_as_weighed(evidence: Evidence) -> None:
    on_the_scale = evidence in (Evidence.WEIGHED, Evidence.BOXED)
    assert weighed_share([eaten(100, evidence)]) == (1 if on_the_scale else 0)


def test_a_weight_without_nutrients_has_no_energy_to_count() -> None:
    assert weighed_share([eaten(600), eaten(None, Evidence.COUNTED)]) == 1


@pytest.mark.parametrize("items", ([], [eaten(None)], [eaten(0)]))
def test_without_energy_there_is_no_share(items: list[WeighIn]) -> None:
    assert weighed_share(items) is None


@given(st.lists(st.builds(eaten, st.none() | st.floats(0, 3000), st.sampled_from(Evidence))))
def test_a_share_lies_between_nothing_and_all(items: list[WeighIn]) -> None:
    share = weighed_share(items)
    assert share is None or 0 <= share <= 1
