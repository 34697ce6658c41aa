"""What must hold of the curated files before a table is built from them."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from domain.foods import State
from domain.reference.portions import Portion
from domain.reference.published import Published

METHODS = frozenset(
    (
        "",
        "roasted",
        "grilled",
        "boiled",
        "fried",
        "steamed",
        "baked",
        "braised",
        "microwaved",
        "poached",
        "scrambled",
        "canned",
    )
)
STATE_WORDS = frozenset(("raw", "uncooked", "dry", "cooked", "boiled", "roasted", "grilled", "steamed", "baked"))

_PIECES = re.compile(r"[a-z][a-z ]*=\d+(\.\d+)?(;[a-z][a-z ]*=\d+(\.\d+)?)*")
_PORTION = re.compile(r"[a-z][a-z ]*(@(US|UK|metric))?")
_MEASURES = re.compile(r"(cup|tbsp|tsp|floz)=\d+(\.\d+)?(;(cup|tbsp|tsp|floz)=\d+(\.\d+)?)*")


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a curated file: a food in one state and method."""

    group: str
    cells: Mapping[str, str]

    @property
    def food(self) -> str:
        """The food's name."""
        return self.cells["food"]

    @property
    def aliases(self) -> tuple[str, ...]:
        """The other names given on this line."""
        return tuple(filter(None, self.cells["aliases"].split("|")))


@dataclass(frozen=True, slots=True)
class Curated:
    """All curated lines, a food's lines together in their file's order, and the lines of the generic words."""

    foods: Mapping[str, Sequence[Line]]
    kinds: Sequence[Mapping[str, str]]


def problems(curated: Curated, published: Mapping[str, Published]) -> list[str]:
    """Everything wrong with the curated files, as sentences; empty when they are sound."""
    found = list(_name_problems(curated))
    for lines in curated.foods.values():
        for line in lines:
            place = f"{line.group}: {line.food} ({line.cells['state']} {line.cells['method']})".replace(" )", ")")
            found += [f"{place}: {problem}" for problem in _line_problems(line, lines, published)]
        if len({(line.cells["state"], line.cells["method"]) for line in lines}) < len(lines):
            found.append(f"{lines[0].group}: {lines[0].food}: two rows of one state and method")
        if len({line.group for line in lines}) > 1:
            found.append(f"{lines[0].food}: stands in several files: {sorted({line.group for line in lines})}")
    return found


def portion_problems(curated: Curated, portions: Iterable[Portion]) -> list[str]:
    """Everything wrong with the portions beside the curated files, as sentences."""
    found = []
    for one in portions:
        if one.food not in curated.foods:
            found.append(f"portions: {one.food!r} is no food")
        if not _PORTION.fullmatch(one.piece):
            found.append(f"portions: {one.food}: no such piece: {one.piece}")
        if not 0 < one.low_g <= one.grams <= one.high_g:
            found.append(f"portions: {one.food}, {one.piece}: {one.grams:g} g is outside its own spread")
        if not one.source:
            found.append(f"portions: {one.food}, {one.piece}: no source")
    return found


def _name_problems(curated: Curated) -> Iterator[str]:
    owners: dict[str, str] = {food: food for food in curated.foods}
    for food, lines in curated.foods.items():
        for alias in (alias for line in lines for alias in line.aliases):
            if alias != " ".join(alias.lower().split()):
                yield f"{food}: alias {alias!r} is not lower case with single spaces"
            if alias in owners:
                yield f"{food}: alias {alias!r} already means {owners[alias]}"
            owners.setdefault(alias, food)
    words: set[str] = set()
    for line in curated.kinds:
        word, kinds = line["word"], line["kinds"].split("|")
        if word in owners:
            yield f"kinds: {word!r} already means {owners[word]}"
        if word in words:
            yield f"kinds: {word!r} is given twice"
        words.add(word)
        defaults = [food.partition("@")[0] for food in line["default"].split("|") if food]
        for food in (*kinds, *defaults):
            if food not in curated.foods:
                yield f"kinds: {word!r} names {food!r}, which is no food"
        if not set(defaults) <= set(kinds):
            yield f"kinds: the default of {word!r} is not among its kinds"


def _line_problems(line: Line, food: Sequence[Line], published: Mapping[str, Published]) -> Iterator[str]:
    cells = line.cells
    if line is not food[0] and (cells["aliases"] or cells["drunk"] or cells["dish"]):
        yield "aliases, drunk and dish belong on the food's first line"
    if cells["state"] not in State.__members__.values():
        yield f"no such state: {cells['state']}"
    if cells["method"] not in METHODS:
        yield f"no such method: {cells['method']}"
    yield from (
        f"{column} is yes or empty, not {cells[column]!r}"
        for column in ("drunk", "dish")
        if cells[column] not in ("", "yes")
    )
    if cells["measures"] and not _MEASURES.fullmatch(cells["measures"]):
        yield f"measures can't be read: {cells['measures']}"
    if cells["refuse"] and not (cells["refuse"] == "0" or 1 <= float(cells["refuse"]) < 100):
        yield f"refuse is a percentage, not {cells['refuse']}"
    if cells["refuse"] and not cells["note"]:
        yield "a corrected refuse needs its reason in the note"
    source = published.get(cells["source"])
    if source is None:
        yield f"no table has a row {cells['source']!r}"
        return
    missing = [name for name in ("energy_kcal", "protein_g", "fat_g", "carbohydrate_g") if not source.cells.get(name)]
    if missing:
        yield f"{cells['source']} lacks {', '.join(missing)}"
    yield from _piece_problems(
        cells, [published[row.cells["source"]] for row in food if row.cells["source"] in published]
    )


def _piece_problems(cells: Mapping[str, str], sources: Sequence[Published]) -> Iterator[str]:
    if not cells["pieces"]:
        return
    if not _PIECES.fullmatch(cells["pieces"]):
        yield f"pieces can't be read: {cells['pieces']}"
        return
    known = [measure.grams / measure.amount for source in sources for measure in source.measures if measure.amount]
    for part in cells["pieces"].split(";"):
        grams = float(part.partition("=")[2])
        if not cells["note"] and not any(abs(grams - one) <= 0.05 for one in known):
            yield f"piece {part} stands among no household measure of the food, and no note says where it is from"
