"""Who had how much, read clause by clause: a quantity goes to whoever has the part of the eater in its clause."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import takewhile

from bot.language.chunks import Chunk
from bot.language.frames.parts_played import Clause
from bot.language.frames.serving import Serving
from bot.language.frames.takers import Dealt, Quantity, Taker, quantities_of
from bot.language.pack import pack, plain
from bot.language.told import is_share

MOST_CLAUSES = 16
CUTS = frozenset({",", ";", ".", "!", "(", ")", ":", "-", "\n"})
STOPS = frozenset({".", "!"})
"""Signs behind which a new sentence begins, also with 'and'."""
UNSAID = Taker("mine", 0, 0)
"""The writer, where nothing says who had it."""


def clauses_of(told: Serving, quantities: Sequence[Quantity]) -> list[Clause]:
    """The clauses of a stretch, in order."""
    found: list[Clause] = []
    opened, start, last = "", told.at[0], told.at[0]

    def close(end: int) -> None:
        if end > start:
            within = tuple(_once([q for q in quantities if start <= q.start < end]))
            found.append(Clause(told, start, end, opened, within))

    for chunk in told.message.chunks:
        word = plain(chunk.text.lower())
        sign = chunk.kind in ("sign", "newline") and word in CUTS
        inside = any(q.start <= chunk.start < q.end for q in quantities)
        told_of = any(start <= q.start < chunk.start for q in quantities)
        me = word in pack()["the_writer"] and word not in pack()["as_object"]
        again = (me and _has_told(told, start, chunk, told_of)) or _turns_to_it(told, start, chunk)
        joins = chunk.kind == "word" and (word in pack()["opens_a_clause"] or again)
        if not inside and (sign or joins):
            close(chunk.start)
            opened = opened if opened in STOPS and start == chunk.start else word
            start = chunk.start if joins and again else chunk.end
        last = chunk.end
    close(last)
    return found


def _has_told(told: Serving, start: int, chunk: Chunk, told_of: bool) -> bool:
    """Whether somebody is spoken of before, and what they had is told: 'gf ate most of my fries i only got 60g'."""
    before = range(start, chunk.start)
    ate = any(told.word(n) in pack()["ate"] for n in before)
    return (told_of or ate) and any(told.is_person(n) for n in before)


def _turns_to_it(told: Serving, start: int, chunk: Chunk) -> bool:
    """'once he was gone it was 160 g': behind what somebody did, what the food came to."""
    if told.word(chunk.start) not in pack()["subject_told"] or told.word(chunk.start + 1) not in pack()["came_out_at"]:
        return False
    before = range(start, chunk.start)
    return any(told.word(n) in pack()["goes_or_is"] for n in before) and any(told.is_person(n) for n in before)


def whole_of(clauses: Sequence[Clause]) -> Quantity | None:
    """'400 g of dal: 150 went to my son, I had the rest': the weight that all else is a part of; None if none is."""
    n = next((n for n, c in enumerate(clauses) if c.quantities), None)
    first = None if n is None else clauses[n]
    if n is None or first is None or len(first.quantities) != 1 or first.quantities[0].chunk is None:
        return None
    taker = taker_of(clauses, n)
    if taker is None or taker.whose != "mine" or any(p.mine and p.role == "goes_to" for p in first.people):
        return None  # '260 g on my plate; my father had 300 g of it'
    others = [(c, q) for c in clauses if c is not first for q in c.quantities]
    # 'took 300 g, gave Dan 200 g of it' leaves the writer with the 300
    own = bool(first.verbs) and not first.makes
    of_it = any(_is_part(c, q, own=own) for c, q in others if q.chunk is not None)
    rest = taker == UNSAID and any(q.chunk is None for _, q in others)
    return first.quantities[0] if of_it or rest else None


def _is_part(clause: Clause, quantity: Quantity, *, own: bool) -> bool:
    """Whether a quantity is said to be of what was told before: '60 of it', 'of which 170 g'."""
    said = [clause.told.word(n) for n in clause.at]
    of_which = clause.opened in pack()["relative"] and clause.told.word(clause.start - 2) in pack()["of_a_share"]
    if of_which or not pack()["out_of_that"].found(said):
        return of_which
    return not own or not clause.verbs or (clause.subject is not None and clause.subject.whose == "theirs")


def _once(quantities: Sequence[Quantity]) -> list[Quantity]:
    """The quantities with one rest at most, and none beside a share: 'polished off what was left', 'half the rest'."""
    shares = [q for q in quantities if q.chunk is not None and q.chunk.amount is not None and is_share(q.chunk.amount)]
    rests = [q for q in quantities if q.chunk is None][: 0 if shares else 1]
    return [q for q in quantities if q.chunk is not None or q in rests]


def by_clause(told: Serving, numbers: Sequence[Chunk]) -> list[Dealt] | None:
    """Each quantity with the one who had it, in order; None where a clause leaves it open."""
    quantities = quantities_of(told, numbers)
    clauses = clauses_of(told, quantities)
    if not quantities or len(clauses) > MOST_CLAUSES or whole_of(clauses) is not None:
        return None
    dealt: list[Dealt] = []
    for i, clause in enumerate(clauses):
        if not clause.quantities:
            if _joins_company(clauses, i):
                return None
            continue
        taker = taker_of(clauses, i)
        if taker is None or clause.makes:
            return None
        dealt += [(q, taker if taker.end else Taker(taker.whose, q.start, q.start)) for q in clause.quantities]
    return dealt


def _joins_company(clauses: Sequence[Clause], i: int) -> bool:
    """'Tom and I had 300': whether somebody is named together with the one of the next clause, on another side."""
    this, after = clauses[i], clauses[i + 1] if i + 1 < len(clauses) else None
    if after is None or this.verbs or not isinstance(this.side, Taker) or not isinstance(after.side, Taker):
        return False
    return after.opened in pack()["goes_on"] and this.side.whose != after.side.whose and bool(after.quantities)


def taker_of(clauses: Sequence[Clause], i: int) -> Taker | None:
    """Who had the quantities of a clause; None where it can't be told."""
    clause = clauses[i]
    if clause.side == "both":
        return None
    if clause.side is not None:
        return clause.side
    led = _led_by(clauses, i)
    if led is not None and led.subject is not None and (clause.goes_on or clause.opened in pack()["relative_who"]):
        return led.subject
    before = clauses[i - 1] if i else None
    return _said_behind(clauses, i) or (_said_before(clauses, i, before) if before is not None else UNSAID)


