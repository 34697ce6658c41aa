"""The frame for a weigh-in on record that belongs to another day or meal: 'move the cod to Tuesday'."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from bot.language.chunks import Chunk, Kind
from bot.language.fix_meanings import Change, Which
from bot.language.frames.fix_scene import Fix
from bot.language.meanings import Meaning
from bot.language.moments import together
from bot.language.pack import pack
from bot.language.recalling import meant
from bot.language.scene import Scene
from bot.language.stance import how_it_is_said
from bot.language.surroundings import Recorded
from bot.language.told import When

UNREADABLE: tuple[Kind, ...] = ("hash", "energy", "macro", "price", "tare", "part")
MOST_CHUNKS = 20
A_DAY = timedelta(hours=20)
"""So long after it was told something that only 'that' names may be moved."""


def moved(scene: Scene) -> list[Meaning] | None:
    """The changes that put weigh-ins on the day or the meal that is named; None where nothing is moved."""
    message = scene.message
    if not message.of("moment") or len(message.chunks) > MOST_CHUNKS or message.of(*UNREADABLE):
        return None
    if (message.asks and not message.orders) or message.when.future or how_it_is_said(message) is not None:
        return None
    never = ("condition", "like_before", "tells_of_eating", "eaten_again", "same_as_then", "in_addition", "forgot")
    if scene.named or scene.cue(*never):
        return None
    recorded = message.around.recorded()
    fix = Fix(scene, recorded) if recorded else None
    if fix is None or fix.amounts:
        return None
    told = _subject(fix)
    to = _to(fix, told)
    if to is None or not told:
        return None
    if all(to.day in (None, each.day) and to.meal in (None, each.meal) for each in told):
        return None
    return [Change(which=Which(number=each.number), when=to, meal=to.meal) for each in told]


def _subject(fix: Fix) -> list[Recorded]:
    """The weigh-ins that are to be moved: the latest of each food named, or what 'that' was told in one message."""
    if fix.mentions:
        found = [meant(m.name, fix.all) for m in fix.mentions]
        return [max(each, key=lambda one: (one.day, one.number)) for each in found] if all(found) else []
    last = [each for each in fix.all if each.message == fix.all[-1].message]
    points = any(w in pack()["all_that_was_told"] for w in fix.words)
    at = last[-1].at
    recent = at is None or fix.message.around.now - at <= A_DAY or last[-1].day == fix.message.around.today
    return last if points and recent else []


def _to(fix: Fix, told: Sequence[Recorded]) -> When | None:
    """The day and the meal that words name as the right ones; None where they only say when something was eaten."""
    chunks = [c for c in fix.message.of("moment") if c.moment is not None]
    denied = [c for c in chunks if fix.behind("not_that", c.start)]
    right = [c for c in chunks if c not in denied]
    if len(right) == 2 and not denied:
        stands = [c for c in right if told and _stands_at(told[0], _when(fix, [c]))]
        right = [c for c in right if c not in stands] if len(stands) == 1 else right
    if not right or len(right) > 2 or not any(_points(fix, c) for c in right):
        return None
    to = _when(fix, right)
    owned = fix.message.tokens[right[-1].end - 1].text.endswith("'s") and right[-1].end == fix.end
    return None if owned or to.future or (to.day is None and to.meal is None) else to


def _when(fix: Fix, chunks: Sequence[Chunk]) -> When:
    return together([c.moment for c in chunks if c.moment is not None], fix.message.around)


def _points(fix: Fix, chunk: Chunk) -> bool:
    """Whether a moment is where something belongs: 'goes under lunch', 'to Tuesday', 'that was really last night'."""
    words, at = fix.words, chunk.start - fix.first
    while at and words[at - 1] in pack()["before_the_right_day"]:
        at -= 1
    was = at > 0 and words[at - 1] in pack()["came_out_at"]
    if was:
        known = pack()["the_recorded"], pack()["all_that_was_told"]
        return any(words[n] in each for n in range(fix.opened, at) for each in known)
    to = any(end == at for i in range(max(0, at - 3), at) for end in pack()["belongs_to"].ends(words, i))
    return to and fix.says("moves_it")


def _stands_at(each: Recorded, when: When) -> bool:
    if when.day is not None:
        return when.day == each.day
    return when.meal is not None and when.meal == each.meal
