"""Edited messages: read again at their own time; only what differs is changed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.conversation import event_of
from bot.conversation.batches.portions import give_back
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Refuse
from bot.conversation.records import own_words
from bot.conversation.records.fixes import same_food
from bot.conversation.records.standing import drop_questions, time_of
from bot.kinds import Confirmed, Why
from bot.language.batch_meanings import CookBatch, OpenBatch
from bot.language.meanings import Chatter, LeftOut, Meaning, NotMine
from bot.language.told import Item, When
from bot.store import kitchens, questions, weighins
from bot.store.weighins import StoredWeighIn


def edited(meanings: Sequence[Meaning], inbound_id: int, ex: Exchange) -> list[Meaning]:
    """What remains to be handled of an edited message. Removals are done here; changes are returned as items."""
    if _from_another_kitchen(meanings, ex):
        ex.refuse(Refuse(MOVED, Why.LEFT_KITCHEN, says_so=True))
        return []
    old = weighins.from_message(ex.books, inbound_id)
    items = [item for m in meanings if isinstance(m, Item) for item in own_words.spelt_out(m, ex)]
    rest = [m for m in meanings if not isinstance(m, Item)]
    if old and not items and not all(isinstance(m, (NotMine, Chatter, LeftOut)) for m in rest):
        return list(rest)
    questions.drop_from_message(ex.books, inbound_id)
    if any(isinstance(m, OpenBatch) for m in rest):
        ex.refuse(
            Refuse(
                "A batch is not changed by editing its message. Say undo and open it again, or correct its cooked weight.",
                Why.BATCH_EDIT,
            )
        )
        return []
    rest = [replace(m, confirmed=(*m.confirmed, Confirmed.AGAIN)) if isinstance(m, CookBatch) else m for m in rest]
    if not old:
        return [*items, *rest]
    matched, gone = _matched(items, old, ex)
    for stored in gone:
        _remove(stored, ex)
    return [*matched, *(m for m in rest if not isinstance(m, (NotMine, Chatter, LeftOut)))]


MOVED = (
    "You have joined another kitchen since that message, and batches have other numbers here, so nothing is changed. "
    "Please send the correction as a new message, for example: change #5 to 200 g"
)


def _from_another_kitchen(meanings: Sequence[Meaning], ex: Exchange) -> bool:
    """Whether it names a batch and was sent before the person joined their present kitchen."""
    if all(getattr(meaning, "batch", None) is None for meaning in meanings):
        return False
    joined = kitchens.joined_at(ex.books)
    return joined is not None and ex.books.at < joined


def _matched(
    items: Sequence[Item], old: Sequence[StoredWeighIn], ex: Exchange
) -> tuple[list[Item], list[StoredWeighIn]]:
    """(items with the weigh-in that each changes, weigh-ins without an item)."""
    left = list(old)
    matched: list[Item] = []
    for item in items:
        found = next((s for s in left if _same(item, s)), None)
        if found is not None:
            left.remove(found)
            item = _at_its_time(item, found, ex)
        matched.append(item)
    loose = [i for i, item in enumerate(matched) if item.changes is None]
    if len(loose) == len(left) == 1:
        matched[loose[0]] = _at_its_time(matched[loose[0]], left.pop(), ex)
    return matched, left


def _same(item: Item, stored: StoredWeighIn) -> bool:
    batch = stored.weigh_in.batch
    if item.batch is not None and item.batch.sure:
        return batch is not None and batch in (item.batch.number, *item.batch.candidates)
    return batch is None and same_food(item.name, stored)


def _at_its_time(item: Item, stored: StoredWeighIn, ex: Exchange) -> Item:
    when = item.when
    if when.day is None and when.moment is None:
        moment = stored.eaten_at.astimezone(ex.books.person.timezone)
        first, day = time_of(when, ex.books)
        kept = stored.day if stored.day == day or first.date() == stored.day else day
        when = When(day=kept, moment=moment if kept == stored.day else first, meal=when.meal, unclear=when.unclear)
    return replace(item, when=when, changes=stored.number)


def _remove(stored: StoredWeighIn, ex: Exchange) -> None:
    weighins.remove(ex.books, stored)
    drop_questions(stored.number, ex)
    ex.note(event_of.removed(stored))
    ex.say(f"#{stored.number} {stored.weigh_in.food} is deleted.")
    ex.changed_days.add(stored.day)
    give_back(stored, ex)
