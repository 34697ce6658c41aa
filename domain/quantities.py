"""Units of mass and volume: their names, what they hold by region, and what a US nutrition label means by them.

`units.csv` beside this module has one row for each unit, with the source of its factors. `bot.language` reads the names
from the same rows, so a unit is added in one place. Columns:

- `symbol`: the key used in code and in stored records.
- `kind`: `mass` (factors in grams) or `volume` (factors in millilitres).
- `us`, `uk`, `metric`: what one unit holds by region; an empty `uk` or `metric` means the same as `us`.
- `us_label`: the rounded equivalent on a US nutrition label; empty means the same as `us`.
- `names`: what people call it, separated by `|`, plurals included; replies use the first. A name in upper case ("T") is
  matched with its case, every other one without.
"""

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from importlib import resources
from typing import Final

from domain.errors import DomainError


class Region(StrEnum):
    """Decides what a cup, a spoon, a pint and a fluid ounce hold."""

    US = "US"
    UK = "UK"
    METRIC = "metric"


class UnitKind(StrEnum):
    """What a unit measures."""

    MASS = "mass"
    VOLUME = "volume"


@dataclass(frozen=True, slots=True)
class Unit:
    """One row of `units.csv`. Factors are grams (mass) or millilitres (volume) in one unit."""

    symbol: str
    kind: UnitKind
    names: tuple[str, ...]
    factors: Mapping[Region, float]
    us_label: float
    source: str


def read_units(lines: list[str]) -> dict[str, Unit]:
    """The units of a table in the format of `units.csv`, by symbol. Raises ValueError for a row that does not parse."""
    return {row["symbol"]: _unit(row) for row in csv.DictReader(lines)}


def _unit(row: Mapping[str, str]) -> Unit:
    us = float(row["us"])
    return Unit(
        symbol=row["symbol"],
        kind=UnitKind(row["kind"]),
        names=tuple(row["names"].split("|")),
        # Where litres are the rule, a pint or fluid ounce asked for by name is most often the imperial one.
        factors={Region.US: us, Region.UK: float(row["uk"] or us), Region.METRIC: float(row["metric"] or us)},
        us_label=float(row["us_label"] or us),
        source=row["source"],
    )


UNITS: Final[Mapping[str, Unit]] = read_units((resources.files("domain") / "units.csv").read_text("utf-8").splitlines())

MASS_UNITS: Final = frozenset(symbol for symbol, unit in UNITS.items() if unit.kind is UnitKind.MASS)
VOLUME_UNITS: Final = frozenset(symbol for symbol, unit in UNITS.items() if unit.kind is UnitKind.VOLUME)


def _of_kind(symbol: str, kind: UnitKind) -> Unit:
    unit = UNITS.get(symbol)
    if unit is None or unit.kind is not kind:
        noun = "weight" if kind is UnitKind.MASS else "volume"
        raise DomainError(f"“{symbol}” is not a unit of {noun} that I know.")
    return unit


def grams(value: float, unit: str) -> float:
    """Grams in `value` of a unit of `MASS_UNITS`; exact factors, the same in every region.

    Raises DomainError for any other unit.
    """
    return value * _of_kind(unit, UnitKind.MASS).factors[Region.US]


def millilitres(value: float, unit: str, region: Region) -> float:
    """Millilitres in `value` of a unit of `VOLUME_UNITS`, as kitchens of the region measure it.

    US: US customary. UK and metric: cup 250 mL, spoons 15 mL and 5 mL; fluid ounce, pint, quart and gallon imperial.
    Raises DomainError for any other unit.
    """
    return value * _of_kind(unit, UnitKind.VOLUME).factors[region]


def label_millilitres(value: float, unit: str) -> float:
    """Millilitres that a US nutrition label means: cup 240, tbsp 15, tsp 5, floz 30 (21 CFR 101.9(b)(5)(viii)).

    Units that the rule does not round keep their US customary volume. Raises DomainError for an unknown unit.
    """
    return value * _of_kind(unit, UnitKind.VOLUME).us_label


def label_grams(value: float, unit: str) -> float:
    """Grams that a US nutrition label means: oz 28 (21 CFR 101.9(b)(5)(viii)), other units exact.

    Raises DomainError for an unknown unit.
    """
    return value * _of_kind(unit, UnitKind.MASS).us_label
