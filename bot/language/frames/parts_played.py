"""The parts that people have in a clause: whom something goes to, who does it, who is only named.

An eater is whom something goes to ('into my spouse', "on Dan's plate", 'gave Tom …'), else who does what is told
('Lola 400 g', 'the kids together 600 g'). Whoever is only with somebody, or whom something is from, eats nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from bot.language.frames.serving import Serving
from bot.language.frames.takers import Quantity, Taker, Whose
from bot.language.pack import pack
from domain.reference.words import is_action

Role = Literal["goes_to", "does", "beside", "none"]
"""What somebody is in a clause: whom it goes to, who does it, only named in it, or nobody who eats."""
ROLES: tuple[Role, ...] = ("goes_to", "does", "beside")
"""The parts of an eater, the one that decides first."""
APOSTROPHE = "'"


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
        if self._of_oneself(start):
            return "none"
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
            if told.word(verbs[-1]) in words["says_so"]:
                return "none"  # 'asked me to tell you'
            given = not helping and all(self._small_at(n) for n in range(verbs[-1] + 1, start))
            return "goes_to" if given else "none"
        if told.word(start) in words["as_object"] and start > self.start:
            return "beside" if self._beside_a_quantity(start, end) else "none"  # 'she who sits opposite me took 220 g'
        return "does" if any(self._verb_at(n) for n in self.at if n >= end) else "beside"

    def _of_oneself(self, start: int) -> bool:
        """'I was a boy', 'i'm a growing lad': whether the noun says what the writer is."""
        told, words = self.told, pack()
        near = range(start - 1, max(self.start, start - 3), -1)
        verb = next((n - 1 for n in near if told.word(n) in words["an_article"]), None)
        if verb is None or told.word(verb) in words["tells_what_one_is"]:
            return verb is not None
        return told.word(verb) in words["only_is"] and told.word(verb - 1) in words["the_writer"]

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
        """Its tokens that are verbs; those in 'whatever dal was left' are of what is left."""
        left = {n for q in self.quantities if q.chunk is None for n in range(q.start, q.end)}
        return [n for n in self.at if n not in left and self._verb_at(n)]

    @cached_property
    def only_numbers(self) -> bool:
        """Whether nothing but its quantities is told in it."""
        told_of = {n for q in self.quantities for n in range(q.start, q.end)}
        return bool(self.quantities) and all(n in told_of for n in self.at)

    @property
    def gets_some(self) -> bool:
        """Whether somebody is said to have eaten, taken or been given something in it."""
        told, words = self.told, pack()
        eats = words["took_it"], words["gave_it"], words["ate"]
        return any(
            told.word(n) in told.message.words.eating or any(told.word(n) in e for e in eats) for n in self.verbs
        )

    @property
    def goes_on(self) -> bool:
        """Whether it begins with a verb, so that it has the subject of the clause before: '…, and had 200 g'."""
        return self.verbs[:1] == [self.start]

    @cached_property
    def side(self) -> Taker | Literal["both"] | None:
        """Who or what the clause gives its quantities to; None where it does not say."""
        told = self.told
        carried = self._carried_round
        if carried is not None:
            return Taker("theirs", *carried)
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
    def _carried_round(self) -> tuple[int, int] | None:
        """Who got what the writer took to them, or the verb that says so: 'dropped round 200 g'."""
        told, words = self.told, pack()
        verb = next((n for n in self.at if told.word(n) in words["carries_to"]), None)
        names = [(start, end) for _, start, end in told.scene.named if self.start <= start < self.end]
        of = names or [(q.start, q.end) for q in self.quantities]
        if verb is None or not of or any(not p.mine and p.end <= verb for p in self.people):
            return None
        near = {of[0][0], verb + 1, *(end for _, end in of), *(p.end for p in self.people)}
        to_me = any(p.mine and p.start > verb for p in self.people)
        said = [told.word(n) for n in range(self.end)]
        round_there = any(n in near and words["round_there"].end(said, n) for n in range(verb + 1, self.end))
        if not round_there or to_me:
            return None
        return next(((p.start, p.end) for p in self.people if p.start > verb), (verb, verb + 1))

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
        unnamed = first.mine or self.told.has_no_name(first.start)
        who = "" if unnamed else self.told.message.line.said(first.start, first.end).removesuffix("'s")
        return Taker(whose, first.start, found[-1].end, who)
