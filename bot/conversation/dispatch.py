"""Each meaning to the topic that knows what to do with it."""

from __future__ import annotations

from bot.conversation import (
    asking,
    batchwork,
    fixes,
    keeping,
    personal,
    portions,
    settings,
    sheets,
    targeting,
    trends,
    weighing,
)
from bot.conversation.asks import Ask, Refuse
from bot.conversation.exchange import Exchange
from bot.language import meanings as m


def handle(meaning: m.Meaning, ex: Exchange) -> None:
    """Records, asks, refuses or answers; whatever it is, it ends up in the exchange."""
    result = _result(meaning, ex)
    if isinstance(result, m.Item):
        _item(result, ex)
    elif isinstance(result, Ask):
        ex.ask(result)
    elif isinstance(result, Refuse):
        ex.refuse(result)


def _item(item: m.Item, ex: Exchange) -> None:
    if item.batch is not None:
        portion = portions.judge_portion(item, ex)
        if isinstance(portion, tuple):
            portions.record_portion(item, *portion, ex)
        elif isinstance(portion, Ask):
            ex.ask(portion)
        else:
            ex.refuse(portion)
        return
    judged = weighing.judge(item, ex)
    if isinstance(judged, Ask):
        ex.ask(judged)
    elif isinstance(judged, Refuse):
        ex.refuse(judged)
    else:
        weighing.record(item, judged, ex)


def _result(meaning: m.Meaning, ex: Exchange) -> m.Item | Ask | Refuse | None:
    match meaning:
        case m.Item():
            return meaning
        case m.OpenBatch():
            return batchwork.open_batch(meaning, ex)
        case m.CookBatch():
            return batchwork.cook(meaning, ex)
        case m.PourOff():
            return batchwork.pour_off(meaning, ex)
        case m.SplitBatch():
            return batchwork.split(meaning, ex)
        case m.ReduceBatch():
            return batchwork.reduce(meaning, ex)
        case m.CloseBatch():
            return batchwork.close(meaning, ex)
        case m.Left():
            return batchwork.left(meaning, ex)
        case m.Undo():
            return fixes.undo(meaning, ex)
        case m.Delete():
            return fixes.delete(meaning, ex)
        case m.Change():
            return fixes.change(meaning, ex)
        case m.Waste():
            return fixes.waste(meaning, ex)
        case m.Again():
            return fixes.again(meaning, ex)
        case _:
            return _kept_or_asked(meaning, ex)


def _kept_or_asked(meaning: m.Meaning, ex: Exchange) -> Ask | Refuse | None:
    match meaning:
        case m.SaveTare():
            return keeping.save_tare(meaning, ex)
        case m.SaveMeasure():
            return keeping.save_measure(meaning, ex)
        case m.SaveLabel():
            return keeping.save_label(meaning, ex)
        case m.SaveHabit():
            return keeping.save_habit(meaning, ex)
        case m.BodyWeight():
            return personal.save_body_weight(meaning, ex)
        case m.SetTarget():
            return targeting.set_target(meaning, ex)
        case m.ComputeTarget():
            return targeting.compute(meaning, ex)
        case m.SetReminder():
            return settings.set_reminder(meaning, ex)
        case m.AskReminderTime():
            return settings.ask_reminder_time(meaning, ex)
        case m.SetSetting():
            return settings.set_setting(meaning, ex)
        case m.Snooze():
            return settings.snooze(meaning, ex)
        case m.LocalTime():
            return settings.local_time(meaning, ex)
        case m.Bare():
            return asking.bare(meaning, ex)
        case m.Sheet():
            sheets.show(meaning, ex)
        case m.WhatIf():
            asking.what_if(meaning, ex)
        case m.Trend():
            trends.show(meaning, ex)
        case m.Listing():
            asking.listing(meaning, ex)
        case m.Help():
            asking.helping(meaning, ex)
        case m.NotMine():
            asking.not_mine(meaning, ex)
        case m.Chatter():
            asking.chat(meaning, ex)
        case m.Unclear():
            asking.unclear(meaning, ex)
        case m.Answer():
            ex.say("Nothing is waiting for that answer. Tell me a food with its weight, for example: 180 g cooked rice")
    return None
