"""Nutrition labels, and whether their figures are consistent.

A printed figure stands for every value that is rounded to it. US: 21 CFR 101.9(c), as tabled in appendix H of FDA's
Food Labeling Guide. EU and UK: the rounding table of the Commission's guidance of December 2012 on Regulation (EU)
1169/2011. People may type more digits than the rule prints; such a figure is taken as
accurate to half a unit of its last digit.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, replace
from enum import StrEnum
from typing import Final, NamedTuple, Self

from domain.errors import DomainError
from domain.nutrients import (
    ALCOHOL_KCAL_PER_G,
    CARBOHYDRATE_KCAL_PER_G,
    FAT_KCAL_PER_G,
    FIBRE_KCAL_PER_G,
    PROTEIN_KCAL_PER_G,
    Nutrients,
)
from domain.quantities import Region

KJ_PER_KCAL: Final = 4.184
"""The thermochemical calorie, used for food energy (USDA Agriculture Handbook 74, preface)."""

SALT_PER_SODIUM: Final = 2.5
"""Grams of salt that labels count for a gram of sodium (Regulation (EU) 1169/2011, annex I)."""

MOST_KCAL_PER_G: Final = 9.1
"""Upper limit for any food: 9 kcal/g for pure fat, plus an allowance for rounding."""

UNPRINTED_FIBRE: Final = 0.10
"""Fibre assumed possible on a label that states none, as a share of the serving. More is unlikely: from 6 % a food may
claim to be high in fibre (Regulation (EC) 1924/2006, annex) and must then state it."""


class LabelRules(StrEnum):
    """The rules a label follows."""

    US = "US"
    EU = "EU"


def rules_for(region: Region) -> LabelRules:
    """US rules in the US; EU rules in the UK and in metric regions."""
    return LabelRules.US if region is Region.US else LabelRules.EU


@dataclass(frozen=True, slots=True)
class Label:
    """Printed figures per serving of `serving_g` grams, which may also be stated as `measure_count` of a measure."""

    food: str
    serving_g: float
    kcal: float
    protein_g: float
    fat_g: float
    carbohydrate_g: float
    fibre_g: float | None = None
    measure: str | None = None
    measure_count: float = 1
    alcohol_g: float | None = None
    polyols_g: float | None = None
    sugars_g: float | None = None
    saturated_fat_g: float | None = None
    salt_g: float | None = None
    """Sodium times 2.5 (Regulation (EU) 1169/2011, annex I)."""

    def per_100g(self) -> Nutrients:
        """Nutrients per 100 g. Raises DomainError if the serving weight is not positive."""
        if not self.serving_g > 0:
            raise DomainError("The serving on the label has to weigh more than zero.")
        serving = Nutrients(
            kcal=self.kcal,
            protein_g=self.protein_g,
            fat_g=self.fat_g,
            carbohydrate_g=self.carbohydrate_g,
            fibre_g=self.fibre_g,
            sugars_g=self.sugars_g,
            saturated_fat_g=self.saturated_fat_g,
            sodium_mg=None if self.salt_g is None else self.salt_g / SALT_PER_SODIUM * 1000,
            alcohol_g=self.alcohol_g,
        )
        return serving.times(100 / self.serving_g)

    def for_serving(self, grams: float) -> Self:
        """The label with the figures of a serving of so many grams."""
        share = grams / self.serving_g
        figures = {
            each.name: value * share
            for each in fields(self)
            if each.name == "kcal" or each.name.endswith("_g")
            if (value := getattr(self, each.name)) is not None
        }
        return replace(self, **figures)

    @property
    def measure_g(self) -> float | None:
        """Grams of one of the label's measure; None if it states none."""
        if self.measure is None or not self.measure_count > 0:
            return None
        return self.serving_g / self.measure_count


@dataclass(frozen=True, slots=True)
class LabelDoubt:
    """Why the figures of a label are inconsistent.

    `energy_low` and `energy_high` (kcal per serving) bound the energy that the other figures allow; `suspect` names the
    figure that looks wrong: energy, fat, carbohydrate, protein, fibre or serving.
    """

    energy_low: float
    energy_high: float
    suspect: str
    sentence: str


class _Range(NamedTuple):
    low: float
    high: float


