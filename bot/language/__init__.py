"""From a text to what was meant: no database, no clock of its own, nothing recorded."""

from bot.language.surroundings import KnownBatch, LastWeighIn, Surroundings, Waiting
from bot.language.understand import understand

__all__ = ["KnownBatch", "LastWeighIn", "Surroundings", "Waiting", "understand"]
