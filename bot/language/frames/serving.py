"""What a stretch says about parts of a batch: boxes, shares, the rest, weights, and who ate them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

from bot.language.chunks import Chunk
from bot.language.frames.eaters import Eaters
from bot.language.frames.stretch import grams_of, of_kitchens
from bot.language.intents.readings import records_nothing
from bot.language.message import Message, once
from bot.language.moments import together
from bot.language.pack import pack
from bot.language.portion_meanings import Place
from bot.language.scene import Scene
from bot.language.stance import how_it_is_said, planned, shopping
from bot.language.surroundings import KnownBatch
from bot.language.told import BatchRef, When
from domain.reference.words import is_action

MOST_BOXES = 60
"""No kitchen fills more boxes from one pot."""
LEAST_G = 20
"""No box holds less."""
MOST_OF_A_DENIAL = 4
"""Words of a sentence that only denies what was said before it ('not really')."""
FITS = 1.03
"""Weights said of all boxes may add up to so much of what is there."""


@dataclass(frozen=True, slots=True)
class Boxes:
    """A word for boxes with its position, the number of boxes and the place they are in."""

    start: int
    end: int
    count: Chunk | None = None
    """The amount that says how many; None where none does."""
    place: Place | None = None


class Serving(Eaters):
    """A stretch as the frames for portions see it."""

    @cached_property
    def not_yet(self) -> bool:
        """Whether it asks, plans or supposes."""
        return records_nothing(self.message) or planned(self.message) or self.cue("how_much")

    @cached_property
    def unreal(self) -> bool:
        """Whether it asks, plans, supposes, quotes, describes a habit, or is about shopping."""
        return self.not_yet or shopping(self.message) or how_it_is_said(self.message) is not None

    @cached_property
    def when(self) -> When:
        """When it was eaten; the 'lunch' of 'lunch box' names no meal."""
        boxes = {n for start, end in self.places("a_box") for n in range(start, end)}
        moments = [c for c in self.message.of("moment") if c.moment is not None and c.start not in boxes]
        return together([c.moment for c in moments if c.moment is not None], self.message.around)

    # which batch

    @cached_property
    def batches(self) -> list[KnownBatch]:
        """The batches that the names in it can mean."""
        return self.scene.batches

    @property
    def others_own(self) -> bool:
        """'her own chili', 'a takeaway curry': another dish of the same name."""
        own = {end for _, end in self.places("not_ours")}
        return any(self.word(s - 1) in pack()["said_other_dish"] or s in own for _, s, _ in self.scene.named)

    @cached_property
    def ref(self) -> BatchRef | None:
        """The batch named, by name or number; None if none or several are."""
        refs = {(r.number, r.candidates) for r, _, _ in self.scene.named}
        if not refs or self.others_own:
            return None
        named = [r for r, _, _ in self.scene.named]
        numbers = {b.number for b in self.batches}
        whole = [r for r in named if r.number is not None] or [r for r in named if set(r.candidates) == numbers]
        if len(refs) > 1 and len(numbers) > 1 and not whole:
            return None
        if len(numbers) > 1 and len({frozenset(r.candidates) for r in named}) > 1:
            return None
        return replace((whole or named)[0], sure=True)

    @cached_property
    def spoken_of(self) -> BatchRef | None:
        """'it', 'the pot': the batch mentioned last, if one is open and the last weigh-in was not of another food."""
        if not self.cue("the_pot", "a_rest", "loose_food", "part_of_it"):
            return None
        last = self.message.around.last
        if not (last is None or last.batch is not None or any(b.spoken for b in self.message.around.batches)):
            return self.in_focus
        spoken = [b.number for b in self.message.around.batches if b.spoken]
        if len(spoken) == 1:
            return BatchRef(candidates=(spoken[0],))
        return BatchRef() if any(b.cooked for b in self.message.around.batches) else None

    @cached_property
    def in_focus(self) -> BatchRef | None:
        """The pot spoken of last, where the numbers can't be of the food that was weighed since."""
        pots = [b for b in self.message.around.batches if b.focus]
        weights = [grams_of(c.amount) for c in self.weights if c.amount is not None]
        if not pots or not all(w <= FITS * (b.left_g or 0.0) for b in pots for w in weights):
            return None
        last = self.message.around.last
        since = last.grams if last is not None and last.batch is None else 0.0
        larger = bool(weights) and min(weights) > since
        filled = bool(self.boxes) and self.rest and bool(self.counts)
        return BatchRef(candidates=tuple(b.number for b in pots)) if larger or filled or not since else None

    def known(self, ref: BatchRef) -> KnownBatch | None:
        """The batch, if only one can be meant."""
        numbers = {ref.number} if ref.number is not None else set(ref.candidates)
        found = [b for b in self.message.around.batches if not numbers or b.number in numbers]
        found = found if len(found) == 1 else [b for b in found if b.cooked]
        return found[0] if len(found) == 1 else None

    @cached_property
    def only_boxed(self) -> KnownBatch | None:
        """The only batch that is in boxes, if exactly one is."""
        boxed = [b for b in self.message.around.batches if b.boxes]
        return boxed[0] if len(boxed) == 1 else None

    @property
    def says_nothing_else(self) -> bool:
        """Whether the pack or the kitchen knows all its words, so that no unknown word can be what is meant."""
        words = self.message.words
        return not self.message.of("food") and all(
            c.kind != "word" or words.knows(c.text.lower()) or of_kitchens(c.text.lower()) for c in self.message.chunks
        )

    def may_name_more(self, *people: tuple[int, int]) -> bool:
        """Whether an unknown word, apart from the names of these people, can be what was eaten or what it is about."""
        words, said = self.message.words, self.words
        used = {self.at[i] for name in said.said for i, end in said.places(name) for i in range(i, end)}
        used |= {n for start, end in people for n in range(start, end)}
        return any(
            c.kind == "word"
            and c.start not in used
            and not words.knows(c.text.lower())
            and not is_action(c.text.lower())
            for c in self.message.chunks
        )

    # numbers

    @cached_property
    def numbers(self) -> list[Chunk]:
        """Its amounts, except 'a box' and 'a tub of', which state no quantity, and numbers of people."""
        halves = {n for start, end in self.places("halving") for n in range(start, end)}
        if self.person is None and any(c.amount is not None and c.amount.kind == "mass" for c in self.scene.amounts):
            halves |= {n for start, end in self.places("the_other_part") for n in range(start, end)}
        halves |= {n for start, end in self.places("more_people") for n in range(start, end)}  # 'my better half'
        told = [c for c in self.scene.amounts if c.start not in halves]
        return [c for c in told if not self._one_of_it(c) and not self.of_people(c)]

    def _one_of_it(self, chunk: Chunk) -> bool:
        amount = chunk.amount
        said = [self.word(n) for n in range(chunk.start, chunk.end)]
        if len(said) == 1 and not said[0].isdecimal() and self.word(chunk.start - 1) in pack()["each_of_them"]:
            return amount is not None and amount.value == 1  # 'each one is 300 g'
        counts = amount is not None and amount.kind in ("measure", "count", "bare") and amount.value == 1
        return counts and said[0] in pack()["an_article"] and not any(w.isdecimal() for w in said)

    def of_people(self, chunk: Chunk) -> bool:
        """'between the three of them', 'the two kids', 'the first of the eight'."""
        amount = chunk.amount
        if amount is None or amount.kind != "bare" or amount.value != int(amount.value):
            return False
        if amount.value == 1 and self.word(chunk.start - 1) in pack()["before_a_child"]:
            return True
        behind = [self.word(n) for n in range(chunk.end, chunk.end + 3)]
        ends = (
            chunk.end > self.at[-1] or self.message.tokens[chunk.end].kind == "sign" or behind[0] in pack()["later_on"]
        )
        if ends and self.word(chunk.start - 1) in pack()["given_to"] and self.named_at(chunk.start - 2):
            return True  # 'chili for 4 tonight'
        people = pack()["counted_people"].end(behind, 0) or 0
        if people and behind[0] in pack()["of_a_share"] and self.led_by(chunk.start, "there_are"):
            return behind[people] not in pack()["is_left_over"]
        if people and self._is_listed(chunk, people):
            return False
        if people and (self.word(chunk.start - 1) in pack()["before_a_group"] or behind[0] not in pack()["of_or_box"]):
            return True
        before = [self.word(n) for n in range(chunk.start - 2, chunk.start)]
        batch = self.known(self.ref) if self.ref is not None else self.only_boxed
        counted = batch is not None and batch.boxes is not None and amount.value >= batch.boxes
        return counted and any(True for i in range(2) for e in pack()["out_of_so_many"].ends(before, i) if e == 2)

    def _is_listed(self, chunk: Chunk, people: int) -> bool:
        """'2 me, 3 kids': as the writer's number stands before the writer, so this one is what those people had."""
        ends = {chunk.start - 1, chunk.end + people}
        alone = all(n not in self.at or self.message.tokens[n].kind == "sign" for n in ends)
        return alone and any(
            c is not chunk and self.word(c.end) in pack()["the_writer"] and c.amount is not None and c.amount.value >= 1
            for c in self.scene.amounts
        )

    def spent(self, *chunks: Chunk | None) -> bool:
        """Whether no number is left over beside these."""
        taken = {id(c) for c in chunks if c is not None}
        bare = all(id(c) in taken for c in self.numbers)
        return bare and not self.message.of("hash", "energy", "macro", "price")

    @cached_property
    def weights(self) -> list[Chunk]:
        """Masses, and bare numbers that may be grams."""
        return [
            c
            for c in self.numbers
            if c.amount is not None
            and c.amount.doubt is None
            and (c.amount.kind == "mass" or (c.amount.kind == "bare" and c.amount.value >= LEAST_G))
        ]

    @cached_property
    def counts(self) -> list[Chunk]:
        """Whole numbers that may count boxes."""
        return [
            c
            for c in self.numbers
            if c.amount is not None
            and c.amount.kind in ("bare", "count", "measure")
            and c.amount.doubt is None
            and c.amount.value == int(c.amount.value)
            and 0 < c.amount.value <= MOST_BOXES
        ]

    @cached_property
    def shares(self) -> list[Chunk]:
        """'half', 'a quarter': fractions below one."""
        parts = [c for c in self.numbers if c.amount is not None and c.amount.kind in ("bare", "count", "measure")]
        return [c for c in parts if c.amount is not None and 0 < c.amount.value < 1]

    @property
    def share(self) -> Chunk | None:
        """The fraction, if exactly one is said."""
        return self.shares[0] if len(self.shares) == 1 else None

    @property
    def share_of(self) -> Literal["whole", "left"] | None:
        """What the share is a share of, if it says so."""
        if self.cue("of_the_left", "left_of"):
            return "left"
        return "whole" if self.cue("of_the_whole", "whole_of") else None

    @property
    def rest(self) -> bool:
        """Whether it is about all that is left."""
        return self.cue("a_rest")

    # boxes

    @cached_property
    def boxes(self) -> list[Boxes]:
        """The words for boxes in it, each with its count."""
        found = []
        for start, end in self.places("a_box"):
            count = self._count_of(start, end)
            found.append(Boxes(start, end, count, self._place_near(start if count is None else count.start, end)))
        return found

    def _count_of(self, start: int, end: int) -> Chunk | None:
        """'6 boxes', '8 equal stew boxes', '2 more of the tubs': the count of the boxes at a token."""
        inside = [c for c in self.counts if c.start <= start and end <= c.end]
        if inside:
            return inside[0]
        before = [c for c in self.counts if c.end <= start and c.amount is not None and c.amount.kind == "bare"]
        if not before or not self.only_beside(before[-1].end, start):
            return None
        return before[-1]

    def only_beside(self, start: int, end: int) -> bool:
        """Whether only a batch's name and words used with boxes stand between two tokens."""
        n = start
        while n < end:
            ends = [e for e in pack()["box_beside"].ends(self.message.line.plain, n) if e <= end]
            if self.named_at(n):
                n += 1
            elif ends:
                n = ends[0]
            else:
                return False
        return True

    def _place_near(self, start: int, end: int) -> Place | None:
        """'fridge box', 'frozen soup box': the place stated directly with the box."""
        words = [self.word(n) for n in range(start - 2, end)]
        if any(w in pack()["freezer_itself"] or w in pack()["said_frozen"] for w in words):
            return "freezer"
        return "fridge" if any(w in pack()["fridge_itself"] for w in words) else None

    @property
    def source(self) -> Place | None:
        """The place it was taken from, if stated."""
        for place, start, _ in self.mentioned:
            if self.led_by(start, "from_a_place") or self.named_at(start + 1) or self._before_box(start):
                return place
        return next((boxes.place for boxes in self.boxes if boxes.place is not None), None)

    @property
    def target(self) -> Place | None:
        """The place it was put in, if stated."""
        # 'Freezer: 2 boxes of soup' puts it there as 'to the freezer' does
        found = [p for p, start, end in self.mentioned if self.led_by(start, "to_a_place") or self.word(end) == ":"]
        return found[0] if found else None

    @cached_property
    def mentioned(self) -> list[tuple[Place, int, int]]:
        """The places named, in order."""
        places: tuple[tuple[str, Place], ...] = (("freezer_itself", "freezer"), ("fridge_itself", "fridge"))
        named = [(place, s, e) for name, place in places for s, e in self.places(name)]
        frozen: list[tuple[Place, int, int]] = [("freezer", start, end) for start, end in self.places("said_frozen")]
        return sorted([*named, *frozen], key=lambda found: found[1])

    @property
    def put_away(self) -> bool:
        """Whether it goes to a place and nothing says that it was eaten."""
        return self.target is not None and not self.cue("eating_it", "went_to_me")

    @property
    def boxes_of_source(self) -> bool:
        """Whether the only place named is where the boxes came from."""
        return self.target is None and bool(self.mentioned)

    def _before_box(self, n: int) -> bool:
        return any(n < b.start and self.only_beside(n + 1, b.start) for b in self.boxes)


@once
def seen(message: Message) -> Serving:
    """The message as frames look at it."""
    return Serving(Scene(message))


@once
def core(message: Message) -> Message:
    """The message without sentences that only tell a story ('… from the stew. Ken went to the pub.')."""
    sentences = message.sentences()
    if len(sentences) < 2:
        return message
    bearing: list[Serving] = []
    others: list[Serving] = []
    for told in map(seen, sentences):
        bears = told.numbers or told.scene.named or told.boxes or told.scene.foods or told.rest
        (bearing if bears else others).append(told)
    if not others or not bearing or any(_may_matter(told) for told in others):
        return message
    return replace(message, chunks=tuple(c for told in bearing for c in told.message.chunks))


def _may_matter(told: Serving) -> bool:
    """Whether a sentence may revoke or change what another one says."""
    message = told.message
    if message.asks or told.cue("not_to_me", "came_to_grief", "repair", "repair_weak"):
        return True
    # 'I do not know if she liked it' is about no portion
    about_it = told.cue("eating_it", "gave_it", "took_from_pot", "others_took", "has_eaten")
    return (planned(message) or told.cue("negation")) and (about_it or len(told.words) <= MOST_OF_A_DENIAL)
