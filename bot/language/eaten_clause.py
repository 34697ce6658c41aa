"""What was eaten of what was first got ready: 'bought 500 g of plums, ate 140 g', 'poured 250 ml, drank 200'."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Chunk, Kind
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.stories import stretches
from bot.language.text import singular
from bot.language.told import Amount

MOST_CHUNKS = 30
NOT_OF_IT: tuple[Kind, ...] = ("batch", "hash", "energy", "macro", "tare", "part", "newline")
"""Kinds of chunk of which none is in a message that only tells of one food."""
LED = 3
"""Words before the verb of the second clause, 'and then I ate'."""


def only_eaten(message: Message) -> Message:
    """The message with the weight that was eaten alone, where a first clause only says how much there was.

    The first clause begins with what the writer did to the food and the second with a verb of eating; both are of one
    food, and what was eaten is less unless the first part was lost. Unchanged where any of that does not hold.
    """
    told = message.of("amount")
    if message.asks or len(message.chunks) > MOST_CHUNKS or message.of(*NOT_OF_IT) or len(told) != 2:
        return message
    there, eaten = told
    if there.amount is None or eaten.amount is None or not (_is_weight(there.amount) and _is_weight(eaten.amount)):
        return message
    if len({c.target for c in message.of("food")}) != 1:
        return message
    so_much = eaten.amount if eaten.amount.kind == there.amount.kind else _of_one_kind(eaten.amount, there.amount)
    if so_much is None:
        return message
    parts = stretches(message)
    first = next(part for part in parts if there in part)
    lost = pack()["given_or_lost"].found(message.line.plain[first[0].start : there.start])
    if not lost and not _is_less(so_much, there.amount):
        return message
    second = next((part for part in parts if eaten in part and there not in part), None)
    if second is None or not _gets_ready(message, first, there) or not _eats(message, second, eaten):
        return message
    about = {id(c) for c in message.of("food", "state", "size", "whole", "moment")}
    kept = (c for c in message.chunks if id(c) in about or c is eaten)
    chunks = tuple(c._replace(amount=so_much) if c is eaten else c for c in kept)
    return Message(message.whole, chunks, message.line, message.offset)


def _is_weight(amount: Amount) -> bool:
    return amount.doubt is None and amount.kind in ("mass", "volume", "bare") and amount.value > 1


def _of_one_kind(eaten: Amount, there: Amount) -> Amount | None:
    """A bare number in the unit of the weight or volume before it; None for a weight beside a volume."""
    if eaten.kind != "bare" or there.kind == "bare":
        return None
    if there.kind == "mass":
        return as_mass(eaten, there)
    return Amount(kind="volume", value=eaten.value, unit=there.unit, text=eaten.text)


def _is_less(eaten: Amount, there: Amount) -> bool:
    if eaten.kind == "mass":
        return grams_of(eaten) < grams_of(there)
    return eaten.unit == there.unit and eaten.value < there.value


def _gets_ready(message: Message, part: Sequence[Chunk], there: Chunk) -> bool:
    """Whether the clause begins with a verb of what was done to the food before it was eaten."""
    said = message.line.plain[part[0].start : there.start]
    own = [w for w in said if w not in pack()["oneself"] and w not in pack()["joining"]]
    return bool(own) and own[0] in pack()["gets_it_ready"] and not _names_others(message, said)


def _eats(message: Message, part: Sequence[Chunk], eaten: Chunk) -> bool:
    """Whether the clause leads up to the amount with the writer's eating, and nobody else's."""
    said = message.line.plain[part[0].start : eaten.start]
    verb = next((n for n, w in enumerate(said) if w in pack()["ate_of_it"]), None)
    if verb is None or verb > LED or any(w in pack()["denial"] for w in said):
        return False
    return not _names_others(message, said)


def _names_others(message: Message, said: Sequence[str]) -> bool:
    others = message.words.people | message.words.pronouns
    return any(w in others or singular(w) in others for w in said)
