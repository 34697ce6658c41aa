"""Answers that give one detail: a clock time, a state before the food, that it was next to nothing."""

from __future__ import annotations

from collections.abc import Callable

from bot.language import replies
from bot.language.answer_meanings import Filled
from bot.language.asked import Skip
from bot.language.fact_meanings import SaveTare
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.surroundings import Waiting
from bot.language.told import Amount, Item

Plain = Callable[[Message], list[Meaning]]
"""What a message means when no question waits."""


def detail(message: Message, question: Waiting, otherwise: Plain) -> Filled | None:
    """A clock time, or what a target is computed from."""
    takes, key = question.takes, question.key
    if "time" in takes:
        clock = replies.clock_alone(message, evening=question.what == "evening")
        if clock is not None or replies.wants_none(message):
            return Filled(question=key, slot="time", value=clock)
    if "years" in takes and (age := replies.years(message)) is not None:
        return Filled(question=key, slot="years", value=float(age))
    if "condition" in takes and (holds := replies.holds(message)) is not None:
        return Filled(question=key, slot="condition", value=holds)
    if "kg_per_week" in takes and (rate := replies.rate(message)) is not None:
        return Filled(question=key, slot="kg_per_week", value=rate)
    if "cm" in takes and (cm := replies.height_cm(message)) is not None:
        return Filled(question=key, slot="cm", value=cm)
    if question.vessel:
        # 'the wok weighs 700 g' where the wok's weight is asked for.
        match otherwise(message):
            case [SaveTare(name=name, amount=Amount() as amount)] if name.split()[-1:] == question.vessel.split()[-1:]:
                return Filled(question=key, slot="amount", amount=amount)
        if (empty := replies.weight_empty(message, question.vessel)) is not None:
            return Filled(question=key, slot="amount", amount=empty)
    if "kg" in takes:
        told = otherwise(message)
        kg = replies.kilograms(told[0], message.around.region) if len(told) == 1 else None
        if kg is not None:
            return Filled(question=key, slot="kg", value=kg)
    return None


def state_first(message: Message, question: Waiting) -> Filled | None:
    """'raw' where the food is asked for: its state, told before the food."""
    states = {c.state for c in message.of("state")}
    if "food" not in question.takes or question.foods or question.word or question.weigh_in or len(states) != 1:
        return None
    if any(c.kind not in ("state", "sign") and not _says_nothing(c.text, message) for c in message.chunks):
        return None
    return Filled(question=question.key, slot="food", item=Item(text=message.text, state=states.pop()))


def _says_nothing(text: str, message: Message) -> bool:
    beside, polite = pack()["beside_answer"], pack()["polite"]
    return all(w in beside or w in polite or w in message.words.filler for w in text.lower().split())


def next_to_nothing(message: Message, question: Waiting) -> Skip | None:
    """'just a few drops of lime, nothing' where it is asked how many grams: too little to weigh."""
    if "amount" not in question.takes or question.weigh_in or message.of("batch", "tare", "hash", "energy", "moment"):
        return None
    if question.about != "amount" or any(c.amount is not None and c.amount.grams for c in message.of("amount")):
        return None
    if any(c.target not in question.foods for c in message.of("food")):
        return None
    return Skip() if pack()["too_little_to_weigh"].found([plain(word) for word in message.said]) else None
