"""A new batch: a head that says so, then its name if it gets one, what goes in, perhaps already its cooked weight."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import cast

from bot.language.batch_meanings import OpenBatch
from bot.language.chunks import Chunk
from bot.language.grammar import Grammar, Reading, compiled
from bot.language.intents.pieces import MOST_PIECES
from bot.language.items import items
from bot.language.meanings import Meaning, NotMine
from bot.language.message import Message, once
from bot.language.pack import Concept, pack, plain
from bot.language.portion_meanings import CountPieces
from bot.language.pots import one_of
from bot.language.slots import clause_of
from bot.language.text import singular
from bot.language.told import Amount, BatchRef, Item
from bot.language.words import Words
from domain.foods import State

OPENS = "OpenBatch"
LONGEST_HEAD = 60
"""Tokens in which the head and the name of a batch are looked for."""
MOST_BEFORE = 8
"""Words before a head ('dear bot, I should like to …')."""
MOST_NAMED = 6
"""Words of a batch's name where nothing marks it as one."""
SENTENCE_ENDS = frozenset({".", "!", ";"})
FIRST_MASS = ("mass", "volume")


@dataclass(frozen=True)
class _Named:
    """The name given to a batch, and the chunk where what goes in begins."""

    name: str | None
    at: int


@cache
def _heads() -> Grammar:
    words = pack()
    return compiled((intent for intent in words.intents if intent.means == OPENS), words)


@once
def opening(message: Message) -> list[Meaning] | None:
    """What a whole message opens: a batch, and the pieces that it made where they were counted."""
    if not message.chunks:
        return None
    start, end = message.chunks[0].start, message.chunks[-1].end
    for reading in _heads().readings(clause_of(message.line, start, min(end, start + LONGEST_HEAD), pack())):
        found = _opened(reading, message)
        if found is not None:
            return found
    return None


def _opened(reading: Reading, message: Message) -> list[Meaning] | None:
    words = cast("Words | None", reading.values.get("rest"))
    start = len(message.chunks)
    if words is not None:
        start = next((n for n, c in enumerate(message.chunks) if c.start >= words.start), start)
        if start < len(message.chunks) and message.chunks[start].start != words.start:
            return None
    before = cast("Words | None", reading.values.get("before"))
    if before is not None and not _leads(before, message):
        return None
    if before is not None and _is_anothers(before, message) and not pack()["i_ate"].found(message.wording):
        return [NotMine(why="others")]
    numbered = cast("BatchRef | None", reading.values.get("batch"))
    if numbered is not None and numbered.number is None:
        return None
    if "pieces" in reading.values:
        return _in_pieces(reading, message, start)
    if reading.template == "batch {rest}" and not _listed(message, start):
        return None
    opened = _batch(message, start)
    if _eaten_of_it(message, start):
        return None
    return [opened] if not opened.items or any(map(_may_go_in, opened.items)) else None


def _eaten_of_it(message: Message, start: int) -> bool:
    """Whether the first amount is one that was eaten: 'a new batch of granola arrived, had 45 g'."""
    first = next((c for c in message.chunks[start:] if _is_mass(c)), None)
    return first is not None and message.line.plain[first.start - 1] in pack()["portioned"]


def _may_go_in(item: Item) -> bool:
    """Whether it can be an ingredient: '500 of them' without a unit or a food that is known is none."""
    known = item.name is not None and bool(item.name.foods or item.name.kinds)
    return known or item.amount is None or any(letter.isalpha() for letter in item.amount.text)


def _leads(before: Words, message: Message) -> bool:
    """Whether the words before a head tell of nothing themselves."""
    part = message.between(before.start, before.end)
    return part is not None and before.end - before.start <= MOST_BEFORE and not part.of("amount", "food", "batch")


