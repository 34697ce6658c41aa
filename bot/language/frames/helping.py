"""Frames for a portion that names no food, where a cooked pot was spoken of last."""

from __future__ import annotations

from bot.language.chunks import Chunk
from bot.language.frames.eaters import MOST_FOR_ONE_G
from bot.language.frames.serving import FITS, LEAST_G, Serving, seen
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.meanings import Meaning, NotMine
from bot.language.pack import pack
from bot.language.portion_meanings import TakeBoxes, WhichBoxes
from bot.language.scene import Scene, ref_of
from bot.language.told import Item


def helping(scene: Scene) -> list[Meaning] | None:
    """'big bowl for lunch 430', 'another bowl, 380', 'went back for seconds, 240': of the pot spoken of last."""
    if not scene.cue("a_helping") or scene.named or scene.foods:
        return None
    told = seen(scene.message)
    weight = _only_weight(told)
    if weight is None or weight.amount is None or not _happened(told) or told.boxes or told.person is not None:
        return None
    if told.message.of("tare", "part", "batch") or told.cue("weighing_now", "not_to_me"):
        return None
    grams = grams_of(weight.amount)
    pots = [b for b in scene.message.around.batches if b.focus and grams <= FITS * (b.left_g or 0.0)]
    if not pots or not LEAST_G <= grams <= MOST_FOR_ONE_G or told.may_name_more():
        return None
    return [Item(text=scene.message.text, amount=as_mass(weight.amount), batch=ref_of(pots), when=told.when)]


def lunch_at_work(scene: Scene) -> list[Meaning] | None:
    """'brought 400 g of the soup to work', 'a box of curry into the office': with nobody else named, the writer's."""
    if not scene.cue("carried_off") or not scene.cue("where_one_works") or scene.foods:
        return None
    told = seen(scene.message)
    ref = told.ref or (None if scene.named else told.spoken_of)
    batch = None if ref is None else told.known(ref)
    if ref is None or batch is None or not batch.cooked or not _happened(told) or told.person is not None:
        return None
    weight, when = _only_weight(told), told.when
    if weight is not None and weight.amount is not None:
        fits = grams_of(weight.amount) <= min(MOST_FOR_ONE_G, FITS * (batch.left_g or 0.0))
        return [Item(text=scene.message.text, amount=as_mass(weight.amount), batch=ref, when=when)] if fits else None
    count = next((b.count for b in told.boxes), None)
    one = bool(told.boxes) and not told.weights and (count is None or count.amount is None or count.amount.value == 1)
    if not one or not batch.boxes or not told.spent(count):
        return None
    return [TakeBoxes(batch=ref, which=WhichBoxes(count=1, place=told.source), when=when)]


def for_so_many(scene: Scene) -> list[Meaning] | None:
    """'soup for 4 tonight': for how many people it is, and nothing that anybody has had."""
    told = seen(scene.message)
    if len(scene.amounts) != 1 or not scene.named or scene.foods or not told.of_people(scene.amounts[0]) or told.mine:
        return None
    return None if told.boxes or told.rest or scene.message.asks else [NotMine(why="plan")]


def others_say(scene: Scene) -> list[Meaning] | None:
    """'Tom says he'd eat 500 of the chili': what somebody says of a portion that nobody has had."""
    told = seen(scene.message)
    if not scene.cue("reported_speech") or not told.numbers or told.cue("i_ate"):
        return None
    if len(scene.message.sentences()) > 1 or not (scene.named or scene.foods or told.spoken_of):
        return None
    said = next(start for start, _ in told.places("reported_speech"))
    supposed = any(start > said for start, _ in told.places("not_yet_had", "would_have"))
    speaker = told.word(said - 1)
    return [NotMine(why="others")] if supposed and speaker and speaker not in pack()["the_writer"] else None


def _only_weight(told: Serving) -> Chunk | None:
    """The one weight, beside the number of bowls that it is in."""
    if len(told.weights) != 1:
        return None
    weight = told.weights[0]
    others = [c for c in told.numbers if c is not weight]
    held = [c for c in others if c.amount is not None and c.amount.unit in told.message.words.vessels]
    one = all(c.amount is not None and c.amount.value == 1 for c in held)
    return weight if len(held) == len(others) and one and told.spent(weight, *held) else None


def _happened(told: Serving) -> bool:
    negated = told.message.has_any(told.message.words.negations) or told.cue("negation")
    return not (told.unreal or negated or told.cue("condition", "later_on", "not_yet_had", "came_to_grief"))
