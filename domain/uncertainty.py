"""How far a day's energy can be off: by how its amounts were come by, and by tables that are not the food on the plate.

Each weigh-in gets two standard uncertainties, that of its amount from its evidence and that of its figures from what
they are for, each from a published or printed spread. What was measured in one way for one food on one day errs in one
direction (the same cup, the same hand, the same table row) and adds up; everything else is independent and adds in
quadrature. What is shown is twice the sum: about 95 days of 100 lie within.
"""

import math
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from domain.foods import State
from domain.table_errors import table_error
from domain.weighins import Evidence, WeighIn

COVERAGE: Final = 2.0
"""Expanded over standard uncertainty (GUM 6.3.3: about 95 % of a normal distribution)."""

_SCALE_LIMITS_G: Final = ((500.0, 1.0), (2_000.0, 2.0), (math.inf, 3.0))
"""(up to grams, how far off). A class III scale with e = 1 g in service: twice 0.5 e up to 500 e, 1 e up to 2,000 e
and 1.5 e beyond (OIML R 76; the UK regulations of 1995, schedule 2, table 3). A household scale is bound by no law,
so this is the least it may be off."""

_REFUSE_PAIRS: Final = (
    # (SR28, another source) in percent: Canadian Nutrient File 2015 by FoodID, else the purchase yields of the
    # textbook Business Math for bakers and cooks (BCcampus, chapter on yields).
    (33, 24),  # avocado, California; CNF 1512
    (48, 40),  # watermelon; CNF 1691
    (8, 10),  # sweet cherries; CNF 1531
    (36, 32),  # banana
    (61, 55),  # cauliflower
    (39, 39),  # broccoli
    (47, 44),  # asparagus
    (49, 42),  # pineapple; SR28 09429
    (26, 25),  # avocado
    (12, 12),  # green beans
    (49, 50),  # cantaloupe
    (11, 18),  # carrots without tops
    (10, 22),  # pears
    (6, 13),  # strawberries
    (5, 8),  # blueberries
    (20, 21),  # cabbage
    (10, 26),  # Brussels sprouts
    (5, 5),  # zucchini
)
REFUSE: Final = math.sqrt(sum((a - b) ** 2 for a, b in _REFUSE_PAIRS) / (2 * len(_REFUSE_PAIRS))) / 100
"""Standard deviation of one table's refuse, from the differences between two: 0.046 of the whole weight."""

_RANGE_OF_TEN: Final = 3.078
"""Mean range of ten normal values, in standard deviations (d2 of control charts)."""
FILLING: Final = (170 - 113) / _RANGE_OF_TEN / ((170 + 113) / 2)
"""Ten people scooped 113 to 170 g with one cup (New York Times 2011): 13 %."""
SPOON: Final = 0.12 / math.sqrt(3)
"""5 mL poured into kitchen spoons came out 8 % low to 12 % high (Wansink & van Ittersum 2010); even between: 7 %."""
OWN_MEASURE: Final = math.sqrt(sum((g - 133) ** 2 for g in (136, 134, 129)) / 2) / 133
"""One person filling one cup three times: 136, 134, 129 g (foodandgladness.com 2014): 2.7 %."""
COUNTED: Final = 0.68 / 2 / math.sqrt(3)
"""From small to large a piece differs by 68 % of the medium one (the median of the foods in the table that have all
three sizes; SR28 household weights); even between: 20 %."""
_MEAL_KCAL, _MISJUDGED_KCAL, _QUARTER_MISJUDGED_KCAL = 836, 175, 500
_UPPER_QUARTILE = 0.674
"""Of a normal distribution, in standard deviations."""
ESTIMATED: Final = (
    math.hypot(_MISJUDGED_KCAL, (_QUARTER_MISJUDGED_KCAL - _MISJUDGED_KCAL) / _UPPER_QUARTILE) / _MEAL_KCAL
)
"""Adults' guesses of fast-food meals of 836 kcal on average were 175 kcal low on average, and a quarter of them
500 kcal or more (Block et al., BMJ 2013;346:f2907; from memory): with the bias counted in, 61 %."""
COOKED: Final = 0.15 / 2 / 0.75 / math.sqrt(3)
"""Published yields of one cut differ by 15 points around 75 % (SR28 beside CNF): food weighed cooked, whose raw weight
nobody knows, holds so much more or less water than the table's row; even between: 5.8 %."""

_SHARES: Final = {
    Evidence.WEIGHED: 0.0,
    Evidence.BOXED: 0.0,
    Evidence.REFUSE_TABLE: 0.0,
    Evidence.LABEL_MEASURE: FILLING,
    Evidence.OWN_MEASURE: OWN_MEASURE,
    Evidence.DENSITY: math.hypot(FILLING, SPOON),
    Evidence.COUNTED: COUNTED,
    Evidence.ESTIMATED: ESTIMATED,
}
_ON_THE_SCALE: Final = frozenset({Evidence.WEIGHED, Evidence.BOXED, Evidence.REFUSE_TABLE})


def scale_g(grams: float) -> float:
    """Standard uncertainty in grams of what a kitchen scale shows: its limit, even in between."""
    limit = next(limit for up_to, limit in _SCALE_LIMITS_G if grams <= up_to)
    return limit / math.sqrt(3)


def relative(item: WeighIn) -> float:
    """Standard uncertainty of a weigh-in's amount, as a share of it."""
    random, shared = _parts(item)
    return math.hypot(random, shared)


def _parts(item: WeighIn) -> tuple[float, float]:
    """(what is new each time, what is the same for each weigh-in of this food in this way), as shares."""
    random = scale_g(item.as_weighed_g) / item.as_weighed_g if item.evidence in _ON_THE_SCALE else 0.0
    shared = _SHARES[item.evidence]
    if item.evidence is Evidence.REFUSE_TABLE:
        shared = REFUSE * item.as_weighed_g / item.edible_g
    if item.state is State.COOKED and item.batch is None and item.evidence is not Evidence.COUNTED:
        shared = math.hypot(shared, COOKED)
    return random, shared


@dataclass(frozen=True, slots=True)
class GiveOrTake:
    """How far (kcal, about 95 %) the energy of weigh-ins can be off, by its two causes."""

    amounts_kcal: float
    tables_kcal: float

    @property
    def kcal(self) -> float:
        """Both together."""
        return math.hypot(self.amounts_kcal, self.tables_kcal)


def give_or_take(items: Iterable[WeighIn]) -> GiveOrTake:
    """How far the energy of a day's weigh-ins can be off; those without nutrients add nothing."""
    squares = 0.0
    measured: defaultdict[tuple[str, Evidence], float] = defaultdict(float)
    looked_up: defaultdict[tuple[str, int | None], float] = defaultdict(float)
    for item in items:
        if item.nutrients is None:
            continue
        random, shared = _parts(item)
        squares += (random * item.nutrients.kcal) ** 2
        measured[item.food, item.evidence] += shared * item.nutrients.kcal
        looked_up[item.food, item.batch] += table_error(item) * item.nutrients.kcal
    return GiveOrTake(
        amounts_kcal=COVERAGE * math.sqrt(squares + sum(kcal**2 for kcal in measured.values())),
        tables_kcal=COVERAGE * math.hypot(*looked_up.values()),
    )
