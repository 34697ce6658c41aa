"""Limits behind cautions: storage times of cooked food, and repeated very low intake."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Final

from domain.targets import MOST_KG_PER_WEEK, SUPERVISED_KCAL

FRIDGE_DAYS: Final = 3
"""Cooked leftovers keep 3 to 4 days at 4 °C (40 °F) or below (USDA FSIS); the shorter time is used."""
FREEZER_MONTHS: Final = (2, 6)
"""Months for which cooked meat and poultry keep their quality at -18 °C (0 °F) (nia.nih.gov, FoodSafety chart)."""

NEWS_DAYS: Final = 14
"""Days for which a standing caution is news to whoever sets targets. Afterwards it is known, and still limits them."""

LIGHT_KG: Final = 40.0
"""Body weight below which a grown-up is underweight at any height from 1.47 m (BMI 18.5, WHO TRS 894, from memory)."""
VERY_LOW_DAYS: Final = 3
"""Very low days within a week that lead to a caution."""
_WEEK: Final = 7


def hazardous_weight(kg: float) -> bool:
    """Whether a body weight, had or aimed at, belongs with a doctor first."""
    return 0 < kg < LIGHT_KG


def hazardous_loss(kg: float, days: float) -> bool:
    """Whether losing `kg` within `days` is faster than `MOST_KG_PER_WEEK`; False without a span."""
    return days > 0 and kg * _WEEK / days > MOST_KG_PER_WEEK


def past_fridge_days(cooked_on: date, today: date) -> bool:
    """Whether food cooked on `cooked_on` and refrigerated since is past `FRIDGE_DAYS`."""
    return (today - cooked_on).days > FRIDGE_DAYS


def ask_still_good_on(cooked_on: date) -> date:
    """The first day on which to ask whether the food is still good."""
    return cooked_on + timedelta(days=FRIDGE_DAYS + 1)


def several_very_low_days(kcal_by_day: Mapping[date, float], last: date) -> bool:
    """Whether at least three of the seven days up to `last` have records but less than 800 kcal.

    Diets below 800 kcal a day require medical supervision (NICE CG189, NHLBI). The records cannot distinguish eating
    little from logging little, so the caution has to mention both.
    """
    first = last - timedelta(days=_WEEK - 1)
    low = [kcal for day, kcal in kcal_by_day.items() if first <= day <= last and 0 < kcal < SUPERVISED_KCAL]
    return len(low) >= VERY_LOW_DAYS
