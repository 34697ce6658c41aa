"""Questions about food and its figures: answered, never recorded."""

from __future__ import annotations

from dataclasses import replace

from bot import events
from bot.conversation import saying
from bot.conversation.batches.portions import judge_portion
from bot.conversation.batches.remaining import say_contents
from bot.conversation.days.cautions import KEEPING
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Refuse, Then
from bot.conversation.questions.sought import OfBatch, PortionFor, asks_whether, sought
from bot.conversation.records import own_words
from bot.conversation.records.judging import Judged, judge
from bot.conversation.records.measuring import mass
from bot.kinds import About, Confirmed, Topic
from bot.language.asked import AmountFor, Per100, WhatIf
from bot.language.batch_meanings import Left
from bot.language.told import BatchRef, Item
from bot.store import batches

PER_G = 100.0
"""Grams that figures are given for when no amount is named."""
MOST_ANSWERS = 4
"""Most lines of figures in one answer."""


BASIS = (
    "Raw or cooked, dry or boiled: both work, as long as the figures are for the same state and you keep to one of them. "
    "Raw or dry is more consistent, because the water that food takes up or loses differs from pot to pot."
)


def what_if(meaning: WhatIf, ex: Exchange) -> Then | None:
    """Answers a question about a food or a batch; nothing is recorded."""
    if meaning.topic:
        ex.note(events.Answered(about=Topic(meaning.topic)))
        ex.say(KEEPING if meaning.topic == "keeping" else BASIS)
        return None
    wanted = sought(meaning)
    batch = next((item.batch for item in meaning.items if item.batch is not None), None)
    if wanted is OfBatch.LEFT and meaning.items:
        return Then((Left(batch=batch or _no_batch(meaning.items[0])),))
    if wanted is OfBatch.CONTENTS and batch is not None:
        say_contents(batch, ex)
        return None
    ex.note(events.Answered(about=Topic.WHAT_IF))
    for item in (each for told in meaning.items for each in own_words.spelt_out(told, ex)):
        _say_figures(item, wanted if isinstance(wanted, PortionFor) else None, ex)
    if asks_whether(meaning):
        ex.say("Whether to eat it is up to you; these are its figures.")
    if not meaning.items:
        ex.say("I can give the figures of a food: ask, for example, how much is 200 g dry rice?")
    ex.say("Nothing was recorded.")
    return None


def amount_for(meaning: AmountFor, ex: Exchange) -> None:
    """Answers how much of a food or a batch holds so much of a nutrient."""
    ex.note(events.Answered(about=Topic.WHAT_IF))
    portion = PortionFor(meaning.nutrient, meaning.value, _word(meaning.nutrient))
    _say_figures(Item(text="", name=meaning.name, batch=meaning.batch), portion, ex)


def per_100(meaning: Per100, ex: Exchange) -> None:
    """Answers what 100 g of a food or a batch hold."""
    ex.note(events.Answered(about=Topic.WHAT_IF))
    batch = None if meaning.batch is None else replace(meaning.batch, sure=True)
    found = _judged(Item(text="", name=meaning.name, batch=batch), ex)
    if isinstance(found, str):
        ex.say(found)
        return
    for each in found:
        nutrients = each.weigh_in.nutrients
        held = None if nutrients is None else getattr(nutrients, meaning.nutrient, None)
        name = saying.first_up(each.name)
        if held is None:
            ex.say(f"I don't know how much {_word(meaning.nutrient)} {each.name} contains.")
        elif meaning.nutrient == "kcal":
            ex.say(f"{name}: {saying.kcal(held)} in 100 g.")
        else:
            ex.say(f"{name}: {saying.grams(held)} {_word(meaning.nutrient)} in 100 g.")


def _word(nutrient: str) -> str:
    return nutrient.removesuffix("_g").removesuffix("_mg").replace("_", " ")


def _no_batch(item: Item) -> BatchRef:
    """The food that was asked about, as the name of a batch that there is none of."""
    name = item.name
    return BatchRef(text="" if name is None else name.kinds or next(iter(name.foods), name.text))


def _say_figures(item: Item, portion: PortionFor | None, ex: Exchange) -> None:
    """Says the figures of an item, or how much of it holds the nutrient that is wanted."""
    if portion is None:
        found = _judged(item, ex)
    else:
        # A name that a batch and a food share means the batch, which the portion is to be taken from.
        batch = None if item.batch is None else replace(item.batch, sure=True)
        found = _judged(replace(item, batch=batch, amount=mass(PER_G)), ex)
    if isinstance(found, str):
        ex.say(found)
        return
    for each in found:
        ex.say(_line(each) if portion is None else _portion_line(each, portion, ex))


def _judged(item: Item, ex: Exchange) -> list[Judged] | str:
    """The item as it would be recorded, in each possible state; a text when it can't be."""
    amount = mass(PER_G) if item.amount is None else item.amount
    when = replace(item.when, future=False)
    item = replace(item, amount=amount, shared=False, when=when, state_may_be_verb=False)
    if item.batch is not None and item.batch.sure:
        portion = judge_portion(replace(item, confirmed=(*item.confirmed, Confirmed.OVER)), ex)
        if isinstance(portion, tuple):
            return [portion[1]]
        if isinstance(portion, Ask) and portion.about is About.COOKED_WEIGHT:
            return "It has no cooked weight yet, so there are no figures for a portion of it."
        return portion.text
    judged = judge(replace(item, batch=None), ex, by_habit=False)
    if isinstance(judged, Judged):
        return [judged]
    if isinstance(judged, Refuse):
        return judged.text
    return _each_state(judged, ex) or judged.text


def _each_state(asked: Ask, ex: Exchange) -> list[Judged]:
    """The item in each state when the state is open, or as each of the first choices."""
    found: list[Judged] = []
    for choice in asked.choices[:3]:
        if isinstance(choice.meaning, Item):
            judged = judge(choice.meaning, ex)
            if isinstance(judged, Ask) and judged.about is About.STATE and asked.about is not About.STATE:
                found.extend(_each_state(judged, ex))
            elif isinstance(judged, Judged) and judged.weigh_in.nutrients is not None:
                found.append(judged)
    return found[:MOST_ANSWERS]


def _portion_line(judged: Judged, portion: PortionFor, ex: Exchange) -> str:
    """'Batch 3 (chicken): 129 g contain 40 g protein, 213 kcal.', with what is left of it when that is less."""
    nutrients, name = judged.weigh_in.nutrients, saying.first_up(judged.name)
    held = getattr(nutrients, portion.nutrient, None) if nutrients is not None else None
    if nutrients is None or held is None:
        return f"I don't know how much {portion.words} {judged.name} contains."
    if held <= 0:
        return f"{name} contains no {portion.words}."
    parts = portion.amount / held
    grams = judged.weigh_in.as_weighed_g * parts
    wanted = f"{saying.grams(portion.amount)} {portion.words}, {saying.kcal(nutrients.kcal * parts)}"
    if portion.nutrient == "kcal":
        wanted = saying.kcal(portion.amount)
    number = judged.weigh_in.batch
    batch = None if number is None else batches.get(ex.books, number)
    short = f" Only {saying.grams(batch.left_g)} is left." if batch is not None and batch.left_g < grams else ""
    return f"{name}: {saying.grams(grams)} contain {wanted}.{short}"


def _line(judged: Judged) -> str:
    nutrients = judged.weigh_in.nutrients
    figures = f": {saying.figures(nutrients)}" if nutrients is not None else ""
    return f"{saying.first_up(judged.name)}, {judged.told}{figures}."
