"""A frame for tins and packets that go into a pot, where each weighs the same."""

from __future__ import annotations

from dataclasses import replace

from bot.language.batch_meanings import AddIngredients
from bot.language.chunks import Chunk
from bot.language.frames.raw_pot import only_raw
from bot.language.frames.spans import is_one
from bot.language.frames.stretch import grams_of
from bot.language.meanings import Meaning
from bot.language.number_words import number_words
from bot.language.pack import pack, plain
from bot.language.scene import Scene, ref_of
from bot.language.told import Amount, Item

MOST_TINS = 24
LEAST_G = 25.0
"""A number by itself from here on is a weight, not a count of tins."""


def several_tins(scene: Scene) -> list[Meaning] | None:
    """'tuna, 2 tins, goes to the bake. each tin drained is 112 g': 224 g go into the pot."""
    pot, message = only_raw(scene), scene.message
    if pot is None or len(scene.foods) != 1 or not scene.cue("a_tin") or scene.cue("i_ate", "contrasts", "told_wrong"):
        return None
    told = [c for c in scene.amounts if c.amount is not None and not is_one(c.amount)]
    counts = [c for c in told if _counts(c)]
    weights = [c for c in told if c not in counts and c.amount is not None and c.amount.kind in ("mass", "bare")]
    if len(counts) != 1 or len(weights) != 1 or len(told) != 2 or not (scene.cue("each_one") or _of_a_tin(scene)):
        return None
    count, weight = counts[0].amount, weights[0].amount
    assert count is not None
    assert weight is not None
    if weight.times is not None:
        return None  # the weight is that of all of them already
    grams = count.value * grams_of(weight)
    food = scene.foods[0]
    words = [t.text for t in message.tokens[food.start : food.end]]
    name = message.vocabulary.resolve(["canned", *words], food.text.lower())
    if name.unknown or not name.foods:
        name = message.vocabulary.resolve(words, food.text.lower())
    state = next((c for c in message.of("state") if c.state is not None), None)
    item = Item(
        text=message.text,
        amount=replace(weight, kind="mass", value=grams, unit="g", grams=grams),
        name=name,
        state=state.state if state is not None else None,
        method=state.method if state is not None else "",
    )
    return [AddIngredients(batch=ref_of([pot], scene.named[0][0].text), items=(item,))]


def _counts(chunk: Chunk) -> bool:
    amount = chunk.amount
    if amount is None or amount.kind not in ("bare", "count", "measure") or amount.value % 1:
        return False
    return 1 < amount.value <= MOST_TINS and not _is_bare_weight(amount)


def _is_bare_weight(amount: Amount) -> bool:
    return amount.kind == "bare" and amount.value >= LEAST_G


def _of_a_tin(scene: Scene) -> bool:
    """Whether a weight is that of one tin: 'tins of 112 g', '112 g tins'."""
    words = scene.message.line.plain
    for chunk in scene.amounts:
        before = [plain(word) for word in words[max(0, chunk.start - 2) : chunk.start]]
        if len(before) == 2 and before[0] in pack()["a_tin"] and before[1] in number_words().of:
            return True
    return False
