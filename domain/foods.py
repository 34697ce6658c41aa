"""Foods: rows by state and method, with refuse, weights of pieces and weights of kitchen measures."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType

from domain.nutrients import Nutrients, Traces
from domain.quantities import VOLUME_UNITS, Region, millilitres

STATE_MATTERS_ABOVE = 0.20
"""If energy per 100 g raw and cooked differs by more than this share of the larger, the state is asked for."""

EATEN_COOKED = frozenset(("meat", "poultry", "fish", "sausages"))
"""Groups whose pieces are counted on the plate: two rashers of bacon are cooked ones."""

SIZES = ("small", "medium", "large", "extra large")

_DENSITY_MEASURES = ("cup", "floz", "tbsp", "tsp")
_NOTHING: Mapping[str, float] = MappingProxyType({})


class State(StrEnum):
    """The state that a weight or nutrient figure refers to. Dry rice, pasta and pulses count as raw."""

    RAW = "raw"
    COOKED = "cooked"
    AS_SOLD = "as_sold"


@dataclass(frozen=True, slots=True)
class FoodRow:
    """One food in one state and method.

    `per_100g` is for 100 g of the edible part, `refuse` the share (0 to 1) of the whole that is thrown away.
    `pieces` holds the edible grams of one piece by size or noun; the key "" is the piece without a size, and
    `large@uk` is that piece in one region. `measures` holds the grams of one US customary cup, tbsp, tsp or floz.
    `source` names the published row: its table and what that calls the food.
    """

    food: str
    state: State
    method: str
    ndb: str
    per_100g: Nutrients
    refuse: float = 0.0
    refuse_part: str = ""
    pieces: Mapping[str, float] = field(default_factory=dict)
    measures: Mapping[str, float] = field(default_factory=dict)
    source: str = ""
    traces: Traces = field(default_factory=Traces)


@dataclass(frozen=True, slots=True)
class Food:
    """A food with all its rows; the first row is the usual one.

    A dish is one that each kitchen makes its own way: its figures are wider of the mark than those of a single food.
    """

    name: str
    group: str
    aliases: tuple[str, ...]
    drunk: bool
    rows: tuple[FoodRow, ...]
    note: str = ""
    dish: bool = False

    def row(self, state: State | None = None, method: str = "") -> FoodRow | None:
        """The row for a state and method; an unknown method falls back to the state's first row.

        Without a state: the row for the method, or the default row if there is no method either. None if there is no
        such row.
        """
        rows = [row for row in self.rows if state is None or row.state is state]
        for row in rows:
            if method and row.method == method:
                return row
        if not rows or (state is None and method):
            return None
        return rows[0]

    def needs_state(self) -> bool:
        """Whether energy per 100 g differs so much between raw and cooked that the state must be asked for."""
        raw, cooked = self.row(State.RAW), self.row(State.COOKED)
        if raw is None or cooked is None:
            return False
        energies = raw.per_100g.kcal, cooked.per_100g.kcal
        return max(energies) - min(energies) > STATE_MATTERS_ABOVE * max(energies)

    @property
    def countable(self) -> bool:
        """Whether pieces of it can be counted without a noun such as "slice"."""
        return any(key == "" or key in SIZES for row in self.rows for key in row.pieces)

    def counted_row(self) -> FoodRow:
        """The row that pieces mean when no state is said: the usual one, or the cooked one of what is eaten cooked."""
        cooked = self.row(State.COOKED) if self.group in EATEN_COOKED else None
        return cooked or self.rows[0]

    def piece(self, row: FoodRow, noun_or_size: str = "", region: Region | None = None) -> float | None:
        """Edible grams of one piece, or None when the table holds no weight for it.

        The region's own piece goes first. A piece without a size is the plain piece, else the medium one, else the only
        size there is; a slice without a size likewise. A row without that piece takes it from the food's other rows.
        """
        rows = (row, *(other for other in self.rows if other is not row))
        if region is not None:
            here = _first(candidate.pieces.get(f"{noun_or_size}@{region}") for candidate in rows)
            if here is not None:
                return here
        if noun_or_size in SIZES:
            return _first(candidate.pieces.get(noun_or_size) for candidate in rows)
        sized = [f"{size} {noun_or_size}".strip() for size in SIZES]
        plain = (noun_or_size, f"medium {noun_or_size}".strip())
        found = _first(candidate.pieces.get(key) for candidate in rows for key in plain)
        return found if found is not None else _first(_only(candidate.pieces, sized) for candidate in rows)

    def grams_per_ml(self, row: FoodRow) -> float | None:
        """Density in g/mL, from the row's largest measure and that measure's US volume; None without a measure."""
        measures = self._measures(row)
        for unit in _DENSITY_MEASURES:
            if unit in measures:
                return measures[unit] / millilitres(1, unit, Region.US)
        return None

    def measure_g(self, row: FoodRow, unit: str, region: Region) -> float | None:
        """Grams of one volume unit of the region; None if unknown.

        A published weight for the unit itself takes precedence over one derived from another measure, because published
        weights of one food can disagree by more than 10 %.
        """
        if unit not in VOLUME_UNITS:
            return None
        volume = millilitres(1, unit, region)
        own = self._measures(row).get(unit)
        if own is not None:
            return own * volume / millilitres(1, unit, Region.US)
        density = self.grams_per_ml(row)
        return None if density is None else density * volume

    def _measures(self, row: FoodRow) -> Mapping[str, float]:
        """The row's measures, or those of another row in the same state. Densities differ between states."""
        if row.measures:
            return row.measures
        return next((other.measures for other in self.rows if other.state is row.state and other.measures), _NOTHING)


@dataclass(frozen=True, slots=True)
class Kinds:
    """A generic word such as "milk": the foods it may mean, and the default among them, if there is one."""

    word: str
    default: str | None
    kinds: tuple[str, ...]
    regional: Mapping[str, str] = field(default_factory=dict)
    """The default of each region that has its own: a biscuit is a soft roll in the US."""

    def default_in(self, region: str) -> str | None:
        """What the word means there without another word."""
        return self.regional.get(region, self.default)


def _first(values: Iterable[float | None]) -> float | None:
    return next((value for value in values if value is not None), None)


def _only(pieces: Mapping[str, float], keys: list[str]) -> float | None:
    held = [pieces[key] for key in keys if key in pieces]
    return held[0] if len(held) == 1 else None
