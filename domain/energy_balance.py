"""What intake and body weight together imply: the energy that a person spent.

The trend of body weight is the slope of an ordinary least-squares line through the daily values. Energy spent = mean
intake - slope x 7,700 kcal/kg (Hall 2008, see `domain.targets`). The 95 % interval is that of the slope (Student's t),
widened because water moves body weight and a day resembles the one before: for a first-order autocorrelation r of the
residuals, so many values count as (1 - r) / (1 + r) of them (Bayley and Hammersley, 1946; from memory). How well that
holds is simulated, see docs/calibration.md. What was eaten and not logged makes the energy spent look smaller than it
is.
"""

import math
import statistics
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from typing import Final

from domain.targets import KCAL_PER_KG

LEAST_DAYS: Final = 14
LEAST_FREEDOM: Final = 4.0
MOST_ALIKE: Final = 0.8
"""The largest autocorrelation that is allowed for: of a stronger one too few values would be left."""
BIAS: Final = 2.5
"""How far the residuals of a line understate their autocorrelation: (2 + 4 r) / n (Kendall, 1954; from memory), and a
half more, by which the interval holds 92 to 97 % of simulated stretches."""
_Z_975: Final = statistics.NormalDist().inv_cdf(0.975)


@dataclass(frozen=True, slots=True)
class EnergyBalance:
    """Over how many days what was found: kg a week and kcal a day, each with half its 95 % interval."""

    days_eaten: int
    days_weighed: int
    eaten_kcal: float
    kg_per_week: float
    kg_per_week_error: float
    spent_kcal: float
    spent_error_kcal: float


def energy_balance(kcal: Mapping[date, float], kg: Mapping[date, float]) -> EnergyBalance | None:
    """The balance of one stretch of time: the days with intake, and the days with a body weight.

    None with fewer than 14 days of either.
    """
    if len(kcal) < LEAST_DAYS or len(kg) < LEAST_DAYS:
        return None
    days = sorted(kg)
    slope, error = _slope([(day - days[0]).days for day in days], [kg[day] for day in days])
    eaten = statistics.fmean(kcal.values())
    return EnergyBalance(
        days_eaten=len(kcal),
        days_weighed=len(kg),
        eaten_kcal=eaten,
        kg_per_week=7 * slope,
        kg_per_week_error=7 * error,
        spent_kcal=eaten - slope * KCAL_PER_KG,
        spent_error_kcal=error * KCAL_PER_KG,
    )


def _slope(x: list[int], y: list[float]) -> tuple[float, float]:
    """(slope, half its 95 % interval) of the least-squares line."""
    line = statistics.linear_regression(x, y)
    residuals = [b - line.intercept - line.slope * a for a, b in zip(x, y, strict=True)]
    left = sum(each**2 for each in residuals)
    mean = statistics.fmean(x)
    spread = sum((a - mean) ** 2 for a in x)
    alike = _autocorrelation(x, residuals)
    wider = (1 + alike) / (1 - alike)
    freedom = max(len(x) / wider - 2, LEAST_FREEDOM)
    return line.slope, student_t_975(freedom) * math.sqrt(left / (len(x) - 2) * wider / spread)


def _autocorrelation(x: list[int], residuals: list[float]) -> float:
    """Of residuals a day apart, corrected for the line drawn through them; from 0 to MOST_ALIKE."""
    count = len(x)
    left = sum(each**2 for each in residuals)
    pairs = [a * b for (day, a), (next_day, b) in pairwise(zip(x, residuals, strict=True)) if next_day == day + 1]
    if not pairs or not left:
        return 0.0
    found = sum(pairs) / len(pairs) / (left / (count - 1))
    return min(max((count * found + BIAS) / (count - 4), 0.0), MOST_ALIKE)


def student_t_975(freedom: float) -> float:
    """The 97.5 % point of Student's t: for 10 degrees of freedom or more to within 0.0005, for 4 to within 0.01.

    The expansion about the normal distribution, Abramowitz & Stegun 26.7.5.
    """
    z = _Z_975
    return (
        z
        + (z**3 + z) / (4 * freedom)
        + (5 * z**5 + 16 * z**3 + 3 * z) / (96 * freedom**2)
        + (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / (384 * freedom**3)
    )
