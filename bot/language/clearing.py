"""What is set aside before a message is read: a first thought that is taken back, and where leftovers are from."""

from __future__ import annotations

from dataclasses import replace

from bot.language.chunks import Chunk
from bot.language.message import Message
from bot.language.pack import pack


def cleared(message: Message) -> Message:
    """The message without what its writer takes back at once and without times that only say where food is from."""
    return _without_origins(_without_first_thought(message))


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
    if pack()["told_late"].found(said) or not (now or pack()["kept_over"].found(said)):
        return message
    gone = from_then[0]
    return message.without([gone, *(c for c in message.chunks if c.end == gone.start and c.kind == "word")])


def _is_origin(message: Message, chunk: Chunk) -> bool:
    """Whether a past day stands behind 'from'."""
    line, around = message.line, message.around
    moment = chunk.moment
    if moment is None or not chunk.start or line.plain[chunk.start - 1] not in pack()["out_of_then"]:
        return False
    return moment.day is not None and moment.day < around.today
