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
from bot.language.message import Message
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
    if message.of("hash", "energy", "macro", "price") or not (scene.cue(*SAID) or message.of("tare")):
        return None
    if scene.cue(
        "i_ate", "portioned", "condition", "habit", "foreseen", "by_recipe", "told_wrong", "told_before", "plated"
    ):
        return None
    if any(c.state is State.RAW for c in message.of("state")):
        return None
    name = _name(scene)
    words = name.split()
    if not any(_is_noun(message, word) for word in words) or any(word in message.words.pronouns for word in words):
        return None
    weights = sorted((a for c in scene.amounts if _weighs(c) and (a := c.amount) is not None), key=grams_of)
    tare = _tare(scene, weights)
    if tare is not None:
        over = grams_of(weights[-1]) - tare >= MORE_THAN_A_MEAL_G
        off = TareRef(name="pot", grams=tare)
        return [CookBatch(batch=BatchRef(text=name), amount=weights[-1], tare=off)] if over else None
    if len(weights) != 1 or scene.cue("empty"):
        return None
    without = vessel_taken_off(message)
    if not (without or (_is_done(scene) and not message.of("tare"))):
        return None
    counts = [c.amount.value for c in scene.amounts if c.amount is not None and c.amount is not weights[0]]
    whole = _is_all_of_it(grams_of(weights[0]), max(counts, default=0.0))
    return [CookBatch(batch=BatchRef(text=name), amount=weights[0])] if whole else None


def _is_done(scene: Scene) -> bool:
    """Whether it is said to be done; 'cooked pasta' only says in which state it was weighed."""
    foods = {c.start for c in scene.message.of("food")}
    words = scene.message.line.plain
    return any(end not in foods for name in ("done", "is_done") for _, end in words.places(name))


def _tare(scene: Scene, weights: list[Amount]) -> float | None:
    """What the vessel in the weight is told to weigh: the lighter of two weights, or read with the vessel already."""
    vessels = [c.tare.grams for c in scene.message.of("tare") if c.tare is not None and c.tare.grams]
    if len(weights) == 1 and len(vessels) == 1:
        return vessels[0]
    return grams_of(weights[0]) if len(weights) == VESSEL_TOO and scene.cue("the_vessel") else None


def _weighs(chunk: Chunk) -> bool:
    amount = chunk.amount
    if amount is None or is_one(amount) or amount.kind not in ("mass", "bare"):
        return False
    return grams_of(amount) >= LEAST_VESSEL_G


def _is_all_of_it(grams: float, pieces: float) -> bool:
    return grams >= MORE_THAN_A_MEAL_G or (pieces >= LEAST_PIECES and grams >= LEAST_IN_PIECES_G)


def _name(scene: Scene) -> str:
    """What the dish is called: the words before the weight, without those that say that it is done."""
    message = scene.message
    weight = next((c.start for c in scene.amounts if _weighs(c)), 0)
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


def _is_noun(message: Message, word: str) -> bool:
    """Whether a word may be what a dish is called: of a food that is named, or of no list."""
    return any(word in c.text.lower() for c in message.of("food")) or not message.words.knows(word)


def _said(scene: Scene) -> list[tuple[int, int]]:
    plain_words = scene.message.line.plain
    return [place for name in ("done", "is_done", "weighing_now") for place in plain_words.places(name)]
