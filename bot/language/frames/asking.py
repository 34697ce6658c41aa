"""Frames of questions on what is there: what is left of a batch, what lies in the freezer."""

from __future__ import annotations

from bot.language.batch_meanings import Left
from bot.language.frames.serving import Serving
from bot.language.meanings import Meaning
from bot.language.names import lemmas_of
from bot.language.portion_meanings import Stored
from bot.language.scene import Scene
from bot.language.told import BatchRef


def what_is_left(scene: Scene) -> list[Meaning] | None:
    """'how many soup left', 'whats in the freezer', 'did we run out of stew', 'what is left in the casserole now?'."""
    told = Serving(scene)
    if scene.foods or told.numbers or not told.cue("how_much_left") or scene.message.of("energy", "macro", "hash"):
        return None
    asks = scene.message.asks or told.cue("how_much", "run_out") or "?" in scene.message.said
    if not asks and not told.cue("tell_me"):
        return None
    if told.cue("eating_it") and not told.cue("still_there"):
        return None
    places = [place for place, _, _ in told.mentioned]
    if told.ref is not None:
        if not told.cue("still_there") and not places:
            return None
        counts_boxes = bool(told.boxes) or bool(places)
        return [Stored(place=places[0] if places else None, batch=told.ref)] if counts_boxes else [Left(batch=told.ref)]
    if scene.named:
        return None
    closed = _closed(told)
    if closed is not None and told.cue("still_there"):
        return [Left(batch=closed)]
    if places and told.cue("what_is_in"):
        return [Stored(place=places[0])]
    if told.boxes and told.cue("still_there") and _only_kitchen_words(told):
        return [Stored(place=None)]
    return None


def _closed(told: Serving) -> BatchRef | None:
    """The latest batch that is over and goes by a word of the question."""
    lemmas = set(told.message.line.lemmas)
    over = [b for b in told.message.around.closed if lemmas_of(b.name) and lemmas_of(b.name)[-1] in lemmas]
    return BatchRef(number=max(b.number for b in over)) if over else None


def _only_kitchen_words(told: Serving) -> bool:
    return all(told.message.words.knows(c.text.lower()) or c.kind != "word" for c in told.message.chunks)
