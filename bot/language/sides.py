"""Whose each weight of a message is, by the clause that it stands in, where others are spoken of too.

Frames read a meal in one way of telling it. This asks less of the wording: who does what a clause tells, whom it goes
to, and in which clauses the writer stands.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

from bot.language.chunks import Chunk, Kind
from bot.language.company import heads
from bot.language.frames.by_clause import UNSAID, clauses_of, headed, taker_of, whole_of
from bot.language.frames.parts_played import Clause
from bot.language.frames.serving import Serving, seen
from bot.language.frames.takers import Taker, quantities_of
from bot.language.meanings import Meaning, NotMine
from bot.language.message import Message, once
from bot.language.pack import pack
from bot.language.text import singular
from bot.language.told import Item, is_share
from domain.reference.words import is_animal, is_given_name, is_person_noun

MOST_CHUNKS = 60
OF_OTHER_MATTERS: tuple[Kind, ...] = ("hash", "energy", "macro", "price", "batch")
"""Kinds of chunk with which more is told than who ate what."""
COUNTING = ("bare", "count")
"""Kinds of amount that may say how many people there were."""
REFUSED = ("others", "negation", "plan", "doubt")
"""Why nothing of a message is recorded, as far as another of its clauses may have been read for the writer's."""
NAMING: tuple[Kind, ...] = ("food", "state", "size", "whole", "part", "moment")
"""Kinds of chunk that say more of a food than its weight."""


@dataclass(frozen=True)
class Sides:
    """The clauses of a message, each with the one who had what it tells."""

    told: Serving
    clauses: Sequence[Clause]

    @cached_property
    def takers(self) -> list[Taker | None]:
        """Who had it, for each clause; None where that is left open."""
        found: list[Taker | None] = []
        listed = False
        for i, clause in enumerate(self.clauses):
            taker = taker_of(self.clauses, i)
            goes_on = clause.opened in LISTING and bool(clause.quantities) and not clause.verbs and not clause.people
            listed = (listed and goes_on) or (clause.side is None and i > 0 and headed(self.clauses, i - 1))
            found.append(found[-1] if listed and goes_on and taker == UNSAID and found else taker)
        return found

    def clause_of(self, chunk: Chunk) -> Clause | None:
        """The clause that an amount stands in."""
        return next((clause for clause in self.clauses if clause.start <= chunk.start < clause.end), None)

    @cached_property
    def mine(self) -> list[int]:
        """The clauses that say that the writer had some."""
        return [i for i, c in enumerate(self.clauses) if _says_mine(c)]

    @property
    def goes_on_to_others(self) -> bool:
        """Whether what the writer had is said to have gone on: 'she handed me 3, I handed them back'."""
        told = [i for i in self.mine if self.clauses[i].quantities]
        later = [c for c in self.clauses[told[0] + 1 :] if not c.quantities] if told else []
        return any(isinstance(c.side, Taker) and c.side.whose != "mine" and c.verbs for c in later)

    @property
    def is_denied(self) -> bool:
        """Whether a clause that is not somebody else's denies something: '… but I did not'."""
        pairs = zip(self.clauses, self.takers, strict=True)
        return any(_denies(c) for c, taker in pairs if taker is None or taker.whose == "mine")


LISTING = frozenset({",", "and", "&", "n", "plus", "+", ":", "-", "\n"})
"""Before another food of the same list."""


def _says_mine(clause: Clause) -> bool:
    """Whether a clause gives what it tells to the writer, and does not deny it."""
    side = clause.side
    if not isinstance(side, Taker) or side.whose != "mine":
        return False
    return not _denies(clause)


def _denies(clause: Clause) -> bool:
    without = {n for c in clause.told.message.of("whole", "part") for n in range(c.start, c.end)}  # 'no peel'
    said = [clause.told.word(n) for n in clause.at if n not in without]
    return any(w in pack()["denial"] for w in said) or pack()["negation"].found(said)


