"""A batch as a whole, cooked, named, or cooked again: from readings to meanings."""

from __future__ import annotations

from typing import cast

from bot.language.batch_meanings import Contents, CookAgain, CookBatch, PourOff, RecipeChange, RenameBatch
from bot.language.grammar import Reading
from bot.language.intents.readings import (
    amount_of,
    asks,
    batches_meant,
    has_ingredient,
    kept_and_left_out,
    one_cooking,
    part_of,
    pot_of,
    says,
    vessel_taken_off,
)
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.name_tables import lemmas_of
from bot.language.pack import plain
from bot.language.surroundings import worked_on
from bot.language.told import BatchRef, Name, TareRef


def cook_batch(reading: Reading, message: Message) -> Meaning | None:
    """A batch's cooked weight; of the one on the stove where none is named."""
    amount = amount_of(reading)
    if amount is None or asks(message) or says(message, "portioned") or not message.around.batches:
        return None
    tare = None if vessel_taken_off(message) else cast("TareRef | None", reading.values.get("pan"))
    if "unnamed" in reading.values:
        ref = _on_the_stove(reading, message)
    else:
        ref = pot_of(reading)
        raw = any(not b.cooked for b in batches_meant(message, ref))
        cue = says(message, "done", "no_vessel") or ((tare is not None or says(message, "weighs")) and raw)
        if not cue or (ref == BatchRef() and one_cooking(message) is None and not says(message, "done")):
            return None
        part = part_of(reading, message, "before")
        if part is not None and part.of("amount", "batch"):
            return None
        ref = one_cooking(message) or _uncooked(message) if ref == BatchRef() else ref
    return None if ref is None else CookBatch(batch=ref, amount=amount, tare=tare)


def _uncooked(message: Message) -> BatchRef:
    numbers = tuple(b.number for b in worked_on([b for b in message.around.batches if not b.cooked]))
    return BatchRef(candidates=numbers or tuple(b.number for b in message.around.batches))


def _on_the_stove(reading: Reading, message: Message) -> BatchRef | None:
    """The batch that a cooked weight without a batch's name is of; a food said with it must be one of its own."""
    cooking = one_cooking(message)
    name = cast("Name | None", reading.values.get("thing"))
    if name is None:
        waiting = [b for b in message.around.batches if not b.cooked]
        sure = cooking or (BatchRef(candidates=(waiting[0].number,)) if len(waiting) == 1 else None)
        return sure if sure is not None or not says(message, "weighs") else _uncooked(message)
    if cooking is None:
        return None
    named = set(lemmas_of(name.text)) & {w for b in batches_meant(message, cooking) for w in lemmas_of(b.name)}
    return cooking if named or has_ingredient(message, cooking, name) else None


def pour_off(reading: Reading, message: Message) -> Meaning | None:
    """Fat or liquid that was poured off."""
    amount = amount_of(reading)
    if amount is None or amount.kind not in ("mass", "bare") or asks(message):
        return None
    ref = pot_of(reading)
    if ref == BatchRef():
        ref = BatchRef(candidates=tuple(b.number for b in message.around.batches))
    return PourOff(batch=ref, amount=amount, fat=not says(message, "watery"))


def cook_again(reading: Reading, message: Message) -> Meaning | None:
    """A recipe once more, perhaps with changes."""
    ref = cast("BatchRef | None", reading.values.get("old"))
    if ref is None:
        batches = (*message.around.batches, *message.around.closed)
        if not batches:
            return None
        ref = BatchRef(candidates=(max(b.number for b in batches),))
    factor = cast("float | None", reading.values.get("times"))
    changed = reading.values.get("changes") is not None
    if factor is None and not changed and message.when.meal:
        return None
    if asks(message) or message.when.future:
        return None
    if not changed:
        return CookAgain(batch=ref, factor=factor)
    part = part_of(reading, message, "changes")
    if part is None:
        return None
    kept, gone = kept_and_left_out(part)
    told = items(kept) if kept.of("amount", "food") else []
    if not (gone or told) or any(i.name is None for i in told):
        return None
    if factor is None and len(told) == 1 and told[0].amount is not None and not gone:
        first = plain(part.said[0]) if part.said else ""
        if not says(message, "this_time") and first not in ("add", "plus"):
            return CookAgain(batch=ref, to=told[0])
    without = (RecipeChange(name=name) for name in gone)
    return CookAgain(batch=ref, factor=factor, changes=(*without, *(RecipeChange(item=i) for i in told)))


def rename_batch(reading: Reading, message: Message) -> Meaning | None:
    """Another name for a batch."""
    ref, name = pot_of(reading), str(reading["newname"])
    if asks(message) or not name or not message.around.batches or len(name.split()) > 6:
        return None
    return RenameBatch(batch=ref, name=name)


def contents(reading: Reading, message: Message) -> Meaning | None:
    """What is in a batch."""
    return Contents(batch=pot_of(reading)) if message.around.batches else None
