"""Weigh-ins: their weights, the limits of plausible weights, and the evidence for their amounts."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from domain.batch_steps import Draw
from domain.batches import MAX_BATCH_G, MAX_WEIGH_IN_G
from domain.errors import DomainError
from domain.foods import State
from domain.nutrients import Nutrients


class Evidence(StrEnum):
    """How an amount was obtained, from best to worst."""

    WEIGHED = "weighed"
    BOXED = "boxed"
    REFUSE_TABLE = "refuse_table"
    LABEL_MEASURE = "label_measure"
    OWN_MEASURE = "own_measure"
    DENSITY = "density"
    COUNTED = "counted"
    ESTIMATED = "estimated"
    """Only the energy was told, as a guess or off a menu."""


# Boxes count as weighed: they are equal parts of a weighed batch.
_ON_THE_SCALE: Final = frozenset({Evidence.WEIGHED, Evidence.BOXED})


@dataclass(frozen=True, slots=True)
class OpenFigures:
    """What stands in place of nutrients while one question about a weigh-in waits.

    `about` is what is asked (a word of the conversation's own); the energy of every possible answer lies between
    `kcal_low` and `kcal_high`, which are None where no answer has figures yet.
    """

    about: str
    kcal_low: float | None = None
    kcal_high: float | None = None


@dataclass(frozen=True, slots=True)
class WeighIn:
    """One thing that was weighed and eaten.

    `as_weighed_g` is the net weight as told, `edible_g` what is left of it without refuse, `basis_g` what `nutrients`
    are computed on and `basis` the state that they are for. Where the energy was told alone, the grams are those in
    which the food usually has that energy, zero where that is not known. Nutrients of None: the weight alone was
    wanted, or the figures are still open. An open one is called what the person called it, and belongs to no batch
    yet. For a portion of a batch, `boxes` are the numbers of its boxes and `pieces` is how many of its pieces it was.
    """

    food: str
    state: State
    as_weighed_g: float
    edible_g: float
    basis_g: float
    basis: State
    evidence: Evidence
    nutrients: Nutrients | None
    batch: int | None = None
    boxes: tuple[int, ...] = ()
    pieces: float | None = None
    open: OpenFigures | None = None

    @property
    def draw(self) -> Draw:
        """How it left its batch: as whole boxes or pieces only where that is the evidence."""
        whole = bool(self.boxes) if self.evidence is Evidence.BOXED else self.evidence is Evidence.COUNTED
        return Draw(self.edible_g, self.boxes, self.pieces, whole)


LEAST_G: Final = 0.001
"""Least weight taken, in grams: the step of the finest pocket scales (common practice; from memory)."""


def check_weight(grams: float) -> None:
    """Raises DomainError unless `grams` is plausible for one weigh-in: from 1 mg to 5 kg."""
    _check(grams, MAX_WEIGH_IN_G, "one weigh-in")


def check_batch_weight(grams: float) -> None:
    """Raises DomainError unless `grams` is plausible for a batch or part of one: from 1 mg to 25 kg."""
    _check(grams, MAX_BATCH_G, "a batch")


def _check(grams: float, most_g: float, of_what: str) -> None:
    if not grams > 0:
        raise DomainError(f"The weight of {of_what} has to be more than zero.")
    if grams < LEAST_G:
        raise DomainError(f"That is less than {LEAST_G * 1000:.0f} mg, which no kitchen scale shows.")
    if grams > most_g:
        raise DomainError(f"{grams / 1000:.6g} kg is too much for {of_what}: {most_g / 1000:.0f} kg is the most.")


def weighed_share(items: Iterable[WeighIn]) -> float | None:
    """The share (0 to 1) of the energy whose amounts were weighed or boxed; None if the energy is zero.

    Weigh-ins without nutrients are ignored.
    """
    weighed = total = 0.0
    for item in items:
        if item.nutrients is None:
            continue
        total += item.nutrients.kcal
        if item.evidence in _ON_THE_SCALE:
            weighed += item.nutrients.kcal
    return weighed / total if total > 0 else None
