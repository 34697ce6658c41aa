"""What a message answers where a certain kind of thing was asked for and nothing else is in it."""

from __future__ import annotations

from datetime import time

from bot.language.fact_meanings import BodyWeight
from bot.language.meanings import Bare, Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.slots import SLOTS
from bot.language.text import singular
from bot.language.times import spoken
from bot.language.told import Amount
from domain import quantities
from domain.quantities import Region

LEAST_BARE_HOUR = 5
"""A bare number below it answers a question by its choice's number."""


def answered(message: Message, slot: str, *, beside: str = "reply_aside") -> object | None:
    """The value of a slot that accounts for all of a message, but for words of the concept `beside`."""
    line, at = message.line, 0
    end = len(line.tokens)
    value: object | None = None
    while at < end:
        filled = next(iter(SLOTS[slot](line, at, end)), None) if value is None else None
        if filled is not None:
            value, at = filled
        elif (stop := spoken(line, beside, at, end)) is not None:
            at = stop
        elif line.tokens[at].kind in ("sign", "newline"):
            at += 1
        else:
            return None
    return value


def clock_alone(message: Message, *, evening: bool) -> str | None:
    """HH:MM of a clock time that is all a message holds; None where it holds anything else.

    In the `evening` a time before noon that does not say so is meant twelve hours later: 'at 9' is 21:00.
    """
    clock = answered(message, "clock")
    told = message.of("moment", "amount")
    if not isinstance(clock, time) or len(told) != 1:
        return None
    bare = told[0].amount
    if bare is not None and (bare.kind != "bare" or bare.value < LEAST_BARE_HOUR):
        return None
    if evening and 1 <= clock.hour < 12 and not pack()["before_noon"].found(message.line.plain):
        clock = clock.replace(hour=clock.hour + 12)
    return f"{clock:%H:%M}"


def wants_none(message: Message) -> bool:
    """Whether all that is said is that there shall be none."""
    return _is_all(message, "none_at_all")


def _is_all(message: Message, concept: str) -> bool:
    words = [word for token, word in zip(message.tokens, message.line.plain, strict=True) if token.kind == "word"]
    return bool(words) and any(stop == len(words) for stop in pack()[concept].ends(words, 0))


def holds(message: Message) -> bool | None:
    """Whether an answer says that one of the conditions holds; naming one counts as a yes. None for no answer."""
    words = [word for word in message.line.plain if word.isalpha()]
    if not words:
        return None
    named = pack()["conditions"].found(words[1:] if words[0] in pack()["no_words"] else words)
    if words[0] in pack()["no_words"] and not named:
        return False
    return True if named or words[0] in pack()["yes_words"] else None


def rate(message: Message) -> float | None:
    """Kilograms a week that a message aims at, negative to lose, 0 to keep the weight; None where it says nothing."""
    line = message.line
    found = (value for at in range(len(line.tokens)) for value, _ in SLOTS["rate"](line, at, len(line.tokens)))
    value = next(found, None)
    return float(value) if isinstance(value, (int, float)) else None


def height_cm(message: Message) -> float | None:
    """Centimetres of a height that is all a message holds; a bare number is feet or inches only where it says so."""
    value = answered(message, "height")
    return float(value) if isinstance(value, (int, float)) else None


def years(message: Message) -> int | None:
    """An age in years that is all a message holds."""
    value = answered(message, "years")
    return value if isinstance(value, int) else None


def weight_empty(message: Message, vessel: str) -> Amount | None:
    """The weight of a vessel that is asked for: '1240 empty', "it's 2 lb on its own", 'the big pan is 1240'."""
    amounts = message.of("amount")
    amount = amounts[0].amount if len(amounts) == 1 else None
    if amount is None or amount.kind not in ("mass", "bare") or amount.doubt is not None:
        return None
    line, said = message.line, {singular(word) for word in vessel.split()}
    at, last = message.chunks[0].start, message.chunks[-1].end
    while at < last:
        phrase = max(spoken(line, name, at, last) or at for name in ("empty", "weighs_empty", "beside_answer"))
        if at == amounts[0].start:
            at = amounts[0].end
        elif phrase > at:
            at = phrase
        elif line.lemmas[at] in said or line.plain[at] in pack()["pointing"] or line.tokens[at].kind == "sign":
            at += 1
        else:
            return None
    return amount


def kilograms(told: Meaning, region: Region) -> float | None:
    """The body weight in an answer, in kg; a number without a unit is in the region's unit. None for anything else."""
    if isinstance(told, BodyWeight):
        return told.kg if told.kg is not None else _in_kg(told.value, region)
    if not isinstance(told, Bare) or told.amount.kind not in ("mass", "bare"):
        return None
    return told.amount.grams / 1000 if told.amount.grams is not None else _in_kg(told.amount.value, region)


def _in_kg(value: float, region: Region) -> float:
    return quantities.grams(value, "lb" if region is Region.US else "kg") / 1000
