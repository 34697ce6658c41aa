"""The roles of numbers: weights that mean something only together, made the one amount that they come to.

"the jar was 412, now 389" is 23 g, "plate 780 with food, plate alone 420" is 360 g, "bowl 250, yogurt 430, berries
512" is 180 g and 82 g, "3 eggs 60 g each" is 180 g.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, partial
from itertools import pairwise, takewhile

from bot.language.chunks import Chunk, Line
from bot.language.reckoning import reckoning
from bot.language.text import singular
from bot.language.told import Amount, TareRef

MOST_WEIGHTS = 8
"""Weights of a clause that are looked at together; nobody's plate has more on it."""
MOST_PHRASE = 4
"""Words of the longest phrase before a number."""
MOST_PIECES = 100
"""Pieces that are counted and weighed one by one."""
SMALL_STEP_G = 10.0
"""Below this the next number on a scale may as well be a weight by itself: it is asked about."""
STATED = 0.01
"""How far a result that is said may be from the one that is reckoned."""
PAIRED = (("b#a#", 0), ("#b#a", 0), ("a#b#", 1), ("#a#b", 1))
"""Two weights, each with its word (before, after), and which of them is the one before."""
LEAST_GRAMS = 12
"""From above this a bare number is grams (rule 11)."""


def with_roles(line: Line, chunks: list[Chunk]) -> list[Chunk]:
    """The chunks of a line with each group of weights that belong together made one amount."""
    if all(c.kind != "amount" for c in chunks):
        return chunks
    said = set(line.plain)
    vessel = any(c.kind == "tare" for c in chunks) or not line.words.vessels.isdisjoint(line.lemmas)
    roles = [role for role, words in ROLES if not said.isdisjoint(words()) or (vessel and role in OF_VESSELS)]
    if sum(c.kind == "amount" for c in chunks) > 1:
        roles.insert(0, _several_of)
    if not roles:
        return chunks
    found: list[Chunk] = []
    for clause in _clauses(line, chunks):
        amounts = sum(c.kind == "amount" for c in clause)
        for role in roles if 0 < amounts <= MOST_WEIGHTS else ():
            clause = role(Said(line, line.plain, clause)) or clause
        found.extend(clause)
    return found


def _clauses(line: Line, chunks: Sequence[Chunk]) -> list[list[Chunk]]:
    """Cut behind line ends and full stops; an empty vessel belongs to what is put into it ('plate 412. +cod 573')."""
    clauses: list[list[Chunk]] = [[]]
    for chunk in chunks:
        clauses[-1].append(chunk)
        ends = chunk.kind == "newline" or (chunk.kind == "sign" and chunk.text in ".!?")
        if ends and not _is_empty_vessel(line, clauses[-1]):
            clauses.append([])
    return clauses


def _is_empty_vessel(line: Line, clause: Sequence[Chunk]) -> bool:
    if any(c.kind in ("food", "batch") for c in clause) or sum(_weighs(c) for c in clause) != 1:
        return False
    return any(c.kind == "tare" or line.lemmas[c.start] in line.words.vessels for c in clause)


@dataclass
class Said:
    """A clause, and what of it the roles of its numbers are known by."""

    line: Line
    words: Sequence[str]
    """All words of the line as phrases are compared."""
    chunks: list[Chunk]

    def __post_init__(self) -> None:
        self.weights = [c for c in self.chunks if _weighs(c)]
        self.end = self.chunks[-1].end

    def says(self, concept: str, i: int) -> int | None:
        """Where a phrase of the concept that begins at token i ends, the longest first."""
        return reckoning()[concept].end(self.words, i)

    def behind(self, concept: str, i: int) -> bool:
        """Whether a phrase of the concept ends right before token i."""
        return any(i in reckoning()[concept].ends(self.words, j) for j in range(max(0, i - MOST_PHRASE), i))

    def anywhere(self, concept: str, chunks: Sequence[Chunk]) -> bool:
        """Whether a phrase of the concept begins with one of the chunks."""
        return any(self.says(concept, c.start) for c in chunks if c.kind not in ("amount", "food", "batch"))

    def vessel(self, chunk: Chunk) -> bool:
        """Whether a chunk is a vessel, or a word for one."""
        return chunk.kind == "tare" or (
            chunk.kind == "word" and self.line.lemmas[chunk.start] in self.line.words.vessels
        )

    def segments(self) -> list[list[Chunk]]:
        """The clause cut at commas and at words that join."""
        parts: list[list[Chunk]] = [[]]
        for chunk in self.chunks:
            operation = reckoning().operations.get(chunk.text.lower()) if chunk.kind in ("word", "sign") else None
            if (chunk.kind == "sign" and chunk.text in ",;:()=.") or operation in ("and", "+"):
                parts.append([])
            else:
                parts[-1].append(chunk)
        return [part for part in parts if part]

    def but(self, dropped: Iterable[Chunk], changed: Mapping[int, Amount]) -> list[Chunk]:
        """The clause less some chunks, with other amounts for those that begin where `changed` says."""
        gone = {id(c) for c in dropped}
        kept = [c for c in self.chunks if id(c) not in gone]
        return [c._replace(amount=changed[c.start]) if c.kind == "amount" and c.start in changed else c for c in kept]


