"""The frame for what is usual or the same by its parts: what is repeated, since when it is so, what differs.

It comes behind the frames that account for every word. Stretches between commas that name no food, amount, meal or
day are remarks ('no surprises here') and count for nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise

from bot.language.chunks import Chunk, Kind
from bot.language.frames.once_more import denied, of_the_writer, only_that, only_when, says_of_something_else
from bot.language.intents.readings import kept_and_left_out
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.moments import together
from bot.language.pack import pack
from bot.language.recalling import meant, named_by
from bot.language.scene import Scene
from bot.language.told import Item, Name, When
from bot.language.usual import Combination, Repeat

NEVER: tuple[Kind, ...] = ("hash", "energy", "macro", "price", "tare", "batch")
TELLING: tuple[Kind, ...] = ("food", "amount", "moment")
CUES = ("eaten_again", "eaten_as_always", "same_as_then")
SURELY = ("eaten_as_always", "same_as_then", "usual_one")
"""Concepts that say it without a day: 'again' alone does not."""
MOST_CHUNKS = 40
MOST_ITEMS = 12


@dataclass(frozen=True)
class Then:
    """When it was eaten before, and when this time."""

    day: date | None
    meal: str | None
    when: When


@dataclass(frozen=True)
class Differs:
    """What is different this time."""

    changes: tuple[Item, ...] = ()
    more: tuple[Name, ...] = ()
    without: tuple[Name, ...] = ()


def _may_repeat(scene: Scene) -> bool:
    """Whether it is the writer's, has happened, and says that something is usual or the same."""
    message = scene.message
    if len(message.chunks) > MOST_CHUNKS or scene.named or message.of(*NEVER) or not message.around.recorded():
        return False
    if not (scene.cue(*CUES) or _like_earlier(message)) or not of_the_writer(scene):
        return False
    return scene.cue("same_as_then") or not says_of_something_else(message)


def as_ever(scene: Scene) -> Sequence[Meaning] | None:
    """'had my usual lunch, no surprises here', 'flat white too, same like before', 'usual lunch, meaning rye 60, …'."""
    message = scene.message
    if not _may_repeat(scene):
        return None
    defined = _defined(message)
    if defined is not None:
        return defined
    parts = _stretches(message)
    heads = [part for part in parts if Scene(part).cue(*CUES) or _like_earlier(part)]
    if not heads or any(c.amount is not None and c.amount.value != 1 for head in heads for c in head.of("amount")):
        return None
    if any(denied(kept_and_left_out(head)[0]) for head in heads):
        return None
    beside = [part for part in parts if part not in heads and part.of(*TELLING)]
    then = _then([*heads, *beside])
    if then is None:
        return None
    foods, beside = _told_again(message, heads, beside, then)
    if foods and (only_that(message, message.of("food")) or any(only_when(head, foods) for head in heads)):
        then = replace(then, meal=None, when=replace(then.when, meal=then.when.meal or then.meal))
    differs = _differs(heads, beside)
    if differs is None or not (then.meal or foods):
        return None
    if not then.day and not _says_so(scene, heads, anew=bool(differs.changes) or not then.meal, meal=then.meal):
        return None
    day = then.day
    if foods and then.meal is None and day is None:
        last = _last_day(message, foods)
        if last is None:
            return None
        before = any(each.day < message.around.today for each in message.around.recorded())
        day = None if before and scene.cue("usual_one") else last
    names = (*foods, *differs.more)
    changes, without = differs.changes, differs.without
    return [Repeat(meal=then.meal, day=day, names=names, changes=changes, without=without, when=then.when)]


def _told_again(
    message: Message, heads: Sequence[Message], beside: list[Message], then: Then
) -> tuple[tuple[Name, ...], list[Message]]:
    """The foods that are said to be eaten again, and the stretches that tell something else."""
    foods = tuple(named_by(message, c) for head in heads for c in _foods(head))
    lead = [part for part in beside if part.chunks[0].start < heads[0].chunks[0].start]
    if not foods and then.meal is None and len(lead) == 1 and not lead[0].of("amount"):
        return tuple(named_by(message, c) for c in _foods(lead[0])), [p for p in beside if p is not lead[0]]
    if not foods and only_that(message, message.of("food")):
        return tuple(named_by(message, c) for c in message.of("food")), [p for p in beside if not p.of("food")]
    return foods, beside