@once
def sides(message: Message) -> Sides | None:
    """Whose the weights of a message are; None where nobody is spoken of, or a batch."""
    if len(message.chunks) > MOST_CHUNKS or message.asks or not message.of("amount"):
        return None
    told = seen(message)
    if not told.at or told.scene.named or message.of(*OF_OTHER_MATTERS):
        return None
    return Sides(told, clauses_of(told, quantities_of(told, told.numbers)))


@dataclass(frozen=True, slots=True)
class OwnPart:
    """What a message tells of the writer's meal, and the amounts that were somebody else's."""

    message: Message
    theirs: tuple[str, ...] = ()
    is_shared: bool = False
    """Whether it tells what the writer and others had together."""

    def shared_out(self, told: Sequence[Meaning]) -> list[Meaning]:
        """The weigh-ins, those that several had together marked as such."""
        return [replace(m, shared=True) if self.is_shared and isinstance(m, Item) else m for m in told]

    @property
    def of_others(self) -> list[Meaning]:
        """What says so of the amounts that were somebody else's."""
        return [NotMine(why="others", texts=self.theirs)] if self.theirs else []


def is_in_doubt(meant: Sequence[Meaning]) -> bool:
    """Whether nothing of a message would go on record, or an amount of it is not clear."""
    refused = all(isinstance(m, NotMine) and m.why in REFUSED for m in meant)
    return refused or any(isinstance(m, Item) and m.amount is not None and m.amount.doubt is not None for m in meant)


def is_told(meant: Sequence[Meaning]) -> bool:
    """Whether all that is meant are weigh-ins with their food and amount."""
    return bool(meant) and all(
        isinstance(m, Item) and m.name is not None and m.amount is not None and m.amount.doubt is None for m in meant
    )


def of_the_writer(message: Message) -> OwnPart | None:
    """The message reduced to what the writer had; None where that is not told apart from what others had.

    'gf ate most of my fries i only got 60g', "the kids' crusts got eaten by me, white bread 18 g".
    """
    found = sides(message)
    if found is None or not message.of("food") or whole_of(found.clauses) is not None:
        return None
    together = [c for c, taker in zip(found.clauses, found.takers, strict=True) if taker is None and c.side == "both"]
    if any(clause.quantities for clause in together):
        return _had_together(message, found)
    others = any(not p.mine for clause in found.clauses for p in clause.people)
    if not found.mine or not others or found.is_denied or found.goes_on_to_others:
        return None
    told = list(zip(found.clauses, found.takers, strict=True))
    if any(taker is None for clause, taker in told if clause.quantities):
        return None
    own = [clause for clause, taker in told if taker is not None and taker.whose == "mine"]
    kept = [c for clause in own for c in _bearing(message, clause)]
    amounts = [c for c in kept if c.amount is not None]
    if not amounts or any(c.amount is not None and is_share(c.amount) for c in amounts):
        return None
    if not any(c.kind == "food" for c in kept):
        kept = sorted([*_borrowed(message, amounts[0]), *kept], key=lambda c: c.start)
    theirs = [c for c in message.of("amount") if c.amount is not None and c not in kept]
    if len(kept) == len(message.chunks) or not any(c.kind == "food" for c in kept):
        return None
    reduced = replace(message, chunks=tuple(kept))
    return OwnPart(reduced, tuple(c.text for c in theirs if c.amount is not None and c.amount.kind == "mass"))


def _had_together(message: Message, found: Sides) -> OwnPart | None:
    """What the writer and others had between them: 'me and the wife had 500 g of mussels between us'."""
    if any(isinstance(c.side, Taker) and c.quantities for c in found.clauses):
        return None
    weights = [c for c in message.of("amount") if c.amount is not None and c.amount.kind == "mass"]
    chunks = tuple(c for c in message.chunks if c.kind in NAMING or c in weights)
    if len(weights) != 1 or len(message.of("food")) != 1 or len(chunks) == len(message.chunks):
        return None
    return OwnPart(replace(message, chunks=chunks), is_shared=True)


