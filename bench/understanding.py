"""Understanding compared with two general-purpose parsers: speed, and how often amount, unit and food are all right."""

from __future__ import annotations

import itertools
import tempfile
import time
import warnings
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from importlib.metadata import version
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from bench import tagger
from bench.table import Table
from bot.language import Surroundings, understand
from bot.language.meanings import Meaning, NotMine
from bot.language.told import Amount, Item
from domain.quantities import VOLUME_UNITS, Region, grams, millilitres
from tests.language.corpus import DENSITY_SHARE_OFF, FILES, SHARE_OFF, WEIGHT_OFF, Case, read

SIZES = (1_000, 10_000, 100_000)
LINES = ("180 g cooked rice", "45 g cheddar", "2 oz almonds", "banana 118 g", "1.2 kg raw potatoes", "250 g milk")
LONG_ENOUGH_S = 2.0
ROUNDS = 5
NEEDS_MORE = ("density", "counted")
"""Evidence of a weight for which the message gives only a volume or a count."""

QUANTULUM_MASSES = {"gram": "g", "kilogram": "kg", "milligram": "mg", "ounce": "oz", "pound-mass": "lb", "stone": "st"}
QUANTULUM_VOLUMES = {
    "millilitre": "ml",
    "cubic centimetre": "ml",
    "centilitre": "cl",
    "decilitre": "dl",
    "litre": "l",
    "teaspoon": "tsp",
    "tablespoon": "tbsp",
    "cup": "cup",
    "fluid ounce": "floz",
    "pint": "pint",
    "quart": "quart",
}
VOLUME_SYSTEMS = {Region.US: "us_customary", Region.UK: "imperial", Region.METRIC: "metric"}

NOTE = """\
Messages: the plain weigh-ins of tests/language, one weigh-in each and nothing said before it. "As said" names the
weight that is recorded; in "the rest" it follows from a volume, a count, or a sum that the message tells of.
Right: the weight expected is one of the parser's quantities, their sum, or the largest less the others, within the
margins of tests/language; a volume weighs what water does, and a number without a unit counts for none of them. The
words expected are in the food that it names. understand must find one weigh-in and decide on one food of the table.
quantulum3 names no food: all the text beside its quantities counts as its food, so that only spelling can fail.
It runs without its optional classifier. ingredient-parser-nlp has the tagger that it would fetch. Every parser has
read all messages once before it is timed.
These messages are home ground: understand was developed on them and the others were not."""

LIST_NOTE = """\
Lines such as "180 g cooked rice". understand gets the whole text and must find one weigh-in in each line; the others
get one line at a time, which suits them best."""


class NotRead(Exception):
    """The list was not understood line by line, so that its time says nothing."""


class Unavailable(Exception):
    """A parser that cannot be compared here, with the reason."""


@dataclass(frozen=True, slots=True)
class Reading:
    """What a parser made of a message: its quantities in grams, and the name of the food."""

    grams: Sequence[float] = ()
    food: str = ""


@dataclass(frozen=True, slots=True)
class Parser:
    """A parser as it is called for a message in a region, how its answer is read, and how it is given a list."""

    name: str
    parse: Callable[[Case], Any]
    reading: Callable[[Any, Case], Reading]
    parse_list: Callable[[str], object]


