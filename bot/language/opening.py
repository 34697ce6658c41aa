"""Opening a batch in words: its name if it gets one, what went in, perhaps already its cooked weight."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.chunks import Chunk
from bot.language.items import items
from bot.language.meanings import Amount, Item, OpenBatch
from bot.language.message import Message
from domain.foods import State

OPENING = frozenset(
    {
        "new",
        "start",
        "starting",
        "started",
        "open",
        "opening",
        "opened",
        "another",
        "fresh",
        "begin",
        "beginning",
        "create",
        "make",
        "making",
        "made",
        "cooking",
        "cook",
        "prepping",
        "prep",
        "preparing",
    }
)


def opening(message: Message) -> OpenBatch | None:
    """A whole message that opens a batch: its name if one is given, its ingredients, perhaps the cooked weight."""
    start = _opening_end(message)
    if start is None:
        return None
    name, rest = _name(message, start)
    body = message.part(rest, len(message.chunks))
    told = [i for i in items(_undated(body)) if i.amount is not None or i.name is not None]
    cooked = _cooked_weight(body, told)
    told = [i for i in told if not (i.name is None and i.state == State.COOKED)]
    if name is not None and not any(i.name or i.batch for i in told):
        named = message.vocabulary.resolve(name.split(), name)
        told = [replace(i, name=named) for i in told[:1]]
        name = None
    if not told:
        return OpenBatch(name=name, items=(), cooked=cooked)
    if not any(i.amount for i in told) and name is None:
        only = told[0]
        return OpenBatch(name=only.name.text if only.name else None, items=(), cooked=cooked)
    return OpenBatch(name=name, items=tuple(_from_batch_word(i) for i in told), cooked=cooked)


def _undated(message: Message) -> Message:
    return message.without(list(message.of("moment")))


def _from_batch_word(item: Item) -> Item:
    """An ingredient is a food even when an open batch goes by the same word."""
    if item.batch is not None and item.name is not None:
        return replace(item, batch=None)
    return item


def _opening_end(message: Message) -> int | None:
    """Where the opening words end, in chunks; None when the message opens no batch."""
    for i, chunk in enumerate(message.chunks):
        if chunk.kind != "batch" or chunk.text.lower().split()[0] not in ("batch", "batches", "bacth"):
            continue
        before = {c.text.lower() for c in message.chunks[max(0, i - 4) : i]}
        if chunk.field != "bare":
            new = "new" in before or before & {"starting", "start", "open", "opening"}
            return i + 1 if new and chunk.batch is not None and chunk.batch.number is not None else None
        if before & OPENING and not message.has("the batch", "this batch", "from batch"):
            return i + 1
        end = next(
            (n for n, c in enumerate(message.chunks) if n > i and c.amount is not None and c.amount.kind == "mass"),
            len(message.chunks),
        )
        follows = message.chunks[i + 1 : end]
        named = (
            i <= 1
            and any(c.text in (":", "-") for c in follows)
            and any(c.kind == "amount" for c in message.chunks[i:])
        )
        if named or (
            message.chunks[i + 1 : i + 2] and message.chunks[i + 1].text.lower() in ("called", "named", "of") and i <= 2
        ):
            return i + 1
    return None


LEADING = frozenset({"called", "named", "of", ",", "for", "is", "-", "please", "pls", "name", "today", "now", "with"})
"""Words between 'new batch' and its name."""
LISTING = frozenset({"with", "from", "using", "has", "contains"})
"""Words between the name and what went in."""


def _name(message: Message, start: int) -> tuple[str | None, int]:
    """The name given to the batch, and the chunk where its ingredients begin."""
    chunks = message.chunks
    i = start
    while i < len(chunks) and chunks[i].text.lower() in LEADING:
        i += 1
        if chunks[i - 1].text == "," and i > start + 2:
            break
    if i < len(chunks) and chunks[i].text == ":":
        return None, i + 1
    colon = _colon(chunks, i)
    if colon is not None:
        return _plain(message.phrase(chunks[i:colon])), colon + 1
    end = i
    while end < len(chunks) and not _ends_name(chunks, i, end):
        end += 1
    if end == i:
        return None, i
    name = _plain(message.phrase(chunks[i:end]))
    called = any(c.text.lower() in ("called", "named", "name") for c in chunks[start : i + 1])
    if end >= len(chunks) or (called and chunks[end].kind == "amount"):
        return name, end
    if chunks[end].kind == "newline" or chunks[end].text.lower() in {".", ",", ";", *LISTING}:
        return name, end + 1
    return None, i


def _colon(chunks: Sequence[Chunk], i: int) -> int | None:
    """The colon behind a name, whatever marks or numbers the name has; a weight before it ends the search."""
    for n in range(i, len(chunks)):
        chunk = chunks[n]
        if chunk.text == ":":
            return n
        if chunk.kind == "newline" or (chunk.amount is not None and chunk.amount.kind == "mass"):
            return None
    return None


def _ends_name(chunks: Sequence[Chunk], start: int, i: int) -> bool:
    chunk = chunks[i]
    if chunk.kind in ("amount", "newline") or chunk.text in (".", ",", ";", "=", "("):
        return True
    return (chunk.kind == "state" and i == start) or (chunk.text.lower() in LISTING and i > start)


def _plain(name: str) -> str | None:
    words = [w for w in name.strip(" -:,.\"'").split() if w]
    while words and words[0] in ("the", "a", "my", "some"):
        words = words[1:]
    return " ".join(words) or None


def _cooked_weight(message: Message, told: list[Item]) -> Amount | None:
    for item in told:
        if item.name is None and item.batch is None and item.state == State.COOKED and item.amount is not None:
            return item.amount
        if item.cooked_g is not None:
            return Amount(kind="mass", value=item.cooked_g, unit="g", grams=item.cooked_g, text=f"{item.cooked_g:g} g")
    return None
