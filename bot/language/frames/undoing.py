"""Frames for undo with a reason behind it, with second thoughts, or in other words."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.fix_meanings import Undo
from bot.language.meanings import Chatter, Meaning
from bot.language.pack import pack
from bot.language.recalling import meant, named_by
from bot.language.scene import Scene

OPENING = ("opens_fix", "beside_fix", "polite")
"""Concepts of words that may stand before what is said of the record."""


MOST_WORDS = 14


def undone(scene: Scene) -> list[Meaning] | None:
    """'ay sorry undo, that one is for Joy in station 3'; 'undo? no keep it' undoes nothing."""
    words, concepts = scene.said, pack()
    if not scene.cue("undo_word") or scene.foods or scene.named or any(a.kind == "mass" for a in scene.masses):
        return None
    if any(
        concepts["undo_word"].ends(words, end) for i in range(len(words)) for end in concepts["do_not"].ends(words, i)
    ):
        return [Chatter(kind="kept")]
    at = 0
    while at < len(words) and not concepts["undo_word"].ends(words, at):
        ends = [end for name in OPENING if (end := concepts[name].end(words, at))]
        if not ends and words[at].isalnum():
            return None
        at = max(ends, default=at + 1)
    behind = words[concepts["undo_word"].end(words, at) or at :]
    if concepts["leaves_it_be"].found(behind):
        return [Chatter(kind="kept")]
    if not behind or not behind[0].isalnum() or concepts["what_is_undone"].ends(behind, 0):
        return None if scene.message.asks else [Undo()]
    return None


def wanted_back(scene: Scene) -> list[Meaning] | None:
    """'no, put the egg back', 'bring it back please': what was deleted is to be on record again."""
    message, words = scene.message, scene.said
    if not scene.cue("puts_back_order") or message.asks or scene.amounts or scene.named or len(words) > MOST_WORDS:
        return None
    at = 0
    while at < len(words) and pack()["puts_back_order"].end(words, at) is None:
        ends = [end for name in OPENING if (end := pack()[name].end(words, at))]
        if not ends and words[at].isalnum():
            return None
        at = max(ends, default=at + 1)
    at = pack()["puts_back_order"].end(words, at) or at
    back = next((i for i in range(at, len(words)) if pack()["back_on_record"].end(words, i) is not None), None)
    if back is None:
        return None
    named = {n for c in message.of("food") for n in range(c.start, c.end)}
    offset = message.chunks[-1].end - len(words)
    between = [words[i] for i in range(at, back) if i + offset not in named]
    behind = words[pack()["back_on_record"].end(words, back) or back :]
    points = pack()["the_recorded"]
    if any(w not in points and w not in pack()["it_or_them"] for w in between if w.isalnum()):
        return None
    if any(w.isalnum() and w not in pack()["polite"] for w in behind):
        return None
    return [Undo(of_removal=True)]


def unsaid(scene: Scene) -> list[Meaning] | None:
    """'scrap that, never drank it in the end', 'hold up, take that back': all that the last message recorded."""
    message, words = scene.message, scene.said
    if (
        not scene.cue("takes_all_back", "delete", "off_record")
        or message.asks
        or message.of("food", "batch", "amount", "hash", "moment")
    ):
        return None
    if scene.cue("do_not") and pack()["do_not"].end(words, 0) is not None:
        return None
    if all(w in pack()["delete"] or w in pack()["polite"] for w in words if w.isalnum()):
        return [Undo()] if message.around.recorded() else None  # 'delete, please'
    for i in range(len(words)):
        for end in _takes_back(words, i):
            behind = end == len(words) or not words[end].isalnum() or words[end] in pack()["begins_reason"]
            before = (
                i == 0 or not words[i - 1].isalnum() or any(pack()[n].end(words, 0) for n in (*OPENING, "would_you"))
            )
            if behind and before:
                return [Undo()]
    return None


def _takes_back(words: Sequence[str], i: int) -> list[int]:
    """Where an order that begins at word i to take back what was told ends: 'scrap that', 'take both of those off'."""
    ends = pack()["takes_all_back"].ends(words, i)
    for verb in pack()["off_record"].ends(words, i):
        at = _behind_last(words, verb) or verb
        while at < len(words) and (
            any(words[at] in pack()[name] for name in ("all_that_was_told", "one_of_those_told"))
            or (at > verb and words[at] in pack()["before_number"])
        ):
            at += 1
        off = max(pack()[name].end(words, at) or at for name in ("off_of", "back_again_of_it"))
        pointed = at > verb or any(w in pack()["all_that_was_told"] for w in words[i:verb])
        if pointed and (off > at or verb > i + 1 or words[i] in pack()["delete"]):
            ends.append(off)
    return ends


def _behind_last(words: Sequence[str], at: int) -> int | None:
    """Where words for the last one end that are to be taken back: 'that last one back', 'my latest entry back'."""
    while at < len(words) and words[at] in pack()["the_recorded"]:
        at += 1
    end = pack()["last_one"].end(words, at) if at < len(words) else None
    end = end and (pack()["entry"].end(words, end) or end)
    return end if end is not None and pack()["back_again_of_it"].end(words, end) is not None else None


def left_as_is(scene: Scene) -> list[Meaning] | None:
    """'no wait, leave the rice', 'keep the pizza as it is': what is on record is right after all."""
    message, words = scene.message, scene.said
    if not scene.cue("leave_as_is") or scene.amounts or message.asks or message.when.future or message.of("hash"):
        return None
    at = 0
    while at < len(words) and not pack()["leave_as_is"].ends(words, at):
        ends = [end for name in OPENING if (end := pack()[name].end(words, at))]
        if not ends and words[at].isalnum():
            return None
        at = max(ends, default=at + 1)
    if at == len(words) or len(message.of("food", "batch")) != 1:
        return None
    name = message.of("food", "batch")[0]
    offset = len(words) - message.chunks[-1].end
    behind = words[name.end + offset :]
    end = pack()["as_it_is"].end(behind, 0) if behind else 0
    turned = any(pack()["opens_fix"].end(words, n) for n in range(at))
    if end is None or any(word.isalnum() for word in behind[end:]) or not (turned or end):
        return None
    on_record = meant(named_by(message, name), message.around.recorded())
    return [Chatter(kind="kept")] if on_record else None
