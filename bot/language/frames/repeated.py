"""Frames for what is eaten again: a day's meal or foods, or a person's own mix, with what is different this time."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from bot.language.chunks import Chunk, Kind
from bot.language.frames.once_more import says_of_something_else
from bot.language.frames.spans import Span
from bot.language.intents.readings import kept_and_left_out
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.moments import together
from bot.language.pack import pack
from bot.language.recalling import meant, named_by
from bot.language.scene import Scene
from bot.language.told import Item, Name, When
from bot.language.usual import Repeat
from domain.foods import State

TELLING: tuple[Kind, ...] = ("amount", "hash", "energy", "macro", "price", "tare", "part")


@dataclass(frozen=True)
class Then:
    """What is repeated: the day and meal that it is taken from, and when it was eaten this time."""

    day: date
    meal: str | None
    when: When


def repeated(scene: Scene) -> list[Meaning] | None:
    """'same again as last night but 150 g mash', 'oats like Monday, no honey', 'my shake but 45 whey'."""
    message = scene.message
    if message.asks or message.when.future or scene.named:
        return None
    at = _turn(message)
    head, rest = message.part(0, at), message.part(at, len(message.chunks))
    if not head.chunks or Scene(head).cue("not_that", "condition", "habit"):
        return None
    rounds = _said(message, "another_round")
    if any(not _inside(c, rounds) and not _is_article(c) for c in head.of(*TELLING)):
        return None
    names = tuple(named_by(message, c) for c in head.of("food"))
    source = _source(head)
    mixes = [name for name in names if name.combination]
    if source is None and not (len(mixes) == len(names) == 1):
        return None
    if source is not None and (not Scene(head).cue("repeats") or says_of_something_else(message)):
        return None  # 'rice from yesterday with 30 g cheese' is weighed anew
    told = _changes(rest)
    if told is None or (source is None and not any(told)):
        return None
    changes, more, without = told
    if source is None and more:
        return None
    if source is None:
        return [Repeat(names=names, changes=changes, without=without, when=message.when)]
    names = (*names, *more)
    when = source.when
    return [Repeat(meal=source.meal, day=source.day, names=names, changes=changes, without=without, when=when)]


def same_amounts(scene: Scene) -> list[Meaning] | None:
    """'porridge again, the same amount, and the same amount of honey': foods as they were, in the same amounts."""
    message = scene.message
    if message.asks or message.when.future or scene.named or not scene.cue("same_amount") or not scene.foods:
        return None
    if any(not _is_article(c) for c in message.of(*TELLING)) or message.when.day not in (None, message.around.today):
        return None
    names = tuple(named_by(message, c) for c in scene.foods)
    if any(name.unknown for name in names) or not all(meant(n, message.around.recorded()) for n in names):
        return None
    return [Repeat(names=names, when=message.when)]


def as_the_last(scene: Scene) -> list[Meaning] | None:
    """'tatties 200, same kind', 'the usual yogurt, 170 g': the food and state of the last one, in another amount."""
    message = scene.message
    if message.asks or scene.named or not scene.cue("same_kind") or message.of("state", "hash", "energy", "macro"):
        return None
    same = _said(message, "same_kind")
    if scene.cue("usual_one") and not _before_a_food(message):
        return None  # 'the usual breakfast but 100 g blueberries'
    told = items(message.without([c for c in message.chunks if _inside(c, same)]))
    only = told[0] if len(told) == 1 else None
    if only is None or only.name is None or only.amount is None or only.name.unknown or only.state is not None:
        return None
    before = [each for each in meant(only.name, message.around.recorded()) if each.batch is None]
    if not before:
        return None
    last = max(before, key=lambda each: (each.day, each.number))
    name = Name(text=only.name.text, foods=(last.food,))
    return [replace(only, name=name, state=State(last.state))]


def _before_a_food(message: Message) -> bool:
    """Whether 'the usual' belongs to the food right behind it, and nothing is said to be different."""
    ends = {span.end for span in _said(message, "usual_one")}
    said, at = message.line.plain, range(message.chunks[0].start, message.chunks[-1].end)
    several = len(message.of("food")) > 1 or any(c.moment is not None and c.moment.meal for c in message.of("moment"))
    turned = several and any(pack()["in_other_ways"].ends(said, n) for n in at)
    return not turned and any(c.kind == "food" and c.start in ends for c in message.chunks)


def _turn(message: Message) -> int:
    """Where it begins to say what is different; the end if nothing is."""
    said, turns = message.line.plain, pack()["but_for_this"]
    for i, chunk in enumerate(message.chunks):
        left_out = chunk.kind == "food" and pack()["excluding"].end(said, chunk.start) is not None
        if i and (left_out or (chunk.kind in ("word", "sign") and turns.end(said, chunk.start) is not None)):
            return i
    return len(message.chunks)


def _source(head: Message) -> Then | None:
    """The past day, with its meal, that stands behind 'as', 'like' or 'from'; None where there is none."""
    around, words = head.around, pack()
    moments = [c for c in head.of("moment") if c.moment is not None]
    behind = [c for c in moments if _follows(head, c)]
    if not behind:
        return None
    first = behind[0].start
    taken = together([c.moment for c in moments if c.start >= first and c.moment is not None], around)
    own = together([c.moment for c in moments if c.start < first and c.moment is not None], around)
    if taken.day is None or taken.day >= around.today:
        return None
    evening = words["last_night"].found(head.line.plain[first : head.chunks[-1].end])
    meal = own.meal or taken.meal or ("dinner" if evening else None)
    return Then(taken.day, meal, own)


def _follows(head: Message, moment: Chunk) -> bool:
    """Whether a moment says from when something is taken: 'as on Monday', 'like last Sunday's lunch'."""
    said, at = head.line.plain, moment.start
    while at > head.chunks[0].start and said[at - 1] in pack()["before_a_day"]:
        at -= 1
    return at > head.chunks[0].start and said[at - 1] in pack()["as_then"]


def _changes(rest: Message) -> tuple[tuple[Item, ...], tuple[Name, ...], tuple[Name, ...]] | None:
    """(what is different this time, what else is repeated, what is left out); None for a number without a food."""
    if not rest.chunks:
        return (), (), ()
    if rest.of("hash", "energy", "price"):
        return None
    kept, without = kept_and_left_out(rest)
    told = items(kept) if kept.of("amount", "food") else []
    if any(each.amount is not None and (each.name is None or each.name.unknown) for each in told):
        return None
    named = [(each.amount, each.name, each) for each in told if each.name is not None and not each.name.unknown]
    changes = tuple(each for amount, _, each in named if amount is not None)
    more = tuple(name for amount, name, _ in named if amount is None and (name.foods or name.kinds or name.combination))
    return changes, more, without


def _said(message: Message, concept: str) -> list[Span]:
    """Where phrases of a concept stand, also those with a number in them ('round 2')."""
    said, phrases = message.line.plain, pack()[concept]
    starts = [n for c in message.chunks for n in range(c.start, c.end)]
    return [Span(n, end) for n in starts if (end := phrases.end(said, n)) is not None]


def _inside(chunk: Chunk, phrases: list[Span]) -> bool:
    return any(span.start <= chunk.start and chunk.end <= span.end for span in phrases)


def _is_article(chunk: Chunk) -> bool:
    return chunk.amount is not None and chunk.amount.text.lower() in pack()["articles"]
