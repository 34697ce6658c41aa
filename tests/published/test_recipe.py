"""Batches against worked recipe calculations.

Method: EuroFIR report D2.2.9 and EuroFIR/INFOODS recipe calculation (read): the weight yield applies to the whole
recipe; per 100 g cooked = sum of (edible g x value per 100 g / 100) / cooked g x 100. The same, with the dish weighed
raw and cooked: FAO, Food composition data (2003), "Calculation of the composition of dishes prepared from recipes",
fao.org/3/y4705e/y4705e23.htm (read). The parts of both that could be read print no worked example: these are worked by
script, or by hand where it says so, from USDA SR28 (read). Fat at 9 kcal/g: Regulation (EU) 1169/2011, annex XIV
(read).
"""

from functools import cache

import pytest

from domain.batch_steps import Added, CountedOut, Draw, Poured, RefuseOut, Removed, Taken, Weighed
from domain.batches import Batch, Ingredient, drained_overstatement
from domain.edible import edible_portion
from domain.foods import FoodRow, State
from domain.nutrients import Nutrients, total
from domain.reference import load

# SR28 16145, kidney beans, canned, drained solids; not in the food table.
DRAINED_KIDNEY_BEANS = FoodRow(
    "canned kidney beans",
    State.AS_SOLD,
    "canned",
    "16145",
    Nutrients(124, 7.98, 1.05, 21.49, fibre_g=5.5, sugars_g=3.8, saturated_fat_g=0.181, sodium_mg=231, alcohol_g=0),
)


@cache
def rows_by_ndb() -> dict[str, FoodRow]:
    rows = {row.ndb: row for food in load().foods.values() for row in food.rows}
    return {"16145": DRAINED_KIDNEY_BEANS} | rows


def ingredient(ndb: str, weighed_g: float, *, as_bought: bool = False) -> Ingredient:
    row = rows_by_ndb()[ndb]
    edible_g = edible_portion(weighed_g, row.refuse) if as_bought else weighed_g
    return Ingredient(row.food, row.state, edible_g, row.per_100g.for_grams(edible_g), "", row.method)


def agrees(worked: float | None, printed: float, digits: int) -> bool:
    """Whether a figure is the printed one within half a unit of its last digit."""
    return worked is not None and abs(worked - printed) <= 0.5001 * 10**-digits


def chilli() -> Batch:
    """Worked example A: cooked weight 1,980 g without the pot."""
    parts = (
        ingredient("23572", 800),
        ingredient("11282", 220, as_bought=True),
        ingredient("11821", 300, as_bought=True),
        ingredient("11531", 800),
        ingredient("16145", 480),
        ingredient("04053", 15),
    )
    return Batch.opened(1, "chilli", parts, cooked_g=1980)


@pytest.mark.parametrize(
    ("place", "edible_g", "kcal", "protein_g", "fat_g", "carbohydrate_g", "fibre_g"),
    (
        (0, 800.00, 2032.00, 137.36, 160.00, 0.00, 0.00),
        (1, 198.00, 79.20, 2.18, 0.20, 18.49, 3.37),
        (2, 246.00, 76.26, 2.44, 0.74, 14.83, 5.17),
        (3, 800.00, 128.00, 6.32, 2.00, 27.76, 15.20),
        (4, 480.00, 595.20, 38.30, 5.04, 103.15, 26.40),
        (5, 15.00, 132.60, 0.00, 15.00, 0.00, 0.00),
    ),
)
def test_what_each_ingredient_of_the_chilli_brings(
    place: int, edible_g: float, kcal: float, protein_g: float, fat_g: float, carbohydrate_g: float, fibre_g: float
) -> None:
    part = chilli().ingredients[place]
    assert part.nutrients is not None
    assert agrees(part.raw_g, edible_g, 2)
    assert agrees(part.nutrients.kcal, kcal, 2)
    assert agrees(part.nutrients.protein_g, protein_g, 2)
    assert agrees(part.nutrients.fat_g, fat_g, 2)
    assert agrees(part.nutrients.carbohydrate_g, carbohydrate_g, 2)
    assert agrees(part.nutrients.fibre_g, fibre_g, 2)


def test_what_the_whole_chilli_holds() -> None:
    whole = total(part.nutrients for part in chilli().ingredients if part.nutrients is not None).nutrients
    assert agrees(chilli().raw_g, 2539.00, 2)
    assert agrees(whole.kcal, 3043.26, 2)
    assert agrees(whole.protein_g, 186.60, 2)
    assert agrees(whole.fat_g, 182.98, 2)
    assert agrees(whole.carbohydrate_g, 164.24, 2)
    assert agrees(whole.fibre_g, 50.13, 2)


