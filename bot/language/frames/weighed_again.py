"""A known vessel with a cooked pot in it on the scale once more: what is left in it, without the vessel."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.batch_meanings import CookBatch
from bot.language.fact_meanings import SaveTare
from bot.language.frames.serving import FITS
from bot.language.frames.stretch import grams_of
from bot.language.intents.readings import vessel_taken_off
from bot.language.meanings import Bare, Meaning, Unclear
from bot.language.message import Message
from bot.language.scene import Scene, ref_of
from bot.language.surroundings import KnownBatch
from bot.language.told import Item, TareRef

MOST_CHUNKS = 16


def weighed_again(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """The weight less its vessel, where a reading missed the vessel or took all that is there for a portion."""
    only = meant[0] if len(meant) == 1 else None
    if not message.around.tares or len(message.chunks) > MOST_CHUNKS or message.asks or not _is_of_no_food(only):
        return None
    vessel, scene = _vessel(message), Scene(message)
    if vessel is None or len(scene.masses) != 1 or vessel_taken_off(message) or scene.foods:
        return None
    if scene.cue("i_ate", "ate_myself", "empty", "nothing_in_it", "gave_away", "condition", "foreseen"):
        return None
    if isinstance(only, Item) and only.batch is not None and not scene.cue("weighing_now", "weighs_empty"):
        return None
    pot, weight = _pot(scene), scene.masses[0]
    net = grams_of(weight) - (vessel.grams or 0.0)
    if pot is None or net <= 0:
        return None
    if isinstance(only, SaveTare) and not (pot.spoken and net <= FITS * (pot.left_g or 0.0)):
        return None
    return [CookBatch(batch=ref_of([pot]), amount=weight, tare=vessel, now=pot.cooked)]


def _is_of_no_food(only: Meaning | None) -> bool:
    """Whether a reading may have missed the vessel: a weight of the pot, of nothing, or of what is in the vessel."""
    if isinstance(only, CookBatch):
        return only.tare is None and only.amount is not None
    if isinstance(only, Item):
        return only.name is None and (only.batch is None or only.tare is not None)
    return isinstance(only, Bare | Unclear | SaveTare)


def _vessel(message: Message) -> TareRef | None:
    """The one known vessel that is named, by its name of several words."""
    line, first, end = message.line, message.chunks[0].start, message.chunks[-1].end
    said = [word.removesuffix("'s") for word in line.lemmas]
    found = [
        TareRef(name=name, grams=grams)
        for lemmas, name, grams in line.tare_names
        if len(lemmas) > 1 and any(tuple(said[n : n + len(lemmas)]) == lemmas for n in range(first, end))
    ]
    return found[0] if len(found) == 1 else None


def _pot(scene: Scene) -> KnownBatch | None:
    """The pot that is named by more than its vessel, or the one spoken of last."""
    pots = scene.batches or [b for b in scene.message.around.batches if b.spoken or b.focus]
    return pots[0] if len(pots) == 1 else None
