"""Values of the domain as columns, and back."""

from collections.abc import Sequence

from bot.store.schema import NUTRIENTS
from domain.nutrients import Nutrients


def nutrient_values(nutrients: Nutrients | None) -> dict[str, float | None]:
    """The columns of `bot.store.schema.NUTRIENTS`; all of them empty when the nutrients are unknown."""
    if nutrients is None:
        return _UNKNOWN
    return {
        "kcal": nutrients.kcal,
        "protein_g": nutrients.protein_g,
        "fat_g": nutrients.fat_g,
        "carbohydrate_g": nutrients.carbohydrate_g,
        "fibre_g": nutrients.fibre_g,
        "sugars_g": nutrients.sugars_g,
        "saturated_fat_g": nutrients.saturated_fat_g,
        "sodium_mg": nutrients.sodium_mg,
        "alcohol_g": nutrients.alcohol_g,
    }


def nutrients_from(columns: Sequence[float | None]) -> Nutrients | None:
    """The nutrients in columns that stand in the order of `bot.store.schema.NUTRIENTS`, or None when unknown."""
    kcal, protein_g, fat_g, carbohydrate_g, *others = columns
    if kcal is None or protein_g is None or fat_g is None or carbohydrate_g is None:
        return None
    return Nutrients(kcal, protein_g, fat_g, carbohydrate_g, *others)


_UNKNOWN: dict[str, float | None] = dict.fromkeys(NUTRIENTS)
