"""How far the food on the plate can be from its row of the table, or from its packet's label.

SR28 prints no standard errors for energy, so the spread is taken from two analyses of one food that USDA published
years apart: what the later one differs by from the earlier is what a plate may differ by from its row.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import StrEnum
from typing import Final

from domain import reference
from domain.weighins import Evidence, WeighIn

Pairs = Sequence[tuple[str, float, float]]
"""(NDB number of the SR28 row, its kcal per 100 g, kcal per 100 g of the other row)"""


class Likeness(StrEnum):
    """What the figures of a weigh-in are for, by how much one plate of it differs from the next."""

    STEADY = "steady"
    """Dairy, eggs, grains, nuts, fats and sweets: dry, fat or made to a standard."""
    GROWN = "grown"
    """Fruit, vegetables and pulses, which ripeness and water change."""
    MEAT = "meat"
    """Meat, poultry and fish, which trimming changes."""
    DISH = "dish"
    """Dishes, which each kitchen cooks in its own way."""
    POT = "pot"
    """A batch: its parts are weighed, and each is off in its own direction."""
    LABEL = "label"


_STEADY: Final[Pairs] = (
    # SR28 beside the Foundation Foods of FoodData Central (USDA, 2019 to 2025), the same description
    ("01009", 404, 408),  # cheddar
    ("01015", 81, 84),  # cottage cheese, 2 %
    ("01036", 174, 157),  # ricotta, whole milk
    ("01040", 393, 392),  # Swiss cheese
    ("01133", 592, 575),  # egg, dried
    ("01171", 147, 150),  # egg, frozen
    ("01256", 59, 61),  # Greek yogurt, nonfat
    ("01293", 97, 95),  # Greek yogurt, whole milk
    ("04047", 892, 833),  # coconut oil
    ("12087", 553, 565),  # cashews
    ("12131", 718, 712),  # macadamias
    ("12151", 560, 598),  # pistachios
    ("18075", 252, 253),  # whole-wheat bread
    ("19335", 387, 385),  # sugar
    ("20061", 366, 359),  # white rice flour
    ("20090", 363, 365),  # brown rice flour
)
_GROWN: Final[Pairs] = (
    # the same two sources
    ("09148", 61, 58),  # kiwifruit
    ("09184", 36, 33),  # honeydew
    ("09191", 44, 39),  # nectarines
    ("09202", 49, 47),  # navel oranges
    ("09236", 39, 42),  # peaches
    ("09412", 63, 57),  # Bartlett pears
    ("09503", 57, 61),  # Gala apples
    ("11052", 31, 34),  # green beans
    ("11080", 43, 41),  # beets
    ("11090", 34, 32),  # broccoli
    ("11098", 43, 59),  # Brussels sprouts
    ("11135", 25, 28),  # cauliflower
    ("11143", 16, 15),  # celery
    ("11161", 32, 47),  # collards
    ("11209", 25, 22),  # eggplant
    ("11233", 49, 35),  # kale
    ("11298", 75, 87),  # parsnips
    ("11482", 40, 49),  # acorn squash
    ("11485", 45, 48),  # butternut squash
    ("16117", 327, 366),  # soy flour, defatted
)
_MEAT: Final[Pairs] = (
    # the same two sources
    ("05062", 120, 112),  # chicken breast, skinless
    ("05091", 221, 188),  # chicken thigh with skin
    ("05100", 191, 168),  # chicken wing with skin
    ("05332", 143, 133),  # ground chicken
    ("05665", 150, 153),  # ground turkey
    ("07022", 316, 313),  # frankfurter
    ("10219", 263, 228),  # ground pork
    ("15015", 82, 70),  # Atlantic cod
    ("15085", 131, 136),  # sockeye salmon
    ("15261", 96, 100),  # tilapia
    ("17224", 282, 237),  # ground lamb
    ("23562", 176, 185),  # ground beef, 90 % lean
    ("23572", 254, 243),  # ground beef, 80 % lean
)
_DISH: Final[Pairs] = (
    # SR28: a restaurant's beside a frozen, canned, boxed or fast-food one
    ("36041", 185, 124),  # lasagna with meat; 22916
    ("36017", 151, 190),  # macaroni and cheese; 22960
    ("36037", 157, 103),  # chili with beans; 16059
    ("36035", 159, 153),  # coleslaw; 21127
    ("36036", 356, 276),  # onion rings; 11296
    ("36039", 197, 265),  # hash browns; 11370
    ("36014", 289, 312),  # french fries; 21138
    ("36061", 219, 206),  # soft beef taco; 21486
    ("36418", 156, 90),  # refried beans; 16103
    ("36417", 185, 125),  # Spanish rice; 32021
    ("11414", 143, 157),  # potato salad; 22971
    ("21224", 268, 263),  # cheese pizza; 21505
)


def _spread(*lists: Pairs) -> float:
    """The root mean square of the relative differences."""
    ratios = [math.log(other / first) for pairs in lists for _, first, other in pairs]
    return math.sqrt(sum(ratio**2 for ratio in ratios) / len(ratios))


PAIRS: Final = {
    Likeness.STEADY: _STEADY,
    Likeness.GROWN: _GROWN,
    Likeness.MEAT: _MEAT,
    Likeness.DISH: _DISH,
}
SPREADS: Final = {
    **{kind: _spread(pairs) for kind, pairs in PAIRS.items()},
    Likeness.POT: _spread(_STEADY, _GROWN, _MEAT),
    Likeness.LABEL: 0.20 / math.sqrt(3),
}
"""Standard deviations, as shares of the energy: 4 % for steady foods, 16 % for grown ones, 10 % for meat, 29 % for
dishes, 12 % for pots. A label may be off by 20 % before the law minds (21 CFR 101.9(g)(5)); even in between: 12 %."""

_GROUPS: Final = {
    "fruit": Likeness.GROWN, "vegetables": Likeness.GROWN, "pulses": Likeness.GROWN,
    "meat": Likeness.MEAT, "poultry": Likeness.MEAT, "fish": Likeness.MEAT, "sausages": Likeness.MEAT,
    "meals": Likeness.DISH, "soups": Likeness.DISH,
}  # fmt: skip


def likeness(item: WeighIn) -> Likeness:
    """What a weigh-in's figures are for; a food that the table doesn't name has its figures from a label."""
    if item.batch is not None:
        return Likeness.POT
    food = reference.load().foods.get(item.food)
    if food is None:
        return Likeness.LABEL
    return Likeness.DISH if food.dish else _GROUPS.get(food.group, Likeness.STEADY)


def table_error(item: WeighIn) -> float:
    """Standard uncertainty of a weigh-in's figures per gram, as a share; none where only the energy was told."""
    return 0.0 if item.evidence is Evidence.ESTIMATED else SPREADS[likeness(item)]
