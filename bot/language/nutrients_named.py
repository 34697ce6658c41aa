"""Which nutrient a message names, for questions about it."""

from __future__ import annotations

from bot.language.figures import KCAL, nutrient_at
from bot.language.message import Message, once

ENERGY = frozenset({"energy", "energy_kj"})
"""Concepts that name energy."""


@once
def named_nutrient(message: Message) -> str | None:
    """The one nutrient that is named, by its field (energy as `kcal`); None if none or several are."""
    line, named = message.line, set[str]()
    for chunk in message.chunks:
        for at in range(chunk.start, chunk.end):
            found = nutrient_at(line, at, len(line.tokens))
            if found is not None:
                named.add(found[0])
    if not message.wording.said.isdisjoint(ENERGY):
        named.add(KCAL)
    return named.pop() if len(named) == 1 else None