def _weighs(chunk: Chunk) -> bool:
    amount = chunk.amount
    if chunk.kind != "amount" or amount is None or amount.doubt:
        return False
    return amount.kind == "mass" or (amount.kind == "bare" and amount.value > LEAST_GRAMS)


def _grams(chunk: Chunk) -> float:
    assert chunk.amount is not None
    return chunk.amount.grams if chunk.amount.grams is not None else chunk.amount.value


def _less(more: Chunk, less: Chunk) -> Amount:
    grams = _grams(more) - _grams(less)
    return Amount(kind="mass", value=grams, unit="g", grams=grams, text=f"{_text(more)} less {_text(less)}")


def _text(chunk: Chunk) -> str:
    return chunk.amount.text if chunk.amount is not None else chunk.text


def _each(said: Said) -> list[Chunk] | None:
    """'3 eggs 60 g each' (180 g), '8 cups of tea with 30 ml milk each' (240 ml)."""
    for n, chunk in enumerate(said.chunks):
        amount = chunk.amount
        if chunk.kind != "amount" or amount is None or amount.kind not in ("mass", "volume") or amount.doubt:
            continue
        end = chunk.end
        for food in said.chunks[n + 1 :]:
            if food.kind not in ("food", "state") or food.start != end:
                break
            end = food.end
        after = said.says("each", chunk.end) or said.says("each", end)
        if after is None and not said.behind("each", chunk.start):
            doubted = _at(said, n)
            if doubted is not None:
                return said.but((), {chunk.start: doubted})
            continue
        count = _count_beside(said, n)
        if count is None or count.amount is None:
            several = sum(c.kind in ("food", "batch") for c in said.chunks) > 1
            return None if several else said.but((), {chunk.start: replace(amount, doubt="unclear")})
        times = count.amount.value
        grams = None if amount.grams is None else times * amount.grams
        unit = "g" if grams is not None else amount.unit
        product = Amount(
            kind=amount.kind,
            value=times * amount.value if grams is None else grams,
            unit=unit,
            grams=grams,
            text=f"{times:g} x {amount.text}",
        )
        dropped = [c for c in said.chunks if after is not None and end <= c.start < after]
        if count.start > chunk.start and end == chunk.end:  # "60 g each, 3 eggs"
            between = [c for c in said.chunks if chunk.start <= c.start < count.start]
            return said.but(between, {count.start: product})
        kept = said.but(dropped, {chunk.start: product})
        if after is None or end > chunk.end:
            return kept
        # The word is part of the amount, so that nothing is missing where templates look for all words.
        return [c._replace(end=after) if c.start == chunk.start else c for c in kept]
    return None


def _at(said: Said, n: int) -> Amount | None:
    """'6 meatballs at 30 g': of each, most likely, or of all; None where the n-th chunk is no such weight."""
    mass = said.chunks[n].amount
    before = [c for c in said.chunks[max(0, n - 4) : n] if c.kind == "amount"]
    count = before[-1].amount if before else None
    if count is None or mass is None or mass.grams is None or not said.behind("at", said.chunks[n].start):
        return None
    named = any(c.kind == "food" and c.start >= before[-1].end for c in said.chunks[:n])
    if not named or count.kind not in ("bare", "count") or count.unit == "box" or count.value % 1 or count.value < 2:
        return None
    return replace(mass, doubt="each", other=count.value * mass.grams, text=f"{count.text} at {mass.text}")


def _count_beside(said: Said, n: int) -> Chunk | None:
    """The nearest whole count before the n-th chunk, else behind it."""
    for chunk in (*reversed(said.chunks[:n]), *said.chunks[n + 1 :]):
        amount = chunk.amount
        if chunk.kind != "amount" or amount is None or amount.kind == "mass" or amount.doubt:
            continue
        if amount.value == int(amount.value) and 1 <= amount.value <= MOST_PIECES and amount.text not in ("a", "an"):
            return chunk
    return None


