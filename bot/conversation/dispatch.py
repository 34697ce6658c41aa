"""Calls the handler of each meaning and carries out what it returns."""

from __future__ import annotations

from dataclasses import replace
from typing import assert_never

from bot.conversation import welcome
from bot.conversation.batches import answering, boxing, changing, cooking, elsewhere, opening, remaining, taking
from bot.conversation.coaching.matters import of_coaching
from bot.conversation.days import asked, body_weight, listings, means, sheets
from bot.conversation.exchange import Exchange
from bot.conversation.kitchen import sharing
from bot.conversation.outcomes import Ask, Outcome, Refuse, Then
from bot.conversation.privacy import rights
from bot.conversation.questions import answers
from bot.conversation.records import fixes, own_words, recording, repeating, told_later, undoing, unrecorded, what_if
from bot.conversation.settings import about_self, aiming, belongings, preferences, reminders, targets, words
from bot.language import answer_meanings as am
from bot.language import asked as a
from bot.language import batch_meanings as b
from bot.language import fact_meanings as f
from bot.language import fix_meanings as fix
from bot.language import kitchen as k
from bot.language import meanings as m
from bot.language import portion_meanings as p
from bot.language import setting_meanings as s
from bot.language import told as t
from bot.language import usual as u


def handle(meaning: m.Meaning, ex: Exchange) -> None:
    """Handles a meaning and all that follows from it; the exchange collects replies, events and questions."""
    conclude(_outcome(meaning, ex), ex)


def conclude(outcome: Outcome, ex: Exchange) -> None:
    """Carries out what a handler returned."""
    match outcome:
        case t.Item() as item:
            recording.record(item, ex)
        case Ask() as ask:
            ex.ask(ask)
        case Refuse() as refusal:
            ex.refuse(refusal)
        case Then(meanings=following):
            for each in following:
                handle(each, ex)


def _outcome(meaning: m.Meaning, ex: Exchange) -> Outcome:  # noqa: C901  one case for each meaning
    if isinstance(meaning, (b.BatchMatter, p.PortionMatter)):
        return _of_batch(meaning, ex)
    if isinstance(meaning, a.Asked):
        return _asked(meaning, ex)
    if isinstance(meaning, k.KitchenMatter):
        return _of_kitchen(meaning, ex)
    match meaning:
        case t.Item():
            return own_words.meant(meaning, ex)
        case fix.Undo():
            return undoing.undo(meaning, ex)
        case fix.Delete():
            return fixes.delete(meaning, ex)
        case fix.DeleteSeveral():
            return fixes.delete_several(meaning, ex)
        case fix.Change():
            return fixes.change(meaning, ex)
        case u.Repeat():
            return repeating.repeat(meaning, ex)
        case u.MeansBy():
            return words.means_by(meaning, ex)
        case u.Combination():
            return words.combination(meaning, ex)
        case u.VesselHolds():
            return words.vessel_holds(meaning, ex)
        case u.Memory():
            words.everything(ex)
        case u.ForgetWord():
            return words.forget(meaning, ex)
        case fix.Waste():
            return told_later.waste(meaning, ex)
        case fix.Again():
            return fixes.again(meaning, ex)
        case fix.OnTheScale():
            return told_later.on_the_scale(meaning, ex)
        case f.SaveTare():
            return belongings.save_tare(meaning, ex)
        case f.SaveMeasure():
            return belongings.save_measure(meaning, ex)
        case f.SaveLabel():
            return belongings.save_label(meaning, ex)
        case f.SaveHabit():
            return belongings.save_habit(meaning, ex)
        case f.BodyWeight():
            return body_weight.save_body_weight(meaning, ex)
        case f.SetTarget():
            return targets.set_target(meaning, ex)
        case f.DayKind():
            return aiming.day_kind(meaning, ex)
        case f.AboutSelf():
            return about_self.heard(meaning, ex)
        case f.ComputeTarget():
            return targets.compute(meaning, ex)
        case s.SetReminder():
            return reminders.set_reminder(meaning, ex)
        case s.AskReminderTime():
            return reminders.ask_reminder_time(meaning, ex)
        case s.SetSetting():
            return preferences.set_setting(meaning, ex)
        case s.Export():
            rights.export(meaning, ex)
        case s.Privacy():
            return rights.privacy(meaning, ex)
        case s.Erase():
            return rights.erase(meaning, ex)
        case s.Snooze():
            return reminders.snooze(meaning, ex)
        case s.LocalTime():
            return preferences.local_time(meaning, ex)
        case m.Help():
            welcome.helping(meaning, ex)
        case m.Bare():
            return unrecorded.bare(meaning, ex)
        case m.Answer():
            unrecorded.unasked_answer(meaning, ex)
        case m.NotMine():
            unrecorded.not_mine(meaning, ex)
        case m.LeftOut():
            unrecorded.left_out(meaning, ex)
        case m.Chatter():
            unrecorded.chat(meaning, ex)
        case m.Unclear():
            unrecorded.unclear(meaning, ex)
        case am.Choice():
            return answers.chosen(meaning, ex)
        case am.Filled():
            return answers.filled(meaning, ex)
        case am.WhichQuestion():
            return answers.which(meaning, ex)
        case _:
            outcome = of_coaching(meaning, ex)
            # Matters between a coach and a client are no records, so the reply does not say that none was made.
            return replace(outcome, says_so=True) if isinstance(outcome, Refuse) else outcome
    return None


