"""What is learnt from an answer because it would be the same next time."""

from __future__ import annotations

from bot.conversation.exchange import Exchange
from bot.conversation.questions.stored import decode
from bot.kinds import About, Confirmed, Remembered
from bot.language import meanings as m
from bot.store import memory
from bot.store.memory import Memory
from bot.store.questions import StoredQuestion


def learnt(question: StoredQuestion, meaning: m.Meaning, ex: Exchange) -> tuple[m.Meaning, ...]:
    """Remembers a choice; returns what is to be handled for it: the answer to 'raw or cooked?' is a habit."""
    pending, _ = decode(question.subject)
    if isinstance(meaning, m.BodyWeight) and question.about is About.UNIT and meaning.unit is not None:
        memory.keep(ex.books, Remembered.BODY_UNIT, "", meaning.unit)
    if not isinstance(meaning, m.Item) or not isinstance(pending, m.Item) or pending.name is None:
        return ()
    name = meaning.name
    match question.about:
        case About.STATE if meaning.state is not None and name is not None and len(name.foods) == 1:
            return (m.SaveHabit(name=name, state=meaning.state),)
        case About.FOOD if name is not None and len(name.foods) == 1 and not pending.name.unknown:
            memory.keep(ex.books, Remembered.KIND, word_of(pending.name), name.foods[0])
        case About.DRINK:
            kind = "weight" if Confirmed.WEIGHT in meaning.confirmed else "volume"
            memory.keep(ex.books, Remembered.DRINK, drink_of(pending.name), kind)
        case About.BATCH if meaning.batch is None:
            memory.keep(ex.books, Remembered.BATCH, word_of(pending.name), "food")
        case _:
            pass
    return ()


def word_of(name: m.Name) -> str:
    """The word that an answer about a food is remembered for: what the person called it."""
    return (name.text or name.kinds or "").strip().lower()


def drink_of(name: m.Name) -> str:
    """The drink that weight or volume is remembered for."""
    return name.foods[0] if name.foods else word_of(name)


def recalled(what: Remembered, word: str, ex: Exchange) -> str | None:
    """What is remembered for a word. The first time it is used, the reply says so (`told`)."""
    return ex.known.memory.get((what, word.casefold()))


def told(what: Remembered, word: str, value: str, ex: Exchange) -> bool:
    """True the first time that a remembered answer is used: the reply says so then."""
    return memory.first_use(ex.books, Memory(what, word.casefold(), value))
