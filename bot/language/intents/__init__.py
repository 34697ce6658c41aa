"""What templates mean: from a reading with its slots filled to a meaning."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields
from functools import cache

from bot.language.grammar import Grammar, Reading, compiled
from bot.language.intents import (
    coach,
    cooking,
    ingredients,
    keep,
    personal,
    pieces,
    portions,
    records,
    review,
    settings,
)
from bot.language.intents.openings import OPENS
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.slots import clause_of, slot_openings, slot_words

Builder = Callable[[Reading, Message], Meaning | Sequence[Meaning] | None]
"""What a reading means in a message; None where its slots can't mean it after all, and the next reading is tried."""

_OF_BATCHES: Mapping[str, Builder] = {
    "AddIngredients": ingredients.add_ingredients,
    "CorrectIngredient": ingredients.correct_ingredient,
    "RemoveIngredient": ingredients.remove_ingredient,
    "SwapIngredient": ingredients.swap_ingredient,
    "TakeOutRefuse": ingredients.take_out_refuse,
    "CountPieces": pieces.count_pieces,
    "TakePieces": pieces.take_pieces,
    "MeantPieces": pieces.meant_pieces,
    "GivePieces": pieces.give_pieces,
    "SharePieces": pieces.share_pieces,
    "BoxUp": portions.box_up,
    "SplitBatch": portions.split_batch,
    "MoveBoxes": portions.move_boxes,
    "TakeBoxes": portions.take_boxes,
    "GiveBoxes": portions.give_boxes,
    "GiveShare": portions.give_share,
    "ReduceBatch": portions.reduce_batch,
    "CloseBatch": portions.close_batch,
    "TakeAndDiscard": portions.take_and_discard,
    "ForMeAndOther": portions.for_me_and_other,
    "TakeShare": portions.take_share,
    "PourOff": cooking.pour_off,
    "CookBatch": cooking.cook_batch,
    "RenameBatch": cooking.rename_batch,
    "CookAgain": cooking.cook_again,
    "Contents": cooking.contents,
    "Stored": portions.stored,
    "StillGood": portions.still_good,
    "Left": pieces.left,
}
BUILDERS: Mapping[str, Builder] = {
    "DeleteSeveral": records.delete_several,
    "Change": records.change,
    "TwoChanges": records.two_changes,
    "OnTheScale": records.on_the_scale,
    "TotalOf": records.total_of,
    "Eaten": records.eaten,
    "AmountFor": records.amount_for,
    "Per100": records.per_100,
    "Keeping": records.keeping,
    "WhatIf": records.figures_of,
    "Repeat": records.repeat,
    "MeansBy": records.means_by,
    "Combination": records.combination,
    "VesselHolds": records.vessel_holds,
    "ForgetWord": records.forget_word,
    "SaveMeasure": records.save_measure,
    "PutElsewhere": records.put_elsewhere,
    "SaveTare": keep.tare,
    "SaveHabit": keep.habit,
    "SaveLabel": keep.label,
    "SetTarget": personal.target,
    "DayKind": personal.day_kind,
    "ComputeTarget": personal.computed,
    "BodyWeight": personal.body_weight,
    "NotMine": personal.body_change,
    "AboutSelf": personal.about_self,
    "SetSetting": settings.setting,
    "LocalTime": settings.local_time,
    "SetReminder": settings.reminder,
    "AskReminderTime": settings.reminder_time,
    "InviteToKitchen": settings.invite_to_kitchen,
    "Sheet": review.sheet,
    "Trend": review.trend,
    "Listing": review.listing,
    "Help": review.helping,
    "Invite": coach.invite,
    "EndCoaching": coach.end,
    "Roster": coach.roster,
    "PutInGroup": coach.group,
    "HowIs": coach.how_is,
    "ClientSheet": coach.sheet,
    "ClientHistory": coach.history,
    "TargetFor": coach.target_for,
    "Comment": coach.comment,
    "PrivateNote": coach.private_note,
    "AskReweigh": coach.reweigh,
    "ReplyTo": coach.reply,
    "Tell": coach.tell,
    "Share": coach.share,
    "Withhold": coach.withhold,
    **_OF_BATCHES,
    "SaveTemplate": coach.save_template,
    "ShowTemplates": coach.show_templates,
    "DropTemplate": coach.drop_template,
    "SendTemplate": coach.send_template,
    "CoverBy": coach.cover,
    "EndCover": coach.end_cover,
}
"""Builders of the intents whose slots are not the fields of their meaning as they stand."""

OF_A_BATCH = _OF_BATCHES.keys() - {"CookAgain", "Stored"}
"""Intents that nobody can have who has no open batch."""

_KINDS: dict[str, type[Meaning]] = {kind.__name__: kind for kind in Meaning.__args__}


@cache
def grammar() -> Grammar:
    """The templates of the pack that may fit a clause, compiled once; those of new batches have their own place."""
    words = pack()
    return compiled((intent for intent in words.intents if intent.means != OPENS), words, slot_words(), slot_openings())


def templated(message: Message) -> list[Meaning] | None:
    """What a clause means by the first template that accounts for all of it; None where no template does."""
    if not message.chunks or not message.contiguous:
        return None
    place = message.chunks[0].start, message.chunks[-1].end
    known = message.line.templated
    if place not in known:
        known[place] = _read(message)
    found = known[place]
    return None if found is None else list(found)


def _read(message: Message) -> list[Meaning] | None:
    clause = clause_of(message.line, message.chunks[0].start, message.chunks[-1].end, pack())
    for reading in grammar().readings(clause, () if message.around.batches else OF_A_BATCH):
        build = BUILDERS.get(reading.means)
        found = build(reading, message) if build is not None else _as_it_stands(reading)
        if found is not None:
            return [found] if isinstance(found, Meaning) else list(found)
    return None


def _as_it_stands(reading: Reading) -> Meaning:
    """The meaning whose fields are the slots and constants of the reading; other slots were only to be there."""
    kind: Callable[..., Meaning] = _KINDS[reading.means]
    names = {field.name for field in fields(_KINDS[reading.means])}
    return kind(**{name: value for name, value in reading.values.items() if name in names})
