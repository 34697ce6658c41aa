"""A weigh-in told again as the answer to a question about it: 'which rice?', '40 g dry rice and the 10 g butter'.

What is told again is on record already, so only what it adds is taken, or the weight that it puts right.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import timedelta

from bot.language.answer_meanings import Filled
from bot.language.fix_meanings import Change, Which
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.recalling import means
from bot.language.surroundings import Recorded, Waiting
from bot.language.told import Item

SOON = timedelta(hours=2)
"""So long after it was asked about, the same food in the same weight is the one that is asked about."""
SAME = 0.01
"""Relative difference up to which a weight is the one told before."""


def retold(message: Message, question: Waiting, otherwise: Callable[[Message], list[Meaning]]) -> list[Meaning] | None:
    """The answer that lies in telling the weigh-in again, or its right weight, and what is new beside it."""
    if question.weigh_in is None or question.grams is None or not message.of("food") or not message.of("amount"):
        return None
    if message.asks or message.of("hash", "moment", "energy"):
        return None
    recorded = message.around.recorded()
    stands = next((each for each in recorded if each.number == question.weigh_in), None)
    if stands is None or stands.at is None or message.around.now - stands.at > SOON:
        return None
    told = otherwise(message)
    items = [each for each in told if isinstance(each, Item)]
    own = [each for each in items if _is_asked_about(each, question)]
    if len(items) != len(told) or len(own) != 1:
        return None
    only, grams = own[0], _grams(own[0])
    if grams is None:
        return None
    if not _same(grams, question.grams):
        corrected = len(items) == 1 and any(_is_number(token.text, question.grams) for token in message.tokens)
        which = Which(number=question.weigh_in)
        return [Change(which=which, amount=only.amount, state=only.state)] if corrected else None
    if only.state is None and (only.name is None or not only.name.foods or set(only.name.foods) == set(question.foods)):
        return None  # it adds nothing: the same once more
    beside = [each for each in recorded if each.message == stands.message and each.number != stands.number]
    new = [each for each in items if each is not only and not _is_on_record(each, beside)]
    return [Filled(question=question.key, slot="food", item=only), *new]


def _is_asked_about(item: Item, question: Waiting) -> bool:
    name = item.name
    if name is None or item.batch is not None or item.several:
        return False
    kinds = {f"kinds:{name.kinds}"} if name.kinds is not None else set()
    return bool({*name.foods, *kinds} & {*question.foods, *question.among}) or name.text.lower() == question.word


def _is_on_record(item: Item, recorded: Sequence[Recorded]) -> bool:
    """Whether it was told before in the same weight."""
    grams, name = _grams(item), item.name
    return (
        grams is not None and name is not None and any(means(name, r.food) and _same(grams, r.grams) for r in recorded)
    )


def _grams(item: Item) -> float | None:
    amount = item.amount
    return None if amount is None or amount.kind not in ("mass", "bare") else amount.grams or amount.value


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= SAME * other


def _is_number(text: str, grams: float) -> bool:
    return text.replace(".", "", 1).isdecimal() and _same(float(text), grams)
