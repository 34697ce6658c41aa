"""What is set aside before a message is read: a first thought that is taken back, and where leftovers are from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.chunks import Chunk
from bot.language.edges import without_edges
from bot.language.message import SENTENCE_END, Message
from bot.language.narrated import without_narrated
from bot.language.pack import pack
from bot.language.stories import stretches

BEARING = frozenset({"food", "batch", "amount", "state", "hash", "energy", "macro", "price", "tare", "part", "whole"})
"""Kinds of chunk without which a stretch tells nothing of what was eaten."""


def cleared(message: Message) -> Message:
    """The message without what its writer takes back at once and without times that are not those of the meal."""
    told = without_narrated(_without_first_thought(message))
    return without_edges(_without_origins(_without_days_ahead(told)))


def without_address(message: Message) -> Message:
    """An answer without the food's word that only addresses somebody: 'that was cooked, honey', 'pounds honey'."""
    asked = [waiting for waiting in message.around.waiting if waiting.states or any(waiting.units)]
    if not asked or len(message.of("food")) != 1 or message.of("amount", "batch", "hash"):
        return message
    if not message.of("state") and not any(c.text.lower() in message.words.mass_units for c in message.of("word")):
        return message
    last, before = message.chunks[-1], message.chunks[:-1]
    name = message.line.plain[last.start]
    if last.kind != "food" or name not in pack()["said_to_somebody"]:
        return message
    unit = before[-1].text.lower() in message.words.mass_units
    if not unit and before[-1].kind not in ("state", "sign"):
        return message
    meant = any(name in waiting.word.split() for waiting in asked)
    return message if meant else message.without([last, *(c for c in before[-1:] if c.kind == "sign")])


def _without_first_thought(message: Message) -> Message:
    """'mash?? no, new potatoes, 160 g' without the mash: the question was to oneself, and is answered."""
    chunks = message.chunks
    asked = next((i for i, c in enumerate(chunks) if c.kind == "sign" and c.text == "?"), None)
    if not asked:
        return message
    behind = asked
    while behind < len(chunks) and chunks[behind].kind == "sign":
        behind += 1
    first, rest = message.part(0, asked), message.part(behind, len(chunks))
    said, opens = message.line.plain, pack()["opens_fix"]
    if not first.of("food", "amount") or not rest.of("amount") or not rest.of("food", "batch"):
        return message
    forms = ("asking_form", "should_i", "is_it_right")
    words = said[first.chunks[0].start : first.chunks[-1].end]
    if words[0] in message.words.asking or any(pack()[name].found(words) for name in forms):
        return message  # a question to somebody else gets its answer
    end = opens.end(said, chunks[behind].start)
    if end is None:
        return message
    kept = [c for c in rest.chunks if c.start >= end]
    while kept and kept[0].kind == "sign":
        kept = kept[1:]
    return replace(message, chunks=tuple(kept), offset=message.offset + chunks.index(kept[0])) if kept else message


def _without_origins(message: Message) -> Message:
    """'for breakfast 180 g rice from last night': the rice is from then, and is eaten at breakfast today."""
    moments = [c for c in message.chunks if c.moment is not None]
    from_then = [c for c in moments if _is_origin(message, c)]
    if len(from_then) != 1 or not message.of("amount"):
        return message
    others = [c for c in moments if c not in from_then]
    said = message.line.plain[message.chunks[0].start : message.chunks[-1].end]
    now = any(
        c.moment is not None and (c.moment.meal is not None or c.moment.day == message.around.today) for c in others
    )
    gone = from_then[0]
    name = _named_behind(message, gone)
    again = name is not None and name.kind == "batch" and pack()["once_again"].found(said)
    now = now or again or pack()["kept_over"].found(said) or _is_taken_of(message, gone)
    if not now or any(pack()[name].found(said) for name in ("told_late", "told_before", "should_have_told")):
        return message
    return message.without([gone, *(c for c in message.chunks if c.end == gone.start and _says_out_of(message, c))])


def _is_origin(message: Message, chunk: Chunk) -> bool:
    """Whether a past day stands behind 'from', or before the food of that day: 'last night's dal'."""
    moment = chunk.moment
    if moment is None or moment.day is None or moment.day >= message.around.today:
        return False
    before = message.line.plain[chunk.start - 1] if chunk.start else ""
    return before in pack()["out_of_then"] or (_owns(message, chunk) and not _came_to(message, chunk))


