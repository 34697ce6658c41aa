"""What is learnt from an answer because it would be the same next time, and which batch a word means by that."""

from __future__ import annotations

from dataclasses import replace

from bot.conversation.exchange import Exchange
from bot.conversation.known import KnownFood
from bot.conversation.questions.stored import decode
from bot.conversation.records.naming import food_of, word_of
from bot.kinds import About, Confirmed, Remembered
from bot.language.fact_meanings import BodyWeight, SaveHabit
from bot.language.meanings import Meaning
from bot.language.told import BatchRef, Item, Name
from bot.store import memory
from bot.store.memory import Memory
from bot.store.questions import StoredQuestion

FOOD = "food"
"""The value for a word that means the food and no batch."""


def learnt(question: StoredQuestion, meaning: Meaning, ex: Exchange) -> tuple[Meaning, ...]:
    """Remembers a choice; returns what is to be handled for it: the answer to 'raw or cooked?' is a habit."""
    pending, _ = decode(question.subject)
    if isinstance(meaning, BodyWeight) and question.about is About.UNIT and meaning.unit is not None:
        memory.keep(ex.books, Remembered.BODY_UNIT, "", meaning.unit)
    if not isinstance(meaning, Item) or not isinstance(pending, Item):
        return ()
    name = meaning.name
    match question.about:
        case About.STATE if meaning.state is not None and name is not None and len(name.foods) == 1:
            return (SaveHabit(name=name, state=meaning.state),)
        case About.FOOD if pending.name is not None and name is not None and len(name.foods) == 1:
            _keep(Remembered.KIND, word_of(pending.name), name.foods[0], ex)
        case About.DRINK if pending.name is not None:
            entry = food_of(pending, pending.name, ex.known)
            if isinstance(entry, KnownFood):
                by_weight = Confirmed.WEIGHT in meaning.confirmed
                _keep(Remembered.DRINK, entry.food.name, "weight" if by_weight else "volume", ex)
        case About.BATCH if pending.batch is not None:
            meant = FOOD if meaning.batch is None else str(_number(meaning.batch))
            _keep(Remembered.BATCH, pending.batch.text, meant, ex)
        case _:
            pass
    return ()


def kind_told(word: Name, name: Name, ex: Exchange) -> None:
    """Remembers which kind a word of an open weigh-in meant, when a fix says it."""
    if len(name.foods) == 1:
        _keep(Remembered.KIND, word_of(word), name.foods[0], ex)


def _number(ref: BatchRef) -> int | None:
    return ref.number if ref.number is not None else next(iter(ref.candidates), None)


def _keep(what: Remembered, word: str, value: str, ex: Exchange) -> None:
    """Remembers an answer for a word; what the food is called in the table needs no memory."""
    if word and word.casefold() != value.casefold() and memory.keep(ex.books, what, word, value):
        ex.forget_known()


def with_batch_meant(item: Item, ex: Exchange) -> Item:
    """The item with the batch, or the food, that its word meant the last time, where the word alone leaves it open."""
    ref = item.batch
    if ref is None or ref.number is not None or (ref.sure and len(ref.candidates) < 2):
        return item
    meant = ex.known.remembered(Remembered.BATCH, ref.text)
    if meant == FOOD and item.name is not None:
        return replace(item, batch=None)
    if meant is None or meant not in {str(number) for number in ref.candidates}:
        return item
    if memory.first_use(ex.books, Memory(Remembered.BATCH, ref.text.casefold(), meant)):
        ex.say(f"{ref.text.capitalize()} is batch {meant}, as last time.")
    return replace(item, batch=BatchRef(number=int(meant), text=f"batch {meant}"))