def _said_behind(clauses: Sequence[Clause], i: int) -> Taker | None:
    """Who had it, where that follows: '300 g, for Tom', 'the rest, I am afraid, was thrown away'."""
    clause, behind = clauses[i], clauses[i + 1 :]
    after = behind[0] if behind else None
    for later in takewhile(lambda c: not c.quantities, behind[:1] if clause.verbs else behind):
        away = isinstance(later.side, Taker) and later.side.whose in ("lost", "stays")
        if isinstance(later.side, Taker) and (away or any(p.role == "goes_to" for p in later.people)):
            return later.side
    if after is None or not isinstance(after.side, Taker) or not after.quantities or clause.verbs:
        return None
    shares_verb = after.opened in pack()["goes_on"] and after.verbs
    if shares_verb and after.quantities[-1].start < after.verbs[0] < after.side.start:
        return after.side  # "4 rotis and 320 g of the dal went on Dan's plate"
    return None


def _said_before(clauses: Sequence[Clause], i: int, before: Clause) -> Taker | None:
    """Who had it by what stands before: 'Lola: 400', 'threw away 100 g dal and 50 g chana masala'; else the writer."""
    clause = clauses[i]
    if clause.only_numbers and before.only_numbers:
        return taker_of(clauses, i - 1)  # 'for the boys, 240 and 310'
    if not isinstance(before.side, Taker):
        return UNSAID
    if headed(clauses, i - 1):
        return before.side
    if before.quantities and before.verbs and not clause.verbs:
        return before.side if clause.opened in pack()["goes_on"] or before.side.whose == "mine" else None
    return UNSAID


def _led_by(clauses: Sequence[Clause], i: int) -> Clause | None:
    """The clause before, past what only tells who that is: 'my aunt, who sits beside me, took …'."""
    before = (c for c in reversed(clauses[:i]) if c.quantities or c.opened not in pack()["relative_who"])
    return next(before, None)


def headed(clauses: Sequence[Clause], i: int) -> bool:
    """Whether a clause only names somebody, and what they had follows: 'Lola: 400 g', 'my brother, 300 g'."""
    clause = clauses[i]
    after = clauses[i + 1] if i + 1 < len(clauses) else None
    served = any(p.role == "goes_to" and clause.helping_of(p) for p in clause.people)
    # 'the kids had a bowl each, 250 and 210', but not 'the cat was leaning on it, 19 g'
    numbers = after is not None and after.only_numbers and clause.gets_some
    alone = not clause.quantities and (served or numbers or not clause.verbs) and isinstance(clause.side, Taker)
    led = any(p.role == "goes_to" for p in clause.people) and i > 0 and clauses[i - 1].quantities
    aside = clause.opened in pack()["opens_an_aside"]  # 'before the baby, 78 this morning'
    return alone and not (led or aside) and after is not None and bool(after.quantities) and after.side is None


@dataclass(frozen=True, slots=True)
class Parts:
    """What a single food was divided into."""

    whole: Quantity | None
    mine: tuple[Quantity, ...]
    theirs: tuple[Quantity, ...]
    all_mine: bool
    """Whether the writer had what others made or left."""
    told_of_me: bool
    """Whether it is said that the writer had some."""


def parts_of(told: Serving, numbers: Sequence[Chunk]) -> Parts | None:
    """Whose the quantities of one food are, and which is the whole that the others are a part of; None if unsaid."""
    quantities = quantities_of(told, numbers)
    clauses = clauses_of(told, quantities)
    if not quantities or len(clauses) > MOST_CLAUSES or any(c.leaves for c in clauses):
        return None
    whole = whole_of(clauses)
    mine: list[Quantity] = []
    theirs: list[Quantity] = []
    told_of_me = False
    for i, clause in enumerate(clauses):
        taker = taker_of(clauses, i) if clause.quantities else UNSAID
        if taker is None or (not clause.quantities and _joins_company(clauses, i)):
            return None
        for quantity in clause.quantities:
            if clause.makes and whole in (None, quantity):
                whole = quantity
            elif quantity != whole and taker.whose in ("mine", "theirs"):
                (mine if taker.whose == "mine" else theirs).append(quantity)
                told_of_me = told_of_me or (taker.whose == "mine" and taker != UNSAID)
            elif quantity != whole:
                return None
    return Parts(whole, tuple(mine), tuple(theirs), any(clause.eats_it for clause in clauses), told_of_me)