def _is_anothers(before: Words, message: Message) -> bool:
    """'my sister's making a new batch …': whether the last one named before a head is somebody else."""
    for n in range(before.end - 1, before.start - 1, -1):
        word = message.line.text(n)
        if plain(word) in pack()["i_or_we"]:
            return False
        if singular(word.removesuffix("'s")) in message.words.people or word in message.words.pronouns:
            return True
    return False


def _listed(message: Message, start: int) -> bool:
    """Whether a colon or a dash parts what may be a name from amounts: 'batch curry: 800 g …'.

    A food of no open batch right behind it is what goes in: 'batch rice 400 dry'.
    """
    told = message.chunks[start:]
    if told and told[0].kind == "food" and not message.of("batch")[1:] and any(c.kind == "amount" for c in told):
        return not pack()["tells_of_eating"].found(message.wording) and not message.when.meal
    mass = next((n for n, c in enumerate(message.chunks) if n >= start and _is_mass(c)), len(message.chunks))
    marked = any(c.text in (":", "-") for c in message.chunks[start:mass])
    return marked and any(c.kind == "amount" for c in message.chunks[start:])


def _is_mass(chunk: Chunk) -> bool:
    return chunk.amount is not None and chunk.amount.kind in FIRST_MASS


def _batch(message: Message, start: int) -> OpenBatch:
    """What follows 'new batch'."""
    named = _name(message, start)
    name = named.name and _without_time(named.name)
    body = message.part(named.at, len(message.chunks))
    told = _told(body)
    cooked = _cooked_weight(told)
    told = [i for i in told if not (i.name is None and i.state == State.COOKED)]
    if name is not None and told and not any(i.name or i.batch for i in told):
        of_it = message.vocabulary.resolve(name.split(), name)
        told = [replace(i, name=of_it) for i in told[:1]]
        name = None
    if not told:
        return OpenBatch(name=name, items=(), cooked=cooked)
    if not any(i.amount for i in told) and name is None:
        only = told[0]
        return OpenBatch(name=only.name.text if only.name else None, items=(), cooked=cooked)
    return OpenBatch(name=name, items=tuple(told), cooked=cooked)


def _in_pieces(reading: Reading, message: Message, start: int) -> list[Meaning] | None:
    """'made 16 meatballs: …': a dish that is told by its pieces, with what went in behind a colon."""
    named = _name(message, start)
    if not named.name or message.when.meal or message.asks:
        return None
    name = _without_time(named.name)
    said = [plain(word) for word in name.split()]
    if pack()["plated"].found(said) or len(said) > MOST_NAMED or said[0].isdecimal():
        return None
    told = _told(message.part(named.at, len(message.chunks)))
    if any(i.name is None for i in told) or not any(i.amount is not None for i in told):
        return None
    pieces = cast(int, reading["count"])
    if message.chunks[named.at - 1].text not in (":", "\n") or not 1 < pieces <= MOST_PIECES:
        return None
    opened = OpenBatch(name=name, items=tuple(told))
    return [opened, CountPieces(batch=BatchRef(text=name), pieces=pieces, word=one_of(said[-1]))]


def _without_time(name: str) -> str:
    """'chicken casserole for tonight' is called chicken casserole, and neither does the scale belong to a name."""
    said = [plain(word) for word in name.split()]
    cuts = [n for n in range(1, len(said)) if pack()["time_of_batch"].end(said, n)]
    return " ".join(name.split()[: cuts[0]]) if cuts else name


def _told(body: Message) -> list[Item]:
    """What goes in; an ingredient is a food even when an open batch goes by the same word."""
    told = [i for i in items(body.without(list(body.of("moment")))) if i.amount is not None or i.name is not None]
    return [replace(i, batch=None) if i.batch is not None and i.name is not None else i for i in told]


