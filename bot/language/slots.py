"""What may fill a slot of a template: each leaf parser says what stands at a place of a clause, and where it ends."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator

from bot.language import bodies, figures, goals, persons, times
from bot.language.belongings import read_batch_name, read_batch_number, read_hash, read_tare
from bot.language.chunks import Chunk, Line
from bot.language.counting import read_amount
from bot.language.foodwords import read_state
from bot.language.grammar import Clause
from bot.language.lexicon import lexicon
from bot.language.meanings import Amount, Name
from bot.language.moments import Moment
from bot.language.pack import Pack, pack
from bot.language.pots import POT_SLOTS
from bot.language.words import Words as Words

_CODE = re.compile(r"[\w-]{22}", re.ASCII)
MOST_FOOD_WORDS = 7
MOST_VESSEL_WORDS = 4
MOST_LABEL_WORDS = 40
REMINDERS = ("digest", "week", "cook", "good", "usual", "morning", "breakfast", "lunch", "evening")
"""Reminders by their kind; a concept of the pack holds the words for each."""
MOST_LISTED_WORDS = 80
MOST_LOOSE_WORDS = 12
"""Words that a slot for any words takes, unless they reach to the end of the clause."""


Filler = Callable[[Line, int, int], Iterator[tuple[object, int]]]


def clause_of(line: Line, start: int, end: int, pack: Pack) -> Clause:
    """Tokens start to end as templates see them."""
    words = line.plain
    skipped = [token.kind in ("sign", "newline") and token.text not in "#%/+=" for token in line.tokens]
    for n in range(start, end - 1):
        if line.tokens[n].text == "-" and line.tokens[n].spaced and not line.tokens[n + 1].spaced:
            skipped[n] = False  # the sign of a number
    polite = pack["polite"]
    i = start
    while i < end:
        behind = next(polite.ends(words, i), i)
        for n in range(i, min(behind, end)):
            skipped[n] = True
        i = max(behind, i + 1)

    # Many templates have the same slot at the same place.
    filled: dict[tuple[str, int, int], list[tuple[object, int]]] = {}

    def fill(kind: str, at: int, until: int) -> Iterable[tuple[object, int]]:
        key = (kind, at, until)
        if key not in filled:
            filled[key] = list(SLOTS[kind](line, at, until))
        return filled[key]

    return Clause(words, skipped, start, end, fill)


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


def _food(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A food of the table or of the person's own, the longest name first."""
    in_no_name = pack()["in_no_name"]
    while i < end and line.text(i) in ("the", "my", "some", "a", "an", "that", "those", "our"):
        i += 1
    for j in range(min(end, i + MOST_FOOD_WORDS), i, -1):
        tokens = line.tokens[i:j]
        if any(t.text in in_no_name for t in tokens):
            continue
        if _may_name(line, i, j):
            words = [t.text for t in tokens]
            name = line.vocabulary.resolve(words, " ".join(words))
            if (name.foods or name.kinds) and not name.unknown:
                yield name, j


def _may_name(line: Line, i: int, j: int) -> bool:
    """Whether tokens i…j can be a food's name: words, none of them at either end one that carries no food."""
    tokens = line.tokens[i:j]
    if not all(t.kind in ("word", "number") for t in tokens) or not any(t.kind == "word" for t in tokens):
        return False
    exact = line.name(i)
    filler = line.words.filler
    return (exact is not None and exact[1] == j) or not (tokens[0].text in filler or tokens[-1].text in filler)


