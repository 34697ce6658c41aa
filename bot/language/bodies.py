"""Slots for a person's body: weight, height, age, and a rate of change."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bot.language.chunks import Line
from bot.language.counting import read_amount
from bot.language.times import passed, spoken
from domain import quantities
from domain.quantities import Region

CM_PER_INCH = 2.54
INCHES_PER_FOOT = 12
POUNDS_PER_STONE = 14
WEEKS_A_MONTH = 365.25 / 12 / 7
BODY_UNITS = ("kg", "lb", "st")
OLDEST = 130


@dataclass(frozen=True, slots=True)
class Body:
    """A body weight as told; `kg` is None where no unit was said."""

    value: float
    unit: str | None
    kg: float | None


def body(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A mass that may be a person's, or a bare number: '82.4 kg', '11 stone 6', 'eighty two point four'."""
    chunk = read_amount(line, i)
    amount = chunk.amount if chunk is not None else None
    if chunk is None or amount is None or chunk.end > end or amount.doubt in ("range", "negative"):
        return
    if amount.kind == "bare":
        yield Body(amount.value, None, None), chunk.end
        return
    if amount.kind != "mass" or amount.grams is None:
        return
    units = [line.amounts.unit(at) for at in range(i, chunk.end)]
    named = [unit[1] for unit in units if unit is not None]
    unit = named[0] if named else amount.unit
    grams, stop = amount.grams, chunk.end
    if unit not in BODY_UNITS:
        return
    number = line.amounts.number(stop) if unit == "st" and len(named) == 1 and stop < end else None
    if number is not None and number.value < POUNDS_PER_STONE and number.end <= end:
        yield Body(amount.value, unit, (grams + quantities.grams(number.value, "lb")) / 1000), number.end
        return
    yield Body(amount.value, unit, grams / 1000), stop


def height(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """Centimetres: '178 cm', '1.78 m', '1 m 78', '5 ft 11', "5'11", 'five foot eleven', '70 inches', '178'."""
    number = line.amounts.number(i)
    if number is None or number.end > end:
        return
    at = number.end
    if (stop := spoken(line, "metres", at, end)) is not None:
        more = line.amounts.number(stop) if stop < end else None
        if more is not None and more.end <= end and 0 < more.value < 100:
            yield 100 * number.value + more.value, passed(line, "centimetres", more.end, end)
        yield 100 * number.value, stop
    elif (stop := spoken(line, "centimetres", at, end)) is not None:
        yield number.value, stop
    elif line.text(at) == "'" or spoken(line, "feet", at, end) is not None:
        yield from _feet(line, number.value, at + 1 if line.text(at) == "'" else passed(line, "feet", at, end), end)
    elif line.text(at) == '"' or spoken(line, "inches", at, end) is not None:
        yield number.value * CM_PER_INCH, max(at + 1, passed(line, "inches", at, end))
    elif number.value < 3:
        yield 100 * number.value, at
    else:
        in_inches = line.around.region is Region.US and number.value < 100
        yield number.value * (CM_PER_INCH if in_inches else 1), at


def _feet(line: Line, feet: float, at: int, end: int) -> Iterator[tuple[object, int]]:
    number = line.amounts.number(at) if at < end else None
    if number is not None and number.end <= end and number.value < INCHES_PER_FOOT:
        stop = number.end + 1 if line.text(number.end) == '"' else passed(line, "inches", number.end, end)
        yield (INCHES_PER_FOOT * feet + number.value) * CM_PER_INCH, stop
    yield INCHES_PER_FOOT * feet * CM_PER_INCH, at


def mass_body(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A body weight that says its unit."""
    yield from ((read, stop) for read, stop in body(line, i, end) if isinstance(read, Body) and read.unit)


def measured_height(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A height that says its unit."""
    number = line.amounts.number(i)
    if number is not None:
        yield from ((cm, stop) for cm, stop in height(line, i, end) if stop > number.end)


def years(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """An age in years: '34', '34 years old', 'thirty-four'."""
    number = line.amounts.number(i)
    if number is None or number.end > end or number.value != int(number.value) or number.value > OLDEST:
        return
    stop = spoken(line, "years_old", number.end, end)
    if stop is not None:
        yield int(number.value), stop
    yield int(number.value), number.end


def rate(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """Kilograms a week, negative to lose, 0 to keep the weight: 'lose half a kilo a week', 'maintain my weight'."""
    if (stop := spoken(line, "keep_weight", i, end)) is not None:
        yield 0.0, stop
        return
    losing = spoken(line, "to_lose", i, end)
    way = losing or spoken(line, "to_gain", i, end)
    if way is None:
        return
    read = line.amounts.quantity(passed(line, "roughly", way, end))
    if read is None or read[0].grams is None or read[1] > end:
        return
    kg = read[0].grams / 1000 * (-1 if losing is not None else 1)
    if (stop := spoken(line, "per_month", read[1], end)) is not None:
        yield kg / WEEKS_A_MONTH, stop
    else:
        yield kg, passed(line, "per_week", read[1], end)