@pytest.mark.parametrize(
    ("portion_g", "fat_off_g", "printed"),
    (
        (100, 0, (153.70, 9.42, 9.24, 8.29, 2.53, 130.04)),
        (350, 0, (537.95, 32.98, 32.34, 29.03, 8.86, 455.15)),
        (350, 60, (442.50, 32.98, 21.74, 29.03, 8.86, 455.15)),
    ),
)
def test_what_a_portion_of_the_chilli_holds(portion_g: float, fat_off_g: float, printed: tuple[float, ...]) -> None:
    portion = chilli().then(Poured(fat_off_g)).share(portion_g).nutrients
    worked = (
        portion.kcal,
        portion.protein_g,
        portion.fat_g,
        portion.carbohydrate_g,
        portion.fibre_g,
        portion.sodium_mg,
    )
    assert all(agrees(value, figure, 2) for value, figure in zip(worked, printed, strict=True))


def test_the_yield_and_the_raw_factor_of_the_chilli() -> None:
    assert agrees(100 * chilli().yield_, 77.98, 2)
    assert agrees(chilli().raw_factor, 1.282323, 6)


def test_the_beef_in_a_portion_of_the_chilli() -> None:
    beef_g = chilli().ingredients[0].raw_g
    assert agrees(chilli().share(350).basis_g * beef_g / chilli().raw_g, 141.41, 2)


def test_rice_that_was_weighed_dry_and_eaten_cooked() -> None:
    """Worked example B: 300 g of dry white rice (20044) cooked to 780 g, a portion of 180 g."""
    batch = Batch.opened(1, "rice", (ingredient("20044", 300),), cooked_g=780)
    share = batch.share(180)
    assert agrees(batch.raw_factor, 0.384615, 6)
    assert agrees(share.basis_g, 69.23, 2)
    assert agrees(share.nutrients.kcal, 252.69, 2)
    by_the_cooked_entry = rows_by_ndb()["20045"].per_100g.for_grams(180).kcal
    assert agrees(by_the_cooked_entry, 234.00, 2)
    assert agrees(100 * (by_the_cooked_entry / share.nutrients.kcal - 1), -7.4, 1)


def browned(raw_ndb: str, raw_g: float, yield_: float) -> Batch:
    return Batch.opened(1, "mince", (ingredient(raw_ndb, raw_g),), cooked_g=raw_g * yield_)


def fat_left_g(raw_ndb: str, cooked_ndb: str, yield_: float) -> float:
    """Grams of fat that 100 g raw leave in the pan: fat raw - yield x fat cooked."""
    return rows_by_ndb()[raw_ndb].per_100g.fat_g - yield_ * rows_by_ndb()[cooked_ndb].per_100g.fat_g


@pytest.mark.parametrize(
    ("raw_ndb", "cooked_ndb", "yield_pct", "raw_basis_kcal", "overstated_pct", "fat_g", "drained_kcal"),
    (
        ("13498", "13494", 56.1, 591.4, 119.0, 19.97, 271.2),
        ("23577", "23580", 60.0, 488.6, 76.4, 14.08, 277.3),
        ("23572", "23575", 63.6, 399.4, 46.8, 8.96, 272.6),
        ("23567", "23570", 67.0, 320.7, 25.3, 4.74, 257.0),
        ("23562", "23565", 70.3, 250.4, 8.9, 1.54, 230.7),
        ("23557", "23560", 73.4, 186.7, -3.3, 0.00, 186.7),
    ),
)
def test_drained_ground_beef_is_overstated_on_the_raw_basis_until_the_fat_is_taken_off(
    raw_ndb: str,
    cooked_ndb: str,
    yield_pct: float,
    raw_basis_kcal: float,
    overstated_pct: float,
    fat_g: float,
    drained_kcal: float,
) -> None:
    """Ground beef 70/30 to 95/5, pan-browned crumbles, by protein yield (SR28 pairs, read; derived)."""
    raw, cooked = rows_by_ndb()[raw_ndb], rows_by_ndb()[cooked_ndb]
    yield_ = raw.per_100g.protein_g / cooked.per_100g.protein_g
    assert agrees(100 * yield_, yield_pct, 1)

    batch = browned(raw_ndb, 100, yield_)
    assert agrees(batch.share(100).nutrients.kcal, raw_basis_kcal, 1)
    overstated = drained_overstatement(batch, cooked)
    assert overstated is not None
    assert agrees(100 * overstated, overstated_pct, 1)

    poured_g = max(0.0, fat_left_g(raw_ndb, cooked_ndb, yield_))
    assert agrees(poured_g, fat_g, 2)
    drained = batch.then(Poured(poured_g))
    assert agrees(drained.share(100).nutrients.kcal, drained_kcal, 1)


