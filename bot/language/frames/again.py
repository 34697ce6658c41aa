"""Frames for questions about what is in a batch, and for cooking an earlier batch again."""

from __future__ import annotations

from bot.language.batch_meanings import Contents, CookAgain, RecipeChange
from bot.language.frames.serving import Serving, seen
from bot.language.frames.spans import Span, outside, spans
from bot.language.intents.readings import kept_and_left_out
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.pots import POT_SLOTS
from bot.language.scene import Scene, ref_of
from bot.language.told import BatchRef, Item

MOST_CHUNKS = 40


def asked_contents(scene: Scene) -> list[Meaning] | None:
    """'read me back what's in the chili so far', 'whit went in that stew'."""
    message = scene.message
    if not message.around.batches or scene.amounts or scene.foods or len(message.chunks) > MOST_CHUNKS:
        return None
    if not scene.cue("asks_contents") or scene.cue("asking_left", "portioned", "cold_places", "as_before"):
        return None
    if scene.named:
        refs = {ref.candidates or (ref.number,): ref for ref, _, _ in scene.named}
        return [Contents(batch=next(iter(refs.values())))] if len(refs) == 1 else None
    cooking = message.around.cooking
    return [Contents(batch=ref_of(cooking))] if len(cooking) == 1 and scene.cue("the_pot") else None


def cooked_again(scene: Scene) -> list[Meaning] | None:
    """'the dal again, 280 g lentils this time', 'another dal, like the last one but no tomatoes'."""
    message = scene.message
    if message.asks or message.when.meal or message.when.future or len(message.chunks) > MOST_CHUNKS:
        return None
    if not scene.cue("once_again") or scene.cue("i_ate", "portioned", "condition", "foreseen", "nicked_some"):
        return None
    if _a_portion(seen(scene.message)):
        return None
    if any(True for c in scene.amounts for _ in pack()["of_the_batch"].ends(message.line.plain, c.end)):
        return None  # '260 g of it' is a portion of what is left
    old = _earlier(scene)
    if old is None:
        return None
    ref, named = old
    cues = spans(message, "once_again", "this_time", "as_before", "cook_again", "pot_begins", "pot_may_begin")
    rest = outside(message, [named, *cues])
    rest = rest.without(list(rest.of("moment")))
    if rest.of("batch", "hash", "energy", "macro"):
        return None
    kept, gone = kept_and_left_out(rest)
    told = items(kept) if kept.of("amount", "food") else []
    told = [i for i in told if i.amount is not None or i.name is not None]
    if any(i.name is None or i.amount is None or _is_piece(i) for i in told):
        return None
    if not scene.cue("this_time", "as_before", "cook_again", "pot_begins"):
        return None
    if message.has(":") and len(told) > 1 and scene.cue("pot_begins") and not scene.cue("this_time", "as_before"):
        return None  # 'dal again, new batch: 200 g lentils, 500 g water' lists all that goes in
    changes = (*(RecipeChange(name=name) for name in gone), *(RecipeChange(item=i) for i in told))
    return [CookAgain(batch=ref, factor=2.0 if scene.cue("doubled") else None, changes=changes)]


def _a_portion(told: Serving) -> bool:
    """Whether it is about pieces or boxes of a batch, or about somebody who had some: 'another slice of the loaf'."""
    pieces = {c.amount.unit for c in told.scene.amounts if c.amount is not None}
    divided = {b.piece for b in told.message.around.batches if b.pieces}
    return bool(told.boxes) or bool(pieces & divided) or told.cue("ate_myself", "had_some_of_it")


def _is_piece(item: Item) -> bool:
    """Whether it counts pieces of no food: 'another slice of the loaf for the kids'."""
    amount, name = item.amount, item.name
    unknown = name is not None and not name.foods and name.kinds is None
    return unknown and amount is not None and amount.kind in ("count", "measure", "bare")


def _earlier(scene: Scene) -> tuple[BatchRef, Span] | None:
    """The earlier batch that is named, open or closed, and its tokens."""
    line = scene.message.line
    at, end = scene.message.chunks[0].start, scene.message.chunks[-1].end
    for n in range(at, end):
        if line.plain[n] in pack()["pointing"]:
            continue
        for value, behind in POT_SLOTS["old"](line, n, end):
            if isinstance(value, BatchRef):
                return value, Span(n, behind)
    return None
