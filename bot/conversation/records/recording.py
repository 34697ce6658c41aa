"""Recording weigh-ins of foods and portions of batches."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta

import msgspec

from bot import events
from bot.conversation import event_of, saying
from bot.conversation.batches import portions
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Refuse
from bot.conversation.records import judging
from bot.conversation.records.judging import Judged
from bot.language.meanings import Item, When
from bot.store import batches, weighins
from bot.store.books import Books
from bot.store.weighins import StoredWeighIn
from domain.batch_steps import Draw, Reduced
from domain.batches import Batch


def record(item: Item, ex: Exchange) -> None:
    """Records an item, asks about it or refuses it."""
    if item.batch is not None:
        portion = portions.judge_portion(item, ex)
        if isinstance(portion, tuple):
            record_portion(item, *portion, ex)
        elif isinstance(portion, Ask):
            ex.ask(portion)
        else:
            ex.refuse(portion)
        return
    judged = judging.judge(item, ex)
    if isinstance(judged, Ask):
        ex.ask(judged)
    elif isinstance(judged, Refuse):
        ex.refuse(judged)
    else:
        _store(item, judged, ex)


def time_of(when: When, books: Books) -> tuple[datetime, date]:
    """(moment, day) of a weigh-in; without a clock time it gets the time of the message."""
    now = books.local
    back = books.today - when.day if when.day else timedelta()
    moment = when.moment or datetime.combine(now.date() - back, now.timetz())
    return moment, when.day or books.day_of(moment)


def record_portion(item: Item, batch: Batch, judged: Judged, ex: Exchange) -> None:
    """Stores a portion and what others took with it; closes the batch when it is empty."""
    _store(item, judged, ex)
    now = batch.then(Reduced(judged.weigh_in.draw))
    if item.others_g:
        now = now.then(Reduced(Draw(item.others_g)))
        batches.reduce(ex.books, batch.number, Draw(item.others_g), "given away")
        ex.note(events.BatchReduced(batch=batch.number, grams=item.others_g, why="given away"))
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
        ex.say(f"#{old.number} is already {judged.told} {judged.name}.")
        return old
    stored = weighins.change(ex.books, old, judged.weigh_in, moment, day, item.when.meal, said)
    ex.note(event_of.changed(stored, ex.books.person.name, was=old.number))
    ex.say(line(stored, judged, ex, verb="Changed "))
    for note in judged.notes():
        ex.say(note)
    ex.changed_days.update((day, old.day))
    return stored


def _same(last: StoredWeighIn, new: StoredWeighIn, item: Item) -> bool:
    return last.weigh_in == new.weigh_in and msgspec.json.decode(last.said, type=Item).text == item.text


def line(stored: StoredWeighIn, judged: Judged, ex: Exchange, verb: str = "") -> str:
    """'#12 white rice (cooked), 180 g: 234 kcal, protein 5 g …', with the day or meal where one was said."""
    where = []
    if stored.day != ex.books.today:
        where.append(saying.day(stored.day, ex.books.today))
    if stored.meal:
        where.append(stored.meal)
    place = f" [{', '.join(where)}]" if where else ""
    nutrients = judged.weigh_in.nutrients
    figures = f": {saying.figures(nutrients)}" if nutrients else ""
    return f"{verb}#{stored.number} {judged.name}, {judged.told}{place}{figures}"
