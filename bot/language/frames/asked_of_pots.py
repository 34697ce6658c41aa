"""Frames for questions about a batch in any words: its age, what is in it, what is left, what a part would hold."""

from __future__ import annotations

from bot.language.asked import Keeping, Remaining, WhatIf
from bot.language.batch_meanings import Contents, Left
from bot.language.chunks import Chunk
from bot.language.figures import KCAL
from bot.language.frames.serving import Serving, seen
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.nutrients_named import named_nutrients
from bot.language.pack import pack
from bot.language.portion_meanings import StillGood
from bot.language.recalling import named_by
from bot.language.scene import Scene
from bot.language.told import BatchRef

MOST_ASKED = 8
"""Chunks of a question that names nothing."""


def asked_of_a_pot(scene: Scene) -> list[Meaning] | None:
    """'how many days old is that stew', 'lasagne squares still in the dish?', 'what is the soup down to?'.

    A question about one batch that names no number, food or nutrient is about its age, what is in it or what is left.
    """
    told = seen(scene.message)
    batch = told.known(told.ref) if told.ref is not None else None
    if told.ref is None or batch is None or not _asks(told) or _about_more(told):
        return None
    if scene.cue("its_age"):
        return [StillGood(batch=told.ref)] if batch.cooked else None
    if not batch.cooked or scene.cue("asks_contents", "what_it_is_made_of"):
        return [Contents(batch=told.ref)] if scene.cue("asks_contents", "what_it_is_made_of", "inside_it") else None
    return [Left(batch=told.ref)] if scene.cue("stock_asked", "still_there", "how_much") else None


def may_still_be_eaten(scene: Scene) -> list[Meaning] | None:
    """'is the ragu still ok to eat on Friday', 'will that soup keep', "I'm on day 4 of the dal, is it still ok?"."""
    if not scene.cue("edible_asked") or any(not _counts_days(scene, c) for c in scene.amounts):
        return None
    told = seen(scene.message)
    batch = told.known(told.ref) if told.ref is not None else None
    asks = _asks(told) or _begins_with_a_verb(scene)
    if not scene.named:
        counted = bool(scene.amounts) and len(scene.foods) == 1 and asks
        return [Keeping(name=named_by(scene.message, scene.foods[0]))] if counted else None
    if scene.foods:
        return None
    return [StillGood(batch=told.ref)] if told.ref is not None and batch and batch.cooked and asks else None


def _counts_days(scene: Scene, chunk: Chunk) -> bool:
    """Whether a number says which day it is since something was cooked: 'on day 4', '4 days in'."""
    line = scene.message.line.plain
    beside = [line[n] for n in (chunk.start - 1, chunk.end) if 0 <= n < len(line)]
    return chunk.amount is not None and chunk.amount.kind == "bare" and any(w in pack()["days_counted"] for w in beside)


def left_of_both(scene: Scene) -> list[Meaning] | None:
    """'how much is left?' right after a portion: of the batch, and of the day."""
    message = scene.message
    if not scene.cue("how_much_left") or len(message.chunks) > MOST_ASKED or scene.named or scene.foods:
        return None
    last = [b for b in message.around.batches if b.focus and b.spoken]
    if len(last) != 1 or not _asks(seen(message)):
        return None
    if scene.cue("i_or_we", "the_day", "cold_places", "the_pot", "asks_of_some"):
        return None
    if message.amounts or message.of("energy", "macro", "moment") or named_nutrients(message):
        return None
    return [Left(batch=BatchRef(candidates=(last[0].number,))), Remaining(nutrient=KCAL)]


def supposed(scene: Scene) -> list[Meaning] | None:
    """'if I took 300 g of the mince, what's the protein': figures of food that nobody has eaten."""
    message = scene.message
    supposes = scene.cue("condition", "supposing", "let_us_say") or _begins_supposing(message)
    if not supposes or not scene.cue("asks_for_figures", "asks_first") or not scene.amounts:
        return None
    told = [each for each in items(message) if each.amount is not None and (each.name is not None or each.batch)]
    if len(told) != 1 or (told[0].name is not None and told[0].name.unknown):
        return None
    return [WhatIf(items=tuple(told), text=message.text)]


def _begins_supposing(message: Message) -> bool:
    """'say I take 200 g …', 'suppose we had …'."""
    said = [word for word in message.wording if word not in pack()["before_question"]]
    at = pack()["if_it_were"].end(said, 0)
    return at is not None and pack()["asking_subject"].end(said, at) is not None


def _begins_with_a_verb(scene: Scene) -> bool:
    """'will the ragu be ok till Thursday': a question by its order of words alone."""
    said = [word for word in scene.said if word not in pack()["before_question"]]
    return bool(said) and said[0] in pack()["asks_with_a_verb"]


def _asks(told: Serving) -> bool:
    """Whether it is a question, also one with its question word further behind: 'and dal, what are we down to'."""
    if told.message.asks or "?" in told.message.said or told.cue("asks_inverted"):
        return True
    begins = pack()["question_word"].end(told.message.line.plain, told.at[0]) is not None
    if begins and told.person is None and not told.cue("came_to_grief", "went_away"):
        return True
    others = told.message.has_any(told.message.words.people) or told.cue("more_people")
    if others or told.cue("came_to_grief", "gave_it", "eating_it"):
        return False
    return told.cue("asking_form", "tell_me", "question_word") and not told.cue("the_rest_itself")


def _about_more(told: Serving) -> bool:
    """Whether it is about what was or will be eaten, or about figures; a number makes it about an amount."""
    scene, message = told.scene, told.message
    if scene.foods or told.numbers or message.of("energy", "macro", "hash", "price") or message.when.future:
        return True
    return scene.cue("asks_for_figures", "figures_word", "did_i_eat", "should_i", "condition", "how_to", "who_had")
