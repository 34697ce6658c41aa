"""Whole to edible, gross to net."""

from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from domain.edible import edible_portion, net, without_waste
from domain.errors import DomainError

weights = st.floats(min_value=0.1, max_value=5000)


@given(weights, st.floats(min_value=0, max_value=1))
def test_the_edible_part_and_the_refuse_make_the_whole(whole_g: float, refuse: float) -> None:
    edible_g = edible_portion(whole_g, refuse)
    assert 0 <= edible_g <= whole_g
    assert isclose(edible_g + whole_g * refuse, whole_g, rel_tol=1e-9)


@pytest.mark.parametrize("refuse", (-0.01, 1.01, 36))
def test_refuse_is_a_share_of_the_whole(refuse: float) -> None:
    with pytest.raises(DomainError):
        edible_portion(250, refuse)


def test_weighed_waste_is_taken_off() -> None:
    assert without_waste(190, 19) == 171


@pytest.mark.parametrize("waste_g", (190, 200, -1))
def test_waste_is_less_than_the_whole(waste_g: float) -> None:
    with pytest.raises(DomainError):
        without_waste(190, waste_g)


def test_the_vessel_is_taken_off() -> None:
    assert net(432, 132) == 300


@pytest.mark.parametrize("tare_g", (432, 500, -1))
def test_a_vessel_is_lighter_than_the_vessel_with_the_food(tare_g: float) -> None:
    with pytest.raises(DomainError):
        net(432, tare_g)


@given(weights, weights)
def test_a_net_weight_is_always_more_than_nothing(gross_g: float, tare_g: float) -> None:
    try:
        assert net(gross_g, tare_g) > 0
    except DomainError:
        assert tare_g >= gross_g


def test_refusals_are_sentences() -> None:
    with pytest.raises(DomainError, match=r"^500 g of waste from 190\.5 g .*\.$"):
        without_waste(190.5, 500)