def _several_of(said: Said) -> list[Chunk] | None:
    """'2 50 g patties' (100 g): a count right before the weight of what comes in the plural."""
    for n, (count, mass) in enumerate(pairwise(said.chunks)):
        number, amount = count.amount, mass.amount
        if count.kind != "amount" or mass.kind != "amount" or number is None or amount is None:
            continue
        if number.kind != "bare" or not 2 <= number.value <= LEAST_GRAMS or number.value % 1 or amount.kind != "mass":
            continue
        named = n > 0 and said.chunks[n - 1].kind in ("food", "batch", "state")
        behind = takewhile(lambda c: c.kind in ("food", "state", "word"), said.chunks[n + 2 :])
        nouns = [said.line.text(c.end - 1) for c in behind]
        if amount.grams is None or amount.doubt or named or all(singular(noun) == noun for noun in nouns):
            continue
        grams = number.value * amount.grams
        product = replace(amount, value=grams, unit="g", grams=grams, text=f"{number.text} x {amount.text}")
        return said.but([count], {mass.start: product})
    return None


def _before_and_after(said: Said) -> list[Chunk] | None:
    """'before 412 after 385', 'the jar was 412, now 389', 'came to 865 from 1120': what came off the scale."""
    if not 2 <= len(said.weights) <= 3 or sum(c.kind in ("food", "batch") for c in said.chunks) > 1:
        return None
    labelled = _labelled(said, "before", "after")
    if labelled is None and any(said.vessel(c) for c in said.chunks):
        labelled = _labelled(said, "was", "now")
        if labelled is not None and _grams(labelled[0]) < _grams(labelled[1]):
            return None
    if labelled is None:
        left, full = said.weights[:2]
        if not (said.behind("from", full.start) and said.behind("came_to", left.start)):
            return None
        labelled = full, left, []
    first, second, labels = labelled
    more, less = (first, second) if _grams(first) > _grams(second) else (second, first)
    net = _less(more, less)
    vessels = [c for c in said.chunks if c.kind == "tare"]
    stated = [c for c in said.weights if c not in (first, second)]
    if stated:
        result = stated[0]
        if net.grams is None or abs(_grams(result) - net.grams) > max(1.0, STATED * net.grams):
            return None
        between = [c for c in said.chunks if first.start <= c.start < result.start or c in (first, second)]
        return said.but([*labels, *vessels, *(c for c in between if c.kind not in ("food", "batch", "moment"))], {})
    kept, gone = sorted((first, second), key=lambda c: c.start)
    return said.but([gone, *labels, *vessels], {kept.start: net})


def _labelled(said: Said, before: str, after: str) -> tuple[Chunk, Chunk, list[Chunk]] | None:
    """(the weight before, the weight after, the chunks that say so) where each of two weights has its word."""
    order: list[str] = []
    weights: list[Chunk] = []
    labels: list[Chunk] = []
    for chunk in said.chunks:
        if _weighs(chunk):
            order.append("#")
            weights.append(chunk)
            continue
        for concept in (before, after):
            end = said.says(concept, chunk.start) if chunk.kind in ("word", "noise") else None
            if end is not None and _is_label(said, end):
                order.append("b" if concept == before else "a")
                labels.append(chunk)
                break
    line = "".join(order)
    if line.count("b") != 1 or line.count("a") != 1:
        return None
    fits = [(line.find(pattern), first) for pattern, first in PAIRED if pattern in line]
    if not fits:
        return None
    at, first = min(fits)
    two = weights[line[:at].count("#") :][:2]
    return two[first], two[1 - first], labels


def _is_label(said: Said, end: int) -> bool:
    """Whether what ends there goes with a number: 'before 412', '412 before,', and not 'before the gym'."""
    after = said.says("linking", end) or end
    if any(c.start == after for c in said.weights) or after >= said.end:
        return True
    token = said.line.tokens[after]
    return token.kind != "word" or token.text in reckoning().operations


