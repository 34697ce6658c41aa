"""The foods a person can name: the table's and those of their own labels."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from bot.kinds import Remembered
from bot.store import facts
from bot.store.belongings import Belongings, belongings
from bot.store.books import Books
from domain import reference
from domain.foods import Food, FoodRow, State
from domain.labels import Label
from domain.quantities import Region


@dataclass(frozen=True, slots=True)
class KnownFood:
    """A food, with its label when it comes from one."""

    food: Food
    label: Label | None = None


class Known:
    """What is known of a person's foods; each list is read at most once a message."""

    def __init__(self, books: Books) -> None:
        self._books = books

    @cached_property
    def own(self) -> Belongings:
        """The names of what the person and their kitchen have."""
        return belongings(self._books)

    @property
    def region(self) -> Region:
        """The person's region."""
        return self._books.person.region

    def piece(self, entry: KnownFood, row: FoodRow, piece: str = "") -> float | None:
        """Edible grams of one piece as it is usual in the person's region; None without a weight for it."""
        return entry.food.piece(row, piece, self.region)

    @cached_property
    def labels(self) -> dict[str, Label]:
        """The person's labels by food."""
        return facts.labels(self._books)

    @cached_property
    def measures(self) -> dict[tuple[str, str], float]:
        """Grams of the person's own measures by food and measure."""
        return facts.measures(self._books)

    @cached_property
    def habits(self) -> dict[str, State]:
        """The state in which each food is usually weighed."""
        return dict(self.own.habits)

    @property
    def memory(self) -> Mapping[tuple[str, str], str]:
        """The person's remembered answers, by what they are about and the word."""
        return self.own.memory

    def remembered(self, what: Remembered, word: str) -> str | None:
        """What the person answered for that word the last time, or None."""
        return self.memory.get((what, word.casefold()))

    @cached_property
    def tares(self) -> dict[str, float]:
        """Grams of the kitchen's vessels by name."""
        return dict(self.own.tares)

    def food(self, name: str) -> KnownFood | None:
        """The food of that name, from the person's labels or else the table; None when neither has it."""
        label = self.labels.get(name) if name in self.own.labels else None
        if label is not None:
            row = FoodRow(food=name, state=State.AS_SOLD, method="", ndb="", per_100g=label.per_100g())
            return KnownFood(Food(name=name, group="label", aliases=(), drunk=False, rows=(row,)), label)
        found = reference.load().foods.get(name)
        return None if found is None else KnownFood(found)
