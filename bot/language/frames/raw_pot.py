"""Frames for a pot that has no cooked weight yet, by its state alone: nobody eats from it, whatever the words.

A food with a weight beside its name goes in; a weight like that of all that went in is what it weighs cooked.
"""

from __future__ import annotations

from dataclasses import replace

from bot.language.batch_meanings import AddIngredients, CookBatch
from bot.language.frames.spans import Span, outside, spans
from bot.language.intents.ingredients import in_grams
from bot.language.intents.readings import has_ingredient
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.pack import pack, plain
from bot.language.scene import Scene, ref_of
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount, Item
from domain.foods import State

MOST_CHUNKS = 60
LEAST_OF_RAW, MOST_OF_RAW = 0.45, 1.6
"""Shares of what went in between which a weight is rather all of the batch than a portion or an ingredient."""
MORE_THAN_A_PORTION_G = 900.0
"""From here on a weight is no portion, even of a small batch."""


def put_in(scene: Scene) -> list[Meaning] | None:
    """'curry receives onion, 210 g', 'white sauce for the lasagne: 35 g flour, 35 g butter'."""
    pot = _only_raw(scene)
    message = scene.message
    if pot is None or not scene.amounts or len(message.chunks) > MOST_CHUNKS or _is_eaten(scene):
        return None
    if scene.cue("told_wrong", "not_put_in", "contrasts", "done", "weighing_now"):
        return None
    named = [Span(start, end) for _, start, end in scene.named]
    rest = outside(message, (*named, *spans(message, "into_pot", "for_pot", "in_the_pot", "from_start", "too")))
    rest = rest.without([*rest.of("moment"), *(c for c in rest.chunks if _is_small(c.text))])
    if rest.of("batch", "hash", "energy", "macro", "price", "tare"):
        return None
    told = [replace(i, batch=None) for i in items(rest)]
    if not told or any(not _is_ingredient(i) for i in told):
        return None
    ref = ref_of([pot], scene.named[0][0].text)
    if any(i.name is not None and has_ingredient(message, ref, i.name) for i in told):
        return None  # it is in already: a correction, or asked about
    return [AddIngredients(batch=ref, items=tuple(in_grams(told)), from_start=scene.cue("from_start", "forgot"))]


def weighs_all(scene: Scene) -> list[Meaning] | None:
    """'just weighed the lasagne, dish taken off it is 2376 g', 'weight of soup is 1480 g, pot is subtracted'."""
    pot = _only_raw(scene)
    if pot is None or pot.raw_g is None or scene.foods or len(scene.masses) != 1 or _is_eaten(scene):
        return None
    weight = scene.masses[0]
    raw = any(c.state is State.RAW for c in scene.message.of("state"))
    if not scene.only(weight) or raw or scene.message.of("tare") or scene.cue("contrasts", "told_wrong"):
        return None
    grams = _grams(weight)
    all_of_it = LEAST_OF_RAW * pot.raw_g <= grams <= MOST_OF_RAW * pot.raw_g
    said = scene.cue("the_vessel", "weighing_now", "done")
    if not all_of_it or (grams < MORE_THAN_A_PORTION_G and not said):
        return None
    return [CookBatch(batch=ref_of([pot], scene.named[0][0].text), amount=weight)]


def _only_raw(scene: Scene) -> KnownBatch | None:
    """The one batch that is named, if it has no cooked weight and what is said has happened."""
    batches = scene.batches
    if len(batches) != 1 or batches[0].cooked or scene.asks or scene.cue("foreseen", "habit"):
        return None
    if scene.cue("pot_begins", "once_again", "call_it"):
        return None  # another batch of that name
    negated = any(c.kind == "word" and c.text.lower() in scene.message.words.negations for c in scene.message.chunks)
    return None if negated else batches[0]


def _is_eaten(scene: Scene) -> bool:
    """Whether it tells of a plate, a meal or somebody's share."""
    return bool(scene.message.when.meal) or scene.cue("i_ate", "portioned", "gave_away", "a_rest", "went_to_me")


def _is_small(word: str) -> bool:
    return plain(word.lower()) in pack()["puts_in"]


def _is_ingredient(item: Item) -> bool:
    named = item.name is not None and bool(item.name.foods or item.name.kinds or item.name.text)
    return named and item.amount is not None and not item.several and not item.shared and item.amount.doubt is None


def _grams(amount: Amount) -> float:
    return amount.grams if amount.grams is not None else amount.value
