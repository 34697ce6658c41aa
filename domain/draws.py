"""What leaves a batch, by weight, share, piece or box, and how it is boxed: checked before it becomes a step.

Boxes and grams never contradict each other: what is taken by weight comes from what is loose, and a box is filled from
what is loose.
"""

from collections.abc import Sequence
from enum import StrEnum

from domain.batch_steps import Draw, Place
from domain.batches import OVER_DRAW_SLACK_G, Batch
from domain.errors import DomainError
from domain.pots import Box

SAME_WEIGHT = 0.02
"""A weight that was said of a box means one within 2 % of it."""


class Of(StrEnum):
    """What a share is a share of."""

    WHOLE = "whole"
    LEFT = "left"
    LOOSE = "loose"
    """What is left and in no box."""


class NotLoose(DomainError):
    """More was wanted than is loose, though the boxes hold enough; `loose_g` is what is loose."""

    def __init__(self, message: str, loose_g: float) -> None:
        super().__init__(message)
        self.loose_g = loose_g


class NoSuchBox(DomainError):
    """There is no such box, or not so many."""


class WhichBox(DomainError):
    """Several boxes could be meant that differ in weight; `boxes` has one of each."""

    def __init__(self, message: str, boxes: tuple[Box, ...]) -> None:
        super().__init__(message)
        self.boxes = boxes


class WholeOrLeft(DomainError):
    """Part of the batch is gone already, so that a share of it may be of the whole or of what is left (g)."""

    def __init__(self, message: str, whole_g: float, left_g: float) -> None:
        super().__init__(message)
        self.whole_g = whole_g
        self.left_g = left_g


class NoPieces(DomainError):
    """The batch was not counted out in pieces."""


def share_g(batch: Batch, fraction: float, of: Of | None) -> float:
    """Grams of a share of the batch.

    Raises WholeOrLeft when it is not said of what and something was taken already; NotCooked without a cooked weight.
    """
    left_g = batch.left_g
    whole_g = batch.cooked_g or 0.0
    if of is Of.LOOSE:
        return fraction * batch.loose_g
    if of is Of.LEFT or (of is None and fraction >= 1):
        return fraction * left_g
    if of is None and batch.taken_g + batch.reduced_g > 0:
        raise WholeOrLeft(
            f"{fraction:.3g} of all of {batch.name}, or of what is left?", fraction * whole_g, fraction * left_g
        )
    return fraction * whole_g


def by_weight(batch: Batch, grams: float) -> Draw:
    """Grams taken from what is loose.

    Raises NotLoose when the boxes hold what is missing. More than there is in all is for the caller to ask about.
    """
    if batch.boxes and grams > batch.loose_g + OVER_DRAW_SLACK_G and grams <= batch.left_g + OVER_DRAW_SLACK_G:
        raise NotLoose(f"Only {batch.loose_g:.0f} g of {batch.name} are not in boxes.", batch.loose_g)
    return Draw(grams)


def by_pieces(batch: Batch, pieces: float | None) -> Draw:
    """So many pieces, or all that are left. Raises NoPieces; NotCooked without a cooked weight."""
    left, piece_g = batch.pieces_left, batch.piece_g
    if left is None or piece_g is None:
        batch.share(0)
        raise NoPieces(f"{batch.name} was not counted out in pieces.")
    pieces = left if pieces is None else pieces
    return Draw(pieces * piece_g, pieces=pieces, whole=True)


def by_boxes(batch: Batch, numbers: Sequence[int]) -> Draw:
    """Whole boxes. Raises NoSuchBox."""
    there = {box.number: box for box in batch.boxes}
    missing = [number for number in numbers if number not in there]
    if missing or not numbers or len(set(numbers)) != len(numbers):
        raise NoSuchBox(f"{batch.name} has no such box.")
    return Draw(sum(there[number].grams for number in numbers), boxes=tuple(numbers), whole=True)


def from_box(batch: Batch, number: int, grams: float) -> Draw:
    """Part of a box, which is open then: its rest is loose. Raises NoSuchBox; DomainError for more than it holds."""
    whole = by_boxes(batch, (number,))
    if not 0 < grams <= whole.grams:
        raise DomainError(f"That box holds {whole.grams:.0f} g.")
    return Draw(grams, boxes=whole.boxes)


def pick_boxes(
    batch: Batch, count: int | None, place: Place | None = None, about_g: float | None = None
) -> tuple[Box, ...]:
    """The boxes that are meant by so many (None: all) from a place and of a weight; from the fridge first.

    Raises NoSuchBox when there are not so many; WhichBox when those that could be meant differ in weight.
    """
    fits = [
        box
        for box in batch.boxes
        if (place is None or box.place is place)
        and (about_g is None or abs(box.grams - about_g) <= SAME_WEIGHT * about_g)
    ]
    count = len(fits) if count is None else count
    if not 0 < count <= len(fits):
        raise NoSuchBox(_how_many(batch, len(fits), place))
    if count < len(fits) and len({round(box.grams, 1) for box in fits}) > 1:
        one_of_each = {round(box.grams, 1): box for box in reversed(fits)}
        raise WhichBox(f"Which box of {batch.name}?", tuple(sorted(one_of_each.values(), key=lambda box: box.number)))
    return tuple(sorted(fits, key=lambda box: (box.place is Place.FREEZER, box.number))[:count])


def fill_boxes(batch: Batch, grams: Sequence[float]) -> tuple[float, ...]:
    """The weights (g) of the boxes as they are filled from what is loose.

    A few grams more than there are come off the last box. Raises NotLoose when it is more than that; DomainError
    without boxes, or for one that holds nothing; NotCooked without a cooked weight.
    """
    if not grams or min(grams) <= 0:
        raise DomainError("A box has to hold more than 0 g.")
    over_g = sum(grams) - batch.loose_g
    if over_g <= 0:
        return tuple(grams)
    if over_g > OVER_DRAW_SLACK_G or over_g >= grams[-1]:
        left = f"the {batch.loose_g:.0f} g of {batch.name} that are left"
        raise NotLoose(f"{sum(grams):.0f} g is more than {left}.", batch.loose_g)
    return (*grams[:-1], grams[-1] - over_g)


def equal_boxes(batch: Batch, count: int) -> float:
    """Grams in each of `count` equal boxes of what is loose.

    Raises DomainError for less than one box, when nothing is loose, or for boxes of less than a gram; NotCooked
    without a cooked weight.
    """
    if count < 1:
        raise DomainError("A batch is split into at least one box.")
    if batch.loose_g <= 0:
        raise DomainError(f"There is nothing left of {batch.name} to put into boxes.")
    if batch.loose_g < count:
        raise DomainError(f"{batch.loose_g:.0f} g don't fill {count} boxes.")
    return batch.loose_g / count


def _how_many(batch: Batch, count: int, place: Place | None) -> str:
    where = f" in the {place.value}" if place is not None else ""
    there = "no box is" if count == 0 else "1 box is" if count == 1 else f"{count} boxes are"
    return f"{batch.name[:1].upper()}{batch.name[1:]}: {there} left{where}."
