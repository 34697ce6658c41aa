"""What is in a batch's pot, worked out from its steps.

Between two changes the pot holds one filling: parts of its ingredients in some weight. A portion is its share of the
filling that it was taken from, so that what is added later leaves it alone. What was told wrong is put right where it
was told, so that a correction reaches every portion since.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Final, assert_never

from domain.batch_corrections import Weighing, read_back
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

OVER_DRAW_SLACK_G: Final = 5.0
"""A scale and a spoon between them lose a few grams: so much over is no mistake, and so little left is nothing."""

_NOTHING_G: Final = 1e-6


@dataclass(frozen=True, slots=True)
class Box:
    """A box that is still there: its number, what it holds, where it is and since when, and the filling in it."""

    number: int
    grams: float
    place: Place
    since: datetime | None
    filling: int


@dataclass(slots=True)
class Filling:
    """What the pot held from one change to the next, in the pot and in the boxes filled from it.

    `parts` says how much of each ingredient's line was in it (0 to 1), `fat_off_g` the fat gone from these, `mass_g`
    what it weighed (None: not known yet), `drawn_g` what was taken out of it and `moved_g` what is in later fillings.
    """

    parts: dict[int, float] = field(default_factory=dict)
    fat_off_g: float = 0.0
    mass_g: float | None = None
    drawn_g: float = 0.0
    moved_g: float = 0.0

    @property
    def left_g(self) -> float:
        """Grams that nobody took and that are in no later filling; 0 while the weight is not known."""
        return 0.0 if self.mass_g is None else max(0.0, self.mass_g - self.moved_g - self.drawn_g)

    @property
    def over_drawn_g(self) -> float:
        """By how many grams more was taken than there was."""
        return 0.0 if self.mass_g is None else max(0.0, self.drawn_g + self.moved_g - self.mass_g)


@dataclass(frozen=True, slots=True)
class Portion:
    """What was taken for somebody's day: grams, and (filling, grams) of each filling that they came from."""

    grams: float
    sources: tuple[tuple[int, float], ...]


@dataclass(frozen=True, slots=True)
class Pot:
    """All that follows from a batch's steps.

    `evaporated_g` is negative where water was taken up. `missing_g` is by how much more was poured, taken out or
    boxed than the pot held: what was told can't be.
    """

    ingredients: Mapping[int, Ingredient]
    fillings: tuple[Filling, ...]
    portions: Mapping[tuple[int, int], Portion]
    cooked_at: datetime | None
    fat_off_g: float
    poured_g: float
    evaporated_g: float
    taken_g: float
    reduced_g: float
    missing_g: float
    boxes: tuple[Box, ...]
    boxes_packed: int
    loose_g: float
    loose_place: Place
    loose_since: datetime | None
    piece: str
    piece_g: float | None
    closed: bool

    @property
    def now(self) -> Filling:
        """What the pot holds now."""
        return self.fillings[-1]


def pot_after(steps: Sequence[Step]) -> Pot:
    """The pot after these steps."""
    told = read_back(steps)
    ledger = _Ledger(told.ingredients)
    for at, step in enumerate(steps):
        if at not in told.taken_back:
            ledger.take_in(step, told.weighings.get(at))
    return ledger.pot()