def doubt(label: Label, rules: LabelRules) -> LabelDoubt | None:
    """The inconsistency of a label, or None if its energy is consistent with its other figures.

    Interval arithmetic over the rounding rules with the general factors 4/9/4 and alcohol 7 (Regulation (EU)
    1169/2011, annex XIV; 21 CFR 101.9(c)(1)(i)); fibre at 0 to 4 kcal/g as part of the US carbohydrate, at 2 beside
    the EU one; polyols at 0 to 4.
    """
    reach = _reach(label, rules)
    impossible = _impossible(label, rules)
    if impossible is not None:
        suspect, sentence = impossible
        return LabelDoubt(reach.low, reach.high, suspect, sentence)
    if _fits(label, rules):
        return None
    suspect = _suspect(label, rules)
    sentence = (
        f"{_listed(label)} come to {reach.low:.0f} to {reach.high:.0f} kcal, not to {label.kcal:.6g}: "
        f"the {suspect} looks wrong."
    )
    return LabelDoubt(reach.low, reach.high, suspect, sentence)


def _listed(label: Label) -> str:
    figures = [
        f"{label.fat_g:.6g} g fat",
        f"{label.carbohydrate_g:.6g} g carbohydrate",
        f"{label.protein_g:.6g} g protein",
    ]
    more = (("fibre", label.fibre_g), ("alcohol", label.alcohol_g), ("polyols", label.polyols_g))
    figures += [f"{grams:.6g} g {name}" for name, grams in more if grams is not None]
    return f"{', '.join(figures[:-1])} and {figures[-1]}"


def _impossible(label: Label, rules: LabelRules) -> tuple[str, str] | None:
    if not label.serving_g > 0:
        return "serving", "The serving on the label has to weigh more than zero."
    for name, value in _figures(label):
        if value < 0:
            return name, f"The label's {name} can't be less than zero."
    serving = _typed(label.serving_g)
    if _least_weight(label, rules) > serving.high:
        return _heaviest(label), f"{_listed(label)} weigh more than the serving of {label.serving_g:.6g} g."
    if _energy(label.kcal, rules).low > MOST_KCAL_PER_G * serving.high:
        sentence = f"{label.kcal:.6g} kcal in {label.serving_g:.6g} g is more than pure fat holds"
        kilojoules = _fits(_read_as_kilojoules(label), rules)
        return "energy", f"{sentence}; it would fit as kJ." if kilojoules else f"{sentence}."
    return None


def _figures(label: Label) -> Iterator[tuple[str, float]]:
    yield "energy", label.kcal
    yield "fat", label.fat_g
    yield "carbohydrate", label.carbohydrate_g
    yield "protein", label.protein_g
    for name, value in (("fibre", label.fibre_g), ("alcohol", label.alcohol_g), ("polyols", label.polyols_g)):
        if value is not None:
            yield name, value


def _heaviest(label: Label) -> str:
    return max((grams, name) for name, grams in _figures(label) if name != "energy")[1]


def _least_weight(label: Label, rules: LabelRules) -> float:
    grams = [label.fat_g, label.carbohydrate_g, label.protein_g]
    if rules is LabelRules.EU and label.fibre_g is not None:
        grams.append(label.fibre_g)
    least = sum(_grams(value, rules, fat=place == 0).low for place, value in enumerate(grams))
    return least + (_typed(label.alcohol_g).low if label.alcohol_g else 0.0)


def _reach(label: Label, rules: LabelRules) -> _Range:
    """The interval of energy (kcal) that the other figures allow."""
    fat = _grams(label.fat_g, rules, fat=True)
    carbohydrate = _grams(label.carbohydrate_g, rules)
    protein = _grams(label.protein_g, rules)
    alcohol = _typed(label.alcohol_g) if label.alcohol_g else _Range(0, 0)
    polyols = _typed(label.polyols_g) if label.polyols_g else _Range(0, 0)
    fibre = _fibre(label, rules)
    low, high = (
        FAT_KCAL_PER_G * fat[end]
        + CARBOHYDRATE_KCAL_PER_G * carbohydrate[end]
        + PROTEIN_KCAL_PER_G * protein[end]
        + ALCOHOL_KCAL_PER_G * alcohol[end]
        for end in (0, 1)
    )
    # Printed carbohydrate includes polyols everywhere and fibre in the US. Both may count 0 kcal: the low bound drops.
    uncounted = polyols.high
    if rules is LabelRules.US:
        uncounted += fibre.high
    else:
        low += FIBRE_KCAL_PER_G * fibre.low
        high += FIBRE_KCAL_PER_G * fibre.high
    return _Range(low - CARBOHYDRATE_KCAL_PER_G * min(uncounted, carbohydrate.low), high)


