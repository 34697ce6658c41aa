"""Frames of a pot that is announced outright: a word for a pot that begins or gets a name, and a whole list.

`announced` is read before all that looks for eaters, plans and corrections, because nothing of that is meant:
'second batch, curry. Chicken breast, raw, 450 g, to start her off', 'in goes 1.2 kg chicken, this pot will be adobo'.
"""

from __future__ import annotations

from bot.language.batch_meanings import OpenBatch
from bot.language.chunks import Chunk
from bot.language.frames.opening import announced_list, is_muddled, name_of_pot, opened
from bot.language.frames.pot_contents import LEAST_RAW_G, grams_in
from bot.language.frames.pot_names import STOPS, given_name
from bot.language.frames.spans import outside, spans
from bot.language.intents.openings import opening
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.scene import Scene, is_owned_by_others
from bot.language.stance import how_it_is_said, not_mine, planned
from domain.foods import State

MOST_CHUNKS = 120
NOT_NOW = (
    "i_ate",
    "condition",
    "by_recipe",
    "habit",
    "another_time",
    "repair",
    "start_over",
    "later_on",
    "told_wrong",
    "as_before",
)


def announced(scene: Scene) -> list[Meaning] | None:
    """The batch that a message opens outright, with all that goes in."""
    message = scene.message
    if len(message.chunks) > MOST_CHUNKS or not scene.masses or message.of("hash", "energy", "macro", "price"):
        return None
    core = _without_occasion(message)
    if core is not message:
        return opened(Scene(core))
    asked = message.asks and not scene.cue("would_you")
    again = bool(scene.named) and scene.cue("once_again") and scene.cue("this_time")
    if message.has("?") or asked or again or scene.cue(*NOT_NOW) or is_owned_by_others(scene):
        return None
    if not _begins(message):
        return None
    name, named = given_name(message)
    told = outside(message, spans(outside(message, named), "lets_begin", "will_be"))
    rest = outside(told, named)
    if planned(rest) or how_it_is_said(rest) is not None:
        return None
    by_head = None if name else _with_items(opening(message))
    if by_head is not None and is_muddled(by_head, name):
        by_head = None
    return by_head or announced_list(told)


def put_to_cook(scene: Scene) -> list[Meaning] | None:
    """'chicken thighs, bone in, 520g raw on the tray. roasting them': what is being cooked is not yet eaten."""
    message = scene.message
    if message.asks or message.when.future or message.when.meal or scene.named or message.of("hash", "energy", "macro"):
        return None
    if not scene.cue("being_cooked") or scene.cue("i_ate", "condition", "portioned") or len(scene.masses) != 1:
        return None
    told = [i for i in items(message) if i.name is not None and i.amount is not None]
    raw = [i for i in told if i.state == State.RAW and grams_in(i) >= LEAST_RAW_G]
    refused = not_mine(message)
    if len(told) != 1 or len(raw) != 1 or (refused is not None and refused.why == "others"):
        return None
    name = raw[0].name
    assert name is not None
    return [OpenBatch(name=name_of_pot(message) or name.text, items=(raw[0],))]


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
    words = message.line.plain
    return len(message.of("amount")) > 1 and any(
        words[n] in pack()["this_here"] for span in named for n in range(span.start, span.end)
    )


def _opens(message: Message, at: int) -> bool:
    """Whether a token before a word for a pot says that one begins: 'opening a second batch', 'another pan'."""
    word = message.line.plain[at]
    return at >= message.chunks[0].start and (word in pack()["opening"] or word in pack()["one_more"])
