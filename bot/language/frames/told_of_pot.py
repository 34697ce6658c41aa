"""Frames for what is put right or told late of a pot, raw, cooked or eaten from: what is on record decides.

A weight that is on record for an ingredient is the old one, and the other is the correction; a weight that is on
record as a portion only says which portion is meant.
"""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.batch_meanings import AddIngredients, CorrectIngredient
from bot.language.chunks import Chunk
from bot.language.frames.spans import is_one
from bot.language.frames.stretch import grams_of
from bot.language.intents.ingredients import in_grams
from bot.language.intents.readings import has_ingredient
from bot.language.items import items
from bot.language.meanings import Meaning, NotMine
from bot.language.message import Message
from bot.language.name_tables import lemmas_of
from bot.language.pack import pack
from bot.language.scene import Scene, is_owned_by_others, ref_of
from bot.language.surroundings import KnownBatch
from bot.language.told import Item, Name

MOST_CHUNKS = 60
ROUNDED_G = 0.6
"""Up to this a weight that is told differs from one on record by rounding alone."""
MOST_COUNTED = 12
MOST_BETWEEN = 2
"""Tokens before a batch's name in which 'in' or 'into' is looked for."""
MOST_OFF = 1.35
"""So many times more or less is a slip in the weight of an ingredient rather than more of it."""
LEAST_OF_ALL = 0.5
"""More of what went in may be the weight of the cooked pot."""
MOST_TIMES = 6.0
"""An ingredient is not put right by more than so many times."""


def contents_put_right(scene: Scene) -> list[Meaning] | None:
    """'milk in the chowder was 700 g though I said 900', 'I had the salsa wrong in the chicken, 280 g went in'."""
    if not _may_correct(scene) or _is_unreal(scene) or not _is_correction(scene):
        return None
    return _put_right(scene, proven=False)


def corrected_too(scene: Scene) -> list[Meaning] | None:
    """'and the brisket 1.15 kg', said of the raw pot that was spoken of last: what is in it already, put right too."""
    message = scene.message
    pots = [b for b in message.around.at_work if b.spoken]
    if scene.named or len(pots) != 1 or len(scene.foods) != 1 or len(scene.masses) != 1 or message.asks:
        return None
    food = scene.foods[0]
    beside = [c for c in message.chunks if c.kind not in ("food", "amount", "sign")]
    definite = message.line.plain[food.start - 1] in pack()["pointing"] if food.start else False
    if not definite or any(c.kind != "word" or c.text.lower() not in pack()["beside_repair"] for c in beside):
        return None
    found = _line_meant(scene, pots)
    if found is None or not _weighs(scene.amounts[0]) or len(scene.amounts) != 1:
        return None
    grams, on_record = _grams(scene.amounts[0]), found[2]
    if abs(grams - on_record) <= ROUNDED_G or not on_record / MOST_OFF <= grams <= on_record * MOST_OFF:
        return None
    item = Item(text=message.text, amount=scene.amounts[0].amount)
    return [CorrectIngredient(batch=ref_of(pots), name=found[1], item=item)]


def in_one_pot(scene: Scene) -> list[Meaning] | None:
    """'the onions were 180 in fact': what is in one batch, and in no weigh-in, put right without the batch's name."""
    message = scene.message
    if scene.named or len(scene.foods) != 1 or len(scene.amounts) != 1 or not _may_correct(scene) or message.asks:
        return None
    if not scene.cue("was_wrong", "told_wrong", "told_before") or _is_unreal(scene):
        return None
    if scene.cue("i_ate", "portioned", "in_addition", "negation"):
        return None
    food, plain = scene.foods[0], message.line.plain
    between = plain[food.end : scene.amounts[0].start]
    definite = food.start > 0 and plain[food.start - 1] in pack()["pointing"]
    if not definite or not any(word in pack()["came_out_at"] for word in between) or not _weighs(scene.amounts[0]):
        return None
    found = _line_meant(scene, message.around.batches)
    if found is None or not _is_like(scene.amounts[0], found[2]):
        return None
    batch, name, _ = found
    if any(each.food in name.foods or each.word in lemmas_of(name.text) for each in message.around.recorded()):
        return None
    return [
        CorrectIngredient(
            batch=ref_of([batch]), name=name, item=Item(text=message.text, amount=scene.amounts[0].amount)
        )
    ]


def contents_proven(scene: Scene) -> list[Meaning] | None:
    """'onion in the mince was 190 not 160, yesterday's portions too': one of the two is on record in the pot."""
    if not scene.named or len(scene.masses) < MOST_BETWEEN or not _may_correct(scene):
        return None
    found = _put_right(scene, proven=True)
    if found is None or scene.message.has("?") or scene.cue("condition", "by_recipe"):
        return None
    before = [scene.message.line.plain[start - 1] for _, start, _ in scene.named if start]
    if scene.cue("another_time") or any(word in pack()["next_one"] for word in before):
        return [NotMine(why="plan")]
    return [NotMine(why="others")] if is_owned_by_others(scene) else found


