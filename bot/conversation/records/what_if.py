"""Questions about food and its figures: answered, never recorded."""

from __future__ import annotations

from dataclasses import replace

from bot import events
from bot.conversation import saying
from bot.conversation.batches.portions import judge_portion
from bot.conversation.days.cautions import KEEPING
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Refuse
from bot.conversation.questions.choosing import asks_whether
from bot.conversation.records.judging import Judged, judge
from bot.kinds import About, Topic
from bot.language.meanings import Amount, Item, WhatIf

MOST_ANSWERS = 4
"""Lines of figures that answer one question."""


BASIS = (
    "Raw or cooked, dry or boiled: both work, as long as the figures are for the same state and you keep to one. "
    "Raw or dry is steadier, since the water that food takes up or loses differs from pot to pot."
)


def what_if(meaning: WhatIf, ex: Exchange) -> None:
    """The figures for what was asked about; nothing is recorded."""
    if meaning.topic:
        ex.note(events.Answered(about=Topic(meaning.topic)))
        ex.say(KEEPING if meaning.topic == "keeping" else BASIS)
        return
    ex.note(events.Answered(about=Topic.WHAT_IF))
    answers = [a for item in meaning.items for a in _figures(item, ex)]
    for answer in answers:
        ex.say(answer)
    if asks_whether(meaning):
        ex.say("Whether to eat it is yours to decide; these are its figures.")
    if not answers:
        ex.say("I can give the figures of a food: ask, for example, how much is 200 g dry rice?")
    ex.say("Nothing was recorded.")


def _figures(item: Item, ex: Exchange) -> list[str]:
    item = replace(item, shared=False, when=replace(item.when, future=False), state_may_be_verb=False)
    if item.amount is None:
        item = replace(item, amount=Amount(kind="mass", value=100, unit="g", grams=100, text="100 g"))
    if item.batch is not None and item.batch.sure:
        portion = judge_portion(item, ex)
        if isinstance(portion, tuple):
            return [_line(portion[1])]
        return [portion.text]
    item = replace(item, batch=None)
    judged = judge(item, ex, by_habit=False)
    if isinstance(judged, Judged):
        return [_line(judged)]
    if isinstance(judged, Refuse):
        return [judged.text]
    return _each_state(item, judged, ex)


def _each_state(item: Item, asked: Ask, ex: Exchange) -> list[str]:
    """When the state was not said: the figures for each; for any other doubt, for the first choices."""
    lines: list[str] = []
    for choice in asked.choices[:3]:
        if isinstance(choice.meaning, Item):
            judged = judge(choice.meaning, ex)
            if isinstance(judged, Ask) and judged.about == About.STATE and asked.about != About.STATE:
                lines.extend(_each_state(choice.meaning, judged, ex))
            elif isinstance(judged, Judged) and judged.weigh_in.nutrients is not None:
                lines.append(_line(judged))
    return lines[:MOST_ANSWERS] or [asked.text]


def _line(judged: Judged) -> str:
    nutrients = judged.weigh_in.nutrients
    figures = f": {saying.figures(nutrients)}" if nutrients is not None else ""
    return f"{judged.name[:1].upper()}{judged.name[1:]}, {judged.told}{figures}."