def tables() -> list[Table]:
    """How fast each is and how often it is right, then the time that a long list takes."""
    cases = [case for path in FILES for case in read(path) if _is_plain(case)]
    as_said = [case for case in cases if _names_its_weight(case)]
    rest = [case for case in cases if not _names_its_weight(case)]
    parsers, rows, notes = [], [], [NOTE]
    for name, load in (
        ("understand", _ours),
        ("ingredient-parser-nlp", _ingredient_parser),
        ("quantulum3", _quantulum),
    ):
        try:
            parser = load()
        except Unavailable as why:
            rows.append([f"{name} (not measured)", *["–"] * 5])
            notes.append(f"{name} was not measured: {why}.")
            continue
        parsers.append(parser)
        rows.append([parser.name, *_figures(parser, as_said, rest)])
    columns = ("parser", "a second", "weight, as said", "food, as said", "both, as said", "both, the rest")
    title = f"{len(cases)} plain weigh-ins: {len(as_said)} as said, {len(rest)} the rest"
    lengths = [[parser.name, *row] for parser in parsers for row in _lengths(parser)]
    return [
        Table(title, columns, rows, "\n".join(notes)),
        Table("A well-formed list", ("parser", "kB", "ms", "ms per kB"), lengths, LIST_NOTE),
    ]


def _is_plain(case: Case) -> bool:
    return (
        not case.given
        and case.edit is None
        and all(len(choice) == 1 and choice[0]["type"] == "weigh_in" for choice in case.expected)
        and all("as_weighed_g" in choice[0] or "edible_g" in choice[0] for choice in case.expected)
    )


def _names_its_weight(case: Case) -> bool:
    return all("as_weighed_g" in choice[0] and choice[0].get("evidence") not in NEEDS_MORE for choice in case.expected)


def _figures(parser: Parser, as_said: Sequence[Case], rest: Sequence[Case]) -> list[str]:
    readings = [(case, parser.reading(parser.parse(case), case)) for case in (*as_said, *rest)]
    judged = [(_weight_right(case, reading), _food_right(case, reading)) for case, reading in readings]
    said, others = judged[: len(as_said)], judged[len(as_said) :]
    took = _seconds(lambda: [parser.parse(case) for case, _ in readings])
    counts = [sum(weight for weight, _ in said), sum(food for _, food in said)]
    return [
        f"{len(readings) / took:,.0f}",
        *(f"{count / len(said):.1%}" for count in (*counts, sum(map(all, said)))),
        f"{sum(map(all, others)) / len(others):.1%}",
    ]


def _weight_right(case: Case, reading: Reading) -> bool:
    told = sorted(reading.grams)
    candidates = [*told, sum(told), *([told[-1] - sum(told[:-1])] if told else [])]
    return any(_near(had, choice[0]) for choice in case.expected for had in candidates)


def _near(had: float, event: dict[str, Any]) -> bool:
    share = DENSITY_SHARE_OFF if event.get("evidence") == "density" else SHARE_OFF
    wanted = event["as_weighed_g"] if "as_weighed_g" in event else event["edible_g"]
    return bool(abs(had - wanted) <= max(WEIGHT_OFF, share * wanted))


def _food_right(case: Case, reading: Reading) -> bool:
    food = reading.food.lower()
    return any(all(word.lower() in food for word in choice[0]["food"]) for choice in case.expected)


def _lengths(parser: Parser) -> list[list[str]]:
    rows = []
    for size in SIZES:
        text = _list(size)
        took = 1000 * _seconds(partial(parser.parse_list, text))
        rows.append([f"{len(text) / 1000:.0f}", f"{took:,.1f}", f"{1000 * took / len(text):.2f}"])
    return rows


def _list(size: int) -> str:
    """A list of as many characters, up to the end of its last line."""
    lines = itertools.cycle(LINES)
    text = next(lines)
    while len(text) < size:
        text += "\n" + next(lines)
    return text


def _seconds(run: Callable[[], object]) -> float:
    """The shortest time of a few rounds; fewer where one takes long."""
    times: list[float] = []
    while len(times) < ROUNDS and sum(times) < LONG_ENOUGH_S:
        began = time.perf_counter()
        run()
        times.append(time.perf_counter() - began)
    return min(times)


def _region(case: Case) -> Region:
    return Region(case.person.get("region", Region.US))


