"""What may fill a slot of a template: each leaf parser says what stands at a place of a clause, and where it ends."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from bot.language.belongings import read_batch_name, read_batch_number, read_hash, read_tare
from bot.language.chunks import Chunk, Line
from bot.language.counting import read_amount
from bot.language.foodwords import read_state
from bot.language.grammar import Clause
from bot.language.meanings import Amount, Name
from bot.language.moments import Moment
from bot.language.noise import MACROS
from bot.language.pack import Pack, plain
from bot.language.pots import POT_SLOTS
from bot.language.words import Words as Words

MOST_FOOD_WORDS = 7
MOST_NAME_WORDS = 3
MOST_LOOSE_WORDS = 12
"""Words that a slot for any words takes, unless they reach to the end of the clause."""


Filler = Callable[[Line, int, int], Iterator[tuple[object, int]]]


def clause_of(line: Line, start: int, end: int, pack: Pack) -> Clause:
    """Tokens start to end as templates see them."""
    words = [plain(token.text) for token in line.tokens]
    skipped = [token.kind in ("sign", "newline") and token.text not in "#%/+=" for token in line.tokens]
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
    while i < end and line.text(i) in ("the", "my", "some", "a", "an", "that", "those", "our"):
        i += 1
    for j in range(min(end, i + MOST_FOOD_WORDS), i, -1):
        tokens = line.tokens[i:j]
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
    yield Words(i, end, line.said(i, end)), end
    for j in range(min(end - 1, i + MOST_LOOSE_WORDS), i, -1):
        yield Words(i, j, line.said(i, j)), j


def _text(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """Everything up to the end of the clause, as typed."""
    yield line.said(i, end), end


def _person(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """Somebody's name, as typed: those whom the person guides or is guided by first."""
    known = (*line.around.clients, *line.around.coaches)
    for j in range(min(end, i + 4), i, -1):
        said = line.said(i, j)
        if any(said.casefold() == name.casefold() for name in known):
            yield said, j
    for j in range(i + 1, min(end, i + MOST_NAME_WORDS) + 1):
        if all(t.kind == "word" for t in line.tokens[i:j]):
            yield line.said(i, j), j


def _when(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    yield from _moments(line, i, end)


def _day(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A day of the calendar, as a date."""
    yield from ((m.day, e) for m, e in _moments(line, i, end) if m.day is not None and m.clock is None)


def _clock(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    yield from ((m.clock, e) for m, e in _moments(line, i, end) if m.clock is not None and m.day is None)


def _meal(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    meal = line.words.meals.get(line.text(i).removesuffix("'s"))
    if meal is not None and meal != "unclear":
        yield meal, i + 1


def _moments(line: Line, i: int, end: int) -> Iterator[tuple[Moment, int]]:
    read = line.moments.read(i)
    if read is not None and read[1] <= end:
        yield read


def _nutrient(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    found = MACROS.get(line.lemmas[i])
    if found is not None:
        yield found, i + 1


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
    "text": _text,
    "person": _person,
    "when": _when,
    "day": _day,
    "clock": _clock,
    "meal": _meal,
    "nutrient": _nutrient,
    "piece": _piece,
    "weekday": _weekday,
    "state": _of_chunk(read_state, lambda c: (c.state, c.method)),
    "vessel": _of_chunk(read_tare, lambda c: c.tare),
    **POT_SLOTS,
}
