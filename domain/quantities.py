"""Mass and volume: what a scale shows, what a kitchen measures by region, what a label means by a cup.

Exact factors: NIST Handbook 44, appendix C (General Tables of Units of Measurement): avoirdupois pound 453.592 37 g,
US gallon 3.785 411 784 L, imperial fluid ounce 28.413 062 5 mL, and their parts and multiples. The stone of 14 lb: UK
Weights and Measures Act 1985, schedule 1. The metric cup of 250 mL: Standards Australia; the spoons of 15 mL and 5 mL:
those sold in the UK today. Label equivalents: 21 CFR 101.9(b)(5)(viii).
"""

from collections.abc import Mapping
from enum import StrEnum
from typing import Final

from pint import UnitRegistry

from domain.errors import DomainError


class Region(StrEnum):
    """Decides what a cup, a spoon, a pint and a fluid ounce hold."""

    US = "US"
    UK = "UK"
    METRIC = "metric"


_DEFINITIONS: Final = (
    "gram = [mass]",
    "kilogram = 1000 * gram",
    "milligram = 0.001 * gram",
    "pound = 453.59237 * gram",
    "ounce = pound / 16",
    "stone = 14 * pound",
    "millilitre = [volume]",
    "centilitre = 10 * millilitre",
    "decilitre = 100 * millilitre",
    "litre = 1000 * millilitre",
    "us_gallon = 3785.411784 * millilitre",
    "us_quart = us_gallon / 4",
    "us_pint = us_gallon / 8",
    "us_cup = us_gallon / 16",
    "us_fluid_ounce = us_gallon / 128",
    "us_tablespoon = us_fluid_ounce / 2",
    "us_teaspoon = us_fluid_ounce / 6",
    "imperial_fluid_ounce = 28.4130625 * millilitre",
    "imperial_pint = 20 * imperial_fluid_ounce",
    "imperial_quart = 40 * imperial_fluid_ounce",
    "imperial_gallon = 160 * imperial_fluid_ounce",
    "metric_cup = 250 * millilitre",
    "metric_tablespoon = 15 * millilitre",
    "metric_teaspoon = 5 * millilitre",
)

_MASS_NAMES: Final = {
    "g": "gram",
    "kg": "kilogram",
    "mg": "milligram",
    "oz": "ounce",
    "lb": "pound",
    "st": "stone",
}

_LITRE_NAMES: Final = {"ml": "millilitre", "cl": "centilitre", "dl": "decilitre", "l": "litre"}

_US_NAMES: Final = _LITRE_NAMES | {
    "tsp": "us_teaspoon",
    "tbsp": "us_tablespoon",
    "cup": "us_cup",
    "floz": "us_fluid_ounce",
    "pint": "us_pint",
    "quart": "us_quart",
    "gallon": "us_gallon",
}

# Where litres are at home, a pint or a fluid ounce that is asked for by name is most often the imperial one.
_IMPERIAL_NAMES: Final = _LITRE_NAMES | {
    "tsp": "metric_teaspoon",
    "tbsp": "metric_tablespoon",
    "cup": "metric_cup",
    "floz": "imperial_fluid_ounce",
    "pint": "imperial_pint",
    "quart": "imperial_quart",
    "gallon": "imperial_gallon",
}


def _factors(registry: "UnitRegistry[float]", names: Mapping[str, str], base: str) -> dict[str, float]:
    return {unit: float(registry.Quantity(1.0, name).to(base).magnitude) for unit, name in names.items()}


def _read_factors() -> tuple[dict[str, float], dict[Region, dict[str, float]]]:
    # An empty registry: reading pint's whole default table would cost a third of a second at every start.
    registry: UnitRegistry[float] = UnitRegistry(None)
    for definition in _DEFINITIONS:
        registry.define(definition)
    us = _factors(registry, _US_NAMES, "millilitre")
    imperial = _factors(registry, _IMPERIAL_NAMES, "millilitre")
    volumes = {Region.US: us, Region.UK: imperial, Region.METRIC: imperial}
    return _factors(registry, _MASS_NAMES, "gram"), volumes


_GRAMS, _MILLILITRES = _read_factors()

# 21 CFR 101.9(b)(5)(viii): for the label, 1 cup means 240 mL, 1 tablespoon 15 mL, 1 teaspoon 5 mL, 1 fluid ounce 30 mL
# and 1 oz in weight 28 g.
_LABEL_MILLILITRES: Final = _MILLILITRES[Region.US] | {"cup": 240.0, "tbsp": 15.0, "tsp": 5.0, "floz": 30.0}
_LABEL_GRAMS: Final = _GRAMS | {"oz": 28.0}

MASS_UNITS: Final = frozenset(_GRAMS)
VOLUME_UNITS: Final = frozenset(_MILLILITRES[Region.US])


def _converted(value: float, unit: str, factors: Mapping[str, float], kind: str) -> float:
    try:
        return value * factors[unit]
    except KeyError:
        raise DomainError(f"“{unit}” is not a unit of {kind} that I know.") from None


def grams(value: float, unit: str) -> float:
    """Grams in `value` of a unit of `MASS_UNITS` (NIST Handbook 44, appendix C, exact).

    Raises DomainError for any other unit.
    """
    return _converted(value, unit, _GRAMS, "weight")


def millilitres(value: float, unit: str, region: Region) -> float:
    """Millilitres in `value` of a unit of `VOLUME_UNITS` as the region's kitchens measure it.

    US: US customary. UK and metric: cup 250 mL, spoons 15 mL and 5 mL, fluid ounce, pint, quart and gallon imperial
    (NIST Handbook 44, appendix C, exact). Raises DomainError for any other unit.
    """
    return _converted(value, unit, _MILLILITRES[region], "volume")


def label_millilitres(value: float, unit: str) -> float:
    """Millilitres that a US nutrition label means: cup 240, tbsp 15, tsp 5, floz 30 (21 CFR 101.9(b)(5)(viii)).

    Units that the rule does not round keep their US customary volume. Raises DomainError for an unknown unit.
    """
    return _converted(value, unit, _LABEL_MILLILITRES, "volume")


def label_grams(value: float, unit: str) -> float:
    """Grams that a US nutrition label means: oz 28 (21 CFR 101.9(b)(5)(viii)), other units exact.

    Raises DomainError for an unknown unit.
    """
    return _converted(value, unit, _LABEL_GRAMS, "weight")
