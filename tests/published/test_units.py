"""Mass and volume against NIST, 21 CFR, Standards Australia, and the default registry of pint as a second opinion.

'read' or 'memory' beside a source says whether the value was seen there or is known by heart.
"""

from functools import cache
from math import isclose

import pytest
from pint import UnitRegistry

from domain.quantities import (
    UNITS,
    Region,
    Unit,
    UnitKind,
    grams,
    label_grams,
    label_millilitres,
    millilitres,
)

HB44 = "NIST Handbook 44, appendix C (read)"


@pytest.mark.parametrize(
    ("unit", "published_g", "source"),
    (
        ("lb", 453.59237, f"{HB44}, section 4, exact; NIST SP 811, appendix B"),
        ("oz", 28.349523125, f"{HB44}, section 4, exact"),
        ("st", 6350.29318, "UK Weights and Measures Act 1985, schedule 1: 14 lb (read)"),
        ("kg", 1000, "SI"),
        ("mg", 0.001, "SI"),
    ),
)
def test_scale_units_hold_what_nist_says(unit: str, published_g: float, source: str) -> None:
    assert isclose(grams(1, unit), published_g, rel_tol=1e-14), source


@pytest.mark.parametrize(
    ("unit", "published_ml", "source"),
    (
        ("floz", 29.5735295625, f"{HB44}, exact"),
        ("cup", 236.5882365, f"{HB44}; NIST SP 811: 2.365882E-04 m3 (memory)"),
        ("tbsp", 14.78676478125, "NIST SP 811: 1.478676E-05 m3 (memory)"),
        ("tsp", 4.92892159375, "NIST SP 811: 4.928922E-06 m3 (memory)"),
        ("pint", 473.176473, HB44),
        ("quart", 946.352946, HB44),
        ("gallon", 3785.411784, HB44),
    ),
)
def test_us_kitchen_units_hold_what_nist_says(unit: str, published_ml: float, source: str) -> None:
    assert isclose(millilitres(1, unit, Region.US), published_ml, rel_tol=1e-14), source


@pytest.mark.parametrize("region", (Region.UK, Region.METRIC))
@pytest.mark.parametrize(
    ("unit", "published_ml", "source"),
    (
        ("floz", 28.4130625, f"{HB44}, section 3, notes, exact"),
        ("pint", 568.26125, f"{HB44}, section 3, notes"),
        ("gallon", 4546.09, f"{HB44}, section 3, notes"),
        ("cup", 250, "Standards Australia metric cup (read at healthykids.nsw.gov.au)"),
        ("tbsp", 15, "UK tablespoon of today (read in three unit tables)"),
        ("tsp", 5, "metric teaspoon (read at healthykids.nsw.gov.au)"),
    ),
)
def test_british_and_metric_kitchen_units(region: Region, unit: str, published_ml: float, source: str) -> None:
    assert isclose(millilitres(1, unit, region), published_ml, rel_tol=1e-14), source


@pytest.mark.parametrize(
    ("unit", "published_ml"), (("tsp", 5), ("tbsp", 15), ("cup", 240), ("floz", 30)), ids=("tsp", "tbsp", "cup", "floz")
)
def test_a_us_label_rounds_its_measures(unit: str, published_ml: float) -> None:
    assert label_millilitres(1, unit) == published_ml, "21 CFR 101.9(b)(5)(viii) (read)"


def test_a_us_label_rounds_its_ounce() -> None:
    assert label_grams(1, "oz") == 28, "21 CFR 101.9(b)(5)(viii) (read)"
    assert label_grams(8, "oz") == 224, "21 CFR 101.9(b)(5)(viii) (read), times 8"


@pytest.mark.parametrize(
    ("worked", "published", "last_digit"),
    (
        # Computed by hand from the rows above, to the digits given.
        (grams(12, "oz"), 340.19, 0.01),
        (millilitres(12, "floz", Region.US), 354.88, 0.01),
        (label_millilitres(12, "floz"), 360.00, 0.01),
        (millilitres(12, "floz", Region.UK), 340.96, 0.01),
        (grams(1, "lb") + grams(4, "oz"), 566.99, 0.01),
        (grams(8, "oz"), 226.80, 0.01),
        (millilitres(3, "tbsp", Region.US), 44.36, 0.01),
        (millilitres(3, "tbsp", Region.METRIC), 45.00, 0.01),
        (grams(10, "st") + grams(7, "lb"), 66_678.1, 0.1),
    ),
)
def test_worked_conversions(worked: float, published: float, last_digit: float) -> None:
    assert abs(worked - published) <= last_digit / 2


def test_the_household_card_rounds_the_us_measures() -> None:
    """NIST SP 430 (2004), kitchen volumes (read): tsp 5, tbsp 15, fl oz 30, cup 240, pint 470, quart 950 mL."""
    card = {"tsp": 5, "tbsp": 15, "floz": 30, "cup": 240, "pint": 470, "quart": 950}
    for unit, rounded in card.items():
        assert isclose(millilitres(1, unit, Region.US), rounded, rel_tol=0.015), unit


@cache
def pint_registry() -> "UnitRegistry[float]":
    return UnitRegistry()


# Units that pint does not define in the sense meant here: millilitres, with the place they were read.
METRIC_MEASURES: dict[str, tuple[float, str]] = {
    "tsp": (5, "metric teaspoon (read at healthykids.nsw.gov.au)"),
    "tbsp": (15, "UK tablespoon of today (read in three unit tables)"),
    "cup": (250, "Standards Australia metric cup (read at healthykids.nsw.gov.au)"),
}


def pint_opinion(unit: Unit, region: Region) -> float | None:
    """Grams or millilitres in one unit by pint's default registry, looked up by the names people say."""
    registry = pint_registry()
    base = "gram" if unit.kind is UnitKind.MASS else "milliliter"
    imperial = unit.kind is UnitKind.VOLUME and region is not Region.US
    names = [name.replace(" ", "_") for name in unit.names]
    for name in [*(f"imperial_{n}" for n in names if imperial), *names]:
        if name in registry and registry.Quantity(1, name).is_compatible_with(base):
            return float(registry.Quantity(1, name).to(base).magnitude)
    return None


@pytest.mark.parametrize("region", Region)
@pytest.mark.parametrize("symbol", UNITS)
def test_every_unit_holds_what_pint_or_a_published_table_says(symbol: str, region: Region) -> None:
    unit = UNITS[symbol]
    if region is not Region.US and symbol in METRIC_MEASURES:
        published, source = METRIC_MEASURES[symbol]
    else:
        opinion = pint_opinion(unit, region)
        assert opinion is not None, f"pint knows no name of {symbol}: add its published value to METRIC_MEASURES"
        published, source = opinion, "pint"
    held = grams(1, symbol) if unit.kind is UnitKind.MASS else millilitres(1, symbol, region)
    assert isclose(held, published, rel_tol=1e-12), source


def test_the_second_opinion_tells_units_apart() -> None:
    """The look-up by name finds the unit meant, not the first that happens to parse."""
    assert pint_opinion(UNITS["floz"], Region.UK) != pint_opinion(UNITS["floz"], Region.US)
    assert pint_opinion(UNITS["st"], Region.UK) == pytest.approx(6350.29318)
