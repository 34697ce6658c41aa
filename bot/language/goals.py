"""The slot for what a target says: its figures, the days that it is for, from when, until when."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from bot.language.chunks import Line
from bot.language.figures import KCAL, Figures, figures
from bot.language.times import from_day, passed, spoken, until_day, weekdays

LEAST_BARE_KCAL = 500.0
"""A bare number that can only be energy."""


@dataclass(frozen=True, slots=True)
class TargetSaid:
    """The parts of a target, in whatever order they were told."""

    figures: Figures
    first: date | None = None
    until: date | None = None
    days: str = ""

    def amounts(self) -> dict[str, float | None]:
        """The figures by the names of a target's fields."""
        names = ("kcal", "protein_g", "fat_g", "carbohydrate_g", "fibre_g", "sugars_g", "saturated_fat_g", "alcohol_g")
        return {**{name: self.figures.get(name) for name in names}, "salt_g": self.figures.salt_g}


def target_said(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """What is said of a target, the longest stretch first; nothing where there is no figure or one too many."""
    told: Figures | None = None
    first: date | None = None
    until: date | None = None
    kind, at = "", i
    found: list[tuple[TargetSaid, int]] = []
    while at < end:
        days = kind_of_day(line, at, end)
        read = next(figures(line, at, end), None) if told is None else None
        ahead = next(from_day(line, at, end), None) if first is None else None
        last = next(until_day(line, at, end), None) if until is None else None
        link = spoken(line, "target_links", at, end)
        if days is not None and not kind:
            kind, at = days
        elif last is not None and isinstance(last[0], date):
            until, at = last[0], last[1]
        elif ahead is not None and isinstance(ahead[0], date):
            first, at = ahead[0], ahead[1]
        elif read is not None and isinstance(read[0], Figures):
            told, at = read[0], read[1]
        elif link is not None:
            at = link
        elif line.tokens[at].kind in ("sign", "newline") and at > i:
            at += 1
            continue
        else:
            break
        whole = _with_energy(told) if told is not None else None
        if whole is not None:
            found.append((TargetSaid(whole, first, until, kind), at))
    yield from reversed(found)


def _with_energy(told: Figures) -> Figures | None:
    """'2100' by itself is energy; None where a number is left over."""
    if not told.bare:
        return told
    if len(told.bare) == 1 and told.bare[0] >= LEAST_BARE_KCAL and told.get(KCAL) is None:
        return Figures({**told.values, KCAL: told.bare[0]})
    return None


def kind_of_day(line: Line, i: int, end: int) -> tuple[str, int] | None:
    """'on training days', 'for rest days', 'on weekdays', 'on Mondays and Thursdays'."""
    at = passed(line, "on_days", i, end)
    for kind in ("training", "rest"):
        stop = spoken(line, f"{kind}_days", at, end)
        if stop is not None:
            return kind, stop
    longest = max(weekdays(line, at, end), key=lambda read: read[1], default=None)
    # In the singular a day's name is one day and no kind of day ('from Monday').
    if longest is None or line.plain[longest[1] - 1] in line.words.weekdays:
        return None
    return str(longest[0]), longest[1]