def _bearing(message: Message, clause: Clause) -> list[Chunk]:
    """The chunks of a clause without whoever else is named in it, and without a clause that tells no amount or food."""
    inside = [c for c in message.chunks if clause.start <= c.start < clause.end]
    if not any(c.kind in ("food", "amount") for c in inside):
        return [c for c in inside if c.kind in NAMING]
    others = {n for p in clause.people if not p.mine for n in range(p.start, p.end)}
    signs = [c for c in message.chunks if c.end == clause.start and c.kind in ("sign", "newline")]
    return [*signs, *(c for c in inside if c.start not in others)]


def _borrowed(message: Message, amount: Chunk) -> list[Chunk]:
    """The food that an amount without one is of: the last before it, else the first behind, with its state."""
    foods = message.of("food")
    before = [c for c in foods if c.end <= amount.start]
    food = before[-1] if before else foods[0]
    states = [c for c in message.of("state", "size") if c.end == food.start or c.start == food.end]
    return [food, *states]


def others_had(message: Message, amount: Chunk) -> Literal["sure", "maybe"] | None:
    """Whether the clause of an amount gives it to somebody else; `maybe` where only a word that may be a name says so.

    None where a clause says that the writer had it after all, or where somebody is only named beside it: 'gf pasta'.
    """
    found = sides(message) if _speaks_of_others(message) else None
    own = None if found is None else found.clause_of(amount)
    taker = None if found is None or own is None else found.takers[found.clauses.index(own)]
    if found is None or own is None or taker is None or taker.whose != "theirs":
        return None
    behind = [c for c in found.clauses if c.start > amount.start]
    if any(c.eats_it or (not c.quantities and _says_mine(c)) for c in behind):
        return None
    role = next((p.role for clause in found.clauses for p in clause.people if p.start == taker.start), None)
    if role == "beside" and own.start <= taker.start < own.end:
        return None
    if any(_is_somebody(found.told, n) for n in range(taker.start, taker.end)):
        return "sure"
    return "sure" if role == "goes_to" and is_given_name(found.told.word(taker.start)) else "maybe"


def _is_somebody(told: Serving, n: int) -> bool:
    """Whether a token is a word for people or animals, and not only one that may be a name."""
    return told.is_called_one(n) or told.is_kind_of_person(n) or told.is_fed(n)


def had_in_company(message: Message, amount: Chunk) -> bool:
    """Whether several had a weight together, the writer among them, and nothing says how much each.

    'we were three and ate together 900 g', 'five of us, 1.5 kg paella', 'my nephew and I ate 200 g'.
    """
    counted = any(c.amount is not None and c.amount.kind in COUNTING for c in message.of("amount") if c is not amount)
    found = sides(message) if counted or _speaks_of_others(message) else None
    own = None if found is None else found.clause_of(amount)
    if found is None or own is None or found.told.cue("each_of_them", "my_piece", "for_oneself"):
        return False
    n = found.clauses.index(own)
    alone = isinstance(own.side, Taker) and not (n and _with_the_writer(found.clauses[n - 1], own))
    return not alone and (bool(heads(found.told)) or (n > 0 and _with_the_writer(found.clauses[n - 1], own)))


def _with_the_writer(before: Clause, clause: Clause) -> bool:
    """'my nephew' before 'and I ate 200 g': whether somebody is named together with the writer as the subject."""
    subjects = before.people, clause.people[:1]
    joined = clause.opened in pack()["goes_on"] and not before.verbs and not before.quantities and bool(clause.verbs)
    only = all(len(p) == 1 and p[0].role in ("does", "beside") for p in subjects)
    return joined and only and len({p[0].mine for p in subjects}) > 1


@once
def _speaks_of_others(message: Message) -> bool:
    """Whether a word of a message may stand for somebody else, or for where food is taken to."""
    words = message.words
    if message.has_any(words.people) or message.has_any(words.pronouns) or message.has_any(pack()["carries_to"].alone):
        return True
    return any(_may_be_somebody(message, chunk) for chunk in message.of("word"))


def _may_be_somebody(message: Message, chunk: Chunk) -> bool:
    token = message.tokens[chunk.start]
    word = singular(token.text.removesuffix("'s"))
    named = chunk.start > 0 and token.raw[:1].isupper() and not message.words.knows(word)
    return named or is_person_noun(word) or is_animal(word) or is_given_name(word)
