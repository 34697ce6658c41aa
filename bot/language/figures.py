"""Slots for what a packet or a target says: nutrient figures in any order, and the serving that they are for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from itertools import pairwise

from bot.language.chunks import Line
from bot.language.counting import read_amount
from bot.language.pack import pack
from bot.language.times import spoken
from bot.language.told import Amount
from bot.language.words import Words

NUTRIENTS = (
    "polyols_g", "saturated_fat_g", "sugars_g", "fibre_g", "protein_g", "carbohydrate_g", "fat_g", "salt_g",
    "sodium_mg", "alcohol_g",
)  # fmt: skip
"""Fields that a figure may be of; a concept of the pack holds the words for each. A longer name comes first."""
SHORTHAND = {"p": "protein_g", "f": "fat_g", "c": "carbohydrate_g"}
"""Letters of people who count: glued to its number, one stands for a nutrient ('200p 70f 300c')."""
KCAL = "kcal"
KJ_PER_KCAL = 4.184
"""Food energy in kJ per kcal, USDA Agriculture Handbook 74; only for labels that print no kcal."""
SALT_PER_SODIUM = 2.5
"""Salt is sodium times 2.5: Regulation (EU) 1169/2011, Annex I."""
MOST_FIGURES = 40
MOST_LABEL_WORDS = 40
MEASURES = ("measure", "volume", "count")


@dataclass(frozen=True, slots=True)
class Figures:
    """Nutrients by field, energy under `kcal`; `bare`: numbers that nothing was said about."""

    values: Mapping[str, float]
    bare: tuple[float, ...] = ()

    def get(self, name: str) -> float | None:
        """One of the figures."""
        return self.values.get(name)

    @property
    def salt_g(self) -> float | None:
        """Grams of salt, from the sodium where only that is printed."""
        sodium = self.values.get("sodium_mg")
        return self.values.get("salt_g", None if sodium is None else sodium * SALT_PER_SODIUM / 1000)


@dataclass(frozen=True, slots=True)
class Serving:
    """What figures are for: grams, and the measure that holds them."""

    grams: float | None
    measure: str | None = None
    count: float = 1.0


@dataclass
class _Told:
    """Nutrient names and numbers in the order told; energy with its unit stands for itself."""

    events: list[tuple[str, Amount | None]] = field(default_factory=list)
    parts: list[int] = field(default_factory=list)
    """Where, among the events, a comma or a line's end stands."""
    kcal: float | None = None
    kilojoules: float | None = None


@cache
def _openers() -> frozenset[str]:
    """The words with which a nutrient's name can begin."""
    return frozenset[str]().union(*(pack()[name].words for name in NUTRIENTS))


def nutrient_at(line: Line, i: int, end: int) -> tuple[str, int] | None:
    """The nutrient named at token i, and where its name ends."""
    if i >= end or line.plain[i] not in _openers():
        return None
    read = ((name, spoken(line, name, i, end)) for name in NUTRIENTS)
    return max(((name, stop) for name, stop in read if stop is not None), key=lambda found: found[1], default=None)