def _says_out_of(message: Message, chunk: Chunk) -> bool:
    return chunk.kind == "word" and message.line.plain[chunk.start] in pack()["out_of_then"]


def _owns(message: Message, day: Chunk) -> bool:
    """Whether a day is that of the food behind it: 'yesterday's stew', 'last night's leftover rice'."""
    name = _named_behind(message, day)
    return name is not None and message.tokens[day.end - 1].text.endswith("s")


def _named_behind(message: Message, day: Chunk) -> Chunk | None:
    """The food or batch right behind a day."""
    kept_over = pack()["kept_over"]
    behind = (
        c for c in message.chunks if c.start >= day.end and not (c.kind == "state" or c.text.lower() in kept_over)
    )
    first = next(behind, None)
    return first if first is not None and first.kind in ("food", "batch") else None


def _came_to(message: Message, day: Chunk) -> bool:
    """Whether it is said what the food of that day weighed: 'last night's dal was 190 g'."""
    name = _named_behind(message, day)
    at = name.end if name is not None else day.end
    behind = message.line.plain[at : at + 1]
    return any(word in pack()["came_out_at"] for word in behind)


def _is_taken_of(message: Message, day: Chunk) -> bool:
    """Whether an amount was taken of the food of that day: '120 g of last night's dal'."""
    at, line = day.start, message.line
    while at and line.plain[at - 1] in pack()["the"]:
        at -= 1
    return any(c.end in (at, at - 1) and at in pack()["taken_of"].ends(line.plain, at - 1) for c in _weights(message))


def _weights(message: Message) -> list[Chunk]:
    return [c for c in message.of("amount") if c.amount is not None and c.amount.kind != "bare"]


def _without_days_ahead(message: Message) -> Message:
    """The message without 'Friday will be busy' beside '40 g cheddar just now': no day of what was eaten."""
    days = [c for c in message.of("moment") if c.moment is not None and c.moment.ahead is not None]
    if not days or message.asks or not message.of("amount"):
        return message
    parts = stretches(message, opening="other_clause")
    dropped: list[Chunk] = []
    kept: list[Chunk] = []
    for stretch in parts:
        (dropped if _looks_ahead(message, stretch, days) else kept).extend(stretch)
    told = message.without(dropped)
    if not dropped or not told.of("food", "batch") or not told.of("amount"):
        return message
    said = [message.line.plain[n] for c in kept for n in range(c.start, c.end)]
    eaten = any(pack()[name].found(said) for name in ("just_now", "tells_of_eating"))
    apart = all(_is_in_another_sentence(message, c, kept) for c in dropped)
    return told if eaten or apart else message


def _looks_ahead(message: Message, stretch: Sequence[Chunk], days: Sequence[Chunk]) -> bool:
    """Whether a stretch names a day, tells no food and no weight, and speaks of what is still to come."""
    if not any(c in days for c in stretch) or any(c.kind in BEARING and not _is_article(c) for c in stretch):
        return False
    said = message.line.plain[stretch[0].start : stretch[-1].end]
    comes = pack()["day_to_come"].found(said) or any(_is_said_of(message, c) for c in stretch if c in days)
    return comes and not pack()["day_gone_by"].found(said)


def _is_said_of(message: Message, day: Chunk) -> bool:
    """Whether something is said of a day in short: 'thursday's the wedding' is 'thursday is the wedding'."""
    before_it = (message.line.plain[day.end : day.end + 1] or [""])[0] in pack()["article"]
    return before_it and message.tokens[day.end - 1].text.endswith("'s")


def _is_article(chunk: Chunk) -> bool:
    return chunk.amount is not None and chunk.amount.text.lower() in pack()["articles"]


def _is_in_another_sentence(message: Message, chunk: Chunk, kept: Sequence[Chunk]) -> bool:
    """Whether a full stop parts a chunk from all that is told."""
    tokens = message.tokens
    ends = [n for n in range(len(tokens)) if tokens[n].text in SENTENCE_END or tokens[n].kind == "newline"]
    return all(
        any(min(chunk.start, c.start) < n < max(chunk.end, c.end) for n in ends) for c in kept if c.kind != "word"
    )
