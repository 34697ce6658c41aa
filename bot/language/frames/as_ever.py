"""The frame for what is usual or the same by its parts: what is repeated, since when it is so, what differs.

It comes behind the frames that account for every word. Stretches between commas that name no food, amount, meal or
day are remarks ('no surprises here') and count for nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from bot.language.chunks import Chunk, Kind
from bot.language.frames.once_more import of_the_writer, says_of_something_else
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
MOST_CHUNKS = 40
MOST_ITEMS = 12


@dataclass(frozen=True)
class Differs:
    """What is different this time."""

    changes: tuple[Item, ...] = ()
    more: tuple[Name, ...] = ()
    without: tuple[Name, ...] = ()


def as_ever(scene: Scene) -> Sequence[Meaning] | None:
    """'had my usual lunch, no surprises here', 'flat white too, same like before', 'usual lunch, meaning rye 60, …'."""
    message = scene.message
    if len(message.chunks) > MOST_CHUNKS or scene.named or message.of(*NEVER):
        return None
    if not scene.cue(*CUES) and not _like_earlier(message):
        return None
    if not of_the_writer(scene) or not message.around.recorded():
        return None
    if says_of_something_else(message) and not scene.cue("same_as_then"):
        return None
    defined = _defined(message)
    if defined is not None:
        return defined
    parts = _stretches(message)
    heads = [part for part in parts if Scene(part).cue(*CUES) or _like_earlier(part)]
    if not heads or any(c.amount is not None and c.amount.value != 1 for head in heads for c in head.of("amount")):
        return None
    beside = [part for part in parts if part not in heads and part.of(*TELLING)]
    told = [c for part in (*heads, *beside) for c in part.of("moment") if c.moment is not None]
    today = message.around.today
    past = {c.moment.day for c in told if c.moment is not None and c.moment.day is not None and c.moment.day < today}
    if len(past) > 1:
        return None
    meals = {c.moment.meal for c in told if c.moment is not None and c.moment.meal is not None}
    foods = tuple(named_by(message, c) for head in heads for c in _foods(head))
    lead = [part for part in beside if part.chunks[0].start < heads[0].chunks[0].start]
    if not foods and not meals and len(lead) == 1 and not lead[0].of("amount"):
        foods, beside = tuple(named_by(message, c) for c in _foods(lead[0])), [p for p in beside if p is not lead[0]]
    differs = _differs(heads, beside)
    if differs is None or len(meals) > 1 or not (meals or foods):
        return None
    day = next(iter(past), None)
    meal = next(iter(meals), None)
    if foods and meal is None and day is None:
        last = _last_day(message, foods)
        if last is None:
            return None
        always = scene.cue("usual_one") and any(each.day < today for each in message.around.recorded())
        day = None if always else last
    own = together([c.moment for c in told if c.moment is not None and c.moment.day not in past], message.around)
    when = When(day=None, moment=own.moment if own.day == today else None, meal=meal)
    names = (*foods, *differs.more)
    return [Repeat(meal=meal, day=day, names=names, changes=differs.changes, without=differs.without, when=when)]


def _like_earlier(message: Message) -> bool:
    """Whether it is like something of today: 'one more flat white like this morning's'."""
    today, line = message.around.today, message.line
    moments = [c for c in message.of("moment") if c.moment is not None and c.moment.day in (None, today) and not c.moment.meal]
    return any(c.start and line.plain[c.start - 1] in pack()["as_then"] for c in moments)


def _stretches(message: Message) -> list[Message]:
    """What stands between commas, dashes and brackets."""
    cuts = [n for n, c in enumerate(message.chunks) if c.kind in ("sign", "newline")]
    bounds = [-1, *cuts, len(message.chunks)]
    return [message.part(a + 1, b) for a, b in zip(bounds, bounds[1:], strict=False) if b > a + 1]


def _defined(message: Message) -> list[Meaning] | None:
    """A usual meal that is told with what it means: 'my usual lunch happened, meaning rye bread 60, cheddar 25'."""
    line, last = message.line, message.chunks[-1].end
    turn = next(((a, b) for a, b in line.plain.places("meaning_that") if message.chunks[0].start < a and b < last), None)
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
