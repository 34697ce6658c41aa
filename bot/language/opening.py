"""Opening a batch in words: its name if it gets one, what went in, perhaps already its cooked weight."""

from __future__ import annotations

from dataclasses import replace

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
        follows = message.chunks[i + 1 : i + 16]
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


def _name(message: Message, start: int) -> tuple[str | None, int]:
    """The name given to the batch, and the chunk where its ingredients begin."""
    chunks = message.chunks
    i = start
    while i < len(chunks) and chunks[i].text.lower() in (
        "called",
        "named",
        "of",
        ",",
        "for",
        "is",
        "-",
        "please",
        "pls",
        "name",
        "today",
        "now",
        "with",
    ):
        stop = chunks[i].text.lower() in (",",) and i > start + 1
        i += 1
        if stop:
            break
    if i < len(chunks) and chunks[i].text == ":":
        return None, i + 1
    end = i
    while (
        end < len(chunks)
        and chunks[end].kind not in ("amount", "newline")
        and chunks[end].text not in (":", ".", ",", ";", "=", "(")
    ):
        if chunks[end].kind == "state" and end == i and not any(c.text == ":" for c in chunks[end : end + 6]):
            break
        if (
            chunks[end].kind == "word"
            and chunks[end].text.lower() in ("with", "from", "using", "has", "contains")
            and end > i
        ):
            break
        end += 1
    mark = chunks[end].text if end < len(chunks) else ""
    words = [c for c in chunks[i:end] if c.text.lower() not in ("-",)]
    if not words:
        return None, i
    if (
        mark == ":"
        or (chunks[end : end + 1] and chunks[end].kind == "newline")
        or mark in (".", ",")
        or (mark and mark not in ("(", "=") and chunks[end].kind != "amount")
    ):
        return _plain(message.phrase(words)), end + 1
    called = any(c.text.lower() in ("called", "named", "name") for c in chunks[start : i + 1])
    if called and end < len(chunks):
        return _plain(message.phrase(words)), end
    if end >= len(chunks):
        return _plain(message.phrase(words)), end
    return None, i


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
