"""Edible portions against USDA SR28 (refuse and NDB numbers read there), whose rows the food table is built from.

Refuse is a percentage of the whole as bought; edible = whole x (1 - refuse / 100).
"""

from functools import cache
from math import isclose

import pytest

from domain.edible import edible_portion, without_waste
from domain.foods import FoodRow
from domain.reference import load

# NDB number, refuse in %, grams eaten of 250 g whole.
REFUSE = (
    ("09003", 10, 225.00),  # Apples, raw, with skin
    ("09040", 36, 160.00),  # Bananas, raw
    ("09200", 27, 182.50),  # Oranges, raw, all commercial varieties
    ("09037", 26, 185.00),  # Avocados, raw, all commercial varieties
    ("09038", 33, 167.50),  # Avocados, raw, California
    ("09176", 29, 177.50),  # Mangos, raw
    ("09266", 49, 127.50),  # Pineapple, raw, all varieties
    ("09326", 48, 130.00),  # Watermelon, raw
    ("09181", 49, 127.50),  # Melons, cantaloupe, raw
    ("09252", 10, 225.00),  # Pears, raw
    ("09236", 4, 240.00),  # Peaches, yellow, raw
    ("09279", 6, 235.00),  # Plums, raw
    ("09021", 7, 232.50),  # Apricots, raw
    ("09070", 8, 230.00),  # Cherries, sweet, raw
    ("09132", 4, 240.00),  # Grapes, red or green (European type, such as Thompson seedle
    ("09316", 6, 235.00),  # Strawberries, raw
    ("09148", 24, 190.00),  # Kiwifruit, green, raw
    ("09112", 49, 127.50),  # Grapefruit, raw, pink and red, all areas
    ("09150", 47, 132.50),  # Lemons, raw, without peel
    ("09218", 26, 185.00),  # Tangerines, (mandarin oranges), raw
    ("09226", 38, 155.00),  # Papayas, raw
    ("09286", 44, 140.00),  # Pomegranates, raw
    ("09050", 5, 237.50),  # Blueberries, raw
    ("11352", 25, 187.50),  # Potatoes, flesh and skin, raw
    ("11507", 28, 180.00),  # Sweet potato, raw, unprepared
    ("11124", 11, 222.50),  # Carrots, raw
    ("11282", 10, 225.00),  # Onions, raw
    ("11215", 13, 217.50),  # Garlic, raw
    ("11090", 39, 152.50),  # Broccoli, raw
    ("11135", 61, 97.50),  # Cauliflower, raw
    ("11109", 20, 200.00),  # Cabbage, raw
    ("11143", 11, 222.50),  # Celery, raw
    ("11205", 3, 242.50),  # Cucumber, with peel, raw
    ("11252", 5, 237.50),  # Lettuce, iceberg (includes crisphead types), raw
    ("11457", 28, 180.00),  # Spinach, raw
    ("11529", 9, 227.50),  # Tomatoes, red, ripe, raw, year round average
    ("11821", 18, 205.00),  # Peppers, sweet, red, raw
    ("11260", 3, 242.50),  # Mushrooms, white, raw
    ("11477", 5, 237.50),  # Squash, summer, zucchini, includes skin, raw
    ("11011", 47, 132.50),  # Asparagus, raw
    ("11246", 56, 110.00),  # Leeks, (bulb and lower leaf-portion), raw
    ("11167", 64, 90.00),  # Corn, sweet, yellow, raw
    ("11304", 62, 95.00),  # Peas, green, raw
    ("11052", 12, 220.00),  # Beans, snap, green, raw
    ("11080", 33, 167.50),  # Beets, raw
    ("11098", 10, 225.00),  # Brussels sprouts, raw
    ("11485", 16, 210.00),  # Squash, winter, butternut, raw
    ("01123", 12, 220.00),  # Egg, whole, raw, fresh
    ("01129", 12, 220.00),  # Egg, whole, cooked, hard-boiled
    ("12061", 60, 100.00),  # Nuts, almonds
    ("12104", 48, 130.00),  # Nuts, coconut meat, raw
    ("12036", 46, 135.00),  # Seeds, sunflower seed kernels, dried
    ("05006", 32, 170.00),  # Chicken, broilers or fryers, meat and skin, raw
    ("05009", 33, 167.50),  # Chicken, broilers or fryers, meat and skin, cooked, roasted
    ("05057", 20, 200.00),  # Chicken, broilers or fryers, breast, meat and skin, raw
    ("10044", 34, 165.00),  # Pork, fresh, loin, center rib (chops or roasts), bone-in, se
    ("10088", 30, 175.00),  # Pork, fresh, spareribs, separable lean and fat, raw
    ("17011", 21, 197.50),  # Lamb, domestic, leg, whole (shank and sirloin), separable le
    ("15270", 13, 217.50),  # Crustaceans, shrimp, raw (not previously frozen)
)