class _Ledger:
    """The pot while its steps are gone through."""

    def __init__(self, ingredients: Mapping[int, Ingredient]) -> None:
        self._ingredients = ingredients
        self._fillings = [Filling()]
        self._portions: dict[tuple[int, int], Portion] = {}
        self._cooked_at: datetime | None = None
        self._fat_off_g = self._poured_g = self._evaporated_g = 0.0
        self._taken_g = self._reduced_g = self._missing_g = 0.0
        self._boxes: dict[int, Box] = {}
        self._packed = 0
        self._place = Place.FRIDGE
        self._since: datetime | None = None
        self._piece = ""
        self._piece_g: float | None = None
        self._uncut = 0.0
        self._closed = False

    def take_in(self, step: Step, weighing: Weighing | None) -> None:
        """Goes on by one step; `weighing` is what a weighing came to be."""
        match step:
            case Added(line):
                self._add(line)
            case Weighed(at=at) if weighing is not None:
                self._weigh(weighing, at)
            case Poured(grams, fat):
                self._pour(grams, fat)
            case RefuseOut(grams):
                self._refill(-grams)
                self._evaporated_g += grams if self._now.mass_g is not None else 0.0
            case Taken(portion, draw):
                self._portions[portion] = taken = self._draw(draw)
                self._taken_g += taken.grams
            case Reduced(draw):
                self._reduced_g += self._draw(draw).grams
            case CountedOut(pieces, word):
                self._count(pieces, word)
            case Boxed():
                self._box(step)
            case Moved():
                self._move(step)
            case Closed() | Reopened():
                self._closed = isinstance(step, Closed)
            case Corrected() | Removed() | Renamed() | Weighed():
                pass
            case _:
                assert_never(step)

    def pot(self) -> Pot:
        """What has come of it."""
        return Pot(
            ingredients=self._ingredients,
            fillings=tuple(self._fillings),
            portions=self._portions,
            cooked_at=self._cooked_at,
            fat_off_g=self._fat_off_g,
            poured_g=self._poured_g,
            evaporated_g=self._evaporated_g,
            taken_g=self._taken_g,
            reduced_g=self._reduced_g,
            missing_g=self._missing_g,
            boxes=tuple(self._boxes[number] for number in sorted(self._boxes)),
            boxes_packed=self._packed,
            loose_g=max(0.0, self._loose_g()),
            loose_place=self._place,
            loose_since=self._since,
            piece=self._piece,
            piece_g=self._piece_g,
            closed=self._closed,
        )

    @property
    def _now(self) -> Filling:
        return self._fillings[-1]

    def _boxed(self) -> list[Box]:
        """The boxes that hold what the pot holds now, those first from which something is missed first."""
        here = (box for box in self._boxes.values() if box.filling == len(self._fillings) - 1)
        return sorted(here, key=_fridge_first)

    def _loose_g(self) -> float:
        """Grams in no box; below zero when the boxes hold more than is left, or more was taken than there was."""
        now = self._now
        if now.mass_g is None:
            return 0.0
        return now.mass_g - now.moved_g - now.drawn_g - sum(box.grams for box in self._boxed())

    def _refill(self, more_g: float = 0.0) -> None:
        """Begins another filling where something came out of this one: what is loose of it, and `more_g`."""
        now, loose_g = self._now, max(0.0, self._loose_g())
        if now.mass_g is None:
            return
        if now.drawn_g or self._boxed():
            stays = loose_g / now.mass_g if now.mass_g > 0 else 0.0
            now.moved_g += loose_g
            self._fillings.append(
                Filling({line: part * stays for line, part in now.parts.items()}, self._fat_gone(now) * stays, loose_g)
            )
        self._set_mass(loose_g + more_g, loose_g)

    def _set_mass(self, mass_g: float, before_g: float) -> None:
        self._missing_g += max(0.0, -mass_g)
        mass_g = max(0.0, mass_g)
        if self._piece_g and before_g:
            self._piece_g *= mass_g / before_g
        self._now.mass_g = mass_g

    def _fat_gone(self, filling: Filling) -> float:
        """The fat that is off a filling: no more than there was in what is known of it."""
        fat_g = sum(
            part * nutrients.fat_g
            for line, part in filling.parts.items()
            if (nutrients := self._ingredients[line].nutrients) is not None
        )
        return min(filling.fat_off_g, fat_g)

    def _add(self, line: int) -> None:
        ingredient = self._ingredients.get(line)
        if ingredient is not None:
            self._refill(ingredient.raw_g)
            # What was poured off before was none of its fat.
            self._now.fat_off_g = self._fat_gone(self._now)
            self._now.parts[line] = 1.0

    def _weigh(self, weighing: Weighing, at: datetime | None) -> None:
        mass_g = weighing.grams - weighing.refuse_g
        if self._now.mass_g is None:
            before_g = sum(self._ingredients[line].raw_g for line in self._now.parts) - self._poured_g
            self._set_mass(mass_g, 0.0)
            self._cooked_at = self._since = at
            if self._uncut:
                self._piece_g = max(0.0, self._loose_g()) / self._uncut
            self._settle()
        else:
            self._refill()
            before_g = max(0.0, self._loose_g())
            self._set_mass(mass_g, before_g)
        self._evaporated_g += before_g - weighing.poured_g - mass_g
        self._poured_g += weighing.poured_g
        self._now.fat_off_g += weighing.fat_g
        self._fat_off_g += weighing.fat_g

    def _pour(self, grams: float, fat: bool) -> None:
        self._refill(-grams)
        self._poured_g += grams
        if fat:
            self._now.fat_off_g += grams
            self._fat_off_g += grams

    def _draw(self, draw: Draw) -> Portion:
        boxes = [self._boxes[number] for number in draw.boxes if number in self._boxes]
        if not draw.boxes and draw.box_count:
            boxes = [self._boxes[number] for number in sorted(self._boxes)[: draw.box_count]]
        elif boxes and (draw.whole or len(boxes) == 1):
            return self._draw_boxes(boxes, None if draw.whole and len(boxes) == len(draw.boxes) else draw.grams)
        for box in boxes:
            del self._boxes[box.number]
        grams = draw.grams
        if draw.whole and draw.pieces is not None and self._piece_g is not None:
            grams = draw.pieces * self._piece_g
        while grams - self._loose_g() > OVER_DRAW_SLACK_G and not self._boxed() and self._boxes:
            self._mix(min(self._boxes.values(), key=_fridge_first))
        return self._draw_from({len(self._fillings) - 1: grams})

    def _draw_boxes(self, boxes: Sequence[Box], grams: float | None) -> Portion:
        """Whole boxes, or `grams` of them: what is not taken is loose then, and what they didn't hold was loose."""
        held_g = sum(box.grams for box in boxes)
        taken = 1.0 if grams is None else min(1.0, grams / held_g)
        sources: dict[int, float] = {}
        for box in boxes:
            sources[box.filling] = sources.get(box.filling, 0.0) + box.grams * taken
            del self._boxes[box.number]
        if grams is not None and grams > held_g:
            now = len(self._fillings) - 1
            sources[now] = sources.get(now, 0.0) + grams - held_g
        portion = self._draw_from(sources)
        for box in boxes:
            if taken < 1 and box.filling < len(self._fillings) - 1:
                self._mix(replace(box, grams=box.grams * (1 - taken)))
        return portion

    def _draw_from(self, sources: Mapping[int, float]) -> Portion:
        for filling, grams in sources.items():
            self._fillings[filling].drawn_g += grams
        self._settle()
        return Portion(sum(sources.values()), tuple(sources.items()))

    def _mix(self, box: Box) -> None:
        """Puts a box of an earlier filling to what is loose."""
        self._boxes.pop(box.number, None)
        self._refill()
        old, now = self._fillings[box.filling], self._now
        if old.mass_g is None or now.mass_g is None or old.mass_g <= 0:
            return
        of_it = box.grams / old.mass_g
        for line, part in old.parts.items():
            now.parts[line] = now.parts.get(line, 0.0) + part * of_it
        now.fat_off_g += self._fat_gone(old) * of_it
        now.mass_g += box.grams
        old.moved_g += box.grams

    def _count(self, pieces: float, word: str) -> None:
        if pieces <= 0:
            return
        self._piece, self._uncut = word, pieces
        self._piece_g = max(0.0, self._loose_g()) / pieces or None

    def _box(self, step: Boxed) -> None:
        if step.anew:
            # What boxes hold of the filling in the pot is loose before anything is mixed into it.
            for box in self._boxed():
                del self._boxes[box.number]
            for box in list(self._boxes.values()):
                self._mix(box)
            self._packed = 0
        equal_g = max(0.0, self._loose_g()) / len(step.boxes) if step.boxes else 0.0
        place = step.place or self._place
        since = self._since if place is self._place else step.at
        here = len(self._fillings) - 1
        for number, said_g in step.boxes:
            grams = equal_g if said_g is None else said_g
            if grams > _NOTHING_G:
                self._boxes[number] = Box(number, grams, place, since, here)
        self._packed += len(step.boxes)
        over_g = -self._loose_g() - self._now.over_drawn_g
        self._missing_g += over_g if over_g > OVER_DRAW_SLACK_G else 0.0
        self._settle()

    def _move(self, step: Moved) -> None:
        if step.boxes is None:
            self._place, self._since = step.place, step.at
            return
        for number in step.boxes:
            if number in self._boxes:
                self._boxes[number] = replace(self._boxes[number], place=step.place, since=step.at)

    def _settle(self) -> None:
        """Opens boxes while they hold more than is left: what was taken beyond what was loose came out of them.

        A few grams are a spoonful out of one box, which stays.
        """
        while (missing_g := -self._loose_g()) > _NOTHING_G and (boxes := self._boxed()):
            if missing_g <= OVER_DRAW_SLACK_G and missing_g < boxes[0].grams:
                self._boxes[boxes[0].number] = replace(boxes[0], grams=boxes[0].grams - missing_g)
            else:
                del self._boxes[boxes[0].number]


def _fridge_first(box: Box) -> tuple[bool, int]:
    return box.place is Place.FREEZER, box.number