def _of_batch(meaning: b.BatchMatter | p.PortionMatter, ex: Exchange) -> Outcome:  # noqa: C901  one case for each meaning
    match meaning:
        case b.OpenBatch():
            return opening.open_batch(meaning, ex)
        case b.CookBatch():
            return cooking.cook(meaning, ex)
        case b.PourOff():
            return cooking.pour_off(meaning, ex)
        case b.CloseBatch():
            return remaining.close(meaning, ex)
        case b.Left():
            return remaining.left(meaning, ex)
        case b.AddIngredients():
            return changing.add(meaning, ex)
        case b.PutElsewhere():
            return elsewhere.put(meaning, ex)
        case b.CorrectIngredient():
            return changing.correct(meaning, ex)
        case b.RemoveIngredient():
            return changing.remove(meaning, ex)
        case b.SwapIngredient():
            return changing.swap(meaning, ex)
        case b.TakeOutRefuse():
            return changing.take_refuse_out(meaning, ex)
        case b.RenameBatch():
            return changing.rename(meaning, ex)
        case p.SplitBatch():
            return boxing.split(meaning, ex)
        case p.ReduceBatch():
            return taking.reduce(meaning, ex)
        case p.CountPieces():
            return boxing.count_pieces(meaning, ex)
        case p.BoxUp():
            return boxing.box_up(meaning, ex)
        case p.MoveBoxes():
            return boxing.move(meaning, ex)
        case p.TakeBoxes():
            return taking.take_boxes(meaning, ex)
        case p.TakePieces():
            return taking.take_pieces(meaning, ex)
        case p.TakeShare():
            return taking.take_share(meaning, ex)
        case p.GiveAway():
            return taking.give_away(meaning, ex)
        case p.GiveBack():
            return taking.given_back(meaning, ex)
        case b.CookAgain():
            return opening.cook_again(meaning, ex)
        case b.Recipes():
            answering.recipes(ex)
        case b.Contents():
            return answering.contents(meaning, ex)
        case p.Stored():
            return answering.stored(meaning, ex)
        case p.StillGood():
            return answering.still_good(meaning, ex)
        case _:
            assert_never(meaning)
    return None


def _asked(meaning: a.Asked, ex: Exchange) -> Outcome:  # noqa: C901  one case for each meaning
    match meaning:
        case a.Sheet():
            sheets.show(meaning, ex)
        case a.Trend():
            body_weight.show(meaning, ex)
        case a.Precision():
            sheets.precision(meaning, ex)
        case a.WhatIf():
            return what_if.what_if(meaning, ex)
        case a.Listing():
            listings.listing(meaning, ex)
        case a.Remaining():
            asked.remaining(meaning, ex)
        case a.TotalOf():
            asked.total_of_nutrient(meaning, ex)
        case a.MeanOf():
            means.mean_of(meaning, ex)
        case a.DaysMet():
            means.days_met(meaning, ex)
        case a.Highest():
            asked.highest(meaning, ex)
        case a.Eaten():
            asked.eaten(meaning, ex)
        case a.WhoAte():
            return asked.who_ate(meaning, ex)
        case a.AmountFor():
            what_if.amount_for(meaning, ex)
        case a.Per100():
            what_if.per_100(meaning, ex)
        case a.Keeping():
            asked.keeping(meaning, ex)
        case a.OpenQuestions():
            answers.open_questions(meaning, ex)
        case a.DayDone():
            reminders.day_done(meaning, ex)
        case a.Skip():
            answers.skip(meaning, ex)
        case _:
            assert_never(meaning)
    return None


def _of_kitchen(meaning: k.KitchenMatter, ex: Exchange) -> Outcome:
    match meaning:
        case k.WhoseKitchen():
            sharing.whose(meaning, ex)
        case k.AskInvitation():
            return sharing.ask_invitation(meaning)
        case k.InviteToKitchen():
            sharing.invite(meaning, ex)
        case k.UseCode():
            return welcome.use_code(meaning, ex)
        case k.Invited():
            return welcome.invited(meaning, ex)
        case k.JoinKitchen():
            return sharing.join(meaning, ex)
        case k.LeaveKitchen():
            return sharing.leave(meaning, ex)
        case k.OpenRoom():
            return sharing.open_room(meaning, ex)
        case k.CloseRoom():
            sharing.close_room(meaning, ex)
        case k.GoOnWith():
            return sharing.go_on(meaning, ex)
        case _:
            assert_never(meaning)
    return None