def _says_so(scene: Scene, heads: Sequence[Message], *, anew: bool, meal: str | None) -> bool:
    """Whether it repeats without a day: 'cheddar again' does not, and 'breakfast again, 40 g cheddar' is new."""
    if anew and not scene.cue(*SURELY) and not _like_earlier(scene.message):
        return False
    return meal is not None or all(map(_nothing_else, heads))


def _nothing_else(head: Message) -> bool:
    """Whether the foods are all that it tells: 'the same cheddar went off' is no second helping."""
    line, words = head.line, pack()
    said = {n for concept in CUES for a, b in line.plain.places(concept) for n in range(a, b)}
    rest = [n for c in head.of("word") for n in range(c.start, c.end) if n not in said]
    return all(line.plain[n] in words["nothing_more"] or line.plain[n] in words["as_then"] for n in rest)


def _then(parts: Sequence[Message]) -> Then | None:
    """When it was eaten before and when this time; None for more than one past day or meal."""
    around = parts[0].around
    told = [c.moment for part in parts for c in part.of("moment") if c.moment is not None]
    past = {moment.day for moment in told if moment.day is not None and moment.day < around.today}
    meals = {moment.meal for moment in told if moment.meal is not None}
    if len(past) > 1 or len(meals) > 1:
        return None
    meal = next(iter(meals), None)
    own = together([moment for moment in told if moment.day not in past], around)
    when = When(day=None, moment=own.moment if own.day == around.today else None, meal=meal)
    return Then(next(iter(past), None), meal, when)


def _like_earlier(message: Message) -> bool:
    """Whether it is like something of today: 'one more flat white like this morning's'."""
    today, line = message.around.today, message.line
    moments = [
        c for c in message.of("moment") if c.moment is not None and c.moment.day in (None, today) and not c.moment.meal
    ]
    return any(c.start and line.plain[c.start - 1] in pack()["as_then"] for c in moments)


def _stretches(message: Message) -> list[Message]:
    """What stands between commas, dashes and brackets."""
    cuts = [n for n, c in enumerate(message.chunks) if c.kind in ("sign", "newline")]
    bounds = [-1, *cuts, len(message.chunks)]
    return [message.part(a + 1, b) for a, b in pairwise(bounds) if b > a + 1]


def _defined(message: Message) -> list[Meaning] | None:
    """A usual meal that is told with what it means: 'my usual lunch happened, meaning rye bread 60, cheddar 25'."""
    line, last = message.line, message.chunks[-1].end
    turn = next(
        ((a, b) for a, b in line.plain.places("meaning_that") if message.chunks[0].start < a and b < last), None
    )
    if turn is None:
        return None
    cut = next((n for n, c in enumerate(message.chunks) if c.start >= turn[1]), None)
    before = next((n for n, c in enumerate(message.chunks) if c.start >= turn[0]), None)
    if cut is None or before is None:
        return None
    head, rest = message.part(0, before), message.part(cut, len(message.chunks))
    meals = {c.moment.meal for c in head.of("moment") if c.moment is not None and c.moment.meal}
    if len(meals) != 1 or head.of("food", "amount") or not Scene(head).cue("eaten_as_always"):
        return None
    told = items(rest)
    if len(told) < 2 or any(i.name is None or i.amount is None or i.name.unknown for i in told):
        return None
    meal = str(meals.pop())
    return [Combination(word=meal, items=tuple(replace(i, when=When(meal=meal)) for i in told), eaten=True)]


def _foods(head: Message) -> list[Chunk]:
    kept, _ = kept_and_left_out(head)
    return kept.of("food")


def _differs(heads: Sequence[Message], beside: Sequence[Message]) -> Differs | None:
    """What is different beside the stretches that repeat; None for an amount of nothing, or a food of no table."""
    changes: list[Item] = []
    more: list[Name] = []
    without: list[Name] = []
    for part in heads:
        without.extend(kept_and_left_out(part)[1])
    for part in beside:
        kept, gone = kept_and_left_out(part)
        without.extend(gone)
        told = items(kept) if kept.of("amount", "food") else []
        if any(i.name is None or i.name.unknown for i in told) or len(changes) > MOST_ITEMS:
            return None
        changes.extend(i for i in told if i.amount is not None)
        more.extend(i.name for i in told if i.amount is None and i.name is not None)
    return Differs(tuple(changes), tuple(more), tuple(without))


def _last_day(message: Message, foods: Sequence[Name]) -> date | None:
    """The last day that has all of the foods on record, today too."""
    recorded = message.around.recorded()
    days = [max((each.day for each in meant(name, recorded)), default=None) for name in foods]
    return None if any(day is None for day in days) else min(day for day in days if day is not None)
