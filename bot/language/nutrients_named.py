"""Which nutrient a message names, for questions about it."""

from __future__ import annotations

from bot.language.figures import KCAL, nutrient_at
from bot.language.message import Message, once
from bot.language.noise import is_verb

ENERGY = frozenset({"energy", "energy_kj"})
"""Concepts that name energy."""


@once
def named_nutrients(message: Message) -> tuple[str, ...]:
    """The nutrients that are named, by their fields (energy as `kcal`), each once, energy first."""
    line = message.line
    at = [n for chunk in message.chunks for n in range(chunk.start, chunk.end)]
    found = [
        named[0] for n in at if (named := nutrient_at(line, n, len(line.tokens))) is not None and not is_verb(line, n)
    ]
    energy = [] if message.wording.said.isdisjoint(ENERGY) else [KCAL]
    return tuple(dict.fromkeys([*energy, *found]))


def named_nutrient(message: Message) -> str | None:
    """The one nutrient that is named; None if none or several are."""
    named = named_nutrients(message)
    return named[0] if len(named) == 1 else None
