"""What intake and body weight together imply: the energy that a person spent.

The trend of body weight is the slope of an ordinary least-squares line through the daily values. Energy spent = mean
intake - slope x 7,700 kcal/kg (Hall 2008, see `domain.targets`). The 95 % interval is that of the slope (Student's t).
Water moves body weight by a kilogram from one day to the next, and daily values hang together, so that the interval is
rather too narrow; what was eaten and not logged makes the energy spent look smaller than it is.
"""

import math
import statistics
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final

from domain.targets import KCAL_PER_KG

LEAST_DAYS: Final = 14
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
    left = sum((b - line.intercept - line.slope * a) ** 2 for a, b in zip(x, y, strict=True))
    mean = statistics.fmean(x)
    spread = sum((a - mean) ** 2 for a in x)
    freedom = len(x) - 2
    return line.slope, student_t_975(freedom) * math.sqrt(left / freedom / spread)


def student_t_975(freedom: int) -> float:
    """The 97.5 % point of Student's t for 10 degrees of freedom or more, to within 0.0005.

    The expansion about the normal distribution, Abramowitz & Stegun 26.7.5.
    """
    z = _Z_975
    return (
        z
        + (z**3 + z) / (4 * freedom)
        + (5 * z**5 + 16 * z**3 + 3 * z) / (96 * freedom**2)
        + (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / (384 * freedom**3)
    )
