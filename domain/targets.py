"""Daily targets: resting energy, activity factor, goal rate, and the floors that limit them.

Resting energy: Mifflin, St Jeor et al. 1990, Am J Clin Nutr 51:241-247, the simplified form of the abstract. It is
within 10 % of a measured value for most people (Frankenfield 2005; 78 % of non-obese people in St Jeor 2004), so a
computed target is a starting point, not a measurement.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from domain.errors import DomainError

EQUATION: Final = "Mifflin-St Jeor (1990)"
EQUATION_ERROR: Final = 0.10
"""Relative error of the equation for most people."""

KCAL_PER_KG: Final = 7_700.0
"""Energy of a kilogram of body weight: 32.2 MJ/kg (Hall 2008, Int J Obes 32:573). Valid at
first and above 30 kg of body fat. Energy needs fall with weight, so a long deficit achieves less than this predicts."""

MOST_KG_PER_WEEK: Final = 1.0
"""NICE: 0.5 to 1 kg a week at most; NHLBI: 1 to 2 lb."""

LEAST_BMI: Final = 18.5
"""Body mass index (kg/m2) below which an adult is underweight (WHO Technical Report Series 894, 2000; from memory)."""

ADULT_YEARS: Final = 18
OLDEST_YEARS: Final = 110
LEAST_CM: Final = 120.0
MOST_CM: Final = 230.0

SUPERVISED_KCAL: Final = 800.0
"""Below this a diet is a very-low-calorie one, which belongs under medical supervision (NHLBI 4.3.2.1, NICE CG189)."""


@dataclass(frozen=True, slots=True)
class Target:
    """What somebody aims at for a day, in kcal and grams; None where nothing is set."""

    kcal: float | None = None
    protein_g: float | None = None
    fat_g: float | None = None
    carbohydrate_g: float | None = None
    fibre_g: float | None = None
    sugars_g: float | None = None
    saturated_fat_g: float | None = None
    salt_g: float | None = None
    alcohol_g: float | None = None


class Sex(StrEnum):
    """Which of the equation's two constants applies."""

    FEMALE = "female"
    MALE = "male"


class Activity(StrEnum):
    """Activity level of a typical day."""

    SITTING = "mostly sitting"
    LIGHT = "on my feet at times"
    ACTIVE = "active"
    VIGOROUS = "very active"


ACTIVITY_FACTORS: Final = {
    # The lower end, the middle, and the middles of the ranges of FAO/WHO/UNU 2001, table 5.3: sedentary or light
    # 1.40-1.69, active or moderate 1.70-1.99, vigorous 2.00-2.40. One class alone spans 8 to 10 % either way.
    Activity.SITTING: 1.40,
    Activity.LIGHT: 1.55,
    Activity.ACTIVE: 1.85,
    Activity.VIGOROUS: 2.20,
}

FLOORS_KCAL: Final = {Sex.FEMALE: 1_200.0, Sex.MALE: 1_500.0}
"""No target is computed below these: common practice, and above the lower ends of NHLBI's usual low-calorie diet
(women 1,000 to 1,200, men 1,200 to 1,600 kcal a day; NIH 00-4084)."""

_CONSTANT: Final = {Sex.FEMALE: -161.0, Sex.MALE: 5.0}


@dataclass(frozen=True, slots=True)
class Body:
    """The inputs of the equation: kilograms, centimetres, years."""

    sex: Sex
    kg: float
    cm: float
    years: float


@dataclass(frozen=True, slots=True)
class Computed:
    """A computed target in kcal a day with its intermediate values; `floored` if it was raised to the floor."""

    resting_kcal: float
    factor: float
    spent_kcal: float
    change_kcal: float
    kcal: float
    floored: bool

    @property
    def low_kcal(self) -> float:
        """Energy expenditure if the equation is 10 % too high."""
        return self.spent_kcal * (1 - EQUATION_ERROR)

    @property
    def high_kcal(self) -> float:
        """Energy expenditure if the equation is 10 % too low."""
        return self.spent_kcal * (1 + EQUATION_ERROR)


def resting_kcal(body: Body) -> float:
    """Resting energy in kcal a day: 10 kg + 6.25 cm - 5 years, + 5 for men, - 161 for women."""
    return 10 * body.kg + 6.25 * body.cm - 5 * body.years + _CONSTANT[body.sex]


def daily_change_kcal(kg_per_week: float) -> float:
    """Daily energy surplus (negative: deficit) in kcal for a rate in kg a week; 0.5 kg a week is 550 kcal."""
    return kg_per_week * KCAL_PER_KG / 7


def compute(body: Body, activity: Activity, kg_per_week: float = 0.0) -> Computed:
    """The target for a goal rate in kg a week (negative to lose), never below the floor.

    Raises DomainError for an age under 18, an implausible age or height, a rate above 1 kg a week, or a loss at a
    body mass index under 18.5.
    """
    check_years(body.years)
    check_height(body.cm)
    if abs(kg_per_week) > MOST_KG_PER_WEEK:
        raise DomainError(f"{MOST_KG_PER_WEEK:g} kg a week is the most that I compute a target for.")
    if kg_per_week < 0 and body.kg / (body.cm / 100) ** 2 < LEAST_BMI:
        raise DomainError(
            "At that height and weight I don't compute a weight-loss target. Please talk to your doctor or dietitian."
        )
    resting = resting_kcal(body)
    factor = ACTIVITY_FACTORS[activity]
    spent = resting * factor
    change = daily_change_kcal(kg_per_week)
    floor = FLOORS_KCAL[body.sex]
    return Computed(resting, factor, spent, change, max(floor, spent + change), spent + change < floor)


def check_years(years: float) -> None:
    """Raises DomainError unless a target can be computed for the age: 18 to 110 years."""
    if years < ADULT_YEARS:
        raise DomainError(
            "I don't compute targets for people under 18: the equation does not allow for growth. A doctor can help."
        )
    if years > OLDEST_YEARS:
        raise DomainError(f"{years:.0f} can't be an age in years.")


def check_height(cm: float) -> None:
    """Raises DomainError unless `cm` is a plausible adult height: 120 to 230 cm."""
    if not LEAST_CM <= cm <= MOST_CM:
        raise DomainError(f"{cm:.0f} cm can't be a grown person's height: I accept {LEAST_CM:.0f} to {MOST_CM:.0f} cm.")


def floor_kcal(sex: Sex | None) -> float:
    """The target in kcal a day below which a confirmation is required; the lower floor if the sex is unknown."""
    return FLOORS_KCAL[sex] if sex is not None else min(FLOORS_KCAL.values())
