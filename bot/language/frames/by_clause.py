"""Who had how much, read clause by clause: a quantity goes to whoever has the part of the eater in its clause.

An eater is whom something goes to ('into my spouse', "on Dan's plate", 'gave Tom …'), else who does what is told
('Lola 400 g', 'the kids together 600 g'). Whoever is only with somebody, or whom something is from, eats nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import takewhile
from typing import Literal

from bot.language.chunks import Chunk
from bot.language.frames.serving import Serving
from bot.language.frames.takers import Dealt, Quantity, Taker, Whose, quantities_of
from bot.language.pack import pack, plain
from bot.language.told import is_share
from domain.reference.words import is_action

MOST_CLAUSES = 16
CUTS = frozenset({",", ";", ".", "!", "(", ")", ":", "-", "\n"})
Role = Literal["goes_to", "does", "beside", "none"]
"""What somebody is in a clause: whom it goes to, who does it, only named in it, or nobody who eats."""
ROLES: tuple[Role, ...] = ("goes_to", "does", "beside")
"""The parts of an eater, the one that decides first."""
APOSTROPHE = "'"
UNSAID = Taker("mine", 0, 0)
"""The writer, where nothing says who had it."""


@dataclass(frozen=True, slots=True)
class Somebody:
    """A mention of the writer or of somebody else, with the part that they have in their clause."""

    mine: bool
    start: int
    end: int
    role: Role


@dataclass(frozen=True)
class Clause:
    """Tokens from one cut to the next, with what is told of quantities and of people there."""

    told: Serving
    start: int
    end: int
    opened: str
    """The word or sign before it."""
    quantities: tuple[Quantity, ...]

    @cached_property
    def at(self) -> list[int]:
        """Its tokens."""
        return [n for n in self.told.at if self.start <= n < self.end]

    @cached_property
    def people(self) -> list[Somebody]:
        """The writer and others, in order."""
        found: list[Somebody] = []
        last = self.start
        for n in self.at:
            if n < last:
                continue
            if self._is_the_writer(n):
                found.append(Somebody(True, n, n + 1, self._role(n, n + 1)))
            elif self._is_another(n):
                start, end = self.told.whole_person(n)
                start, end = max(start, last), min(end, self.end)
                found.append(Somebody(False, start, end, self._role(start, end)))
            else:
                continue
            last = found[-1].end
        return found

    def _is_the_writer(self, n: int) -> bool:
        word, words = self.told.word(n), pack()
        own = word in words["my_own"] and self.told.word(n + 1) in words["helpings"]
        return own or word in words["the_writer"] or word in words["own_one"]

    def _is_another(self, n: int) -> bool:
        told = self.told
        if told.named_at(n) or any(q.start <= n < q.end for q in self.quantities):
            return False
        if told.is_person(n):
            return True
        owner = told.message.tokens[n].text.endswith("'s") and told.word(n + 1) in pack()["helpings"]
        return owner and not told.is_known_owner(n)

    def _role(self, start: int, end: int) -> Role:
        told, words = self.told, pack()
        before = told.word(start - 1) if start > self.start else ""
        led = any(told.led_by(start, name) for name in ("away_with", "into_whom")) and start > self.start
        helping = self._owns(start, end) and told.word(end) in words["helpings"]
        if self._owns(start, end) and not (helping or self._verb_at(end) or end == self.end):
            return "none"  # "mum's recipe"
        if led:
            return "goes_to"
        verbs = [n for n in self.at if n < start and self._verb_at(n)]
        if before in words["in_company"] or before in words["comes_from"]:
            eaten = before in words["by_whom"] and any(told.word(n) in words["eating_it"] for n in verbs)
            return "goes_to" if eaten else "none"  # 'the crusts got eaten by me'
        if verbs and told.word(start) in words["by_oneself"]:
            return "does"  # 'ate it myself'
        if helping and verbs and (told.word(verbs[-1]) in words["only_is"] or self._makes_at(verbs[-1])):
            return "goes_to"  # '200 is my supper', "packed Ella's lunch"
        if verbs:
            given = not helping and all(self._small_at(n) for n in range(verbs[-1] + 1, start))
            return "goes_to" if given else "none"
        if told.word(start) in words["as_object"] and start > self.start:
            return "beside" if self._beside_a_quantity(start, end) else "none"  # 'she who sits opposite me took 220 g'
        return "does" if any(self._verb_at(n) for n in self.at if n >= end) else "beside"

    def _beside_a_quantity(self, start: int, end: int) -> bool:
        return any(q.end == start or q.start == end for q in self.quantities)

    def helping_of(self, somebody: Somebody) -> bool:
        """Whether it is their plate or meal that is spoken of: "packed Ella's lunch"."""
        return self._owns(somebody.start, somebody.end) and self.told.word(somebody.end) in pack()["helpings"]

    def _owns(self, start: int, end: int) -> bool:
        tokens = self.told.message.tokens
        token = tokens[end - 1].text
        own = token in pack()["belonging_to_others"] or self.told.word(start) in pack()["my_own"]
        several = end < len(tokens) and tokens[end].text == APOSTROPHE and not tokens[end].spaced  # "the twins' tea"
        return several or token.endswith("'s") or (own and end - start == 1 and not self._is_object(start))

    def _is_object(self, n: int) -> bool:
        """Whether 'her' is she who gets it: 'took her round 180 g', 'gave her 40 g'."""
        told, words = self.told, pack()
        behind = told.word(n + 1)
        told_behind = any(q.start == n + 1 for q in self.quantities) or behind in words["an_article"]
        return told.word(n) in words["as_her"] and (told_behind or behind in words["round_there"] or not behind)

    def _verb_at(self, n: int) -> bool:
        word = self.told.word(n)
        if n not in self.at or self.told.named_at(n):
            return False
        eats = word in self.told.message.words.eating or word in pack()["took_it"] or word in pack()["gave_it"]
        return eats or word in pack()["goes_or_is"] or word in pack()["makes_or_leaves"] or is_action(word)

    def _makes_at(self, n: int) -> bool:
        return self.told.word(n) in pack()["serves"] or self.told.word(n) in pack()["gave_it"]

    def _small_at(self, n: int) -> bool:
        word = self.told.word(n)
        return word in pack()["before_a_place"] or word in pack()["before_a_person"] or word in pack()["honorific"]

    @cached_property
    def verbs(self) -> list[int]:
        """Its tokens that are verbs."""
        return [n for n in self.at if self._verb_at(n)]

    @property
    def goes_on(self) -> bool:
        """Whether it begins with a verb, so that it has the subject of the clause before: '…, and had 200 g'."""
        return self.verbs[:1] == [self.start]

    @cached_property
    def side(self) -> Taker | Literal["both"] | None:
        """Who or what the clause gives its quantities to; None where it does not say."""
        told = self.told
        to = [(s, e) for _, s, e in told.mentioned if self.start <= s < self.end and told.led_by(s, "to_a_place")]
        if to:
            return Taker("stays", *to[0])
        lost = next((p for p in told.lost if self.start <= p[0] < self.end), None)
        if lost is not None:
            return Taker("lost", *lost)
        all_of_us = any(told.word(n) in pack()["us_all"] for n in self.at)
        for role in ROLES:
            found = [p for p in self.people if p.role == role]
            if found:
                return "both" if all_of_us or len({p.mine for p in found}) > 1 else self._taker(found)
        return "both" if all_of_us else None

    @property
    def subject(self) -> Taker | None:
        """Who does what the clause tells."""
        found = [p for p in self.people if p.role in ("does", "beside")]
        return self._taker(found) if found and len({p.mine for p in found}) == 1 else None

    @property
    def makes(self) -> bool:
        """Whether somebody else is said to have made, brought or left what it tells of, and not to have eaten it."""
        made = (n for n in self.verbs if self.told.word(n) in pack()["makes_or_leaves"])
        verb = next(
            (n for n in made if self.told.word(n + 1) not in pack()["in_company"]), self.start
        )  # 'left with it'
        before = range(self.start, verb)
        things = {n for c in self.told.message.chunks if c.kind != "word" for n in range(c.start, c.end)}
        parts = self.told.message.words.parts
        somebody = [n for n in before if n not in things and self.told.message.line.lemmas[n] not in parts]
        mine = any(p.mine and p.role != "none" for p in self.people)
        return len(somebody) == len(before) > 0 and not mine and not any(n in self.verbs for n in before)

    @property
    def leaves(self) -> bool:
        """Whether its quantity is what the writer left."""
        said = [self.told.word(n) for n in self.at]
        return bool(self.quantities) and not self.makes and pack()["left_uneaten"].found(said)

    @property
    def eats_it(self) -> bool:
        """'i ate it': whether the writer has what was told of before."""
        side, said = self.side, [self.told.word(n) for n in self.at]
        mine = isinstance(side, Taker) and side.whose == "mine" and not self.quantities
        return mine and any(w in pack()["ate"] for w in said) and pack()["of_it"].found(said)

    def _taker(self, found: Sequence[Somebody]) -> Taker:
        first = found[0]
        whose: Whose = "mine" if first.mine else "theirs"
        unnamed = first.mine or self.told.word(first.start) in self.told.message.words.pronouns
        who = "" if unnamed else self.told.message.line.said(first.start, first.end).removesuffix("'s")
        return Taker(whose, first.start, found[-1].end, who)


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
        again = word in pack()["the_writer"] and word not in pack()["as_object"] and _has_told(told, start, chunk, told_of)
        joins = chunk.kind == "word" and (word in pack()["opens_a_clause"] or again)
        if not inside and (sign or joins):
            close(chunk.start)
            opened, start = word, chunk.start if joins and again else chunk.end
        last = chunk.end
    close(last)
    return found


def _has_told(told: Serving, start: int, chunk: Chunk, told_of: bool) -> bool:
    """Whether somebody is spoken of before, and what they had is told: 'gf ate most of my fries i only got 60g'."""
    before = range(start, chunk.start)
    ate = any(told.word(n) in pack()["ate"] for n in before)
    return (told_of or ate) and any(told.is_person(n) for n in before)


def whole_of(clauses: Sequence[Clause]) -> Quantity | None:
    """'400 g of dal: 150 went to my son, I had the rest': the weight that all else is a part of; None if none is."""
    n = next((n for n, c in enumerate(clauses) if c.quantities), None)
    first = None if n is None else clauses[n]
    if n is None or first is None or len(first.quantities) != 1 or first.quantities[0].chunk is None:
        return None
    taker = taker_of(clauses, n)
    if taker is None or taker.whose != "mine":
        return None
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
    alone = not clause.quantities and (served or not clause.verbs) and isinstance(clause.side, Taker)
    led = any(p.role == "goes_to" for p in clause.people) and i > 0 and clauses[i - 1].quantities
    return alone and not led and after is not None and bool(after.quantities) and after.side is None


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
