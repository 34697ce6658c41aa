"""A person's own weight: what can be one, and the trend over a few days."""

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
    """The mean body weight in kg, and over how many days it was taken."""

    mean: float
    days: int


def check_body_weight(kg: float) -> None:
    """Raises DomainError unless `kg` is a weight that a grown body can have, 20 to 300 kg."""
    if not LEAST_KG <= kg <= MOST_KG:
        raise DomainError(f"A body weight has to be between {LEAST_KG:.0f} and {MOST_KG:.0f} kg.")


def trend(values: Mapping[date, float]) -> Trend | None:
    """The mean (kg) of the last seven days that have a value, however far apart they lie; None without any."""
    latest = sorted(values)[-TREND_DAYS:]
    if not latest:
        return None
    return Trend(mean=sum(values[day] for day in latest) / len(latest), days=len(latest))
