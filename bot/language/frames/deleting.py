"""Frames for taking several weigh-ins off the record: by their numbers, by their meal, or with a reason beside it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile

from bot.language.fix_meanings import Delete, DeleteSeveral, Which
from bot.language.frames.undoing import OPENING
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.recalling import meant, named_by
from bot.language.scene import Scene

MOST_CHUNKS = 40
GONE = ("must_go", "has_to_go", "never_had")
"""Cues that what is on record has no place there."""


def deleted(scene: Scene) -> list[Meaning] | None:
    """'delete 1 and 2, that was my nephew', 'please delete my lunch of today', 'that last one was Harold's'."""
    message = scene.message
    if not scene.cue("delete", "off_record", "not_for_me", "told_twice", *GONE) or len(message.chunks) > MOST_CHUNKS:
        return None
    if (message.asks and not message.orders) or message.when.future or scene.cue("condition", "wonders"):
        return None
    numbered = _numbered(scene)
    if numbered is not None or scene.cue("do_not"):
        return numbered
    return _by_numbers(scene) or _of_a_meal(scene) or _the_last(scene) or _twice(scene) or _both(scene)


def _begins(scene: Scene) -> int | None:
    """The word behind the order to delete, where it begins the message or a clause of it."""
    words, orders = scene.said, pack()["delete"]
    beside = (*OPENING, "would_you", "before_order")
    at = 0
    while at < len(words):
        end = orders.end(words, at)
        if end is not None:
            return end
        passed = [end for name in beside if (end := pack()[name].end(words, at)) is not None]
        if not passed and words[at].isalnum():
            return None
        at = max(passed, default=at + 1)
    return None


def _by_numbers(scene: Scene) -> list[Meaning] | None:
    """'delete 1 and 2', 'remove nos 14, 15 and 16 please': numbers of weigh-ins on record and nothing else of food."""
    words, at = scene.said, _begins(scene)
    if at is None or scene.named or any(c.amount is None or c.amount.kind != "bare" for c in scene.amounts):
        return None
    known = {each.number for each in scene.message.around.recorded()}
    numbers: list[int] = []
    while at < len(words):
        if words[at].isdecimal():
            numbers.append(int(words[at]))
        elif not (words[at] in pack()["between_numbers"] or pack()["entry"].end(words, at)):
            break
        at += 1
    behind = words[at : at + 1]
    reason = bool(behind) and (behind[0] in pack()["begins_reason"] or behind[0] in pack()["polite"])
    ended = not behind or not words[at - 1].isalnum() or reason
    if not numbers or not ended or not known.issuperset(numbers) or any(w.isdecimal() for w in words[at:]):
        return None
    if scene.foods:
        return None  # 'delete 2 eggs'
    return [DeleteSeveral(numbers=tuple(numbers))] if len(numbers) > 1 else [Delete(which=Which(number=numbers[0]))]


def _numbered(scene: Scene) -> list[Meaning] | None:
    """'#5 must go, the little one pinched it', '#3 was never eaten': weigh-ins on record by their signed numbers."""
    message, words = scene.message, scene.said
    numbers = [c.number for c in message.of("hash")]
    known = {each.number for each in message.around.recorded()}
    if not numbers or not known.issuperset(numbers) or scene.foods or scene.named or _weighs(scene):
        return None
    behind = message.of("hash")[-1].end - message.chunks[-1].end + len(words)
    clause = list(takewhile(str.isalnum, words[behind:]))
    said = goes(clause) or any(pack()[name].found(clause) for name in ("must_go", "never_had", "not_for_me"))
    return [Delete(which=Which(number=number)) for number in numbers] if said else None


def goes(words: Sequence[str]) -> bool:
    """Whether a clause ends with that something has to go: 'the milk must go', but not '… back in the fridge'."""
    ends = (end for n in range(len(words)) for end in pack()["has_to_go"].ends(words, n))
    return any(end == len(words) or not words[end].isalnum() for end in ends)


def _of_a_meal(scene: Scene) -> list[Meaning] | None:
    """'please delete my lunch of today, it was my sister's': all of a meal that is on record, which is asked about."""
    message, when = scene.message, scene.message.when
    if _begins(scene) is None or when.meal is None or scene.foods or scene.named or scene.amounts:
        return None
    day = when.day or message.around.today
    if message.of("hash") or not any(r.day == day and r.meal == when.meal for r in message.around.recorded()):
        return None
    return [DeleteSeveral(day=day, meal=when.meal)]


def _twice(scene: Scene) -> list[Meaning] | None:
    """'I sent that twice': the later of two weigh-ins that are the same, and were told last."""
    recorded = scene.message.around.recorded()
    if not scene.cue("told_twice") or len(recorded) < 2 or scene.named or _weighs(scene):
        return None
    named = [meant(named_by(scene.message, c), recorded) for c in scene.foods]
    last = max(named[0], key=lambda each: each.number) if len(named) == 1 and named[0] else recorded[-1]
    same = [each for each in recorded if (each.food, each.day, each.grams) == (last.food, last.day, last.grams)]
    return [Delete(which=Which(number=last.number))] if len(same) > 1 and len(named) < 2 else None


def _weighs(scene: Scene) -> bool:
    return any(c.amount is not None and c.amount.kind == "mass" for c in scene.amounts)


def _both(scene: Scene) -> list[Meaning] | None:
    """'scrub both of those': the last two weigh-ins."""
    words, recorded = scene.said, scene.message.around.recorded()
    if scene.foods or scene.named or scene.message.of("hash", "moment", "energy") or len(recorded) < 2:
        return None
    orders = [end for name in ("off_record", "delete") if words and (end := pack()[name].end(words, 0)) is not None]
    at = max(orders, default=0)
    if not orders or not pack()["both_of_them"].ends(words, at):
        return None
    return [Delete(which=Which(number=each.number)) for each in recorded[-2:]]


def _the_last(scene: Scene) -> list[Meaning] | None:
    """'that last one was Harold's and not mine': the last weigh-in, told in a message of its own."""
    message = scene.message
    if scene.foods or scene.named or scene.amounts or message.of("hash", "energy", "macro", "moment"):
        return None
    if not scene.cue("last_one") or (scene.asks and not scene.cue("would_you")):
        return None
    owned = scene.cue("not_for_me") or (scene.cue("off_record") and any(w.endswith("'s") for w in message.said))
    recorded = message.around.recorded()
    return [Delete(which=Which(number=recorded[-1].number))] if owned and recorded else None