# Refuse that SR28 prints and that cannot be: NDB number, printed, kept. See the notes in the table.
CORRECTED = (
    # "Bone and cartilage 33%, Bone and connective tissue 33%": the bone counted twice.
    ("05066", 66, 33),
)


@cache
def rows_by_ndb() -> dict[str, tuple[FoodRow, ...]]:
    rows: dict[str, tuple[FoodRow, ...]] = {}
    for food in load().foods.values():
        for row in food.rows:
            rows[row.ndb] = (*rows.get(row.ndb, ()), row)
    return rows


def row_as_bought(ndb: str) -> FoodRow:
    """The row of that NDB number; of several, the one that is bought whole."""
    return max(rows_by_ndb()[ndb], key=lambda row: row.refuse)


@pytest.mark.parametrize(("ndb", "refuse_pct", "eaten_g"), REFUSE, ids=[ndb for ndb, *_ in REFUSE])
def test_what_is_eaten_of_250_g_is_what_the_published_refuse_leaves(
    ndb: str, refuse_pct: float, eaten_g: float
) -> None:
    row = row_as_bought(ndb)
    assert isclose(row.refuse, refuse_pct / 100)
    assert row.refuse_part
    assert isclose(edible_portion(250, row.refuse), eaten_g)


@pytest.mark.parametrize(("ndb", "printed_pct", "kept_pct"), CORRECTED)
def test_refuse_that_cannot_be_is_corrected(ndb: str, printed_pct: float, kept_pct: float) -> None:
    assert isclose(row_as_bought(ndb).refuse, kept_pct / 100)
    assert printed_pct != kept_pct


@pytest.mark.parametrize(
    ("ndb", "whole_g", "eaten_g", "kcal"),
    (
        # SR28 refuse and energy (read), multiplied by hand to the digits given.
        ("09003", 190, 171.00, 88.92),  # apple
        ("09040", 165, 105.60, 93.98),  # banana
        ("09037", 212, 156.88, 251.01),  # avocado
        ("09326", 1250, 650.00, 195.00),  # watermelon
        ("11352", 640, 480.00, 369.60),  # potato
        ("05006", 1480, 1006.40, 2163.76),  # chicken
        ("01123", 57, 50.16, 71.73),  # egg
        ("11135", 900, 351.00, 87.75),  # cauliflower
    ),
)
def test_the_energy_of_the_edible_part(ndb: str, whole_g: float, eaten_g: float, kcal: float) -> None:
    row = row_as_bought(ndb)
    edible_g = edible_portion(whole_g, row.refuse)
    assert abs(edible_g - eaten_g) <= 0.005
    assert abs(row.per_100g.for_grams(edible_g).kcal - kcal) <= 0.0051


@pytest.mark.parametrize(
    ("whole", "yield_pct", "usable"),
    (
        # Open textbook at openwa.pressbooks.pub, bakery and business math, chapter 25 (read).
        (3, 95, 2.85),  # zucchini, lb
        (5000, 87, 4350),  # strawberries, g
        (41.03, 78, 32),  # pears, oz
        # Foodservice yields at content.yudu.com, FSM2025, page 608 (read).
        (36, 47, 16.92),  # turkey, lb
    ),
)
def test_worked_examples_of_purchase_yields(whole: float, yield_pct: float, usable: float) -> None:
    assert isclose(edible_portion(whole, 1 - yield_pct / 100), usable, rel_tol=2e-4)


def test_weighed_waste_wins_where_tables_disagree() -> None:
    """Watermelon: SR28 says 48 % refuse, the Canadian Nutrient File (FoodID 1691) 40 % (both read)."""
    by_sr28 = edible_portion(1250, row_as_bought("09326").refuse)
    by_cnf = edible_portion(1250, 0.40)
    assert by_sr28 < without_waste(1250, 560) < by_cnf
