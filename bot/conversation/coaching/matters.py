"""Calls the handler of each meaning that is between a coach and a client."""

from __future__ import annotations

from typing import assert_never

from bot.conversation.coaching import (
    agreements,
    assignments,
    cover,
    digest,
    figures,
    history,
    notes,
    parts,
    pauses,
    remarks,
    roster,
    sharing,
    templates,
)
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Outcome
from bot.language import guided as g
from bot.language import practice as p


def of_coaching(meaning: g.Guided, ex: Exchange) -> Outcome:  # noqa: C901  one case for each meaning
    """Handles the meaning; returns what it leaves to do."""
    match meaning:
        case g.Invite():
            return agreements.invite(meaning, ex)
        case g.Consent():
            return agreements.consent(meaning, ex)
        case g.EndCoaching():
            return agreements.end(meaning, ex)
        case g.Ended():
            agreements.ended(meaning, ex)
        case g.WhoSees():
            parts.who_sees(meaning, ex)
        case g.Roster():
            return roster.show(meaning, ex)
        case g.HowIs():
            return roster.how_is(meaning, ex)
        case g.ClientSheet():
            return history.sheet(meaning, ex)
        case g.ClientFigures():
            return figures.show(meaning, ex)
        case g.ShowDigest():
            digest.show(meaning, ex)
        case g.TargetFor():
            return assignments.target_for(meaning, ex)
        case g.TargetFrom():
            return assignments.target_from(meaning, ex)
        case g.Object():
            return assignments.object_to_target(meaning, ex)
        case g.Share():
            return assignments.share(meaning, ex)
        case g.LabelFrom():
            return assignments.label_from(meaning, ex)
        case g.MeasureFrom():
            return assignments.measure_from(meaning, ex)
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
        case g.ClientHistory():
            return history.stretch(meaning, ex)
        case g.CompareWeeks():
            return history.compare(meaning, ex)
        case g.ClientTrend():
            return history.trend(meaning, ex)
        case g.ClientFood():
            return history.food(meaning, ex)
        case g.ClientReport():
            return history.report(meaning, ex)
        case g.Comment():
            return notes.comment(meaning, ex)
        case g.Pause():
            return pauses.pause(meaning, ex)
        case g.Resume():
            return pauses.resume(meaning, ex)
        case g.PauseFrom():
            pauses.pause_from(meaning, ex)
        case g.PrivateNote():
            return remarks.keep(meaning, ex)
        case g.PrivateNotes():
            return remarks.show(meaning, ex)
        case g.PutInGroup():
            return remarks.group(meaning, ex)
        case g.Withhold():
            return parts.withhold(meaning, ex)
        case g.StopSharing():
            return sharing.stop(meaning, ex)
        case g.ShareAgain():
            return sharing.again(meaning, ex)
        case g.ExportFrom():
            return parts.asked_for_export(meaning, ex)
        case _:
            return _in_practice(meaning, ex)
    return None


def _in_practice(meaning: p.InPractice, ex: Exchange) -> Outcome:
    match meaning:
        case p.WordsFromCoach():
            return notes.written(meaning, ex)
        case p.SaveTemplate():
            return templates.save(meaning, ex)
        case p.ShowTemplates():
            return templates.show(meaning, ex)
        case p.DropTemplate():
            return templates.drop(meaning, ex)
        case p.SendTemplate():
            return templates.send(meaning, ex)
        case p.CoverBy():
            return cover.ask_for(meaning, ex)
        case p.TakeCover():
            return cover.take(meaning, ex)
        case p.CoverFrom():
            return cover.ask_client(meaning, ex)
        case p.EndCover():
            return cover.end(meaning, ex)
        case _:
            assert_never(meaning)