def _thing(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """What somebody calls a food, known or not."""
    yield from _food(line, i, end)
    while i < end and line.text(i) in ("the", "my", "some", "a", "an", "that", "those", "our"):
        i += 1
    for j in range(min(end, i + MOST_FOOD_WORDS), i, -1):
        tokens = line.tokens[i:j]
        if all(t.kind == "word" for t in tokens):
            yield Name(text=" ".join(t.text for t in tokens)), j


def _words(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """Any words, as many as reach to the end first."""
    yield Words(i, end, line.typed(i, end)), end
    for j in range(min(end - 1, i + MOST_LOOSE_WORDS), i, -1):
        yield Words(i, j, line.typed(i, j)), j


def _list(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A list of weigh-ins, longer than other words may be."""
    for j in range(min(end, i + MOST_LISTED_WORDS), i, -1):
        yield Words(i, j, line.said(i, j)), j


def _text(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """Everything up to the end of the clause, as typed."""
    yield line.typed(i, end), end


def _aside(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """What changes nothing beside a whole matter: times, and words of the concept <aside>; the moments among it."""
    found: list[tuple[tuple[Moment, ...], int]] = []
    moments: tuple[Moment, ...] = ()
    at = i
    while at < end:
        read = line.moments.read(at)
        stop = times.spoken(line, "aside", at, end)
        if read is not None and read[1] <= end:
            moments, at = (*moments, read[0]), read[1]
        elif stop is not None:
            at = stop
        elif at > i and line.tokens[at].kind in ("sign", "newline"):
            at += 1
            continue
        else:
            break
        found.append((moments, at))
    yield from reversed(found)


def _run(line: Line, i: int, end: int, concept: str) -> Iterator[tuple[object, int]]:
    """Words of a concept one after another, as many as there are first."""
    stops: list[int] = []
    at = i
    while at < end and at < i + MOST_LOOSE_WORDS:
        stop = times.spoken(line, concept, at, end)
        if stop is None and line.tokens[at].kind not in ("sign", "newline"):
            break
        at = stop or at + 1
        stops.append(at)
    yield from ((Words(i, stop, line.typed(i, stop)), stop) for stop in reversed(stops))


def _aside_of(concept: str) -> Filler:
    def fill(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
        yield from _run(line, i, end, concept)

    return fill


def _named(most: int) -> Filler:
    """A few words as typed, no number among them, the fewest first."""

    def fill(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
        for stop in range(i + 1, min(end, i + most) + 1):
            if line.tokens[stop - 1].kind != "word":
                return
            yield Words(i, stop, line.typed(i, stop)), stop

    return fill


def _reminder_kind(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """Which reminder is meant."""
    for kind in REMINDERS:
        stop = times.spoken(line, f"reminder_{kind}", i, end)
        if stop is not None:
            yield kind, stop


def _month(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    month = line.words.months.get(line.text(i))
    if month is not None:
        yield month, i + 1


def _vessel_name(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """Words of which the last is a vessel ('soup pot'), or a known vessel's name."""
    for words, stop in _named(MOST_VESSEL_WORDS)(line, i, end):
        if line.plain[i] in pack()["empty"]:
            break
        if line.plain[stop - 1] in line.words.filler and line.lemmas[stop - 1] not in line.words.vessels:
            break
        if line.lemmas[stop - 1] in line.words.vessels:
            yield words, stop
    yield from _known_vessel(line, i, end)


def _known_vessel(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    for lemmas, _, _ in line.tare_names:
        stop = i + len(lemmas)
        if stop <= end and tuple(line.lemmas[i:stop]) == lemmas:
            yield Words(i, stop, line.typed(i, stop)), stop


def _own_measure(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """'ladle', 'serving spoon', 'tablespoon': one of the person's own, whatever describes it."""
    words = line.words
    for stop in range(i + 1, min(end, i + 2) + 1):
        word = line.lemmas[stop - 1]
        unit = word if word in words.loose_units or word in words.piece_nouns else words.volume_units.get(word)
        if unit is not None and len(line.text(stop - 1)) > 1:
            # 'serving spoon' is called by its first word.
            both = stop < end and line.lemmas[stop] in words.loose_units
            yield Amount(kind="measure", value=1.0, unit=unit), stop + both


def _one_measure(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """'one scoop of', '2 tbsp': a measure with its number."""
    for amount, stop in _amount(line, i, end):
        if isinstance(amount, Amount) and amount.kind in ("measure", "volume", "count") and amount.unit != "box":
            yield amount, stop


def _measured_food(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """The food that a measure is of, known or not; its state is left out of the name."""
    for stop in range(min(end, i + MOST_FOOD_WORDS), i, -1):
        tokens = line.tokens[i:stop]
        if all(t.kind == "word" for t in tokens) and not any(t.text in pack()["weighs_empty"] for t in tokens):
            kept = [t.text for t in tokens if t.text not in line.words.states]
            if kept:
                yield line.vocabulary.resolve(kept, " ".join(kept)), stop


def _label_words(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """Words of a label before its figures, the fewest first."""
    for stop in range(i + 1, min(end - 1, i + MOST_LABEL_WORDS) + 1):
        starts = times.spoken(line, "serving_word", stop, end) is not None
        if starts or figures.nutrient_at(line, stop, end) or line.amounts.number(stop) or _energy(line, stop, end):
            yield Words(i, stop, line.typed(i, stop)), stop


def _energy(line: Line, i: int, end: int) -> bool:
    return times.spoken(line, "energy_name", i, end) is not None


def _mass_body(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A body weight that says its unit."""
    yield from ((body, stop) for body, stop in bodies.body(line, i, end) if isinstance(body, bodies.Body) and body.unit)


def _measured_height(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A height that says its unit."""
    number = line.amounts.number(i)
    if number is not None:
        yield from ((cm, stop) for cm, stop in bodies.height(line, i, end) if stop > number.end)


def _code(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """An invitation's code: 22 letters, digits, - or _ without a space, whatever tokens that makes."""
    start = line.tokens[i].start
    word = line.whole[start:].split(maxsplit=1)[0].rstrip(".!?")
    stop = i
    while stop < end and line.tokens[stop].start < start + len(word):
        stop += 1
    if _CODE.fullmatch(word):
        yield word, stop


def _when(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    yield from _moments(line, i, end)


def _day(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A day of the calendar, as a date."""
    yield from ((m.day, e) for m, e in _moments(line, i, end) if m.day is not None and m.clock is None)


def _meal(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    meal = line.words.meals.get(line.text(i).removesuffix("'s"))
    if meal is not None and meal != "unclear":
        yield meal, i + 1


def _moments(line: Line, i: int, end: int) -> Iterator[tuple[Moment, int]]:
    read = line.moments.read(i)
    if read is not None and read[1] <= end:
        yield read


def _weekday(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    day = line.words.weekdays.get(line.lemmas[i].removesuffix("'s"))
    if day is not None:
        yield day, i + 1


def _piece(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """'slice', 'scoop': a word for one of something."""
    word = line.lemmas[i]
    if word in line.words.piece_nouns or word in line.words.loose_units:
        yield word, i + 1


SLOTS: dict[str, Filler] = {
    "amount": _amount,
    "weight": _weight,
    "number": _number,
    "count": _whole_number,
    "hash": _hash,
    "batch": _batch,
    "food": _food,
    "thing": _thing,
    "words": _words,
    "list": _list,
    "text": _text,
    "person": persons.somebody,
    "persons": persons.several,
    "persons_own": persons.somebodys,
    "code": _code,
    "called": _named(4),
    "word": _named(1),
    "name_words": _named(5),
    "reminder_words": _named(10),
    "plain_words": _named(10),
    "reminder_kind": _reminder_kind,
    "sheet_words": _aside_of("sheet_aside"),
    "list_words": _aside_of("list_aside"),
    "target_words": _aside_of("target_aside"),
    "month": _month,
    "vessel_name": _vessel_name,
    "known_vessel": _known_vessel,
    "own_measure": _own_measure,
    "one_measure": _one_measure,
    "measured_food": _measured_food,
    "label_words": _label_words,
    "measured_height": _measured_height,
    "target_said": goals.target_said,
    "aside": _aside,
    "when": _when,
    "day": _day,
    "clock": times.clock,
    "from_day": times.from_day,
    "until_day": times.until_day,
    "minutes": times.minutes,
    "days": times.days,
    "weekdays": times.weekdays,
    "zone": times.zone,
    "region": times.region,
    "body": bodies.body,
    "mass_body": _mass_body,
    "height": bodies.height,
    "years": bodies.years,
    "rate": bodies.rate,
    "figures": figures.figures,
    "serving": figures.serving,
    "meal": _meal,
    "nutrient": figures.nutrient,
    "piece": _piece,
    "weekday": _weekday,
    "state": _of_chunk(read_state, lambda c: (c.state, c.method)),
    "vessel": _of_chunk(read_tare, lambda c: c.tare),
    **POT_SLOTS,
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