def part_of_its_name(scene: Scene) -> list[Meaning] | None:
    """'the pumpkin was 760 g' of a raw pumpkin soup, 'the pumpkin in the soup was 720 g': a part, not all of it."""
    message = scene.message
    if scene.foods or len(scene.batches) != 1 or not _may_correct(scene) or not scene.cue("was_really"):
        return None
    if message.asks or len(scene.amounts) != 1 or scene.cue("i_ate", "portioned", "condition", "habit", "done"):
        return None
    if scene.cue("in_addition"):
        return None
    batch, within = scene.batches[0], len(scene.named) > 1 and _is_inside(scene)
    said = _words_of_the_name(scene) if within else [(start, end) for _, start, end in scene.named]
    names = [
        message.vocabulary.resolve([t.text for t in message.tokens[start:end]], message.line.said(start, end).lower())
        for start, end in said
    ]
    found = [(name, grams) for name in names if (grams := _weight_of(name, batch)) is not None]
    if len(found) != 1 or (batch.cooked and not within):
        return None
    (name, on_record), grams = found[0], _grams(scene.amounts[0])
    if set(lemmas_of(name.text)) >= set(lemmas_of(batch.name)) or not on_record / 2 <= grams <= on_record * 2:
        return None
    if not within and grams > LEAST_OF_ALL * (batch.raw_g or 0.0):
        return None
    item = Item(text=message.text, amount=scene.amounts[0].amount)
    return [CorrectIngredient(batch=ref_of([batch], scene.named[0][0].text), name=name, item=item)]


def _may_correct(scene: Scene) -> bool:
    message = scene.message
    if not message.around.batches or len(message.chunks) > MOST_CHUNKS or not scene.masses:
        return False
    return not message.of("hash", "energy", "macro", "price", "tare")


def _put_right(scene: Scene, *, proven: bool) -> list[Meaning] | None:
    """The correction of an ingredient; `proven`: only where its weight on record is told beside the right one."""
    message = scene.message
    found = _line_meant(scene, scene.batches or message.around.batches)
    if found is None:
        return None
    batch, name, on_record = found
    weights = [c for c in scene.amounts if _weighs(c) and (proven or not _is_portion(c, batch, message))]
    old = [c for c in weights if abs(_grams(c) - on_record) <= ROUNDED_G]
    new = [c for c in weights if c not in old and not (len(weights) > 2 and _is_portion(c, batch, message))]
    if len(new) != 1 or len(old) > 1 or (not old and not scene.named) or not _is_like(new[0], on_record):
        return None
    eaten = scene.cue("i_ate") or (scene.cue("portioned") and batch.cooked)
    if not old and (proven or eaten or scene.cue("in_addition")):
        return None
    if proven and not scene.cue("contrasts", "told_wrong", "told_before", "was_wrong", "becomes", "holds_in_it"):
        return None
    item = Item(text=message.text, amount=new[0].amount)
    text = scene.named[0][0].text if scene.named else ""
    return [CorrectIngredient(batch=ref_of([batch], text), name=name, item=item)]


def told_late(scene: Scene) -> list[Meaning] | None:
    """'leeks 120 g were in the chowder all along, so the 300 g I had should count them too'."""
    message = scene.message
    if len(scene.batches) != 1 or not scene.batches[0].cooked or len(message.chunks) > MOST_CHUNKS:
        return None
    if _is_unreal(scene) or message.of("hash", "energy", "macro", "price"):
        return None
    if not (scene.cue("from_start") or (scene.cue("forgot") and _is_inside(scene))) or scene.cue("not_put_in"):
        return None
    batch = scene.batches[0]
    in_names = {n for _, start, end in scene.named for n in range(start, end)}
    telling = [c for c in message.of("food") if in_names.isdisjoint(range(c.start, c.end))]
    telling += [c for c in scene.amounts if not _is_a_count(c) and not _is_portion(c, batch, message)]
    telling += message.of("state")
    told = items(message.without([c for c in message.chunks if c not in telling]))
    ref = ref_of([batch], scene.named[0][0].text)
    if not told or any(i.name is None or i.amount is None or i.several or i.shared for i in told):
        return None
    if any(i.name is not None and has_ingredient(message, ref, i.name) for i in told):
        return None
    return [AddIngredients(batch=ref, items=tuple(in_grams(told)), from_start=True)]


def _is_inside(scene: Scene) -> bool:
    """Whether something is said to be in the batch: 'in the soup', 'the soup also has'."""
    line = scene.message.line
    for _, start, end in scene.named:
        before = line.plain[max(0, start - MOST_BETWEEN) : start]
        if pack()["into_pot"].found(before) or pack()["pot_takes"].end(line.plain, end) is not None:
            return True
    return False


