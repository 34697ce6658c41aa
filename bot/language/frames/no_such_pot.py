"""The frame of a dish that is done and weighs more than anybody eats, where no pot of that name is open.

It is the cooked weight of a pot that was never opened here, and no meal: the reply lists the pots that are open.
"""

from __future__ import annotations

from bot.language.batch_meanings import CookBatch
from bot.language.chunks import Chunk
from bot.language.frames.cooking import LEAST_VESSEL_G, MORE_THAN_A_MEAL_G
from bot.language.frames.spans import is_one
from bot.language.frames.stretch import grams_of
from bot.language.intents.readings import vessel_taken_off
from bot.language.meanings import Meaning
from bot.language.pack import pack, plain
from bot.language.scene import Scene
from bot.language.told import Amount, BatchRef, TareRef
from domain.foods import State

MOST_CHUNKS = 30
MOST_NAME_WORDS = 4
SAID = ("done", "is_done", "the_vessel")
VESSEL_TOO = 2
"""Weights of a pot told with its vessel."""
LEAST_PIECES, LEAST_IN_PIECES_G = 8, 500.0
"""A dish that is counted out in so many pieces is no meal from a lower weight on."""


def of_no_pot(scene: Scene) -> list[Meaning] | None:
    """'adobo done, comes to 1010 grams', 'meatballs came out 880 g total and there's 22' without such a pot."""
    message = scene.message
    if scene.named or message.asks or len(message.chunks) > MOST_CHUNKS or message.when.meal or message.when.future:
        return None
    if message.of("hash", "energy", "macro", "price") or not scene.cue(*SAID):
        return None
    if scene.cue("i_ate", "portioned", "condition", "habit", "foreseen", "by_recipe", "told_wrong", "plated", "empty"):
        return None
    if any(c.state is State.RAW for c in message.of("state")):
        return None
    weights = [c.amount for c in scene.amounts if c.amount is not None and _weighs(c)]
    vessel = scene.cue("the_vessel") and len(weights) > 1
    if vessel:
        gross, tare = sorted(weights, key=grams_of, reverse=True)[:2]
        return _of_vessel(scene, gross, tare) if len(weights) == VESSEL_TOO else None
    if not scene.cue("done", "is_done") and not vessel_taken_off(message):
        return None
    net = _net(weights, scene)
    counts = [c.amount.value for c in scene.amounts if c.amount is not None and c.amount.value <= LEAST_VESSEL_G]
    if net is None or not _is_all_of_it(grams_of(net), max(counts, default=0.0)):
        return None
    name = _name(scene)
    return [CookBatch(batch=BatchRef(text=name), amount=net)] if name else None


def _of_vessel(scene: Scene, gross: Amount, tare: Amount) -> list[Meaning] | None:
    """'the cawl with its pan is 5680, pan on its own 1895': more than anybody takes on a plate."""
    name = _name(scene)
    if not name or grams_of(gross) - grams_of(tare) < MORE_THAN_A_MEAL_G:
        return None
    off = TareRef(name="pot", grams=grams_of(tare))
    return [CookBatch(batch=BatchRef(text=name), amount=gross, tare=off)]


def _weighs(chunk: Chunk) -> bool:
    amount = chunk.amount
    if amount is None or is_one(amount) or amount.kind not in ("mass", "bare"):
        return False
    return grams_of(amount) >= LEAST_VESSEL_G


def _net(weights: list[Amount], scene: Scene) -> Amount | None:
    """The only weight, if no vessel is in it."""
    vessels = scene.message.of("tare")
    return weights[0] if len(weights) == 1 and (not vessels or vessel_taken_off(scene.message)) else None


def _is_all_of_it(grams: float, pieces: float) -> bool:
    return grams >= MORE_THAN_A_MEAL_G or (pieces >= LEAST_PIECES and grams >= LEAST_IN_PIECES_G)


def _name(scene: Scene) -> str:
    """What the dish is called: the words before the weight, without those that say that it is done."""
    message = scene.message
    weight = next(c.start for c in scene.amounts if _weighs(c))
    done = {n for at, end in _said(scene) for n in range(at, end)}
    words: list[str] = []
    for chunk in message.chunks:
        if chunk.start >= weight or (words and done & {chunk.start}):
            break
        said = plain(chunk.text.lower()).removesuffix("s'")
        if chunk.kind in ("food", "word") and chunk.start not in done and said not in pack()["beside_pot"]:
            words.append(chunk.text.lower().removesuffix("'s"))
        elif words:
            break
    return " ".join(words) if len(words) <= MOST_NAME_WORDS else ""


def _said(scene: Scene) -> list[tuple[int, int]]:
    plain_words = scene.message.line.plain
    return [place for name in ("done", "is_done", "weighing_now") for place in plain_words.places(name)]
