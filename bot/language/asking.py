"""What is asked about food that is not on record, and what a message amounts to that holds nothing else."""

from __future__ import annotations

from bot.language.asked import WhatIf
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.told import Amount


def asking_topic(message: Message) -> list[Meaning] | None:
    """What a sentence asks about food, if it does."""
    said = message.line.plain[message.chunks[0].start : message.chunks[-1].end] if message.chunks else []
    if not (message.asks or pack()["supposing"].found(said)):
        return None
    if not message.of("amount") or message.of("noise"):
        if pack()["keeping_words"].found(said):
            return [WhatIf(items=(), text=message.text, topic="keeping")]
        if pack()["weighing_words"].found(said) and message.of("state"):
            return [WhatIf(items=(), text=message.text, topic="basis")]
    told = items(message)
    if told or message.of("food", "batch"):
        return [WhatIf(items=tuple(told), text=message.text)]
    return None


def bare_amount(message: Message) -> Amount | None:
    """The amount of a message that holds nothing else of meaning."""
    told = message.amounts
    if len(told) != 1 or message.of("food", "batch", "state", "energy", "macro", "hash", "part", "whole"):
        return None
    unknown = [c for c in message.of("word") if not message.words.knows(c.text.lower())]
    return None if unknown else told[0]
