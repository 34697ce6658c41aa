"""Calls the handler of each meaning and carries out what it returns."""

from __future__ import annotations

from dataclasses import replace
from typing import assert_never

from bot.conversation import welcome
from bot.conversation.batches import answering, boxing, changing, cooking, opening, remaining, taking
from bot.conversation.coaching.matters import of_coaching
from bot.conversation.days import asked, body_weight, listings, sheets
from bot.conversation.exchange import Exchange
from bot.conversation.kitchen import sharing
from bot.conversation.outcomes import Ask, Outcome, Refuse, Then
from bot.conversation.privacy import rights
from bot.conversation.questions import answers
from bot.conversation.records import fixes, own_words, recording, repeating, undoing, unrecorded, what_if
from bot.conversation.settings import about_self, aiming, belongings, preferences, reminders, targets, words
from bot.language import answer_meanings as am
from bot.language import asked as a
from bot.language import batch_meanings as b
from bot.language import kitchen as k
from bot.language import meanings as m
from bot.language import usual as u


def handle(meaning: m.Meaning, ex: Exchange) -> None:
    """Handles a meaning and all that follows from it; the exchange collects replies, events and questions."""
    conclude(_outcome(meaning, ex), ex)


def conclude(outcome: Outcome, ex: Exchange) -> None:
    """Carries out what a handler returned."""
    match outcome:
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
            return own_words.meant(meaning, ex)
        case m.OpenBatch():
            return opening.open_batch(meaning, ex)
        case m.CookBatch():
            return cooking.cook(meaning, ex)
        case m.PourOff():
            return cooking.pour_off(meaning, ex)
        case m.SplitBatch():
            return boxing.split(meaning, ex)
        case m.ReduceBatch():
            return taking.reduce(meaning, ex)
        case m.CloseBatch():
            return remaining.close(meaning, ex)
        case m.Left():
            return remaining.left(meaning, ex)
        case m.Undo():
            return undoing.undo(meaning, ex)
        case m.Delete():
            return fixes.delete(meaning, ex)
        case m.DeleteSeveral():
            return fixes.delete_several(meaning, ex)
        case m.Change():
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
        case m.Waste():
            return fixes.waste(meaning, ex)
        case m.Again():
            return fixes.again(meaning, ex)
        case m.OnTheScale():
            return fixes.on_the_scale(meaning, ex)
        case m.SaveTare():
            return belongings.save_tare(meaning, ex)
        case m.SaveMeasure():
            return belongings.save_measure(meaning, ex)
        case m.SaveLabel():
            return belongings.save_label(meaning, ex)
        case m.SaveHabit():
            return belongings.save_habit(meaning, ex)
        case m.BodyWeight():
            return body_weight.save_body_weight(meaning, ex)
        case m.SetTarget():
            return targets.set_target(meaning, ex)
        case m.DayKind():
            return aiming.day_kind(meaning, ex)
        case m.AboutSelf():
            return about_self.heard(meaning, ex)
        case m.ComputeTarget():
            return targets.compute(meaning, ex)
        case m.SetReminder():
            return reminders.set_reminder(meaning, ex)
        case m.AskReminderTime():
            return reminders.ask_reminder_time(meaning, ex)
        case m.SetSetting():
            return preferences.set_setting(meaning, ex)
        case m.Export():
            rights.export(meaning, ex)
        case m.Privacy():
            return rights.privacy(meaning, ex)
        case m.Erase():
            return rights.erase(meaning, ex)
        case m.Snooze():
            return reminders.snooze(meaning, ex)
        case m.LocalTime():
            return preferences.local_time(meaning, ex)
        case m.Sheet():
            sheets.show(meaning, ex)
        case m.Trend():
            body_weight.show(meaning, ex)
        case m.WhatIf():
            return what_if.what_if(meaning, ex)
        case m.Listing():
            listings.listing(meaning, ex)
        case m.Help():
            welcome.helping(meaning, ex)
        case m.Bare():
            return unrecorded.bare(meaning, ex)
        case m.Answer():
            unrecorded.unasked_answer(meaning, ex)
        case m.NotMine():
            unrecorded.not_mine(meaning, ex)
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
        case (
            a.Remaining()
            | a.TotalOf()
            | a.Eaten()
            | a.AmountFor()
            | a.Per100()
            | a.Keeping()
            | a.OpenQuestions()
            | a.Skip()
        ):
            return _asked(meaning, ex)
        case (
            b.AddIngredients()
            | b.CorrectIngredient()
            | b.RemoveIngredient()
            | b.SwapIngredient()
            | b.TakeOutRefuse()
            | b.CountPieces()
            | b.BoxUp()
            | b.MoveBoxes()
            | b.TakeBoxes()
            | b.TakePieces()
            | b.TakeShare()
            | b.GiveAway()
            | b.RenameBatch()
            | b.CookAgain()
            | b.Recipes()
            | b.Contents()
            | b.Stored()
            | b.StillGood()
        ):
            return _of_batch(meaning, ex)
        case _:
            outcome = of_coaching(meaning, ex)
            # Matters between a coach and a client are no records, so the reply does not say that none was made.
            return replace(outcome, says_so=True) if isinstance(outcome, Refuse) else outcome
    return None


def _of_batch(meaning: b.BatchMatter, ex: Exchange) -> Outcome:  # noqa: C901  one case for each meaning
    match meaning:
        case b.AddIngredients():
            return changing.add(meaning, ex)
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
        case b.CountPieces():
            return boxing.count_pieces(meaning, ex)
        case b.BoxUp():
            return boxing.box_up(meaning, ex)
        case b.MoveBoxes():
            return boxing.move(meaning, ex)
        case b.TakeBoxes():
            return taking.take_boxes(meaning, ex)
        case b.TakePieces():
            return taking.take_pieces(meaning, ex)
        case b.TakeShare():
            return taking.take_share(meaning, ex)
        case b.GiveAway():
            return taking.give_away(meaning, ex)
        case b.CookAgain():
            return opening.cook_again(meaning, ex)
        case b.Recipes():
            answering.recipes(ex)
        case b.Contents():
            return answering.contents(meaning, ex)
        case b.Stored():
            return answering.stored(meaning, ex)
        case b.StillGood():
            return answering.still_good(meaning, ex)
        case _:
            assert_never(meaning)
    return None


def _asked(meaning: a.Asked, ex: Exchange) -> Outcome:
    match meaning:
        case a.Remaining():
            asked.remaining(meaning, ex)
        case a.TotalOf():
            asked.total_of_nutrient(meaning, ex)
        case a.Eaten():
            asked.eaten(meaning, ex)
        case a.AmountFor():
            what_if.amount_for(meaning, ex)
        case a.Per100():
            what_if.per_100(meaning, ex)
        case a.Keeping():
            asked.keeping(meaning, ex)
        case a.OpenQuestions():
            answers.open_questions(meaning, ex)
        case a.Skip():
            answers.skip(meaning, ex)
        case _:
            assert_never(meaning)
    return None


def _of_kitchen(meaning: k.KitchenMatter, ex: Exchange) -> Outcome:
    match meaning:
        case k.WhoseKitchen():
            sharing.whose(meaning, ex)
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
