"""Plans that came to nothing, told before what was eaten instead."""

from __future__ import annotations

from bot.language.chunks import Chunk
from bot.language.message import Message
from bot.language.pack import pack

MOST_CHUNKS = 60


def without_given_up_plan(message: Message) -> Message:
    """The message without 'I was going to make rice but my sister called, so' before 'just 6 oz from the pot'."""
    if len(message.chunks) > MOST_CHUNKS or message.asks:
        return message
    words = [message.line.plain[n] for c in message.chunks for n in range(c.start, c.end)]
    at = [n for c in message.chunks for n in range(c.start, c.end)]
    plan = next((i for i in range(len(words)) if pack()["was_planned"].end(words, i) is not None), None)
    if plan is None:
        return message
    eaten_behind = {i for i in range(plan, len(words)) if pack()["settled_for"].end(words, i + 1) is not None}
    turns = (
        i for i in range(plan, len(words)) if words[i] in pack()["plan_given_up"] or _is_cut(words, i, eaten_behind)
    )
    but = next(turns, None)
    if but is None:
        return message
    settled = [end for i in range(but, len(words)) if (end := pack()["settled_on"].end(words, i)) is not None]
    kept = _from(message, at[settled[0]] if settled and settled[0] < len(at) else at[but] + 1)
    dropped = [c for c in message.chunks if c not in kept]
    eaten = but in eaten_behind and not message.of("batch")
    told = (eaten or any(c.kind == "amount" for c in kept)) and not any(_tells(c) for c in dropped)
    return message.without(dropped) if told else message


def _is_cut(words: list[str], i: int, eaten_behind: set[int]) -> bool:
    """Whether a comma cuts what was only thought of from what was eaten: 'almost had a biscuit, had an apple'."""
    return not words[i].isalnum() and i in eaten_behind


def _from(message: Message, token: int) -> list[Chunk]:
    return [c for c in message.chunks if c.start >= token]


def _tells(chunk: Chunk) -> bool:
    """Whether a chunk tells more than that one thing is meant: 'a beer'."""
    article = chunk.amount is not None and chunk.amount.text.lower() in pack()["articles"]
    return chunk.kind in ("amount", "hash", "energy", "macro") and not article
