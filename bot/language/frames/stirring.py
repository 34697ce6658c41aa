"""The frame of what is put into a pot, raw, cooked or half eaten: a verb of adding, the pot, and weighed foods.

What tells it from a meal is that the pot itself has no weight, that something is done to the pot, and that nobody eats.
"""

from __future__ import annotations

from dataclasses import replace

from bot.language.batch_meanings import AddIngredients
from bot.language.frames.raw_pot import is_ingredient
from bot.language.frames.spans import Span, outside, spans
from bot.language.frames.stretch import grams_of
from bot.language.intents.ingredients import in_grams
from bot.language.intents.readings import has_ingredient
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.pack import pack, plain
from bot.language.scene import Scene, is_owned_by_others, ref_of
from bot.language.stance import planned

MOST_CHUNKS = 60
MOST_BETWEEN = 6
"""Tokens between a preposition and the pot: 'into what was left of that big stew'."""
MOST_BEFORE_WITH = 3
"""Tokens between the pot and 'with': 'stirred the leftover curry up with 90 g corn'."""
NOT_SO = (
    "i_ate", "portioned", "condition", "habit", "another_time", "by_recipe", "not_put_in", "never_went_in",
    "told_wrong", "contrasts", "pot_begins", "call_it", "own_pot", "gave_away", "repair", "a_box", "on_my_plate",
)  # fmt: skip


def stirred_in(scene: Scene) -> list[Meaning] | None:
    """'stretching the soup, 350 g more potatoes have gone in', 'put 240 g of peas in the rest of the curry'."""
    message = scene.message
    if len(scene.batches) != 1 or not scene.amounts or len(message.chunks) > MOST_CHUNKS or message.has("?"):
        return None
    if scene.cue(*NOT_SO) or message.when.meal or message.when.future or is_owned_by_others(scene):
        return None
    if message.of("hash", "energy", "macro", "price", "tare"):
        return None
    if _is_weighed(scene) or not _is_put_in(scene):
        return None
    pot = scene.batches[0]
    places = [Span(_from(scene, start), end) for _, start, end in scene.named]
    said = spans(message, "pot_changed_with", "puts_in", "has_gone_in", "in_the_pot", "too", "just_now", "forgot")
    rest = outside(message, (*places, *said))
    rest = rest.without([*rest.of("moment"), *(c for c in rest.chunks if plain(c.text.lower()) in pack()["puts_in"])])
    if planned(rest):
        return None
    told = [replace(i, batch=None) for i in items(rest) if i.amount is not None]
    ref = ref_of([pot], scene.named[0][0].text)
    if not told or any(not is_ingredient(i) for i in told):
        return None
    more = scene.cue("more_of_it")
    if not more and any(i.name is not None and has_ingredient(message, ref, i.name) for i in told):
        return None  # a correction, or asked about
    early = scene.cue("from_start") or (scene.cue("forgot") and not scene.cue("just_now"))
    return [AddIngredients(batch=ref, items=tuple(in_grams(told)), from_start=early)]


def _is_weighed(scene: Scene) -> bool:
    """Whether a weight is of the pot: '300 g of soup', 'soup 300'."""
    line = scene.message.line
    for _, start, end in scene.named:
        for chunk in scene.amounts:
            between = line.plain[chunk.end : start] if chunk.end <= start else line.plain[end : chunk.start]
            if all(word in pack()["of_a_share"] or word in pack()["pointing"] for word in between):
                return grams_of(chunk.amount) > 0 if chunk.amount is not None else False
    return False


def _is_put_in(scene: Scene) -> bool:
    """Whether something is done to the pot: into it, it took something, it is changed, something has gone in."""
    message, line = scene.message, scene.message.line
    if scene.cue("pot_changed_with"):
        return True
    adds = scene.cue("puts_in", "has_gone_in")
    for _, start, end in scene.named:
        before = line.plain[max(message.chunks[0].start, start - MOST_BETWEEN) : start]
        if adds and pack()["into_pot"].found(before):
            return True
        behind = line.plain[end : end + MOST_BEFORE_WITH]
        if pack()["puts_in"].found(before) and pack()["along_with"].found(behind):
            return True
        if pack()["pot_takes"].end(line.plain, end + (line.text(end) == "'s")) is not None:
            return True
    return scene.cue("in_the_pot") and adds


def _from(scene: Scene, start: int) -> int:
    """Where the words that lead to a pot begin: 'in the rest of the', 'into what was left of that'."""
    line, first = scene.message.line, scene.message.chunks[0].start
    held = {n for c in scene.message.of("food", "amount") for n in range(c.start, c.end)}
    for at in range(max(first, start - MOST_BETWEEN), start):
        leads = line.plain[at] in pack()["into_pot"] or line.plain[at] in pack()["the_rest_of"]
        if leads and held.isdisjoint(range(at, start)):
            return at
    return start
