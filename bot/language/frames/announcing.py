"""The frame of a pot that is announced outright: a word for a pot that begins or gets a name, and a whole list.

It is read before all that looks for eaters, plans and corrections, because nothing of that is meant in such a message:
'second batch, curry. Chicken breast, raw, 450 g, to start her off', 'in goes 1.2 kg chicken, this pot will be adobo'.
"""

from __future__ import annotations

from bot.language.batch_meanings import OpenBatch
from bot.language.chunks import Chunk
from bot.language.frames.opening import announced_list, opened
from bot.language.frames.pot_names import STOPS, given_name
from bot.language.frames.spans import outside, spans
from bot.language.intents.openings import opening
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.scene import Scene, is_owned_by_others
from bot.language.stance import how_it_is_said, planned

MOST_CHUNKS = 120
NOT_NOW = ("i_ate", "condition", "by_recipe", "habit", "another_time", "repair", "start_over", "later_on", "told_wrong")


def announced(scene: Scene) -> list[Meaning] | None:
    """The batch that a message opens outright, with all that goes in."""
    message = scene.message
    if len(message.chunks) > MOST_CHUNKS or not scene.masses or message.of("hash", "energy", "macro", "price"):
        return None
    core = _without_occasion(message)
    if core is not message:
        return opened(Scene(core))
    if message.asks or scene.cue(*NOT_NOW) or is_owned_by_others(scene) or not _begins(message):
        return None
    told = outside(message, spans(message, "lets_begin"))
    rest = outside(told, given_name(message)[1])
    if planned(rest) or how_it_is_said(rest) is not None:
        return None
    by_head = None if given_name(message)[0] else _with_items(opening(message))
    return by_head or announced_list(told)


def _without_occasion(message: Message) -> Message:
    """Without the part that says for which days a pot is that is put on now: 'that's tonight and tomorrow sorted'."""
    now = message.line.plain.places("just_now") and message.line.plain.places("pot_begins")
    if not message.when.future or not now:
        return message
    parts: list[list[Chunk]] = [[]]
    for chunk in message.chunks:
        parts[-1].append(chunk)
        if chunk.text in STOPS:
            parts.append([])
    occasions = [
        part
        for part in parts
        if any(c.kind == "moment" for c in part) and not any(c.kind in ("food", "amount", "batch") for c in part)
    ]
    told = [c for part in parts if part not in occasions for c in part]
    kept = {id(part[-1]) for part in occasions if part[-1].text == ":"}
    dropped = [c for part in occasions for c in part if id(c) not in kept]
    return message.without(dropped) if told and len(occasions) < len(parts) else message


def _with_items(found: list[Meaning] | None) -> list[Meaning] | None:
    """What the usual heads open, where it is whole: each weight with its food, and a name."""
    if found is None or len(found) != 1 or not isinstance(found[0], OpenBatch):
        return None
    opened = found[0]
    whole = opened.name and opened.items and all(i.name is not None and i.amount is not None for i in opened.items)
    return found if whole else None


def _begins(message: Message) -> bool:
    """Whether a batch or pot is named outright as one that begins, or as what is given a name."""
    first = next((c.start for c in message.chunks if c.amount is not None and c.amount.kind == "mass"), 0)
    named = given_name(message)[1]
    for chunk in message.chunks:
        said = plain(chunk.text.lower().removesuffix("'s"))
        if said not in pack()["pot"] or (chunk.kind == "batch" and chunk.field != "bare"):
            continue
        if any(span.start <= chunk.start < span.end for span in named):
            return True
        if chunk.start < first and any(_opens(message, at) for at in range(max(0, chunk.start - 4), chunk.start)):
            return True
        if chunk.start < first and (named or message.line.plain.places("lets_begin")):
            return True
    said = message.line.plain
    return len(message.of("amount")) > 1 and any(
        said[n] in pack()["this_here"] for span in named for n in range(span.start, span.end)
    )


def _opens(message: Message, at: int) -> bool:
    """Whether a token before a word for a pot says that one begins: 'opening a second batch', 'another pan'."""
    word = message.line.plain[at]
    return at >= message.chunks[0].start and (word in pack()["opening"] or word in pack()["one_more"])
