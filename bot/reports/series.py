"""What a picture shows, as values that can be kept and checked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import msgspec

from domain.bodyweight import Trend, trend


@dataclass(frozen=True, slots=True, kw_only=True)
class DayFigures:
    """One day of a picture; None where nothing is on record. Energy in kcal, body weight in the picture's unit."""

    day: date
    kcal: float | None = None
    give_or_take: float = 0.0
    at_least: bool = False
    target_kcal: float | None = None
    protein_g: float | None = None
    target_protein_g: float | None = None
    weight: float | None = None
    mean_weight: float | None = None
    """The mean of the last seven body weights up to this day, on a day that has one; the next two their range."""
    least_weight: float | None = None
    most_weight: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A stretch of days, and the unit that body weight is shown in."""

    title: str
    days: tuple[DayFigures, ...]
    weight_unit: str = "kg"


def encode(picture: Picture) -> str:
    """The picture as JSON."""
    return msgspec.json.encode(picture).decode()


def decode(text: str) -> Picture:
    """The picture that `encode` made the text of."""
    return msgspec.json.decode(text, type=Picture)


def stretch(first: date, last: date) -> Sequence[date]:
    """The days from first to last, both included."""
    return [first + timedelta(days=n) for n in range((last - first).days + 1)]


def running_trends(weights: Mapping[date, float]) -> dict[date, Trend]:
    """For each day with a body weight the trend of the last seven values up to then."""
    trends = {}
    for day in weights:
        upto = trend({d: kg for d, kg in weights.items() if d <= day})
        if upto is not None:
            trends[day] = upto
    return trends