def _name(message: Message, start: int) -> _Named:
    """The name given to the batch, and the chunk where its ingredients begin."""
    chunks = message.chunks
    leading = pack()["before_name"]
    i = start
    while i < len(chunks) and (chunks[i].text in ("-", ",") or _phrase(leading, message, i)):
        i += max(1, _phrase(leading, message, i))
        if chunks[i - 1].text == "," and i > start + 2:
            break
    if i < len(chunks) and chunks[i].text == ":":
        end = next((n for n in range(i + 1, len(chunks)) if _ends_line(chunks[n])), len(chunks))
        alone = end < len(chunks) and not any(c.kind == "amount" for c in chunks[i:end])
        name = _plain(message.phrase(chunks[i + 1 : end])) if alone and end - i <= MOST_NAMED else None
        return _Named(name, (end if name else i) + 1)
    colon = _colon(chunks, i)
    if colon is not None:
        return _Named(_plain(message.phrase(chunks[i:colon])), colon + 1)
    end = i
    while end < len(chunks) and not _ends_name(message, i, end):
        end += 1
    if end == i:
        return _Named(None, i)
    name = _plain(message.phrase(chunks[i:end]))
    called = any(plain(c.text.lower()) in pack()["naming"] for c in chunks[start : i + 1])
    if end >= len(chunks) or (called and chunks[end].kind == "amount"):
        return _Named(name, end)
    if (
        chunks[end].kind == "newline"
        or chunks[end].text in (".", ",", ";", "/")
        or _phrase(pack()["after_name"], message, end)
    ):
        return _Named(name, end + max(1, _phrase(pack()["after_name"], message, end)))
    timed = next((n for n in range(i + 1, end) if _phrase(pack()["time_of_batch"], message, n)), None)
    if timed is not None:
        return _Named(_plain(message.phrase(chunks[i:timed])), end)
    return _Named(None, i)


def _phrase(found: Concept, message: Message, i: int) -> int:
    """How many chunks from chunk i on say a phrase of the concept; 0 for none."""
    said = [plain(t.text) for t in message.tokens[message.chunks[i].start : message.chunks[i].start + MOST_BEFORE]]
    length = found.end(said, 0) or 0
    end = message.chunks[i].start + length
    if not length:
        return 0
    behind = next((n for n, c in enumerate(message.chunks) if n >= i and c.start >= end), len(message.chunks))
    return behind - i


def _colon(chunks: Sequence[Chunk], i: int) -> int | None:
    """The colon behind a name, whatever numbers the name has; a weight or the end of the sentence ends the search."""
    for n in range(i, len(chunks)):
        chunk = chunks[n]
        if chunk.text == ":":
            return n
        if (
            chunk.kind == "newline"
            or chunk.text in SENTENCE_ENDS
            or (chunk.amount is not None and chunk.amount.kind == "mass")
        ):
            return None
    return None


def _ends_line(chunk: Chunk) -> bool:
    """Whether an entry of a list ends, and none of its foods: 'batch: tofu curry / tofu 560 / coconut milk 400'."""
    return chunk.kind == "newline" or chunk.text == "/" or chunk.text in SENTENCE_ENDS


def _ends_name(message: Message, start: int, i: int) -> bool:
    chunk = message.chunks[i]
    if chunk.kind in ("amount", "newline") or chunk.text in (".", ",", ";", "=", "(", "/"):
        return True
    return (chunk.kind == "state" and i == start) or (i > start and bool(_phrase(pack()["after_name"], message, i)))


def _plain(name: str) -> str | None:
    words = [w for w in name.strip(" -:,.\"'").split() if w]
    while words and words[0] in pack()["article"]:
        words = words[1:]
    return " ".join(words) or None


def _cooked_weight(told: Sequence[Item]) -> Amount | None:
    for item in told:
        if item.name is None and item.batch is None and item.state == State.COOKED and item.amount is not None:
            return item.amount
        if item.cooked_g is not None:
            return Amount(kind="mass", value=item.cooked_g, unit="g", grams=item.cooked_g, text=f"{item.cooked_g:g} g")
    return None
