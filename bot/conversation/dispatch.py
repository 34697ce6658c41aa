"""Each meaning goes to the function that handles it; what that leaves to do is done here."""

from __future__ import annotations

from dataclasses import replace
from typing import assert_never

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
from bot.conversation.asks import Ask, Outcome, Refuse, Then
from bot.conversation.exchange import Exchange
from bot.language import guided as g
from bot.language import kitchen as k
from bot.language import meanings as m


def handle(meaning: m.Meaning, ex: Exchange) -> None:
    """Records, asks, refuses or answers; the exchange collects what comes of it, and of what follows from it."""
    match _outcome(meaning, ex):
        case m.Item() as item:
            recording.record(item, ex)
        case Ask() as ask:
            ex.ask(ask)
        case Refuse() as refusal:
            ex.refuse(refusal)
        case Then(meanings=following):
            for each in following:
                handle(each, ex)


def _outcome(meaning: m.Meaning, ex: Exchange) -> Outcome:  # noqa: C901  one case for each meaning
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
        case m.Export():
            owning.export(meaning, ex)
        case m.Privacy():
            return owning.privacy(meaning, ex)
        case m.Erase():
            return owning.erase(meaning, ex)
        case m.Snooze():
            return settings.snooze(meaning, ex)
        case m.LocalTime():
            return settings.local_time(meaning, ex)
        case m.Sheet():
            sheets.show(meaning, ex)
        case m.Trend():
            trends.show(meaning, ex)
        case m.WhatIf():
            asking.what_if(meaning, ex)
        case m.Listing():
            asking.listing(meaning, ex)
        case m.Help():
            return asking.helping(meaning, ex)
        case m.Bare():
            return asking.bare(meaning, ex)
        case m.Answer():
            asking.unasked_answer(meaning, ex)
        case m.NotMine():
            asking.not_mine(meaning, ex)
        case m.Chatter():
            asking.chat(meaning, ex)
        case m.Unclear():
            asking.unclear(meaning, ex)
        case (
            k.WhoseKitchen()
            | k.InviteToKitchen()
            | k.UseCode()
            | k.Invited()
            | k.JoinKitchen()
            | k.LeaveKitchen()
            | k.OpenRoom()
            | k.CloseRoom()
            | k.GoOnWith()
        ):
            return _of_kitchen(meaning, ex)
        case _:
            outcome = _of_coaching(meaning, ex)
            # What passes between a coach and a client is no record, so nobody has to be told that there is none.
            return replace(outcome, says_so=True) if isinstance(outcome, Refuse) else outcome
    return None


def _of_kitchen(meaning: k.KitchenMatter, ex: Exchange) -> Outcome:
    match meaning:
        case k.WhoseKitchen():
            kitchens.whose(meaning, ex)
        case k.InviteToKitchen():
            kitchens.invite(meaning, ex)
        case k.UseCode():
            return inviting.use_code(meaning, ex)
        case k.Invited():
            return inviting.invited(meaning, ex)
        case k.JoinKitchen():
            return kitchens.join(meaning, ex)
        case k.LeaveKitchen():
            return kitchens.leave(meaning, ex)
        case k.OpenRoom():
            return kitchens.open_room(meaning, ex)
        case k.CloseRoom():
            kitchens.close_room(meaning, ex)
        case k.GoOnWith():
            return kitchens.go_on(meaning, ex)
        case _:
            assert_never(meaning)
    return None


def _of_coaching(meaning: g.Guided, ex: Exchange) -> Outcome:  # noqa: C901  one case for each meaning
    match meaning:
        case g.Invite():
            return coaching.invite(meaning, ex)
        case g.Consent():
            return coaching.consent(meaning, ex)
        case g.EndCoaching():
            return coaching.end(meaning, ex)
        case g.Ended():
            coaching.ended(meaning, ex)
        case g.WhoSees():
            coaching.who_sees(meaning, ex)
        case g.Roster():
            return roster.show(meaning, ex)
        case g.HowIs():
            return roster.how_is(meaning, ex)
        case g.ClientSheet():
            return roster.client_sheet(meaning, ex)
        case g.ShowDigest():
            digest.show(meaning, ex)
        case g.TargetFor():
            return guiding.target_for(meaning, ex)
        case g.TargetFrom():
            guiding.target_from(meaning, ex)
        case g.Object():
            return guiding.object_to_target(meaning, ex)
        case g.Share():
            return guiding.share(meaning, ex)
        case g.LabelFrom():
            return guiding.label_from(meaning, ex)
        case g.MeasureFrom():
            return guiding.measure_from(meaning, ex)
        case g.Tell():
            return notes.tell(meaning, ex)
        case g.NoteFrom():
            notes.note_from(meaning, ex)
        case g.ReplyTo():
            return notes.reply_to(meaning, ex)
        case g.AskReweigh():
            return notes.ask_reweigh(meaning, ex)
        case g.Reweigh():
            return notes.reweigh(meaning, ex)
        case _:
            assert_never(meaning)
    return None