def not_of_this_pot(scene: Scene) -> list[Meaning] | None:
    """'next time the chowder gets 200 g leeks', 'my sister's chowder has bacon in it, 300 g': nothing went in."""
    if not scene.named or not scene.foods or not scene.amounts or scene.cue("i_ate", "portioned", "went_to_me"):
        return None
    if scene.cue("another_time"):
        return [NotMine(why="plan")]
    return [NotMine(why="others")] if is_owned_by_others(scene) and scene.cue("in_the_pot", "pot_takes") else None


def _is_unreal(scene: Scene) -> bool:
    """Whether it asks, plans, supposes or tells of others."""
    confessed = scene.cue("told_wrong", "told_before", "forgot") and not scene.message.has("?")
    if scene.message.when.future or (scene.asks and not confessed):
        return True
    return scene.cue("foreseen", "habit", "another_time", "by_recipe") or is_owned_by_others(scene)


def _is_correction(scene: Scene) -> bool:
    """Whether it is said that something told before was wrong, and not only what was eaten."""
    if scene.cue("told_wrong", "told_before"):
        return True
    if len(scene.masses) == 1 and len(scene.batches) == 1 and scene.cue("holds_in_it"):
        # what is in a pot already is put right, unless more of it goes in or some of it is eaten
        eaten = scene.cue("i_ate") or (scene.cue("portioned") and scene.batches[0].cooked)
        return not eaten and not scene.cue("puts_in", "more_of_it", "too", "forgot", "from_start")
    return scene.cue("was_wrong", "contrasts") and not scene.cue("i_ate", "portioned")


def _line_meant(scene: Scene, batches: Sequence[KnownBatch]) -> tuple[KnownBatch, Name, float] | None:
    """The one ingredient that is named: its batch, its name, and its weight on record."""
    message = scene.message
    said = [(c.start, c.end) for c in scene.foods] or _words_of_the_name(scene)
    names = [
        message.vocabulary.resolve([t.text for t in message.tokens[start:end]], message.line.said(start, end).lower())
        for start, end in said
    ]
    names = [name for name in names if any(_weight_of(name, batch) is not None for batch in batches)] or names
    if len({name.text for name in names}) != 1:
        return None
    found = [(batch, names[0], grams) for batch in batches if (grams := _weight_of(names[0], batch)) is not None]
    return found[0] if len(found) == 1 else None


def _words_of_the_name(scene: Scene) -> list[tuple[int, int]]:
    """Where a word of a batch's name stands besides the whole of it, or another: 'the beef in the stew'."""
    longest = max((end - start for _, start, end in scene.named), default=0)
    parts = [(start, end) for _, start, end in scene.named if end - start < longest]
    return parts or [(start, end) for _, start, end in scene.named if len(scene.named) > 1]


def _weight_of(name: Name, batch: KnownBatch) -> float | None:
    """How much of an ingredient is on record; None if the batch has none or several of that name."""
    said = set(lemmas_of(name.text))
    exact = [grams for words, grams in batch.weights if any(set(lemmas_of(word)) == said for word in words)]
    # 'the beef' is the ground beef rather than the tomato, one kind of which is the beef tomato
    alike = [grams for words, grams in batch.weights if said <= set(lemmas_of(words[0]))]
    also = [grams for words, grams in batch.weights if any(said <= set(lemmas_of(word)) for word in words)]
    found = exact or alike or also or [grams for words, grams in batch.weights if _is_food_of(name, words)]
    return found[0] if len(found) == 1 else None


def _is_food_of(name: Name, words: Sequence[str]) -> bool:
    """Whether an ingredient is of the food of a name: 'tinned toms' are canned tomatoes."""
    return any(word in name.foods for word in words)


def _weighs(chunk: Chunk) -> bool:
    return chunk.amount is not None and chunk.amount.kind in ("mass", "bare") and not _is_only_one(chunk)


def _is_a_count(chunk: Chunk) -> bool:
    """'one box', 'two things': no weight of an ingredient."""
    amount = chunk.amount
    small = amount is not None and amount.kind == "bare" and amount.value <= MOST_COUNTED and amount.text.isalpha()
    return small or _is_only_one(chunk)


def _is_only_one(chunk: Chunk) -> bool:
    return chunk.amount is not None and is_one(chunk.amount)


def _is_portion(chunk: Chunk, batch: KnownBatch, message: Message) -> bool:
    """Whether a weight is on record as a portion of the batch."""
    if not _weighs(chunk):
        return False
    portions = [each.grams for each in message.around.recorded() if each.batch == batch.number]
    return any(abs(grams - _grams(chunk)) <= ROUNDED_G for grams in portions)


def _is_like(chunk: Chunk, on_record: float) -> bool:
    return on_record / MOST_TIMES <= _grams(chunk) <= on_record * MOST_TIMES


def _grams(chunk: Chunk) -> float:
    assert chunk.amount is not None
    return grams_of(chunk.amount)