def _running_totals(said: Said) -> list[Chunk] | None:
    """'bowl 250, yogurt 430, blueberries 512': each number is what the scale shows with all before it."""
    segments = said.segments()
    first = next((n for n, s in enumerate(segments) if any(_weighs(c) or c.kind == "tare" for c in s)), None)
    if first is None:
        return None
    head = segments[first]
    vessels = [c for c in head if said.vessel(c)]
    weights = [c for c in head if _weighs(c)]
    foods = [c for c in head if c.kind in ("food", "batch")]
    dropped: list[Chunk] = []
    rest = segments[first:]
    if vessels and len(weights) == 1 and not foods:
        total, dropped, rest = _grams(weights[0]), head, segments[first + 1 :]
    elif vessels and vessels[0].tare is not None and vessels[0].tare.grams is not None and _leads(vessels[0], weights):
        total, dropped = vessels[0].tare.grams, vessels
    elif said.anywhere("untared", said.chunks):
        total = 0.0
    else:
        return None
    told = [s for s in rest if any(_weighs(c) for c in s)]
    if len(told) < (1 if weights and not foods else 2):
        return None
    return _steps(said, told, total, dropped)


def _leads(vessel: Chunk, weights: Sequence[Chunk]) -> bool:
    return not weights or vessel.start < weights[0].start


def _steps(said: Said, told: Sequence[Sequence[Chunk]], total: float, dropped: Sequence[Chunk]) -> list[Chunk] | None:
    """Each weight less the total before it; None where they do not grow or one is of no food."""
    changed: dict[int, Amount] = {}
    for segment in told:
        weights = [c for c in segment if _weighs(c)]
        if len(weights) != 1 or not any(c.kind == "food" for c in segment) or _grams(weights[0]) <= total:
            return None
        weight = weights[0]
        grams = _grams(weight) - total
        if total:
            text = f"{_text(weight)} less {total:g}"
            net = Amount(kind="mass", value=grams, unit="g", grams=grams, text=text)
            small = grams < SMALL_STEP_G
            changed[weight.start] = replace(net, doubt="total", other=_grams(weight)) if small else net
        total = _grams(weight)
    return said.but(dropped, changed)


def _gross_and_tare(said: Said) -> list[Chunk] | None:
    """'plate 780 with food, plate alone 420': what was weighed with its vessel less the vessel."""
    if len(said.weights) != 2:
        return None
    parts = [s for s in said.segments() if any(c in said.weights for c in s)]
    if len(parts) != 2:
        return None
    bare = [s for s in parts if _only_vessel(said, s)]
    if len(bare) == 2:
        bare = [s for s in bare if said.anywhere("alone", s)]
    if len(bare) != 1:
        return None
    empty = bare[0]
    gross = parts[1] if parts[0] is empty else parts[0]
    full, tare = (next(c for c in s if c in said.weights) for s in (gross, empty))
    named = any(c.kind in ("food", "batch") for c in said.chunks)
    filled = said.anywhere("filled", gross)
    if _grams(full) <= _grams(tare) or not (named or (filled and said.anywhere("alone", empty))):
        return None
    vessels = [c for c in gross if said.vessel(c)] or [c for c in empty if said.vessel(c)]
    dropped = [c for c in empty if c.kind != "moment"]
    dropped += [c for c in gross if said.vessel(c) or _between(said, gross, c)]
    name = vessels[0].tare.name if vessels[0].tare is not None else vessels[0].text.lower()
    vessel = Chunk("tare", full.end, full.end, f"with the {name}", tare=TareRef(name=name, grams=_grams(tare)))
    kept = said.but(dropped, {})
    at = kept.index(full) + 1
    return [*kept[:at], vessel, *kept[at:]]


def _only_vessel(said: Said, segment: Sequence[Chunk]) -> bool:
    named = any(c.kind in ("food", "batch") for c in segment)
    return not named and any(said.vessel(c) for c in segment) and not said.anywhere("filled", segment)


def _between(said: Said, segment: Sequence[Chunk], chunk: Chunk) -> bool:
    """Whether a chunk is one of the words that say that a vessel was filled ('plus big pot', 'with food')."""
    if chunk.kind != "word":
        return False
    start = next((c.start for c in segment if c.kind == "word" and said.says("filled", c.start)), None)
    if start is None or chunk.start < start:
        return False
    vessel = next((c.start for c in segment if c.start > start and said.vessel(c)), None)
    return vessel is None or chunk.start < vessel


@cache
def _openers(*concepts: str) -> frozenset[str]:
    return frozenset().union(*(reckoning()[name].words for name in concepts))


ROLES = (
    (_each, partial(_openers, "each", "at")),
    (_before_and_after, partial(_openers, "before", "after", "from")),
    (_running_totals, partial(_openers, "untared")),
    (_gross_and_tare, partial(_openers, "untared")),
)
"""In order, since what the first finds is one amount for the next; each with words without which it finds nothing."""
OF_VESSELS = (_before_and_after, _running_totals, _gross_and_tare)
"""Those that need no such word where a vessel is named."""
