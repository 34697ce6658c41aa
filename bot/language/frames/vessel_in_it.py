"""The vessel that a weight includes, however that is said: 'pan and all', 'the wok and the curry together', 'incl pot'.

A word for a vessel and what is in it, joined, are on the scale together; what takes a vessel off is read elsewhere.
"""

from __future__ import annotations

from bot.language.belongings import near_tare
from bot.language.intents.readings import vessel_taken_off
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.told import TareRef

MOST_BETWEEN = 5
"""Tokens between a vessel and its contents."""
MOST_NAME_WORDS = 2
"""Words that say which vessel it is: 'the old steel pot'."""


def vessel_in_it(scene: Scene) -> TareRef | None:
    """The vessel on the scale with its contents, saved or not; None where none is, or where it was taken off."""
    message = scene.message
    if not message.chunks or vessel_taken_off(message):
        return None
    line = message.line
    first, last = message.chunks[0].start, message.chunks[-1].end
    contents = [(start, end) for _, start, end in scene.named]
    contents += [(at, end) for at, end in line.plain.places("all_in_vessel") if first <= at and end <= last]
    ends = {end - 1 for at, end in line.plain.places("cooking_vessel") if first <= at and end <= last}
    saved = {lemmas[-1] for lemmas, _, _ in line.tare_names if lemmas}
    for at in range(first, last):
        vessel = (
            line.lemmas[at] in message.words.vessels
            or line.lemmas[at] in saved
            or (at in ends and line.plain[at] not in pack()["of_a_share"])
        )
        if not vessel or any(start <= at < end for start, end in contents):
            continue
        if (
            _led_in(message, at)
            or _told_in(message, at)
            or any(_joined(message, at, start, end) for start, end in contents)
        ):
            return _called(message, at)
    return None


def _led_in(message: Message, vessel: int) -> bool:
    """'incl pot', 'including my wok', 'that's with the pan'."""
    line, at = message.line, vessel
    first = message.chunks[0].start
    while at > first and vessel - at < MOST_NAME_WORDS and _tells_which(message, at - 1):
        at -= 1
    while at > first and line.plain[at - 1] in pack()["pointing"]:
        at -= 1
    return at > first and line.plain[at - 1] in pack()["included_with"]


def _told_in(message: Message, vessel: int) -> bool:
    """'pot included', 'with it in the pot'."""
    line = message.line
    behind = line.plain[vessel + 1] if vessel + 1 < len(line.tokens) else ""
    return behind in pack()["counted_in"]


def _joined(message: Message, vessel: int, start: int, end: int) -> bool:
    """Whether nothing but words that join stand between a vessel and its contents."""
    first, behind = (vessel + 1, start) if vessel < start else (end, vessel)
    between = message.line.plain[first:behind]
    if len(between) > MOST_BETWEEN:
        return False
    joins = [word for word in between if word in pack()["on_scale_with"]]
    small = pack()["pointing"].words | pack()["before_a_name"].words
    which = range(behind - MOST_NAME_WORDS, behind) if vessel > start else range(0)
    rest = [n for n in range(first, behind) if message.line.plain[n] not in pack()["on_scale_with"]]
    return bool(joins) and all(
        message.line.plain[n] in small or (n in which and _tells_which(message, n)) for n in rest
    )


def _tells_which(message: Message, at: int) -> bool:
    """Whether a word before one for a vessel says which it is: 'big', 'steel'."""
    chunk = next((c for c in message.chunks if c.start <= at < c.end), None)
    word = message.line.plain[at]
    leading = ("on_scale_with", "included_with", "pointing", "before_a_name")
    small = any(word in pack()[name] for name in leading)
    return chunk is not None and chunk.kind in ("word", "size", "noise", "tare") and word.isalpha() and not small


def _called(message: Message, vessel: int) -> TareRef:
    first, at = message.chunks[0].start, vessel
    while at > first and vessel - at < MOST_NAME_WORDS and _tells_which(message, at - 1):
        at -= 1
    return near_tare(message.line, message.line.said(at, vessel + 1).lower())