def _fibre(label: Label, rules: LabelRules) -> _Range:
    if label.fibre_g is None:
        weight = label.fat_g + label.carbohydrate_g + label.protein_g
        room = label.carbohydrate_g if rules is LabelRules.US else max(0.0, label.serving_g - weight)
        return _Range(0, min(room, UNPRINTED_FIBRE * label.serving_g))
    if label.fibre_g == 0 and rules is LabelRules.US:
        # Zero fibre on the label means none was subtracted when its energy was computed.
        return _Range(0, 0)
    return _grams(label.fibre_g, rules)


def _fits(label: Label, rules: LabelRules) -> bool:
    reach, energy = _reach(label, rules), _energy(label.kcal, rules)
    return energy.low <= reach.high and reach.low <= energy.high


# Intervals of values that round to a printed figure.


def _energy(kcal: float, rules: LabelRules) -> _Range:
    """kcal before rounding. US: below 5 is 0, up to 50 the nearest 5, above the nearest 10. EU: the nearest 1."""
    if rules is LabelRules.EU:
        return _rounded(kcal, 1)
    if kcal == 0:
        return _Range(0, 5)
    if kcal == 50:
        return _Range(47.5, 55)
    return _rounded(kcal, 5 if kcal < 50 else 10)


def _grams(grams: float, rules: LabelRules, *, fat: bool = False) -> _Range:
    """Grams before rounding. US: below 0.5 is 0; fat to the nearest 0.5 below 5; the rest to the nearest 1.

    EU: to 0.5 is 0, below 10 the nearest 0.1, above the nearest 1.
    """
    if grams == 0:
        return _Range(0, 0.5)
    if rules is LabelRules.EU:
        return _rounded(grams, 0.1 if grams < 10 else 1)
    if fat and grams == 0.5:
        return _Range(0.5, 0.75)
    if fat and grams == 5:
        return _Range(4.75, 5.5)
    return _rounded(grams, 0.5 if fat and grams < 5 else 1)


def _rounded(value: float, step: float) -> _Range:
    steps = value / step
    if abs(steps - round(steps)) > 1e-6:
        return _typed(value)
    return _Range(value - step / 2, value + step / 2)


def _typed(value: float) -> _Range:
    """The interval of half a unit of the last digit around a figure."""
    _, _, decimals = _digits(value).partition(".")
    half = 0.5 * 10.0 ** -len(decimals)
    return _Range(value - half, value + half)


def _digits(value: float) -> str:
    return f"{value:.6f}".rstrip("0").rstrip(".")


# The suspect is the figure whose correction for a common typing error makes the label consistent; most common first.


def _suspect(label: Label, rules: LabelRules) -> str:
    if _fits(_read_as_kilojoules(label), rules):
        return "energy"
    for slips in (_swaps, _point_slips, _other_digits, _digits_lost_or_doubled):
        for name, value, with_value in _slippable(label):
            for meant in map(with_value, slips(value)):
                if _fits(meant, rules) and _impossible(meant, rules) is None:
                    return name
    return "energy"


def _read_as_kilojoules(label: Label) -> Label:
    return replace(label, kcal=round(label.kcal / KJ_PER_KCAL))


def _slippable(label: Label) -> Iterator[tuple[str, float, Callable[[float], Label]]]:
    yield "energy", label.kcal, lambda kcal: replace(label, kcal=kcal)
    yield "fat", label.fat_g, lambda grams: replace(label, fat_g=grams)
    yield "carbohydrate", label.carbohydrate_g, lambda grams: replace(label, carbohydrate_g=grams)
    yield "protein", label.protein_g, lambda grams: replace(label, protein_g=grams)
    if label.fibre_g is not None:
        yield "fibre", label.fibre_g, lambda grams: replace(label, fibre_g=grams)


def _swaps(value: float) -> Iterator[float]:
    text = _digits(value)
    for place in range(len(text) - 1):
        if text[place].isdigit() and text[place + 1].isdigit():
            yield float(text[:place] + text[place + 1] + text[place] + text[place + 2 :])


def _point_slips(value: float) -> Iterator[float]:
    yield value / 10
    yield value * 10


def _other_digits(value: float) -> Iterator[float]:
    text = _digits(value)
    for place, digit in enumerate(text):
        if digit.isdigit():
            yield from (float(text[:place] + other + text[place + 1 :]) for other in "0123456789" if other != digit)


def _digits_lost_or_doubled(value: float) -> Iterator[float]:
    text = _digits(value)
    for place in range(len(text)):
        if len(text) > 1 and text[place].isdigit():
            yield float((text[:place] + text[place + 1 :]).strip(".") or "0")
    for place in range(len(text) + 1):
        yield from (float(text[:place] + digit + text[place:]) for digit in "0123456789")
