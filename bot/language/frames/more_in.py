"""The frame for more of something in a pot that is not cooked yet, whatever reason is told for it."""

from __future__ import annotations

from bot.language.batch_meanings import AddIngredients
from bot.language.chunks import Chunk
from bot.language.frames.serving import seen
from bot.language.frames.spans import is_one
from bot.language.frames.stretch import grams_of
from bot.language.intents.readings import has_ingredient
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.scene import Scene, is_owned_by_others, ref_of
from bot.language.surroundings import KnownBatch
from bot.language.told import Item

MOST_CHUNKS = 40
NEAR = 5
"""Tokens between a weight and the food that it is of."""
BESIDE = 3
"""Tokens between a weight and the word that says that it is more of something."""
MOST_COUNTED = 12
"""Up to this a number by itself may count anything."""


def more_in(scene: Scene) -> list[Meaning] | None:
    """'the soup looked thin, so I have tipped another 200 g of dry red lentils into it to give it some body'."""
    message = scene.message
    if not message.around.batches or len(message.chunks) > MOST_CHUNKS or _is_unreal(scene):
        return None
    weights = [c for c in scene.amounts if _weighs(c)]
    if len(weights) != 1 or message.of("hash", "energy", "macro", "price", "tare"):
        return None
    pot = _pot(scene)
    if pot is None or not _is_more(scene, weights[0]):
        return None
    ref = ref_of([pot], scene.named[0][0].text if scene.named else "")
    food = _food(scene, weights[0])
    if food is None:
        return None
    start, end = food
    name = message.vocabulary.resolve(
        [t.text for t in message.tokens[start:end]], message.line.said(start, end).lower()
    )
    if not (name.foods or name.kinds is not None):
        return None
    if not (scene.cue("puts_in", "in_the_pot", "has_gone_in") or (pot.filling and has_ingredient(message, ref, name))):
        return None
    state = next((c for c in message.of("state") if c.state is not None), None)
    item = Item(
        text=message.text,
        amount=weights[0].amount,
        name=name,
        state=state.state if state else None,
        method=state.method if state else "",
    )
    return [AddIngredients(batch=ref, items=(item,))]


def _is_unreal(scene: Scene) -> bool:
    """Whether it is about a plate, or nothing of it has happened."""
    message = scene.message
    if message.asks or (scene.asks and not scene.cue("has_gone_in")):
        return True
    if message.when.future or message.when.meal or is_owned_by_others(scene) or seen(message).person is not None:
        return True
    if scene.cue("i_ate", "portioned", "pot_begins", "call_it", "told_wrong", "contrasts", "done"):
        return True
    denied = any(c.kind == "word" and c.text.lower() in message.words.negations for c in message.chunks)
    return denied or scene.cue("condition", "habit", "foreseen", "another_time", "by_recipe", "not_put_in", "this_time")


def _weighs(chunk: Chunk) -> bool:
    amount = chunk.amount
    if amount is None or is_one(amount) or amount.doubt is not None:
        return False
    return amount.kind == "mass" or (amount.kind == "bare" and grams_of(amount) > MOST_COUNTED)


def _pot(scene: Scene) -> KnownBatch | None:
    """The raw batch that is named, or the one at work."""
    raw = [b for b in scene.batches if not b.cooked] if scene.named else []
    pots = raw or list(scene.message.around.at_work)
    if scene.named and not raw and any(b.cooked for b in scene.batches):
        return None
    return pots[0] if len(pots) == 1 else None


def _is_more(scene: Scene, weight: Chunk) -> bool:
    """'another 150 g', 'a further 100 g', '120 g more of it'."""
    words = scene.message.line.plain
    before, behind = words[max(0, weight.start - BESIDE) : weight.start], words[weight.end : weight.end + BESIDE]
    return pack()["more_of_it"].found(before) or pack()["more_of_it"].found(behind)


def _food(scene: Scene, weight: Chunk) -> tuple[int, int] | None:
    """The tokens of the food that the weight is of: the next one behind it, or the one right before it."""
    whole = {b.name.casefold() for b in scene.batches}
    found = [(c.start, c.end) for c in scene.message.of("food")]
    found += [(s, e) for _, s, e in scene.named if scene.message.line.said(s, e).casefold() not in whole]
    behind = [place for place in sorted(set(found)) if 0 <= place[0] - weight.end <= NEAR]
    before = [place for place in sorted(set(found)) if 0 <= weight.start - place[1] <= 1]
    found = behind or before[-1:]
    return found[0] if found else None
