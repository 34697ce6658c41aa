"""What templates mean: from a reading with its slots filled to a meaning."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cache

from bot.language import meanings
from bot.language.grammar import Grammar, Reading, compiled
from bot.language.intents import records
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.slots import clause_of

Builder = Callable[[Reading, Message], Meaning | Sequence[Meaning] | None]
"""What a reading means in a message; None where its slots can't mean it after all, and the next reading is tried."""

BUILDERS: Mapping[str, Builder] = {
    "DeleteSeveral": records.delete_several,
    "Change": records.change,
    "TwoChanges": records.two_changes,
    "TotalOf": records.total_of,
    "Eaten": records.eaten,
    "AmountFor": records.amount_for,
    "Per100": records.per_100,
    "Keeping": records.keeping,
    "WhatIf": records.figures_of,
    "Repeat": records.repeat,
    "MeansBy": records.means_by,
    "Combination": records.combination,
    "VesselHolds": records.vessel_holds,
    "ForgetWord": records.forget_word,
    "SaveMeasure": records.save_measure,
}
"""Builders of the intents whose slots are not the fields of their meaning as they stand."""

_KINDS: dict[str, Callable[..., Meaning]] = {kind.__name__: kind for kind in meanings.Meaning.__args__}


@cache
def grammar() -> Grammar:
    """The templates of the pack, compiled once."""
    words = pack()
    return compiled(words.intents, words)


def templated(message: Message) -> list[Meaning] | None:
    """What a clause means by the first template that accounts for all of it; None where no template does."""
    if not message.chunks or not message.contiguous:
        return None
    clause = clause_of(message.line, message.chunks[0].start, message.chunks[-1].end, pack())
    for reading in grammar().readings(clause):
        build = BUILDERS.get(reading.means)
        found = build(reading, message) if build is not None else _KINDS[reading.means](**reading.values)
        if found is not None:
            return [found] if isinstance(found, meanings.Meaning) else list(found)
    return None
