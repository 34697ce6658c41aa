"""What may fill a slot of a template: each leaf parser says what stands at a place of a clause, and where it ends."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import chain

from bot.language import bodies, figures, food_slots, goals, persons, times, words
from bot.language.belongings import read_batch_name, read_batch_number, read_hash, read_tare
from bot.language.chunks import Chunk, Line
from bot.language.clause import Clause
from bot.language.counting import amount_openers, read_amount
from bot.language.foodwords import read_state
from bot.language.lexicon import lexicon
from bot.language.moments import moment_openers
from bot.language.number_words import number_words
from bot.language.pack import NUMERAL, Pack, pack, plain
from bot.language.pots import POT_SLOTS
from bot.language.told import Amount
from bot.language.words import Filler

REMINDERS = ("digest", "week", "cook", "good", "usual", "morning", "breakfast", "lunch", "evening")
"""Reminders by their kind; a concept of the pack holds the words for each."""


def clause_of(line: Line, start: int, end: int, pack: Pack) -> Clause:
    """Tokens start to end as templates see them."""
    said = line.plain
    skipped = dict(zip(range(start, end), line.plain_signs[start:end], strict=True))
    for n in range(start, end - 1):
        if line.tokens[n].text == "-" and line.tokens[n].spaced and not line.tokens[n + 1].spaced:
            skipped[n] = False  # the sign of a number
    behind = start
    for at, stop in pack["polite"].places(said):
        if behind <= at < end:
            for n in range(at, min(stop, end)):
                skipped[n] = True
            behind = stop

    # Many templates have the same slot at the same place.
    filled: dict[tuple[str, int, int], list[tuple[object, int]]] = {}

    def fill(kind: str, at: int, until: int) -> Sequence[tuple[object, int]]:
        key = (kind, at, until)
        if key not in filled:
            filled[key] = list(SLOTS[kind](line, at, until))
        return filled[key]

    def starts(kind: str) -> Iterable[int]:
        if kind not in STARTS:
            return range(start, end)
        places = line.places(kind, STARTS[kind])
        return places[bisect_left(places, start) : bisect_left(places, end)]

    return Clause(said, line.openings, skipped, start, end, fill, starts)


def _of_chunk(read: Callable[[Line, int], Chunk | None], value: Callable[[Chunk], object | None]) -> Filler:
    def fill(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
        chunk = read(line, i)
        if chunk is not None and chunk.end <= end:
            found = value(chunk)
            if found is not None:
                yield found, chunk.end

    return fill


def _amount(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    chunk = read_amount(line, i)
    if chunk is not None and chunk.amount is not None and chunk.end <= end:
        yield chunk.amount, chunk.end


def _weight(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A mass, or a number by itself that may be grams."""
    yield from ((a, e) for a, e in _amount(line, i, end) if isinstance(a, Amount) and a.kind in ("mass", "bare"))