def nutrient(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A nutrient by name: 'protein', 'saturated fat', 'sugar alcohols'."""
    found = nutrient_at(line, i, end)
    if found is not None:
        yield found


def figures(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A stretch of figures, the longest first: '2100 kcal, protein 160 g', '120cal 4p 3f 20c', '1046 kJ/250 kcal'."""
    told = _Told()
    stops: list[tuple[int, Figures]] = []
    at = _past_links(line, i, end)
    for _ in range(MOST_FIGURES):
        stop = _figure(line, at, end, told)
        if stop is None:
            break
        if told.events or told.kcal is not None or told.kilojoules is not None:
            stops.append((stop, _paired(told)))
        at = _past_links(line, stop, end)
        if any(line.text(n) in (",", ";", "\n") for n in range(stop, at)):
            told.parts.append(len(told.events))
    for stop, found in reversed(stops):
        if found.values or found.bare:
            yield found, stop


def _past_links(line: Line, at: int, end: int) -> int:
    while (link := spoken(line, "figure_links", at, end)) is not None or _is_sign(line, at, end):
        at = link or at + 1
    return at


def _is_sign(line: Line, i: int, end: int) -> bool:
    return i < end and line.tokens[i].kind in ("sign", "newline")


def _figure(line: Line, i: int, end: int, told: _Told) -> int | None:
    """Takes one name or number at token i; where it ends, None where there is none."""
    if i >= end:
        return None
    named = nutrient_at(line, i, end)
    if named is not None:
        told.events.append((named[0], None))
        return named[1]
    lettered = _behind_letter(line, i, end, told)
    if lettered is not None:
        told.events += [(SHORTHAND[line.text(i)], None), ("", Amount(kind="bare", value=lettered))]
        return i + 2
    stop = spoken(line, "energy_name", i, end)
    if stop is not None:
        told.events.append((KCAL, None))
        return stop
    number = line.amounts.number(i)
    if number is None or number.end > end:
        return None
    at = number.end
    if (stop := spoken(line, "energy_kcal", at, end)) is not None:
        told.kcal = number.value if told.kcal is None else told.kcal
        return stop
    if (stop := spoken(line, "energy_kj", at, end)) is not None:
        told.kilojoules = number.value if told.kilojoules is None else told.kilojoules
        return stop
    if at < end and line.text(at) in SHORTHAND and (not line.tokens[at].spaced or _counts_macros(line, at, told)):
        told.events.append(("", Amount(kind="bare", value=number.value)))
        told.events.append((SHORTHAND[line.text(at)], None))
        return at + 1
    read = line.amounts.quantity(i)
    if read is None or read[0].kind not in ("mass", "bare") or read[1] > end or read[0].doubt in ("range", "negative"):
        return None
    told.events.append(("", read[0]))
    return read[1]


def _behind_letter(line: Line, i: int, end: int, told: _Told) -> float | None:
    """The grams behind a nutrient's letter: 'p24', and once energy was told 'p 24'."""
    if line.text(i) not in SHORTHAND or i + 1 >= end or (line.tokens[i + 1].spaced and told.kcal is None):
        return None
    try:
        return float(line.text(i + 1))
    except ValueError:
        return None


def _counts_macros(line: Line, at: int, told: _Told) -> bool:
    """Whether a letter that stands apart from its number is a nutrient all the same: '2400 kcal / 150 p'."""
    behind = line.tokens[at + 1].kind if at + 1 < len(line.tokens) else "sign"
    return told.kcal is not None and behind != "word"


def _paired(told: _Told) -> Figures:
    """Each name with its number, part by part where in each part they go together, else by one order for all."""
    values: dict[str, float] = {}
    if told.kcal is not None:
        values[KCAL] = told.kcal
    elif told.kilojoules is not None:
        values[KCAL] = told.kilojoules / KJ_PER_KCAL
    cuts = [0, *told.parts, len(told.events)]
    parts = [_named(told.events[a:b], told) for a, b in pairwise(cuts)]
    if any(len([n for n, _ in part if n]) * 2 != len(part) for part in parts):
        parts = [_named(told.events, told)]
    bare: list[float] = []
    for part in parts:
        bare.extend(_pair(part, values))
    return Figures(values, tuple(bare))


def _named(events: Sequence[tuple[str, Amount | None]], told: _Told) -> list[tuple[str, Amount | None]]:
    """The events without the energy's name where its unit has said it already."""
    return [event for event in events if event[0] != KCAL or told.kcal is told.kilojoules is None]


def _pair(events: Sequence[tuple[str, Amount | None]], values: dict[str, float]) -> list[float]:
    """Puts each name with its number: the one behind it where a name comes first, else the one before; what is left."""
    names = [n for n, (name, _) in enumerate(events) if name]
    numbers = {n: amount for n, (name, amount) in enumerate(events) if not name and amount is not None}
    step = _direction(names, numbers) if names else 1
    for n in names:
        amount = numbers.pop(n + step, None)
        if amount is not None:
            values.setdefault(events[n][0], figure(events[n][0], amount))
    return [amount.value for amount in numbers.values()]


def _direction(names: Sequence[int], numbers: Mapping[int, Amount]) -> int:
    """1 where the numbers stand behind their names, -1 where they stand before."""
    first, last = names[0], names[-1]
    if first - 1 in numbers and last + 1 not in numbers:
        return -1
    behind = first + 1 in numbers and (len(names) < 2 or first + 2 in names or first - 1 not in numbers)
    return 1 if behind else -1


def figure(name: str, amount: Amount) -> float:
    """The amount in the unit of the nutrient's field: milligrams where its name says so, else grams."""
    if amount.grams is None:
        return amount.value
    return amount.grams * 1000 if name.endswith("_mg") else amount.grams


def label_words(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """Words of a label before its figures, the fewest first."""
    for stop in range(i + 1, min(end - 1, i + MOST_LABEL_WORDS) + 1):
        starts = any(spoken(line, concept, stop, end) is not None for concept in ("serving_word", "energy_name"))
        if starts or nutrient_at(line, stop, end) or line.amounts.number(stop):
            yield Words(i, stop, line.typed(i, stop)), stop


def serving(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """What figures are for: 'serving 1 scoop (28 g)', '45 g serving', 'per 100 g', 'one scoop is 31 g'."""
    start = spoken(line, "serving_word", i, end)
    at = i if start is None else start
    while at < end and (
        (link := spoken(line, "serving_links", at, end)) is not None or line.text(at) in (":", "=", "(", "-")
    ):
        at = link or at + 1
    read = _serving_amounts(line, at, end)
    if read is None:
        return
    found, stop = read
    if start is not None:
        yield found, stop
        return
    behind = stop + 1 if line.text(stop) == "-" else stop
    closing = spoken(line, "serving_word", behind, end)
    if closing is not None:
        yield found, closing
    elif found.measure is not None and found.grams is not None:
        yield found, stop


def _serving_amounts(line: Line, i: int, end: int) -> tuple[Serving, int] | None:
    """A mass, a measure, or both in either order."""
    grams: float | None = None
    measure: Amount | None = None
    at, stop = i, i
    while at < end:
        chunk = read_amount(line, at)
        amount = chunk.amount if chunk is not None else None
        if chunk is None or amount is None or chunk.end > end:
            break
        if amount.kind == "mass" and grams is None:
            grams = amount.grams
        elif amount.kind == "bare" and amount.value == 100 and grams is None:
            grams = amount.value
        elif amount.kind in MEASURES and measure is None and grams is None:
            measure = amount
        elif amount.kind == "bare" and grams is None and (inside := _bracket(line, chunk.end, end)) is not None:
            # '1 tortilla (45 g)': what one is called needs no measure.
            at = inside
            continue
        elif amount.kind in MEASURES and measure is None and line.text(at - 1) == "(":
            measure = amount
        else:
            break
        at = stop = chunk.end
        while at < end and ((link := spoken(line, "serving_links", at, end)) is not None or line.text(at) in "()=:,"):
            closes = line.text(at) == ")"
            at = link or at + 1
            if closes:
                stop = at
            if line.text(at - 1) == "," and not (grams is None and measure is not None):
                return _serving(grams, measure), stop
    return (_serving(grams, measure), stop) if stop > i else None


def _bracket(line: Line, i: int, end: int) -> int | None:
    """The token behind an opening bracket that comes after a word or two."""
    return next((at + 1 for at in range(i + 1, min(end, i + 3)) if line.text(at) == "("), None)


def _serving(grams: float | None, measure: Amount | None) -> Serving:
    return Serving(grams, measure.unit, measure.value) if measure is not None else Serving(grams)