def _ours() -> Parser:
    def parse(case: Case) -> list[Meaning]:
        zone = ZoneInfo(case.person.get("timezone", "UTC"))
        return understand(case.say, Surroundings(now=case.at.astimezone(zone), region=_region(case)))

    def reading(meanings: list[Meaning], case: Case) -> Reading:
        match [meaning for meaning in meanings if not isinstance(meaning, NotMine)]:
            case [Item(name=name) as item]:
                told = [_grams(item.amount, _region(case)), item.waste_g, item.others_g]
                foods = name.foods if name is not None else ()
                return Reading([weight for weight in told if weight], foods[0] if len(foods) == 1 else "")
            case _:
                return Reading()

    around = Surroundings(now=read(FILES[0])[0].at)

    def parse_list(text: str) -> None:
        lines = text.count("\n") + 1
        items = [meaning for meaning in understand(text, around) if isinstance(meaning, Item)]
        if len(items) != lines:
            raise NotRead(f"{len(items)} weigh-ins were found in {lines} lines")

    return Parser("understand", parse, reading, parse_list)


def _grams(amount: Amount | None, region: Region) -> float | None:
    if amount is None or amount.kind == "mass":
        return None if amount is None else amount.grams
    return millilitres(amount.value, amount.unit, region) if amount.unit in VOLUME_UNITS else None


def _ingredient_parser() -> Parser:
    with tempfile.TemporaryDirectory() as folder:
        try:
            tagger.provide(Path(folder))
            from ingredient_parser import parse_ingredient
        except (ImportError, tagger.Missing) as missing:
            raise Unavailable(str(missing)) from None
        parse_ingredient("100 g of salt")

    def parse(case: Case) -> Any:
        return parse_ingredient(case.say, volumetric_units_system=VOLUME_SYSTEMS[_region(case)])

    def reading(parsed: Any, _: Case) -> Reading:
        told = [weight for amount in parsed.amount if (weight := _ingredient_grams(amount)) is not None]
        return Reading(told, " ".join(name.text for name in parsed.name))

    def parse_list(text: str) -> None:
        for line in text.splitlines():
            parse_ingredient(line)

    return Parser(f"ingredient-parser-nlp {version('ingredient-parser-nlp')}", parse, reading, parse_list)


def _ingredient_grams(amount: Any) -> float | None:
    """By its own units, a volume as water. None where it knows neither a mass nor a volume."""
    import pint

    converted = []
    for part in getattr(amount, "amounts", [amount]):
        try:
            # Its own conversion from a volume to a mass fails on its fractions.
            quantity = float(part.quantity) * part.unit
            converted.append(float(quantity.to("g" if quantity.check("[mass]") else "ml").magnitude))
        except (TypeError, ValueError, pint.PintError):
            return None
    return converted[0] - sum(converted[1:]) if getattr(amount, "subtractive", False) else sum(converted)


def _quantulum() -> Parser:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # that its optional classifier is not installed
        try:
            from quantulum3 import parser as quantulum
        except ImportError:
            raise Unavailable("it is not installed") from None

    def parse(case: Case) -> Any:
        return quantulum.parse(case.say)

    def reading(quantities: Any, case: Case) -> Reading:
        region = _region(case)
        told = [weight for one in quantities if (weight := _quantulum_grams(one, region)) is not None]
        left, end = [], 0
        for begins, ends in sorted(one.span for one in quantities):
            left.append(case.say[end:begins])
            end = ends
        return Reading(told, " ".join([*left, case.say[end:]]))

    def parse_list(text: str) -> None:
        for line in text.splitlines():
            quantulum.parse(line)

    return Parser(f"quantulum3 {version('quantulum3')}", parse, reading, parse_list)


def _quantulum_grams(quantity: Any, region: Region) -> float | None:
    name = quantity.unit.name
    if name in QUANTULUM_MASSES:
        return grams(quantity.value, QUANTULUM_MASSES[name])
    if name in QUANTULUM_VOLUMES:
        return millilitres(quantity.value, QUANTULUM_VOLUMES[name], region)
    return None