def _number(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    number = line.amounts.number(i)
    if number is not None and number.end <= end:
        yield number.value, number.end


def _whole_number(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    for value, behind in _number(line, i, end):
        if isinstance(value, float) and value == int(value):
            yield int(value), behind


def _hash(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """'#12', '12', 'number 12': a weigh-in's number."""
    j = i + 1 if line.text(i) == "#" else i
    if j < end and line.text(j).isdecimal():
        yield int(line.text(j)[:9]), j + 1
        return
    chunk = read_hash(line, i)
    if chunk is not None and chunk.end <= end and chunk.kind == "hash":
        yield chunk.number, chunk.end


def _batch(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """'batch 2', '#2', 'the chilli', 'chilli'."""
    if line.text(i) == "#" and line.text(i + 1).isdecimal():
        chunk = read_hash(line, i)
        if chunk is not None and chunk.batch is not None:
            yield chunk.batch, chunk.end
    for at in (i, i + 1) if line.text(i) in ("the", "my", "our", "that") else (i,):
        for read in (read_batch_number, read_batch_name):
            chunk = read(line, at) if at < end else None
            if chunk is not None and chunk.batch is not None and chunk.end <= end:
                yield chunk.batch, chunk.end


def _reminder_kind(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """Which reminder is meant."""
    for kind in REMINDERS:
        stop = times.spoken(line, f"reminder_{kind}", i, end)
        if stop is not None:
            yield kind, stop


def _one_measure(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """'one scoop of', '2 tbsp': a measure with its number."""
    for amount, stop in _amount(line, i, end):
        if isinstance(amount, Amount) and amount.kind in ("measure", "volume", "count") and amount.unit != "box":
            yield amount, stop


SLOTS: dict[str, Filler] = {
    "amount": _amount,
    "weight": _weight,
    "number": _number,
    "count": _whole_number,
    "hash": _hash,
    "batch": _batch,
    "food": food_slots.food,
    "thing": food_slots.thing,
    "words": words.any_words,
    "list": words.listed,
    "text": words.text,
    "person": persons.somebody,
    "persons": persons.several,
    "persons_own": persons.somebodys,
    "code": words.code,
    "called": words.some(4),
    "word": words.some(1),
    "name_words": words.some(5),
    "reminder_words": words.some(10),
    "plain_words": words.some(10),
    "reminder_kind": _reminder_kind,
    "sheet_words": words.run_of("sheet_aside"),
    "list_words": words.run_of("list_aside"),
    "target_words": words.run_of("target_aside"),
    "month": times.month,
    "vessel_name": food_slots.vessel_name,
    "known_vessel": food_slots.known_vessel,
    "own_measure": food_slots.own_measure,
    "one_measure": _one_measure,
    "measured_food": food_slots.measured_food,
    "label_words": figures.label_words,
    "measured_height": bodies.measured_height,
    "target_said": goals.target_said,
    "aside": words.aside,
    "when": times.when,
    "day": times.day,
    "clock": times.clock,
    "from_day": times.from_day,
    "until_day": times.until_day,
    "minutes": times.minutes,
    "days": times.days,
    "weekdays": times.weekdays,
    "zone": times.zone,
    "region": times.region,
    "body": bodies.body,
    "mass_body": bodies.mass_body,
    "height": bodies.height,
    "years": bodies.years,
    "rate": bodies.rate,
    "figures": figures.figures,
    "serving": figures.serving,
    "meal": times.meal,
    "nutrient": figures.nutrient,
    "piece": food_slots.piece,
    "weekday": times.weekday,
    "state": _of_chunk(read_state, lambda c: (c.state, c.method)),
    "vessel": _of_chunk(read_tare, lambda c: c.tare),
    **POT_SLOTS,
}


def _at_fractions(line: Line) -> Iterable[int]:
    if "%" not in line.whole:
        return line.number_places
    return chain(line.number_places, (i for i, token in enumerate(line.tokens) if token.text.endswith("%")))


def _at_factors(line: Line) -> Iterable[int]:
    twice, thrice = pack()["twice"].words, pack()["thrice"].words
    if twice.isdisjoint(line.plain) and thrice.isdisjoint(line.plain):
        return line.number_places
    return chain(line.number_places, (i for i, word in enumerate(line.plain) if word in twice or word in thrice))


def _anywhere_if(told: Callable[[Line], bool]) -> Callable[[Line], Iterable[int]]:
    """Any token of a line in which there can be such a thing at all."""
    return lambda line: range(len(line.tokens)) if told(line) else ()


STARTS: Mapping[str, Callable[[Line], Iterable[int]]] = {
    "number": lambda line: line.number_places,
    "count": lambda line: line.number_places,
    "share": _at_fractions,
    "times": _at_factors,
    "when": lambda line: line.moment_places,
    "weekdays": _anywhere_if(times.names_weekdays),
    "known_vessel": _anywhere_if(lambda line: bool(line.tare_names)),
    "vessel_name": _anywhere_if(lambda line: bool(line.tare_names) or not line.words.vessels.isdisjoint(line.lemmas)),
    "persons_own": _anywhere_if(persons.owns),
}
"""Where slots can begin that many templates have and few clauses can fill; any other may begin anywhere."""


def slot_openings() -> dict[str, frozenset[str]]:
    """For slots that begin with one of certain words, what those open with."""
    named = pack()
    numbers = number_words().openers | {NUMERAL}
    amounts = frozenset(map(plain, amount_openers())) | {NUMERAL}
    moments = frozenset(plain(word) + ending for word in moment_openers() for ending in ("", "s")) | {NUMERAL}
    return {
        **dict.fromkeys(("number", "count", "years", "height", "measured_height", "share"), numbers),
        **dict.fromkeys(("amount", "weight", "one_measure", "body", "mass_body"), amounts),
        **dict.fromkeys(("when", "day"), moments),
        "clock": moments | {"at"},
        "aside": moments | named["aside"].words,
        "times": numbers | named["twice"].words | named["thrice"].words,
        "hash": named["numbered_entry"].words | {"#", NUMERAL},
    }


def slot_words() -> dict[str, frozenset[str]]:
    """For slots that hold one of certain words at least, those words."""
    named = pack()
    units = lexicon().mass_units
    nutrients = frozenset[str]().union(*(named[name].telling for name in figures.NUTRIENTS), figures.SHORTHAND)
    energy = frozenset[str]().union(*(named[name].telling for name in ("energy_name", "energy_kcal", "energy_kj")))
    lengths = (named[name].telling for name in ("metres", "centimetres", "feet", "inches"))
    return {
        "figures": nutrients | energy,
        "nutrient": nutrients,
        "month": frozenset(lexicon().months),
        "reminder_kind": frozenset[str]().union(*(named[f"reminder_{kind}"].telling for kind in REMINDERS)),
        "measured_height": frozenset[str](("", '"')).union(*lengths),
        "mass_body": frozenset(word for word, unit in units.items() if unit in bodies.BODY_UNITS),
    }
