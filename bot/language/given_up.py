"""Plans that came to nothing, told before what was eaten instead."""

from __future__ import annotations

from bot.language.chunks import Chunk
from bot.language.message import Message
from bot.language.pack import pack

MOST_CHUNKS = 60


def without_given_up_plan(message: Message) -> Message:
    """The message without 'I was going to make rice but my sister called, so' before 'just 6 oz from the pot'."""
    if len(message.chunks) > MOST_CHUNKS or not message.of("amount") or message.asks:
        return message
    words = [message.line.plain[n] for c in message.chunks for n in range(c.start, c.end)]
    at = [n for c in message.chunks for n in range(c.start, c.end)]
    plan = next((i for i in range(len(words)) if pack()["was_planned"].end(words, i) is not None), None)
    if plan is None:
        return message
    but = next((i for i in range(plan, len(words)) if words[i] in pack()["plan_given_up"]), None)
    if but is None:
        return message
    settled = [end for i in range(but, len(words)) if (end := pack()["settled_on"].end(words, i)) is not None]
    kept = _from(message, at[settled[0]] if settled and settled[0] < len(at) else at[but] + 1)
    dropped = [c for c in message.chunks if c not in kept]
    told = any(c.kind == "amount" for c in kept) and not any(_counts(c.kind) for c in dropped)
    return message.without(dropped) if told else message


def _from(message: Message, token: int) -> list[Chunk]:
    return [c for c in message.chunks if c.start >= token]


def _counts(kind: str) -> bool:
    return kind in ("amount", "hash", "energy", "macro")
