"""Each meaning to the topic that knows what to do with it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from bot.conversation import (
    asking,
    batchwork,
    coaching,
    digest,
    fixes,
    guiding,
    inviting,
    keeping,
    kitchens,
    notes,
    owning,
    personal,
    recording,
    roster,
    settings,
    sheets,
    targeting,
    trends,
)
from bot.conversation.asks import Ask, Refuse
from bot.conversation.exchange import Exchange
from bot.language import guided as g
from bot.language import kitchen as k
from bot.language import meanings as m


def handle(meaning: m.Meaning, ex: Exchange) -> None:
    """Records, asks, refuses or answers; whatever it is, it ends up in the exchange."""
    result = _result(meaning, ex)
    if isinstance(result, m.Item):
        recording.record(result, ex)
    elif isinstance(result, Ask):
        ex.ask(result)
    elif isinstance(result, Refuse):
        ex.refuse(result, of_a_record=not isinstance(meaning, m.Guided))


def _result(meaning: m.Meaning, ex: Exchange) -> m.Item | Ask | Refuse | None:
    if isinstance(meaning, m.Item):
        return meaning
    topic: Topic = TOPICS[type(meaning)]
    return topic(meaning, ex)


Topic = Callable[[Any, Exchange], m.Item | Ask | Refuse | None]
"""What to do with one kind of meaning: it records or answers, or gives back what has to be judged, asked or refused."""

TOPICS: dict[type, Topic] = {
    m.OpenBatch: batchwork.open_batch,
    m.CookBatch: batchwork.cook,
    m.PourOff: batchwork.pour_off,
    m.SplitBatch: batchwork.split,
    m.ReduceBatch: batchwork.reduce,
    m.CloseBatch: batchwork.close,
    m.Left: batchwork.left,
    m.Undo: fixes.undo,
    m.Delete: fixes.delete,
    m.Change: fixes.change,
    m.Waste: fixes.waste,
    m.Again: fixes.again,
    m.SaveTare: keeping.save_tare,
    m.SaveMeasure: keeping.save_measure,
    m.SaveLabel: keeping.save_label,
    m.SaveHabit: keeping.save_habit,
    m.BodyWeight: personal.save_body_weight,
    m.SetTarget: targeting.set_target,
    m.ComputeTarget: targeting.compute,
    m.SetReminder: settings.set_reminder,
    m.AskReminderTime: settings.ask_reminder_time,
    m.SetSetting: settings.set_setting,
    m.Export: owning.export,
    m.Privacy: owning.privacy,
    m.Erase: owning.erase,
    m.Snooze: settings.snooze,
    m.LocalTime: settings.local_time,
    m.Sheet: sheets.show,
    m.Trend: trends.show,
    m.WhatIf: asking.what_if,
    m.Listing: asking.listing,
    m.Help: asking.helping,
    m.Bare: asking.bare,
    m.Answer: asking.unasked_answer,
    m.NotMine: asking.not_mine,
    m.Chatter: asking.chat,
    m.Unclear: asking.unclear,
    g.Invite: coaching.invite,
    g.Consent: coaching.consent,
    g.EndCoaching: coaching.end,
    g.Ended: coaching.ended,
    g.WhoSees: coaching.who_sees,
    g.Roster: roster.show,
    g.HowIs: roster.how_is,
    g.ClientSheet: roster.client_sheet,
    g.ShowDigest: digest.show,
    g.TargetFor: guiding.target_for,
    g.TargetFrom: guiding.target_from,
    g.Object: guiding.object_to_target,
    g.Share: guiding.share,
    g.LabelFrom: guiding.label_from,
    g.MeasureFrom: guiding.measure_from,
    g.Tell: notes.tell,
    g.NoteFrom: notes.note_from,
    g.ReplyTo: notes.reply_to,
    g.AskReweigh: notes.ask_reweigh,
    g.Reweigh: notes.reweigh,
    k.WhoseKitchen: kitchens.whose,
    k.InviteToKitchen: kitchens.invite,
    k.UseCode: inviting.use_code,
    k.Invited: inviting.invited,
    k.JoinKitchen: kitchens.join,
    k.LeaveKitchen: kitchens.leave,
    k.OpenRoom: kitchens.open_room,
    k.CloseRoom: kitchens.close_room,
    k.GoOnWith: kitchens.go_on,
}
