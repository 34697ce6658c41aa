"""Body weight: plausible values, and the trend over several days."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final

from domain.errors import DomainError

LEAST_KG: Final = 20.0
MOST_KG: Final = 300.0
TREND_DAYS: Final = 7


@dataclass(frozen=True, slots=True)
class Trend:
    """Mean body weight in kg, the number of days it was computed from, and the least and the most on them."""

    mean: float
    days: int
    least: float
    most: float


def check_body_weight(kg: float) -> None:
    """Raises DomainError unless `kg` is a plausible body weight: 20 to 300 kg."""
    if not LEAST_KG <= kg <= MOST_KG:
        raise DomainError(f"{kg:g} kg: a body weight has to be between {LEAST_KG:.0f} and {MOST_KG:.0f} kg.")


def trend(values: Mapping[date, float]) -> Trend | None:
    """The last seven days that have a value, consecutive or not; None if there is no value."""
    latest = sorted(values)[-TREND_DAYS:]
    if not latest:
        return None
    weights = [values[day] for day in latest]
    return Trend(mean=sum(weights) / len(weights), days=len(weights), least=min(weights), most=max(weights))
