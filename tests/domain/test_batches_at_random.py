"""Batches through any sequence of what can happen to them, beside a pot that is kept in a wholly different way.

The program never changes a step: it works a batch out anew from a list that only grows. Here the pot is a vector of
grams that is taken from and added to in place, from a list in which corrections overwrite what they correct.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import isclose

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

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
    Reopened,
    Step,
    Taken,
    Weighed,
)
from domain.batches import OVER_DRAW_SLACK_G, Batch, Share
from domain.draws import (
    NoPieces,
    NotLoose,
    Of,
    WholeOrLeft,
    by_boxes,
    by_pieces,
    by_weight,
    equal_boxes,
    fill_boxes,
    from_box,
    share_g,
)
from domain.errors import DomainError
from domain.foods import State
from domain.nutrients import Nutrients

EXACT_G = 0.01


@dataclass
class Lump:
    """Grams of a mixture, and the raw grams, energy and fat that are in them."""

    mass_g: float = 0.0
    raw_g: float = 0.0
    kcal: float = 0.0
    fat_g: float = 0.0

    def part(self, grams: float) -> Lump:
        """`grams` of it, taken out."""
        share = grams / self.mass_g if self.mass_g else 0.0
        out = Lump(grams, self.raw_g * share, self.kcal * share, self.fat_g * share)
        self.put(out, -1)
        return out

    def put(self, other: Lump, times: int = 1) -> None:
        self.mass_g += times * other.mass_g
        self.raw_g += times * other.raw_g
        self.kcal += times * other.kcal
        self.fat_g += times * other.fat_g


@dataclass
class Told:
    """One thing that happened, as it is known now."""

    what: str
    line: int = -1
    raw_g: float = 0.0
    kcal: float = 0.0
    fat_g: float = 0.0
    grams: float = 0.0
    refuse_g: float = 0.0
    poured_g: float = 0.0
    poured_fat_g: float = 0.0
    number: int = -1
    boxes: dict[int, float] = field(default_factory=dict)
    box: int = -1
    fat: bool = True


@dataclass
class Kept:
    """Where everything is in the end."""

    loose: Lump
    boxes: dict[int, Lump]
    portions: dict[int, Lump]
    reduced: Lump
    evaporated_g: float
    poured_g: float
    over_g: float


def carried_out(story: list[Told], refuse: dict[int, float]) -> Kept:
    """Goes through the story with a pot, boxes and plates."""
    kept = Kept(Lump(), {}, {}, Lump(), 0.0, 0.0, 0.0)
    for told in story:
        pot = kept.loose
        if told.what == "add":
            stays = max(0.0, 1 - refuse.get(told.line, 0.0) / told.raw_g)
            pot.put(Lump(told.raw_g * stays, told.raw_g * stays, told.kcal * stays, told.fat_g * stays))
        elif told.what == "weigh":
            _pour(kept, told.poured_fat_g, told.poured_g)
            mass_g = told.grams - told.refuse_g
            kept.evaporated_g += pot.mass_g - mass_g
            pot.mass_g = mass_g
        elif told.what == "pour":
            _pour(kept, told.grams if told.fat else 0.0, told.grams)
        elif told.what == "refuse":
            pot.mass_g -= told.grams
            kept.evaporated_g += told.grams
        elif told.what == "fill":
            for number, grams in told.boxes.items():
                kept.boxes[number] = pot.part(grams)
        elif told.what in ("eat", "give"):
            _serve(kept, told)
    return kept


def _pour(kept: Kept, fat_g: float, grams: float) -> None:
    fat_g = min(fat_g, kept.loose.fat_g)
    kept.loose.mass_g -= grams
    kept.loose.fat_g -= fat_g
    kept.loose.kcal = max(0.0, kept.loose.kcal - 9 * fat_g)
    kept.poured_g += grams


def _serve(kept: Kept, told: Told) -> None:
    out = Lump()
    for number in told.boxes:
        box = kept.boxes.pop(number)
        out.put(box)
    if told.box >= 0:
        box = kept.boxes.pop(told.box)
        out.put(box.part(told.grams))
        kept.loose.put(box)
    elif not told.boxes:
        over_g = max(0.0, told.grams - kept.loose.mass_g)
        per_g = Lump(kept.loose.mass_g, kept.loose.raw_g, kept.loose.kcal, kept.loose.fat_g)
        out = per_g.part(told.grams)
        kept.loose.part(told.grams - over_g)
        kept.over_g += over_g
    if told.what == "eat":
        kept.portions[told.number] = out
    else:
        kept.reduced.put(out)


grams = st.floats(min_value=1, max_value=3000)
parts = st.floats(min_value=0.02, max_value=1)


class ABatchInUse(RuleBasedStateMachine):
    """Every operation in any order; what `domain` refuses is not done in either."""

    def __init__(self) -> None:
        super().__init__()
        self.batch = Batch(1, "stew", ())
        self.story: list[Told] = []
        self.refuse: dict[int, float] = {}
        self.lines = 0
        self.numbers = 0
        self.box_numbers = 0
        self.apart = False
        self._add(800, 2.5, 0.2)

    def _ingredient(self, raw_g: float, kcal_per_g: float, fat: float) -> Ingredient:
        nutrients = Nutrients(raw_g * (kcal_per_g + 9 * fat), 0, raw_g * fat, 0)
        return Ingredient("food", State.RAW, raw_g, nutrients, "", "")

    def _step(self, *steps: Step) -> bool:
        """Takes the steps unless more would then have been taken than there was."""
        try:
            self.batch.check(*steps)
        except DomainError:
            return False
        self.batch = self.batch.then(*steps)
        # The other pot does not open a box, nor weigh one anew, because of what is put right before it was filled.
        self.apart = self.apart or any(told.what == "fill" for told in self.story)
        return True

    def _figures(self) -> dict[tuple[int, int], tuple[float, Share]]:
        found = {portion: self.batch.portion(portion) for portion in self.batch.pot.portions}
        return {portion: figures for portion, figures in found.items() if figures is not None}

    @property
    def cooked(self) -> bool:
        return self.batch.cooked_g is not None

    def _add(self, raw_g: float, kcal_per_g: float, fat: float) -> None:
        ingredient = self._ingredient(raw_g, kcal_per_g, fat)
        assert ingredient.nutrients is not None
        before = self._figures() if self.batch.steps else {}
        self.batch = self.batch.then(Added(self.lines, ingredient))
        self.story.append(
            Told("add", self.lines, raw_g, kcal=ingredient.nutrients.kcal, fat_g=ingredient.nutrients.fat_g)
        )
        self.lines += 1
        assert self._figures() == before

    @rule(raw_g=grams, kcal_per_g=st.floats(0, 8), fat=st.floats(0, 1))
    def add(self, raw_g: float, kcal_per_g: float, fat: float) -> None:
        self._add(raw_g, kcal_per_g, fat)

    def _since_weighing(self) -> set[int]:
        at = max(i for i, told in enumerate(self.story) if told.what == "weigh")
        return {told.line for told in self.story[at:] if told.what == "add"}

    def _added(self, which: int) -> Told:
        added = [told for told in self.story if told.what == "add"]
        return added[which % len(added)]

    @rule(which=st.integers(0), raw_g=grams, kcal_per_g=st.floats(0, 8), fat=st.floats(0, 1))
    def correct(self, which: int, raw_g: float, kcal_per_g: float, fat: float) -> None:
        told = self._added(which)
        ingredient = self._ingredient(raw_g, kcal_per_g, fat)
        assert ingredient.nutrients is not None
        if raw_g > self.refuse.get(told.line, 0.0) and self._step(Corrected(told.line, ingredient)):
            told.raw_g, told.kcal, told.fat_g = raw_g, ingredient.nutrients.kcal, ingredient.nutrients.fat_g

    @rule(which=st.integers(0))
    def remove(self, which: int) -> None:
        told = self._added(which)
        try:
            self.batch.check_removal([told.line])
        except DomainError:
            return
        if self._step(Removed(told.line)):
            self.story.remove(told)

    @rule(loss=st.floats(0.3, 2.5))
    def weigh(self, loss: float) -> None:
        """The cooked weight, and later what the pot weighs now."""
        here_g = self.batch.loose_g if self.cooked else self.batch.raw_g - self.batch.pot.poured_g
        if here_g * loss < 1:
            return
        before = self._figures()
        self.batch = self.batch.then(Weighed(here_g * loss, anew=self.cooked))
        self.story.append(Told("weigh", grams=here_g * loss))
        assert self._figures() == before

    @precondition(lambda self: self.cooked)
    @rule(factor=st.floats(0.5, 1.5))
    def weigh_right(self, factor: float) -> None:
        latest = [told for told in self.story if told.what == "weigh"][-1]
        if latest.grams * factor < 1:
            return
        if self._step(Weighed(latest.grams * factor)):
            latest.grams *= factor
            latest.refuse_g = 0.0

    @rule(grams=st.floats(1, 400), fat=st.booleans())
    def pour(self, grams: float, fat: bool) -> None:
        try:
            self.batch.check_pour(grams if fat else 0)
        except DomainError:
            return
        latest = next((told for told in reversed(self.story) if told.what in ("weigh", "add")), None)
        weighing = latest if latest is not None and latest.what == "weigh" else None
        here_g = self.batch.loose_g if self.cooked else self.batch.raw_g - self.batch.pot.poured_g
        if (weighing is None and grams >= here_g) or not self._step(Poured(grams, fat)):
            return
        if weighing is None:
            self.story.append(Told("pour", grams=grams, fat=fat))
        else:
            weighing.poured_g += grams
            weighing.poured_fat_g += grams if fat else 0.0

    @precondition(lambda self: self.cooked)
    @rule(grams=st.floats(1, 300), which=st.none() | st.integers(0))
    def bones_out(self, grams: float, which: int | None) -> None:
        line = None if which is None else self._added(which).line
        latest = next(told for told in reversed(self.story) if told.what in ("weigh", "add", "fill"))
        try:
            self.batch.check_refuse(grams, line)
        except DomainError:
            return
        if latest.what == "fill" or not self._step(RefuseOut(grams, line)):
            return
        if line is not None:
            self.refuse[line] = self.refuse.get(line, 0.0) + grams
        if latest.what == "weigh":
            latest.refuse_g += grams
        elif latest.what != "add" or line not in self._since_weighing():
            self.story.append(Told("refuse", grams=grams))

    @precondition(lambda self: self.cooked)
    @rule(pieces=st.integers(1, 30))
    def count_out(self, pieces: int) -> None:
        self.batch = self.batch.then(CountedOut(pieces, "piece"))
        if self.batch.loose_g > 0:
            assert self.batch.pieces_left is not None
            assert isclose(self.batch.pieces_left, pieces)

    @precondition(lambda self: self.cooked and self.batch.loose_g > 1)
    @rule(shares=st.lists(parts, min_size=1, max_size=4), equal=st.booleans(), place=st.none() | st.sampled_from(Place))
    def fill(self, shares: list[float], equal: bool, place: Place | None) -> None:
        loose_g = self.batch.loose_g
        numbers = [self.box_numbers + i + 1 for i in range(len(shares))]
        if equal:
            if loose_g < len(shares):
                return
            weights = [equal_boxes(self.batch, len(shares))] * len(shares)
            step = Boxed(tuple((number, None) for number in numbers), place)
        else:
            whole = max(1.0, sum(shares))
            weights = list(fill_boxes(self.batch, [loose_g * share / whole for share in shares]))
            step = Boxed(tuple(zip(numbers, weights, strict=True)), place)
        self.box_numbers = numbers[-1]
        self.batch = self.batch.then(step)
        self.story.append(Told("fill", boxes=dict(zip(numbers, weights, strict=True))))

    @precondition(lambda self: self.batch.boxes)
    @rule(which=st.integers(0), place=st.sampled_from(Place), loose=st.booleans())
    def move(self, which: int, place: Place, loose: bool) -> None:
        number = self.batch.boxes[which % len(self.batch.boxes)].number
        self.batch = self.batch.then(Moved(None if loose else (number,), place))

    def _out(self, draw: Draw, eaten: bool, told: Told) -> None:
        if eaten:
            self.numbers += 1
            self.batch = self.batch.then(Taken((1, self.numbers), draw))
            told.what, told.number = "eat", self.numbers
        else:
            self.batch = self.batch.then(Reduced(draw))
            told.what = "give"
        self.story.append(told)

    @precondition(lambda self: self.cooked)
    @rule(grams=st.floats(0.5, 3000), eaten=st.booleans())
    def take_grams(self, grams: float, eaten: bool) -> None:
        if self.batch.over_draw_g(grams) > OVER_DRAW_SLACK_G or not self.batch.loose_g > 0:
            return
        if self.batch.boxes and grams > self.batch.loose_g + OVER_DRAW_SLACK_G:
            with pytest.raises(NotLoose):
                by_weight(self.batch, grams)
        elif grams <= self.batch.loose_g or not self.batch.boxes:
            self._out(by_weight(self.batch, grams), eaten, Told("", grams=grams))

    @precondition(lambda self: self.cooked)
    @rule(fraction=parts, of=st.none() | st.sampled_from(Of), eaten=st.booleans())
    def take_share(self, fraction: float, of: Of | None, eaten: bool) -> None:
        if of is None and fraction < 1 and self.batch.taken_g + self.batch.reduced_g > 0:
            with pytest.raises(WholeOrLeft):
                share_g(self.batch, fraction, of)
            return
        share = share_g(self.batch, fraction, of)
        if 0.5 < share <= self.batch.loose_g:
            self._out(by_weight(self.batch, share), eaten, Told("", grams=share))

    @precondition(lambda self: self.cooked)
    @rule(pieces=st.none() | st.integers(1, 5), eaten=st.booleans())
    def take_pieces(self, pieces: int | None, eaten: bool) -> None:
        if self.batch.piece_g is None:
            with pytest.raises(NoPieces):
                by_pieces(self.batch, pieces)
            return
        # As grams: the weight of pieces follows corrections, and the other pot's does not.
        draw = by_pieces(self.batch, pieces)
        if 0.5 < draw.grams <= self.batch.loose_g:
            self._out(Draw(draw.grams), eaten, Told("", grams=draw.grams))

    @precondition(lambda self: self.batch.boxes)
    @rule(which=st.integers(0), count=st.integers(1, 2), eaten=st.booleans(), part=st.none() | parts)
    def take_boxes(self, which: int, count: int, eaten: bool, part: float | None) -> None:
        boxes = self.batch.boxes[which % len(self.batch.boxes) :][:count]
        if part is None:
            told = Told("", boxes={box.number: box.grams for box in boxes})
            self._out(by_boxes(self.batch, [box.number for box in boxes]), eaten, told)
        else:
            told = Told("", box=boxes[0].number, grams=part * boxes[0].grams)
            self._out(from_box(self.batch, boxes[0].number, told.grams), eaten, told)

    @rule(which=st.integers(0))
    def give_back(self, which: int) -> None:
        eaten = [told for told in self.story if told.what == "eat"]
        # What came out of boxes, or was boxed since, goes other ways when it is there again.
        after = {told.what for told in self.story[-1:]}
        if not eaten or after != {"eat"}:
            return
        self.batch = self.batch.without((1, self.story[-1].number))
        self.story.pop()

    @rule()
    def close_and_reopen(self) -> None:
        assert self.batch.then(Closed()).closed
        assert not self.batch.then(Closed(), Reopened()).closed

    @invariant()
    def what_went_in_is_somewhere(self) -> None:
        batch = self.batch
        if not self.cooked:
            return
        out_g = batch.taken_g + batch.reduced_g + batch.left_g + batch.pot.poured_g + batch.pot.evaporated_g
        assert abs(batch.raw_g - (out_g - batch.over_drawn_g)) < EXACT_G
        assert batch.over_drawn_g <= OVER_DRAW_SLACK_G + EXACT_G

    @invariant()
    def it_is_where_the_other_pot_has_it(self) -> None:
        if not self.cooked or self.apart:
            return
        kept, batch = carried_out(self.story, self.refuse), self.batch
        assert abs(batch.loose_g - kept.loose.mass_g) < EXACT_G
        assert abs(batch.pot.evaporated_g - kept.evaporated_g) < EXACT_G
        assert abs(batch.reduced_g - kept.reduced.mass_g) < EXACT_G
        assert {box.number for box in batch.boxes} == set(kept.boxes)
        assert all(abs(box.grams - kept.boxes[box.number].mass_g) < EXACT_G for box in batch.boxes)

    @invariant()
    def portions_are_what_the_other_pot_served(self) -> None:
        if not self.cooked or self.apart:
            return
        kept = carried_out(self.story, self.refuse)
        assert set(kept.portions) == {number for _, number in self.batch.pot.portions}
        for number, plate in kept.portions.items():
            found = self.batch.portion((1, number))
            assert found is not None
            served_g, share = found
            assert isclose(served_g, plate.mass_g, abs_tol=EXACT_G)
            assert isclose(share.basis_g, plate.raw_g, rel_tol=1e-6, abs_tol=EXACT_G)
            assert isclose(share.nutrients.fat_g, plate.fat_g, rel_tol=1e-6, abs_tol=EXACT_G)
            assert isclose(share.nutrients.kcal, plate.kcal, rel_tol=1e-6, abs_tol=10 * EXACT_G)

    @invariant()
    def nobody_ate_more_energy_than_there_was(self) -> None:
        if not self.cooked:
            return
        there = sum(i.nutrients.kcal for i in self.batch.ingredients if i.nutrients is not None)
        eaten = sum(share.nutrients.kcal for _, share in self._figures().values())
        # The few grams that may be taken over hold what the pot held.
        most = max((share.nutrients.kcal / grams for grams, share in self._figures().values()), default=0.0)
        assert eaten <= there * (1 + 1e-9) + most * self.batch.over_drawn_g + 1e-6

    @invariant()
    def boxes_and_grams_agree(self) -> None:
        if not self.cooked:
            return
        boxed_g = sum(box.grams for box in self.batch.boxes)
        assert isclose(self.batch.loose_g + boxed_g, self.batch.left_g, abs_tol=1e-6)
        assert all(box.grams > 0 for box in self.batch.boxes)


TestABatchInUse = ABatchInUse.TestCase
TestABatchInUse.settings = settings(
    max_examples=200, stateful_step_count=40, report_multiple_bugs=False, deadline=None, derandomize=True
)
