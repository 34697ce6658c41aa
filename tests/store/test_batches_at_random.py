"""A batch on record through any sequence of messages: what is read is what was told, and undo leads back exactly."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from bot.store import batches, journal, weighins
from bot.store.books import Books
from bot.store.engine import open_store
from domain.batch_steps import (
    Added,
    Boxed,
    Closed,
    Corrected,
    CountedOut,
    Draw,
    Ingredient,
    Moved,
    Place,
    Poured,
    Reduced,
    RefuseOut,
    Removed,
    Renamed,
    Reopened,
    Step,
    Taken,
    Weighed,
)
from domain.batches import Batch
from domain.draws import by_boxes, by_pieces, from_box
from domain.foods import State
from domain.nutrients import Nutrients
from domain.weighins import Evidence

from .records import eaten, messages_to, record

EXACT_G = 0.01
grams = st.floats(min_value=1, max_value=2000)
parts = st.floats(min_value=0.05, max_value=1)


def ingredient(raw_g: float, known: bool = True) -> Ingredient:
    nutrients = Nutrients(raw_g * 2, raw_g / 10, raw_g / 8, raw_g / 5) if known else None
    return Ingredient("food", State.RAW, raw_g, nutrients, "", "")


class ABatchOnRecord(RuleBasedStateMachine):
    """One message a rule; `batch` is what was told, in the order in which it was told."""

    def __init__(self) -> None:
        super().__init__()
        self.store = open_store("sqlite://")
        self.message = messages_to(self.store)
        self.lines = 1
        with self.message() as books:
            batches.open_batch(books, "stew", [ingredient(900)])
            self.person = books.person.id
        self.batch = Batch(1, "stew", (Added(0, ingredient(900)),))
        self.told: list[Batch] = []

    def teardown(self) -> None:
        self.store.close()

    @contextmanager
    def _telling(self, *steps: Step) -> Iterator[Books]:
        """A message after which these steps are on record too, unless they can't be."""
        with self.message() as books:
            yield books
        timed = (replace(step, at=books.at) if isinstance(step, (Weighed, Boxed, Moved)) else step for step in steps)
        self._told(self.batch.then(*timed))

    def _told(self, batch: Batch) -> None:
        self.told.append(self.batch)
        self.batch = batch

    def _fits(self, *steps: Step) -> bool:
        after = self.batch.then(*steps)
        return after.pot.missing_g <= 0 and after.over_drawn_g <= 5

    @property
    def cooked(self) -> bool:
        return self.batch.cooked_g is not None

    @rule(raw_g=grams, known=st.booleans())
    def add(self, raw_g: float, known: bool) -> None:
        line, item = self.lines, ingredient(raw_g, known)
        self.lines += 1
        with self._telling(Added(line, item)) as books:
            assert batches.add(books, 1, [item]) == (line,)

    @rule(which=st.integers(0), raw_g=grams)
    def correct(self, which: int, raw_g: float) -> None:
        lines = list(self.batch.lines)
        line = lines[which % len(lines)]
        if self._fits(Corrected(line, ingredient(raw_g))):
            with self._telling(Corrected(line, ingredient(raw_g))) as books:
                batches.correct(books, 1, line, ingredient(raw_g))
            # The corrected values are an entry of their own.
            self.lines += 1

    @rule(which=st.integers(0))
    def remove(self, which: int) -> None:
        lines = list(self.batch.lines)
        line = lines[which % len(lines)]
        if len(lines) > 1 and self._fits(Removed(line)):
            with self._telling(Removed(line)) as books:
                batches.remove(books, 1, line)

    @rule(loss=st.floats(0.4, 1.5))
    def cook(self, loss: float) -> None:
        step = Weighed((self.batch.cooked_g or self.batch.raw_g) * loss)
        if self._fits(step):
            with self._telling(step) as books:
                batches.cook(books, 1, step.grams)

    @precondition(lambda self: self.cooked and self.batch.loose_g > 5)
    @rule(loss=st.floats(0.4, 1.5))
    def weigh(self, loss: float) -> None:
        step = Weighed(self.batch.loose_g * loss, anew=True)
        with self._telling(step) as books:
            batches.weigh(books, 1, step.grams)

    @rule(grams=st.floats(1, 50), fat=st.booleans())
    def drain(self, grams: float, fat: bool) -> None:
        if self._fits(Poured(grams, fat)):
            with self._telling(Poured(grams, fat)) as books:
                batches.drain(books, 1, grams, fat=fat)

    @rule(grams=st.floats(1, 50), which=st.none() | st.integers(0))
    def refuse(self, grams: float, which: int | None) -> None:
        lines = list(self.batch.lines)
        line = None if which is None else lines[which % len(lines)]
        if self._fits(RefuseOut(grams, line)) and (line is None or self.batch.lines[line].raw_g > grams):
            with self._telling(RefuseOut(grams, line)) as books:
                batches.take_refuse_out(books, 1, grams, line)

    @precondition(lambda self: self.cooked)
    @rule(pieces=st.integers(1, 24))
    def count_out(self, pieces: int) -> None:
        with self._telling(CountedOut(pieces, "dumpling")) as books:
            batches.count_out(books, 1, pieces, "dumpling")

    @precondition(lambda self: self.cooked and self.batch.loose_g > 5)
    @rule(
        shares=st.lists(st.none() | parts, min_size=1, max_size=4),
        place=st.none() | st.sampled_from(Place),
        anew=st.booleans(),
    )
    def box(self, shares: list[float | None], place: Place | None, anew: bool) -> None:
        said = [None if None in shares else self.batch.loose_g * (share or 0) / 4 for share in shares]
        with self.message() as books:
            numbers = batches.box(books, 1, said, place, anew=anew)
        self._told(self.batch.then(Boxed(tuple(zip(numbers, said, strict=True)), place, anew, books.at)))

    @precondition(lambda self: self.batch.boxes)
    @rule(which=st.none() | st.integers(0), place=st.sampled_from(Place))
    def move(self, which: int | None, place: Place) -> None:
        boxes = None if which is None else (self.batch.boxes[which % len(self.batch.boxes)].number,)
        with self._telling(Moved(boxes, place)) as books:
            batches.move(books, 1, boxes, place)

    def _draw(self, how: str, part: float, which: int) -> tuple[Draw, Evidence] | None:
        box = self.batch.boxes[which % len(self.batch.boxes)] if self.batch.boxes else None
        if how == "box" and box:
            return by_boxes(self.batch, [box.number]), Evidence.BOXED
        if how == "part" and box:
            return from_box(self.batch, box.number, part * box.grams), Evidence.WEIGHED
        if how == "piece" and self.batch.piece_g and self.batch.loose_g > self.batch.piece_g:
            return by_pieces(self.batch, 1), Evidence.COUNTED
        return (Draw(part * self.batch.loose_g), Evidence.WEIGHED) if self.batch.loose_g > 1 else None

    @precondition(lambda self: self.cooked)
    @rule(how=st.sampled_from(("box", "part", "piece", "grams")), part=parts, which=st.integers(0))
    def eat(self, how: str, part: float, which: int) -> None:
        found = self._draw(how, part, which)
        if found is None:
            return
        draw, evidence = found
        weigh_in = eaten(grams=draw.grams, batch=1, evidence=evidence)
        with self.message() as books:
            stored = record(books, replace(weigh_in, boxes=draw.boxes, pieces=draw.pieces))
        assert stored.weigh_in.draw == draw
        self._told(self.batch.then(Taken((self.person, stored.number), draw)))

    @precondition(lambda self: self.cooked)
    @rule(how=st.sampled_from(("box", "part", "piece", "grams")), part=parts, which=st.integers(0))
    def give_away(self, how: str, part: float, which: int) -> None:
        found = self._draw(how, part, which)
        if found is not None:
            with self._telling(Reduced(found[0], "given away")) as books:
                batches.reduce(books, 1, found[0], "given away")

    def _portion(self, which: int) -> tuple[int, int]:
        portions = list(self.batch.pot.portions)
        return portions[which % len(portions)]

    @precondition(lambda self: self.batch.pot.portions)
    @rule(which=st.integers(0), part=parts)
    def change(self, which: int, part: float) -> None:
        portion = self._portion(which)
        draw = Draw(self.batch.pot.portions[portion].grams * part)
        if self.batch.drawing(portion, draw).over_drawn_g > 5:
            return
        with self.message() as books:
            old = weighins.get(books, portion[1])
            assert old is not None
            if old.weigh_in.evidence is Evidence.BOXED:
                return
            new = eaten(grams=draw.grams, batch=1)
            weighins.change(books, old, new, old.eaten_at, old.day, old.meal, old.said)
        self._told(self.batch.drawing(portion, draw))

    @precondition(lambda self: self.batch.pot.portions)
    @rule(which=st.integers(0))
    def take_back(self, which: int) -> None:
        portion = self._portion(which)
        with self.message() as books:
            old = weighins.get(books, portion[1])
            assert old is not None
            weighins.remove(books, old)
        self._told(self.batch.without(portion))

    @rule(name=st.sampled_from(("stew", "goulash", "soup")))
    def rename(self, name: str) -> None:
        with self.message() as books:
            batches.rename(books, 1, name)
        self._told(replace(self.batch.then(Renamed(name)), name=name))

    @rule()
    def close_or_reopen(self) -> None:
        with self._telling(Reopened() if self.batch.closed else Closed()) as books:
            if self.batch.closed:
                batches.reopen(books, 1)
            else:
                batches.close(books, 1, 0, "finished")

    @precondition(lambda self: self.told)
    @rule()
    def undo(self) -> None:
        with self.message() as books:
            assert journal.undo(books, journal.last(books))
        self.batch = self.told.pop()

    @invariant()
    def what_is_read_is_what_was_told(self) -> None:
        with self.message() as books:
            assert batches.get(books, 1) == self.batch
            assert batches.open_batches(books) == ([] if self.batch.closed else [self.batch])

    @invariant()
    def what_went_in_is_somewhere(self) -> None:
        batch = self.batch
        if not self.cooked:
            return
        out_g = batch.taken_g + batch.reduced_g + batch.left_g + batch.pot.poured_g + batch.pot.evaporated_g
        gap_g = batch.raw_g - (out_g - batch.over_drawn_g) + batch.pot.missing_g
        assert abs(gap_g) < EXACT_G


TestABatchOnRecord = ABatchOnRecord.TestCase
TestABatchOnRecord.settings = settings(
    max_examples=60, stateful_step_count=40, report_multiple_bugs=False, deadline=None
)