@pytest.mark.parametrize(
    ("yield_", "raw_basis_kcal", "overstated_pct", "fat_g", "drained_kcal", "then_pct"),
    (
        (17.17 / 27.00, 399.42, 46.8, 8.96, 272.61, 0.2),  # protein yield
        (0.65, 390.77, 43.7, 8.72, 270.09, -0.7),  # CNF 4995, medium, crumbled
        (0.70, 362.86, 33.4, 7.85, 261.95, -3.7),  # a batch of 800 g that weighed 560 g
    ),
)
def test_fat_poured_off_ground_beef_80_20_closes_the_gap(
    yield_: float, raw_basis_kcal: float, overstated_pct: float, fat_g: float, drained_kcal: float, then_pct: float
) -> None:
    cooked = rows_by_ndb()["23575"]
    batch = browned("23572", 800, yield_)
    assert agrees(batch.share(100).nutrients.kcal, raw_basis_kcal, 2)
    overstated = drained_overstatement(batch, cooked)
    assert overstated is not None
    assert agrees(100 * overstated, overstated_pct, 1)

    left_g = fat_left_g("23572", "23575", yield_)
    assert agrees(left_g, fat_g, 2)
    drained = batch.then(Poured(8 * left_g))
    assert agrees(drained.share(100).nutrients.kcal, drained_kcal, 2)
    then = drained_overstatement(drained, cooked)
    assert then is not None
    assert agrees(100 * then, then_pct, 1)


def test_800_g_of_ground_beef_80_20_leave_71_7_g_of_fat_in_the_pan() -> None:
    poured_g = 8 * fat_left_g("23572", "23575", 17.17 / 27.00)
    assert agrees(poured_g, 71.7, 1)
    whole = browned("23572", 800, 0.636)
    assert whole.cooked_g is not None
    drained = whole.then(Poured(poured_g))
    lost = whole.share(whole.cooked_g).nutrients.kcal - drained.share(whole.cooked_g).nutrients.kcal
    assert agrees(lost, 645, 0)


def test_a_mixture_that_is_added_to_is_an_ingredient_of_what_it_becomes() -> None:
    """The recipe method taken twice: what is left of the chilli, with a tin of beans (SR28 16145, 240 g) in it.

    1,630 of 1,980 g are left: 3,043.26 x 1,630 / 1,980 = 2,505.31 kcal; with 297.60 kcal of beans 2,802.91 kcal in
    1,870 g, 149.89 kcal per 100 g. Worked by hand from the figures of example A.
    """
    eaten = chilli().then(Taken((1, 1), Draw(350)))
    batch = eaten.then(Added(6, ingredient("16145", 240)))
    assert agrees(batch.left_g, 1870, 2)
    assert agrees(batch.share(100).nutrients.kcal, 149.89, 2)
    before, after = eaten.portion((1, 1)), batch.portion((1, 1))
    assert before == after
    assert after is not None
    assert agrees(after[1].nutrients.kcal, 537.95, 2)


def test_what_was_simmered_down_again_is_divided_by_its_new_weight() -> None:
    """The weight yield is of the whole recipe: the same 2,802.91 kcal in 1,650 g are 169.87 kcal per 100 g."""
    batch = chilli().then(Taken((1, 1), Draw(350)), Added(6, ingredient("16145", 240)), Weighed(1650, anew=True))
    assert agrees(batch.share(100).nutrients.kcal, 169.87, 2)
    assert agrees(batch.pot.evaporated_g, 2539 - 1980 + 220, 2)


def test_a_correction_is_the_recipe_worked_anew() -> None:
    """Without the oil, 132.60 of 3,043.26 kcal: 350 g of the rest hold 2,910.66 x 350 / 1,980 = 514.51 kcal."""
    batch = chilli().then(Taken((1, 1), Draw(350)), Removed(5))
    portion = batch.portion((1, 1))
    assert portion is not None
    assert agrees(portion[1].nutrients.kcal, 514.51, 2)
    assert agrees(portion[1].basis_g, 2524 * 350 / 1980, 4)


def test_pieces_are_equal_parts_of_the_yield() -> None:
    """A twelfth of the 1,980 g: 165 g, 3,043.26 / 12 = 253.61 kcal (253.605)."""
    batch = chilli().then(CountedOut(12, "serving"))
    assert batch.piece_g is not None
    assert agrees(batch.piece_g, 165, 2)
    assert agrees(batch.share(batch.piece_g).nutrients.kcal, 253.605, 2)


def test_bones_are_no_part_of_the_yield() -> None:
    """SR28 05006, chicken, meat and skin, raw: 215 kcal per 100 g edible, refuse 32 % (bone), 1,480 g as bought.

    1,006.4 g edible hold 2,163.76 kcal (edible portion times value). Cooked to 1,120 g with its bones, of which 400 g
    are bone: 720 g of meat, 300.52 kcal per 100 g. Worked by hand.
    """
    batch = Batch.opened(1, "chicken", (ingredient("05006", 1480, as_bought=True),), 1120)
    assert agrees(batch.share(1120).nutrients.kcal, 2163.76, 2)
    boned = batch.then(RefuseOut(400))
    assert agrees(boned.share(100).nutrients.kcal, 300.52, 2)
    assert agrees(boned.yield_, 720 / 1006.4, 6)
