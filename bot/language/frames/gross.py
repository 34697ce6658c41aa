"""A pot on the stove and two weights, by physics: the greater less the smaller is what is in it, whatever is said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.batch_meanings import CookBatch, PourOff
from bot.language.frames.cooking import MORE_THAN_A_MEAL_G, in_one_unit, poured_weights
from bot.language.frames.spans import is_one
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.frames.vessel_in_it import vessel_in_it
from bot.language.meanings import Chatter, LeftOut, Meaning, Unclear
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.scene import TELLING, Scene, ref_of
from bot.language.surroundings import KnownBatch, worked_on
from bot.language.told import Amount, Item, TareRef
from domain.quantities import Region

LEAST_OF_RAW, MOST_OF_RAW = 0.4, 1.4
"""Shares of what went in between which the contents of a pot weigh when it is cooked."""
MORE_THAN_RAW = 1.15
"""From this share on a weight is rather that of the pot with its contents."""
MOST_OF_A_PORTION_G = 900.0
LEAST_DRAINED = 0.3
"""The same where something was poured off."""
LEAST_VESSEL_G = 150.0
MOST_CHUNKS = 40
MOST_KILOS = 25.0
"""A decimal up to this may be kilograms."""
BESIDE = (Item, CookBatch, LeftOut, Chatter, Unclear)


def weighed_gross(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """The cooked weight with its vessel taken off, where a reading missed that one of two weights is the vessel's.

    None where the reading has its tare, or the weights may be a portion, an ingredient or another pot's.
    """
    if all(b.cooked for b in message.around.batches) or len(message.chunks) > MOST_CHUNKS:
        return None
    if not all(isinstance(m, BESIDE) for m in meant):
        return None
    cooked = next((m for m in meant if isinstance(m, CookBatch)), None)
    scene = Scene(message)
    whole = _more_than_a_portion(scene, meant)
    if whole is not None:
        return whole
    pot = _on_the_stove(scene) if cooked is None or cooked.amount is not None else None
    if pot is None or pot.raw_g is None or any(isinstance(m, Item) and _is_of_another(scene, m, pot) for m in meant):
        return None
    if cooked is not None and cooked.tare is not None and _only_says_when(cooked.tare):
        return [replace(cooked, tare=None)]
    weights = _weights(scene)
    off = poured_weights(scene)
    if len(off) == 1:
        return _after_pouring(scene, pot, meant, weights)
    if weights is None or (cooked is not None and cooked.tare is not None and cooked.tare.grams is None):
        return None
    if len(weights) == 2:
        return _less_the_vessel(scene, pot, weights)
    if len(weights) != 1 or (cooked is not None and cooked.tare is not None):
        return None
    if cooked is None:
        return _all_of_it(scene, pot, meant, weights[0])
    vessel = vessel_in_it(scene)
    if vessel is not None:
        return [replace(cooked, tare=vessel)]
    kilos = _in_kilos(scene, pot, weights[0])
    return None if kilos is None else [replace(cooked, amount=kilos)]


def _only_says_when(tare: TareRef) -> bool:
    """'all rotis together after tawa 572 g': words that say when it was weighed were taken for a vessel."""
    return tare.grams is None and plain(tare.name.split()[0]) in pack()["around_a_meal"]


def _after_pouring(
    scene: Scene, pot: KnownBatch, meant: Sequence[Meaning], weights: Sequence[Amount] | None
) -> list[Meaning] | None:
    """'tray out, drained 70 g fat off it, 1290': one weight left the pot, and the other is what it weighs."""
    amount = poured_weights(scene)[0].amount
    if amount is None or pot.raw_g is None or any(isinstance(m, CookBatch) and m.tare for m in meant):
        return None
    rest = [a for a in weights or () if grams_of(a) != grams_of(amount)]
    fits = [a for a in rest if LEAST_DRAINED * pot.raw_g <= grams_of(a) <= MOST_OF_RAW * pot.raw_g]
    if len(rest) != 1 or not fits or grams_of(amount) >= pot.raw_g - grams_of(fits[0]):
        return None
    ref = ref_of([pot])
    poured = PourOff(batch=ref, amount=as_mass(amount), fat=not scene.cue("watery"))
    return [poured, CookBatch(batch=ref, amount=fits[0])]


def _is_of_another(scene: Scene, item: Item, pot: KnownBatch) -> bool:
    """Whether a weigh-in is of a known food or of another batch; a word that no food has is of none."""
    if item.batch is not None:
        return pot.number not in (item.batch.number, *item.batch.candidates)
    poured = item.name is not None and item.name.text.lower() in pack()["pourable"] and scene.cue("pouring")
    return item.name is not None and bool(item.name.foods or item.name.kinds) and not poured


def _all_of_it(scene: Scene, pot: KnownBatch, meant: Sequence[Meaning], told: Amount) -> list[Meaning] | None:
    """'off the heat: 4100 gross, 1350 tare': a weight of no food, more than a meal and as much as the pot holds."""
    assert pot.raw_g is not None
    nameless = len(meant) == 1 and isinstance(meant[0], Item) and meant[0].batch is None and meant[0].tare is None
    kilos = _in_kilos(scene, pot, told) if told.value % 1 else None
    weight = kilos or told
    fits = LEAST_OF_RAW * pot.raw_g <= grams_of(weight) <= MORE_THAN_RAW * pot.raw_g
    if not nameless or not fits or grams_of(weight) < MORE_THAN_A_MEAL_G:
        return None
    return [CookBatch(batch=ref_of([pot]), amount=weight)]


def _more_than_a_portion(scene: Scene, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """'it is cooked and the khoresh is 2750 g, I took off the pot already': nobody eats that of a pot on the stove."""
    item = meant[0] if len(meant) == 1 else None
    if not isinstance(item, Item) or item.batch is None or item.amount is None or item.tare is not None:
        return None
    if scene.asks or scene.cue("foreseen", "gave_away", "pot_begins") or scene.message.when.meal:
        return None
    raw = worked_on([b for b in scene.batches if not b.cooked])
    weights = _weights(scene)
    if len(raw) != 1 or raw[0].raw_g is None or weights is None or len(weights) != 1:
        return None
    if not MOST_OF_A_PORTION_G <= grams_of(weights[0]) <= MORE_THAN_RAW * raw[0].raw_g:
        return None
    if grams_of(weights[0]) < LEAST_OF_RAW * raw[0].raw_g:
        return None
    return [CookBatch(batch=ref_of(raw), amount=weights[0], tare=vessel_in_it(scene))]


def _on_the_stove(scene: Scene) -> KnownBatch | None:
    """The one raw pot that is named, or the one at work where none is."""
    if scene.asks or scene.cue("foreseen", "i_ate", "went_to_me", "gave_away", "pot_begins"):
        return None
    said = scene.message.line.plain
    if any(said[n] in pack()["oneself"] for c in scene.message.of("word") for n in range(c.start, c.end)) and not (
        scene.cue("done", "weighing_now", "the_vessel", "pouring")
    ):
        return None
    raw = worked_on([b for b in scene.batches if not b.cooked]) if scene.batches else scene.message.around.at_work
    return raw[0] if len(raw) == 1 else None


def _weights(scene: Scene) -> list[Amount] | None:
    """The different weights told, the greatest first; None where there are other numbers."""
    told = [c.amount for c in scene.message.chunks if c.kind in TELLING]
    kept = [a for a in told if a is None or not is_one(a)]
    if any(a is None or a.kind not in ("mass", "bare") for a in kept):
        return None
    found: dict[float, Amount] = {}
    for amount in in_one_unit([a for a in kept if a is not None]):
        found.setdefault(grams_of(amount), amount)
    return sorted(found.values(), key=grams_of, reverse=True)


def _less_the_vessel(scene: Scene, pot: KnownBatch, weights: Sequence[Amount]) -> list[Meaning] | None:
    assert pot.raw_g is not None
    gross, empty = weights
    net = grams_of(gross) - grams_of(empty)
    if grams_of(empty) < LEAST_VESSEL_G or not LEAST_OF_RAW * pot.raw_g <= net <= MOST_OF_RAW * pot.raw_g:
        return None
    if scene.foods or not (scene.cue("the_vessel", "empty") or grams_of(gross) >= MORE_THAN_RAW * pot.raw_g):
        return None
    tares = [c.tare.name for c in scene.message.of("tare") if c.tare is not None]
    tare = TareRef(name=next(iter(tares), "pot"), grams=grams_of(empty))
    return [CookBatch(batch=ref_of([pot]), amount=gross, tare=tare)]


def _in_kilos(scene: Scene, pot: KnownBatch, weight: Amount) -> Amount | None:
    """A number without a unit as kilograms, where as grams it is hardly anything of the pot: 'done, 2.75'."""
    assert pot.raw_g is not None
    if weight.kind != "bare" or weight.value > MOST_KILOS or scene.message.around.region is Region.US:
        return None
    grams = weight.value * 1000
    if not LEAST_OF_RAW * pot.raw_g <= grams <= MOST_OF_RAW * pot.raw_g:
        return None
    return Amount(kind="mass", value=weight.value, unit="kg", grams=grams, text=weight.text)
