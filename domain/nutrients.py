"""Nutrient vectors: scaled, summed, with unknown values kept unknown.

Energy factors, kcal per gram: general Atwater factors for protein, fat and carbohydrate (FAO Food and Nutrition
Paper 77, chapter 3; the same in Regulation (EU) 1169/2011, Annex XIV); alcohol, fibre and polyols from that annex.
Table energy is kept as published and never recomputed with them, because tables use food-specific factors.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

PROTEIN_KCAL_PER_G: Final = 4.0
FAT_KCAL_PER_G: Final = 9.0
CARBOHYDRATE_KCAL_PER_G: Final = 4.0
ALCOHOL_KCAL_PER_G: Final = 7.0
FIBRE_KCAL_PER_G: Final = 2.0
POLYOLS_KCAL_PER_G: Final = 2.4

OPTIONAL_FIELDS: Final = ("fibre_g", "sugars_g", "saturated_fat_g", "sodium_mg", "alcohol_g")


def _scaled(value: float | None, factor: float) -> float | None:
    return None if value is None else value * factor


@dataclass(frozen=True, slots=True)
class Nutrients:
    """Nutrients of some amount of food: energy in kcal, sodium in mg, the rest in g. None means unknown."""

    kcal: float
    protein_g: float
    fat_g: float
    carbohydrate_g: float
    fibre_g: float | None = None
    sugars_g: float | None = None
    saturated_fat_g: float | None = None
    sodium_mg: float | None = None
    alcohol_g: float | None = None

    def times(self, factor: float) -> "Nutrients":
        """All values multiplied by `factor`; unknown values stay unknown."""
        return Nutrients(
            kcal=self.kcal * factor,
            protein_g=self.protein_g * factor,
            fat_g=self.fat_g * factor,
            carbohydrate_g=self.carbohydrate_g * factor,
            fibre_g=_scaled(self.fibre_g, factor),
            sugars_g=_scaled(self.sugars_g, factor),
            saturated_fat_g=_scaled(self.saturated_fat_g, factor),
            sodium_mg=_scaled(self.sodium_mg, factor),
            alcohol_g=_scaled(self.alcohol_g, factor),
        )

    def for_grams(self, grams: float) -> "Nutrients":
        """The nutrients of `grams` grams, if self is per 100 g."""
        return self.times(grams / 100)

    def without_fat(self, fat_g: float) -> "Nutrients":
        """The nutrients after `fat_g` grams of fat were poured off, at 9 kcal/g; never below zero.

        At most the fat that is there is subtracted; any excess was water. Saturated fat is reduced in proportion.
        """
        poured_g = min(fat_g, self.fat_g)
        stays = 1 - poured_g / self.fat_g if self.fat_g > 0 else 1.0
        return Nutrients(
            kcal=max(0.0, self.kcal - FAT_KCAL_PER_G * poured_g),
            protein_g=self.protein_g,
            fat_g=self.fat_g - poured_g,
            carbohydrate_g=self.carbohydrate_g,
            fibre_g=self.fibre_g,
            sugars_g=self.sugars_g,
            saturated_fat_g=_scaled(self.saturated_fat_g, stays),
            sodium_mg=self.sodium_mg,
            alcohol_g=self.alcohol_g,
        )


@dataclass(frozen=True, slots=True)
class Traces:
    """Milligrams of what the tables hold besides, in 100 g or in some amount of a food. None: not known."""

    potassium_mg: float | None = None
    calcium_mg: float | None = None
    iron_mg: float | None = None
    cholesterol_mg: float | None = None

    def for_grams(self, grams: float) -> "Traces":
        """What `grams` of the food hold, where self is what 100 g hold; what is unknown stays unknown."""
        factor = grams / 100
        return Traces(
            potassium_mg=_scaled(self.potassium_mg, factor),
            calcium_mg=_scaled(self.calcium_mg, factor),
            iron_mg=_scaled(self.iron_mg, factor),
            cholesterol_mg=_scaled(self.cholesterol_mg, factor),
        )


@dataclass(frozen=True, slots=True)
class Total:
    """A sum of nutrients. For fields in `incomplete`, some part is unknown and the sum is a lower bound."""

    nutrients: Nutrients
    incomplete: frozenset[str]

    def certain(self) -> Nutrients:
        """The sum with every incomplete field set to unknown, so that a lower bound is not mistaken for the value."""
        return Nutrients(
            kcal=self.nutrients.kcal,
            protein_g=self.nutrients.protein_g,
            fat_g=self.nutrients.fat_g,
            carbohydrate_g=self.nutrients.carbohydrate_g,
            fibre_g=self._unless_incomplete("fibre_g"),
            sugars_g=self._unless_incomplete("sugars_g"),
            saturated_fat_g=self._unless_incomplete("saturated_fat_g"),
            sodium_mg=self._unless_incomplete("sodium_mg"),
            alcohol_g=self._unless_incomplete("alcohol_g"),
        )

    def _unless_incomplete(self, field: str) -> float | None:
        value: float | None = None if field in self.incomplete else getattr(self.nutrients, field)
        return value


def total(parts: Iterable[Nutrients]) -> Total:
    """The sum of all parts, with the fields for which some part is unknown.

    A field unknown in every part stays unknown. Without any parts the sum is zero.
    """
    parts = tuple(parts)
    sums: dict[str, float | None] = {}
    incomplete: set[str] = set()
    for field in OPTIONAL_FIELDS:
        values = [getattr(part, field) for part in parts]
        known = [value for value in values if value is not None]
        if len(known) < len(values):
            incomplete.add(field)
        sums[field] = sum(known) if known or not values else None
    summed = Nutrients(
        kcal=sum(part.kcal for part in parts),
        protein_g=sum(part.protein_g for part in parts),
        fat_g=sum(part.fat_g for part in parts),
        carbohydrate_g=sum(part.carbohydrate_g for part in parts),
        **sums,
    )
    return Total(summed, frozenset(incomplete))
