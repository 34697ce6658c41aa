"""Mass and volume. The values themselves are checked against their sources in tests/published/test_units.py."""

import time
from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from domain.errors import DomainError
from domain.quantities import (
    MASS_UNITS,
    UNITS,
    VOLUME_UNITS,
    Region,
    grams,
    label_grams,
    label_millilitres,
    millilitres,
    read_units,
)

amounts = st.floats(min_value=0, max_value=1e6)


HEADER = "symbol,kind,us,uk,metric,us_label,names,source"


def test_no_two_units_share_a_name() -> None:
    names = [name for unit in UNITS.values() for name in unit.names]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("symbol", UNITS)
def test_every_unit_has_a_source_and_is_called_by_its_own_symbol(symbol: str) -> None:
    unit = UNITS[symbol]
    assert unit.source
    assert symbol in unit.names
    assert min(unit.factors.values()) > 0
    assert unit.us_label > 0


def test_an_empty_factor_is_the_us_one() -> None:
    (unit,) = read_units([HEADER, "gill,volume,118.3,142.1,,,gill|gills,a source"]).values()
    assert unit.factors == {Region.US: 118.3, Region.UK: 142.1, Region.METRIC: 118.3}
    assert (unit.us_label, unit.names) == (118.3, ("gill", "gills"))


@pytest.mark.parametrize("row", ("gill,volume,,142.1,,,gill,a source", "gill,length,118.3,,,,gill,a source"))
def test_a_row_without_a_factor_or_of_another_kind_is_refused(row: str) -> None:
    with pytest.raises(ValueError, match=r"float|UnitKind"):
        read_units([HEADER, row])


@given(amounts, amounts, st.sampled_from(sorted(MASS_UNITS)))
def test_two_weights_in_one_unit_add_up(first: float, second: float, unit: str) -> None:
    assert isclose(grams(first, unit) + grams(second, unit), grams(first + second, unit), rel_tol=1e-12, abs_tol=1e-9)


@given(amounts, st.sampled_from(sorted(VOLUME_UNITS)), st.sampled_from(Region))
def test_a_volume_grows_with_its_amount(amount: float, unit: str, region: Region) -> None:
    assert isclose(
        millilitres(2 * amount, unit, region), 2 * millilitres(amount, unit, region), rel_tol=1e-12, abs_tol=1e-9
    )


def test_pounds_and_ounces_of_one_weight_add_up() -> None:
    assert isclose(grams(1, "lb") + grams(4, "oz"), grams(20, "oz"), rel_tol=1e-12, abs_tol=1e-9)


def test_a_gram_is_a_gram_and_a_litre_a_litre_everywhere() -> None:
    assert grams(300.5, "g") == 300.5
    assert {millilitres(1, "l", region) for region in Region} == {1000.0}


def test_the_regions_disagree_about_a_cup_a_pint_and_a_fluid_ounce() -> None:
    for unit in ("cup", "pint", "floz"):
        assert millilitres(1, unit, Region.US) != millilitres(1, unit, Region.UK)


def test_a_metric_pint_is_the_imperial_one() -> None:
    assert millilitres(1, "pint", Region.METRIC) == millilitres(1, "pint", Region.UK)


@pytest.mark.parametrize("unit", sorted(MASS_UNITS))
def test_a_weight_is_no_volume(unit: str) -> None:
    with pytest.raises(DomainError):
        millilitres(1, unit, Region.US)
    with pytest.raises(DomainError):
        label_millilitres(1, unit)


@pytest.mark.parametrize("unit", sorted(VOLUME_UNITS))
def test_a_volume_is_no_weight(unit: str) -> None:
    with pytest.raises(DomainError):
        grams(1, unit)
    with pytest.raises(DomainError):
        label_grams(1, unit)


def test_an_unknown_unit_is_named_in_the_refusal() -> None:
    with pytest.raises(DomainError, match="handful"):
        grams(1, "handful")


def test_conversions_are_cheap() -> None:
    started = time.process_time()
    for _ in range(10_000):
        grams(12, "oz")
        millilitres(1, "cup", Region.UK)
    assert time.process_time() - started < 1, "thousands a second, also on a slow machine"
