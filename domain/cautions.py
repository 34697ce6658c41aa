"""When something belongs with a clinician or the food authority, and how long cooked food keeps."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Final

from domain.targets import SUPERVISED_KCAL

FRIDGE_DAYS: Final = 3
"""Cooked leftovers keep 3 to 4 days in a refrigerator at 4 °C (40 °F) or below (USDA FSIS); asked at the shorter."""
FREEZER_MONTHS: Final = (2, 6)
"""Cooked meat and poultry keep their quality so many months at -18 °C (0 °F) (nia.nih.gov, FoodSafety chart)."""

VERY_LOW_DAYS: Final = 3
"""So many very low days within a week are several."""
_WEEK: Final = 7


def past_fridge_days(cooked_on: date, today: date) -> bool:
    """Whether food cooked on that day has been in the refrigerator for more than the three safe days."""
    return (today - cooked_on).days > FRIDGE_DAYS


def ask_still_good_on(cooked_on: date) -> date:
    """The first day on which to ask whether the food is still good."""
    return cooked_on + timedelta(days=FRIDGE_DAYS + 1)


def several_very_low_days(kcal_by_day: Mapping[date, float], last: date) -> bool:
    """Whether at least three of the seven days to `last` stayed under 800 kcal although something was logged.

    800 kcal a day is where medical supervision starts (NICE CG189, NHLBI). A day with little logged may also be a day
    with little written down, which no record can tell apart: the caution has to say so.
    """
    first = last - timedelta(days=_WEEK - 1)
    low = [kcal for day, kcal in kcal_by_day.items() if first <= day <= last and 0 < kcal < SUPERVISED_KCAL]
    return len(low) >= VERY_LOW_DAYS
