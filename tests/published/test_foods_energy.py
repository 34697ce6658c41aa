"""The energy of every row against what its own protein, fat, carbohydrate and alcohol give.

General Atwater factors: 4, 9, 4 and 7 kcal/g (Merrill & Watt, Energy Value of Foods, USDA Handbook 74, 1973). USDA
reckons with factors of each food, so that some rows differ by much; each of those is named with its reason.
"""

from collections.abc import Mapping

import pytest

from domain.foods import FoodRow
from domain.reference import load

ROWS = [row for food in load().foods.values() for row in food.rows]

FAR = 0.25
LEAST_KCAL = 15.0

FIBRE = "much of its carbohydrate is fibre or bran, which the factors of Handbook 74 count with less or nothing"
ACID = "its energy is that of acetic acid, which is counted with none of the four"
CITRUS = "citric acid stands among its carbohydrate with 2.47 kcal/g"
SWEETENER = "its carbohydrate is a polyol or a sweetener that gives little or no energy"
OUTLIERS: Mapping[str, str] = {
    **dict.fromkeys(
        (
            *("allspice", "cayenne pepper", "chili powder", "cinnamon", "coriander seed", "dill seed", "dried basil"),
            *("dried chervil", "dried dill", "fresh thyme", "ground cloves", "paprika", "matcha powder"),
            *("carob flour", "cocoa powder", "corn bran", "oat bran", "rice bran", "wheat bran"),
            *("cooked oat bran cereal", "lemon zest"),
        ),
        FIBRE,
    ),
    **dict.fromkeys(
        ("apple cider vinegar", "red wine vinegar", "white wine vinegar", "rice vinegar", "white vinegar"), ACID
    ),
    **dict.fromkeys(("lemon", "lime"), CITRUS),
    **dict.fromkeys(("monk fruit sweetener", "stevia", "sugar free chewing gum", "reduced sugar jam"), SWEETENER),
    "baking powder": "its carbohydrate is starch and what is left of the salts, counted with less",
    "spirulina": "SR28 counts the protein and carbohydrate of seaweed with about 2.4 and 2.5 kcal/g",
}


def reckoned(row: FoodRow) -> float:
    figures = row.per_100g
    return 4 * figures.protein_g + 9 * figures.fat_g + 4 * figures.carbohydrate_g + 7 * (figures.alcohol_g or 0)


def far_off(row: FoodRow) -> bool:
    apart = abs(reckoned(row) - row.per_100g.kcal)
    return apart > LEAST_KCAL and apart > FAR * max(reckoned(row), row.per_100g.kcal)


def test_every_row_far_off_is_named() -> None:
    assert {row.food for row in ROWS if far_off(row)} == set(OUTLIERS)


def test_the_rest_is_near_on_the_whole() -> None:
    shares = sorted(abs(reckoned(row) / row.per_100g.kcal - 1) for row in ROWS if row.per_100g.kcal >= 50)
    assert shares[len(shares) // 2] < 0.03
    assert shares[len(shares) * 95 // 100] < 0.15


# Where the reason given can be reckoned, it explains the row.
@pytest.mark.parametrize("name", tuple(name for name, why in OUTLIERS.items() if why is FIBRE))
def test_fibre_explains_most_of_it(name: str) -> None:
    for row in load().foods[name].rows:
        if far_off(row):
            fibre = row.per_100g.fibre_g
            assert fibre is not None
            assert reckoned(row) > row.per_100g.kcal
            assert fibre >= 0.15 * row.per_100g.carbohydrate_g


@pytest.mark.parametrize("name", tuple(name for name, why in OUTLIERS.items() if why is ACID))
def test_acetic_acid_explains_the_rest_of_vinegar(name: str) -> None:
    # Vinegar of 4 to 6 % acetic acid, 3.5 kcal/g (Regulation (EU) 1169/2011, annex XIV: organic acids 3 kcal/g).
    row = load().foods[name].rows[0]
    assert 3 * 4 <= row.per_100g.kcal - reckoned(row) <= 3.5 * 6


@pytest.mark.parametrize("name", tuple(name for name, why in OUTLIERS.items() if why is CITRUS))
def test_citric_acid_explains_lemons(name: str) -> None:
    figures = load().foods[name].rows[0].per_100g
    # Handbook 74 counts the whole of a lemon's carbohydrate with 2.48 kcal/g (from memory), its protein with 3.36.
    assert 3.36 * figures.protein_g + 8.37 * figures.fat_g + 2.48 * figures.carbohydrate_g == pytest.approx(
        figures.kcal, abs=1.5
    )
