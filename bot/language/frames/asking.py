"""Frames for questions about stock: what is left of a batch, what is in the freezer."""

from __future__ import annotations

from itertools import pairwise

from bot.language.batch_meanings import Left
from bot.language.frames.serving import Serving, seen
from bot.language.frames.stretch import of_kitchens
from bot.language.meanings import Meaning
from bot.language.name_tables import lemmas_of
from bot.language.pack import pack
from bot.language.portion_meanings import Stored
from bot.language.scene import Scene
from bot.language.told import BatchRef


def what_is_left(scene: Scene) -> list[Meaning] | None:
    """'how many soup left', 'whats in the freezer', 'did we run out of stew', 'what is left in the casserole now?'."""
    told = seen(scene.message)
    if scene.foods or told.numbers or not told.cue("how_much_left") or scene.message.of("energy", "macro", "hash"):
        return None
    asks = scene.message.asks or told.cue("how_much", "run_out") or "?" in scene.message.said
    if not asks and not told.cue("tell_me"):
        return None
    if told.cue("eating_it") and not told.cue("still_there", "what_is_in"):
        return None
    if told.cue("the_bin") and "?" not in scene.message.said:
        return None  # 'what remains of the pho goes in the bin'
    if (
        not scene.message.asks
        and told.rest
        and any(a <= b for _, a in told.places("finished_it") for b, _ in told.places("a_rest"))
    ):
        return None  # 'finished what was left of the rice'
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


def what_stands(scene: Scene) -> list[Meaning] | None:
    """'3 rotis left', '8 stew boxes in the fridge': a statement about stock; the reply says what is left."""
    told = seen(scene.message)
    if scene.foods or told.ref is None or scene.message.asks or told.share is not None:
        return None
    if told.boxes and told.cue("holds_so_much") and told.words[-1] in pack()["for_each"]:
        return [Stored(place=None, batch=told.ref)]
    if told.weights or told.cue("the_rest_itself"):
        return None
    batch = told.known(told.ref)
    counted = [c.amount.value for c in told.counts if c.amount is not None]
    if batch is None or not batch.cooked or len(counted) > 1 or told.person is not None or told.when.meal is not None:
        return None
    ends_left = any(end == told.at[-1] + 1 for _, end in told.places("at_the_end"))
    if told.mine or (told.cue("gave_it") and not ends_left) or _those_that_were(told):
        return None
    if told.cue("eating_it", "freezing_them", "thawing_out", "dividing_up", "equally", "came_to_grief"):
        return None
    if counted and told.target == "freezer" and told.cue("right_now"):
        return None
    all_boxes = bool(counted) and counted[0] == batch.boxes and bool(told.mentioned) and told.source is not None
    if not (told.cue("stock_of_it") or ends_left or (all_boxes and not told.cue("from_it"))):
        return None
    return [Stored(place=None, batch=told.ref)] if told.boxes else [Left(batch=told.ref)]


def _those_that_were(told: Serving) -> bool:
    """'the 3 dumplings that were left': a phrase with no verb of its own names what was eaten, no stock."""
    if len(told.counts) != 1 or told.word(told.counts[0].start - 1) not in pack()["pointing"]:
        return False
    behind = [told.word(n) for n in range(told.counts[0].end, told.at[-1] + 1)]
    return any(a in pack()["relative"] and b in pack()["was_then"] for a, b in pairwise(behind))


def _closed(told: Serving) -> BatchRef | None:
    """The latest closed batch that a word of the question names."""
    lemmas = set(told.message.line.lemmas)
    over = [b for b in told.message.around.closed if lemmas_of(b.name) and lemmas_of(b.name)[-1] in lemmas]
    return BatchRef(number=max(b.number for b in over)) if over else None


def _only_kitchen_words(told: Serving) -> bool:
    asked = {
        n for start, end in told.places("how_much", "a_box", "has_eaten", "still_there") for n in range(start, end)
    }
    words = [c.text.lower() for c in told.message.chunks if c.kind == "word" and c.start not in asked]
    asking = pack()["how_much_left"].words
    return all(told.message.words.knows(word) or of_kitchens(word) or word in asking for word in words)
