"""Recording weigh-ins of foods and portions of batches."""

from __future__ import annotations

from dataclasses import replace

import msgspec

from bot import batch_events
from bot.conversation import event_of, saying
from bot.conversation.batches import portions
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Refuse
from bot.conversation.questions.remembering import with_batch_meant
from bot.conversation.records import judging, plausible, standing
from bot.conversation.records.judging import Judged
from bot.conversation.records.standing import time_of
from bot.language.told import Item
from bot.store import batches, weighins
from bot.store.weighins import StoredWeighIn
from domain.batch_steps import Draw, Reduced
from domain.batches import Batch


def record(item: Item, ex: Exchange) -> None:
    """Records an item, asks about it or refuses it."""
    item = with_batch_meant(item, ex)
    if (eaten := plausible.not_eaten(item)) is not None:
        ex.ask(eaten)
        return
    if item.batch is not None:
        portion = portions.judge_portion(item, ex)
        if isinstance(portion, tuple) and (much := plausible.too_much(item, portion[1].weigh_in)) is not None:
            ex.ask(much)
        elif isinstance(portion, tuple):
            record_portion(item, *portion, ex)
        elif isinstance(portion, Ask):
            standing.ask(item, portion, ex)
        else:
            ex.refuse(portion)
        return
    judged = judging.judge(item, ex)
    if isinstance(judged, Ask):
        standing.ask(item, judged, ex)
    elif isinstance(judged, Refuse):
        ex.refuse(judged)
    elif (much := plausible.too_much(item, judged.weigh_in)) is not None:
        ex.ask(much)
    else:
        _store(item, judged, ex)


def record_portion(item: Item, batch: Batch, judged: Judged, ex: Exchange) -> None:
    """Stores a portion and what others took with it; closes the batch when it is empty."""
    _store(item, judged, ex)
    now = batch.then(Reduced(judged.weigh_in.draw))
    if item.others_g:
        now = now.then(Reduced(Draw(item.others_g)))
        batches.reduce(ex.books, batch.number, Draw(item.others_g), "given away")
        ex.note(batch_events.BatchReduced(batch=batch.number, grams=item.others_g, why="given away"))
    if item.changes is None:
        portions.say_left(now, ex)
    else:
        portions.settle(batch.number, ex)


def _store(item: Item, judged: Judged, ex: Exchange) -> StoredWeighIn:
    """Stores a judged weigh-in, or the change of one, with its event and its line of the reply."""
    moment, day = time_of(item.when, ex.books)
    changes, item = item.changes, item if item.changes is None else replace(item, changes=None)
    said = msgspec.json.encode(item)
    if changes is not None:
        old = weighins.get(ex.books, changes)
        if old is not None:
            return _change(item, judged, old, said, ex)
    last = ex.last
    stored = weighins.add(ex.books, judged.weigh_in, moment, day, item.when.meal, said)
    ex.note(event_of.weigh_in(stored, ex.books.person.name))
    ex.say(line(stored, judged, ex))
    for note in judged.notes():
        ex.say(note)
    if last is not None and last.inbound_id != ex.books.inbound_id and last.day == day and _same(last, stored, item):
        ex.say(f"That is the same as #{last.number}. If it was sent twice, say undo.")
    ex.changed_days.add(day)
    return stored


def _change(item: Item, judged: Judged, old: StoredWeighIn, said: bytes, ex: Exchange) -> StoredWeighIn:
    moment, day = time_of(item.when, ex.books)
    if judged.weigh_in == old.weigh_in and day == old.day and item.when.meal == old.meal:
        ex.say(f"#{old.number} already says so: {judged.name}, {judged.told}.")
        return old
    stored = weighins.change(ex.books, old, judged.weigh_in, moment, day, item.when.meal, said)
    if old.weigh_in.open is None:
        ex.note(event_of.changed(stored, ex.books.person.name, was=old.number))
        ex.say(line(stored, judged, ex, verb="Changed "))
    else:
        standing.drop_questions(old.number, ex)
        ex.note(event_of.weigh_in(stored, ex.books.person.name))
        ex.say(line(stored, judged, ex))
    for note in judged.notes():
        ex.say(note)
    ex.changed_days.update((day, old.day))
    return stored


def _same(last: StoredWeighIn, new: StoredWeighIn, item: Item) -> bool:
    return last.weigh_in == new.weigh_in and msgspec.json.decode(last.said, type=Item).text == item.text


def line(stored: StoredWeighIn, judged: Judged, ex: Exchange, verb: str = "") -> str:
    """'#12 white rice (cooked), 180 g: 234 kcal, protein 5 g …', with the day or meal where one was said."""
    place = saying.place(stored, ex.books.today)
    nutrients = judged.weigh_in.nutrients
    figures = f": {'at least ' if judged.at_least else ''}{saying.figures(nutrients)}" if nutrients else ""
    return f"{verb}#{stored.number} {judged.name}, {judged.told}{place}{figures}"
