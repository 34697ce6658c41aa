"""Frames for corrections that the record itself proves, in whatever words they are told.

A number that stands on record is the old one of two; a definite food of a past day that is on record is the recorded
one; what somebody else got and what was left for the writer come to what is on record.
"""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Chunk, Kind
from bot.language.fix_meanings import Change, Which
from bot.language.frames.fix_scene import (
    MOST_COUNTED,
    SAME_SITTING,
    SOON,
    Fix,
    Mention,
    as_new,
    changed,
    counted,
    is_like,
    is_on_record,
    masses_and_counts,
)
from bot.language.frames.left_over import ROUNDED
from bot.language.frames.off_by import by_grams, running_total, so_much_less
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.stance import how_it_is_said
from bot.language.surroundings import Recorded
from bot.language.told import Amount

UNREADABLE: tuple[Kind, ...] = ("hash", "energy", "macro", "price")
MOST_CHUNKS = 60
ACROSS = 10
"""Between a food and an amount a sign counts like so many words."""


def put_right_by_record(scene: Scene) -> list[Meaning] | None:
    """The changes of weigh-ins that the numbers on record prove; None if they prove nothing."""
    message = scene.message
    if not (scene.amounts or scene.cue("only_one_mine")) or message.of(*UNREADABLE):
        return None
    if len(message.chunks) > MOST_CHUNKS:
        return None
    if not (message.when.day or message.when.meal or len(scene.amounts) > 1 or scene.cue(*CUES)):
        return None
    if (message.asks and not message.orders) or message.when.future or scene.cue("condition"):
        return None
    if scene.cue("like_before") and not scene.cue("same_day"):
        return None
    if (message.has_any(message.words.shopping) and not scene.cue("ones_record")) or how_it_is_said(
        message
    ) is not None:
        return None
    if message.has_any(message.words.plans) and not (message.orders or scene.cue(*ON_RECORD, "only_one_mine")):
        return None
    recorded = message.around.recorded()
    if not recorded:
        return None
    fix = Fix(scene, recorded)
    if any(not m.recorded for m in fix.mentions) or scene.cue("more_besides"):
        return None
    for read in READERS:
        found = read(fix)
        if found is not None:
            return found
    return None


ON_RECORD = ("told_before", "was_wrong", "speaks_of_the_record")
"""Cues that something on record is meant."""
CUES = (
    "running_total",
    "subtracts",
    "too_much",
    "too_little",
    "left_on_plate",
    "excepts",
    "puts_more",
    "speaks_of_the_record",
    "leaves_me",
)


def _paired(fix: Fix, behind: int = 0) -> list[tuple[Mention, Chunk]]:
    """Each amount, from word `behind` on, with the food nearest to it; empty unless each has a food of its own."""
    pairs: list[tuple[Mention, Chunk]] = []
    for told in _weights(fix, behind):
        near = min(fix.matched, key=lambda m: _distance(fix, m, told), default=None)
        if near is None or told.amount is None or any(near.latest is m.latest for m, _ in pairs):
            return []
        pairs.append((near, told))
    return pairs


def _weights(fix: Fix, behind: int = 0) -> list[Chunk]:
    """The amounts without what only counts pieces beside their weight: '44 g because it ended up being three'."""
    told = masses_and_counts([c for c in fix.amounts if c.start >= fix.first + behind])
    if len(told) > 2:
        told = [c for c in told if c not in fix.denied]  # 'soup 260 rather than 240, bread 65 rather than 70'
    if not any(c.amount is not None and c.amount.kind == "mass" for c in told):
        return told
    return [c for c in told if c.amount is None or c.amount.kind == "mass" or not c.text.isalpha()]


def _distance(fix: Fix, mention: Mention, told: Chunk) -> int:
    """The words between a food and an amount, 'of the' apart; a sign between them counts like many."""
    first, last = min(mention.end, told.end), max(mention.start, told.start)
    between = fix.words[first - fix.first : last - fix.first]
    return sum(1 if w.isalnum() else ACROSS for w in between if w not in pack()["before_number"])


def _like(mention: Mention, told: Amount, fix: Fix) -> Recorded | None:
    """The latest weigh-in that the amount may put right by its size; None if those of that day differ in food."""
    fitting = [each for each in mention.recorded if is_like(told, each)]
    if not fitting:
        return None
    latest = max(fitting, key=lambda each: (each.day, each.number))
    same_day = {each.food for each in fitting if each.day == latest.day}
    told_meal = fix.message.when.meal
    return latest if len(same_day) == 1 and told_meal in (None, latest.meal) else None


def _old_and_new(fix: Fix) -> list[Meaning] | None:
    """'found my note: stew 246 g, you have 256', 'that rice … typed 230, s/b 210 g': one of the two is on record."""
    told = _weights(fix)
    if len(told) != 2 or not fix.says("speaks_of_the_record", "told_before", "was_wrong", "not_that", "opens_fix"):
        return None
    if len({m.latest.number for m in fix.matched}) > 1 or fix.names_others:
        return None
    first, second = told[0].amount, told[1].amount
    if first is None or second is None or not (fix.matched or fix.says("speaks_of_the_record", "told_before")):
        return None
    among = fix.matched[0].recorded if fix.matched else fix.recorded
    for each in sorted(among, key=lambda each: (each.day, each.number), reverse=True):
        old = [a for a, b in ((first, second), (second, first)) if is_on_record(a, each, b)]
        if len(old) == 1 and (fix.days or fix.is_recent(each, SOON)):
            new = second if old[0] is first else first
            return [changed(each, new, fix, old[0])] if is_like(new, each) else None
    return None


def _of_that_day(fix: Fix) -> list[Meaning] | None:
    """'that gravy yesterday, nearer 30 g', 'thursday fixes: potatoes 230, steak 200', 'make the wednesday one 170'."""
    pairs = _paired(fix)
    message = fix.message
    if not pairs or fix.names_others:
        return None
    announced = fix.announced or bool(fix.denied) or fix.says(*ON_RECORD)
    dated = bool(fix.days or message.when.meal)
    if not dated and not (fix.says("speaks_of_the_record") and fix.says("came_out_at")):
        return None
    eaten = fix.says("tells_of_eating") and not fix.says("i_only_ate")
    if eaten and not (fix.announced or fix.says("speaks_of_the_record", "told_before", "opens_fix")):
        return None
    strong = (
        fix.announced or bool(fix.denied) or fix.says("speaks_of_the_record", "told_before", "opens_fix", "i_only_ate")
    )
    if not strong and any(told.start < mention.start for mention, told in pairs):
        return None  # '100 g of last night's pork, really good' is eaten again
    verb = fix.says("came_out_at") and fix.is_definite(pairs[0][0])
    if not (announced or verb or _only_names_day(fix, pairs)):
        return None
    changes: list[Meaning] = []
    for mention, told in pairs:
        each = None if told.amount is None else _like(mention, told.amount, fix)
        if each is None or told.amount is None or is_on_record(told.amount, each):
            return None
        if not dated and not fix.is_recent(each, SOON):
            return None
        changes.append(changed(each, told.amount, fix))
    return changes


def _only_names_day(fix: Fix, pairs: Sequence[tuple[Mention, Chunk]]) -> bool:
    """Whether nothing is told but foods of a past day with that day and an amount: 'potato on wednesday, 170 g'."""
    message, said = fix.message, fix.message.line.plain
    if not fix.days or any(day >= message.around.today for day in fix.days):
        return False
    first = min(mention.end for mention, _ in pairs)
    days = [c for c in message.of("moment") if c.moment is not None and c.moment.day is not None]
    dated = any(message.tokens[c.end - 1].text.endswith("'s") or c.start >= first for c in days)
    taken = {n for mention, _ in pairs for n in range(mention.start, mention.end)}
    beside = [c for c in message.of("word") if c.start not in taken]
    plain = all(said[c.start] in pack()["beside_label"] for c in beside)
    return dated and plain and all(_is_like_one(fix, mention, told) for mention, told in pairs)


def _is_like_one(fix: Fix, mention: Mention, told: Chunk) -> bool:
    """Whether one weigh-in of the days named, and no more, may be put right by the amount."""
    of_then = [each for each in mention.recorded if each.day in fix.days]
    return told.amount is not None and len([each for each in of_then if is_like(told.amount, each)]) == 1


def _except(fix: Fix) -> list[Meaning] | None:
    """'except I put in 60 of oats', 'but only 2 oz of blueberries', right behind what repeated them."""
    if fix.says("no_estimate"):
        return None  # 'but there's 60 g of rice left'
    words, at = fix.words, 0
    while at < len(words) and (not words[at].isalnum() or pack()["beside_fix"].end(words, at)):
        if pack()["excepts"].end(words, at):
            break
        at = pack()["beside_fix"].end(words, at) or at + 1
    if at == len(words) or not pack()["excepts"].end(words, at) or fix.days - {fix.message.around.today}:
        return None
    last = max(each.message for each in fix.all)
    changes: list[Meaning] = []
    for mention, told in _paired(fix, pack()["excepts"].end(words, at) or 0):
        each = mention.latest
        if each.message != last or not fix.is_recent(each, SAME_SITTING) or told.amount is None:
            return None
        if is_on_record(told.amount, each):
            return None
        changes.append(changed(each, told.amount, fix))
    return changes or None


def _shared(fix: Fix) -> list[Meaning] | None:
    """'dog got 20 g off my chicken, makes mine 125': both parts together are what is on record."""
    weighed = [c for c in fix.amounts if (c.amount is not None and c.amount.kind == "mass") or _is_weight(c)]
    if len({m.latest.number for m in fix.matched}) != 1 or len(weighed) != 2:
        return None
    if not (fix.names_others or fix.says("went_elsewhere", "left_on_plate")):
        return None
    parts = [c.amount for c in weighed if c.amount is not None]
    # 'my chicken' may be the breast or the gravy that was told after it
    each = next((r for r in sorted(fix.matched[0].recorded, key=_told_at) if _comes_to(r, parts)), None)
    if each is None or not (fix.days or each.day == fix.message.around.today):
        return None
    mine = [n for n, c in enumerate(weighed) if fix.behind("leaves_me", c.start) or fix.behind("mine_is", c.start)]
    return [changed(each, parts[mine[0] if len(mine) == 1 else 1], fix)]


def _told_at(each: Recorded) -> tuple[int, int]:
    """Orders weigh-ins by when they were told, the latest first."""
    return -each.day.toordinal(), -each.number


def _comes_to(each: Recorded, parts: Sequence[Amount]) -> bool:
    """Whether the parts together are as much as is on record."""
    grams = [as_new(part, each).grams or 0.0 for part in parts]
    return bool(min(grams)) and abs(sum(grams) - each.grams) <= ROUNDED


def _is_weight(chunk: Chunk) -> bool:
    return chunk.amount is not None and chunk.amount.kind == "bare" and chunk.amount.value > MOST_COUNTED


def _rest_of_several(fix: Fix) -> list[Meaning] | None:
    """'my boy had one of the hot dogs and one bun, so mine is 45 g hot dog, 43 g bun'."""
    weighed = [c for c in fix.amounts if c.amount is not None and c.amount.kind == "mass"]
    if not weighed or not fix.names_others or not fix.says("leaves_me", "mine_is", "was_mine"):
        return None
    before = [c for c in fix.amounts if c.start < weighed[0].start]
    if not before or len(fix.amounts) - len(weighed) > 2 * len(weighed):
        return None
    changes: list[Meaning] = []
    for told in weighed:
        near = min(fix.matched, key=lambda m: _distance(fix, m, told), default=None)
        each = near.latest if near is not None else None
        if each is None or told.amount is None or told.amount.grams is None or not fix.is_recent(each, SOON):
            return None
        if told.amount.grams >= each.grams or any(
            isinstance(c, Change) and c.which.number == each.number for c in changes
        ):
            return None
        changes.append(changed(each, told.amount, fix))
    return changes


def _left_on_plate(fix: Fix) -> list[Meaning] | None:
    """'20 g of them spuds I left on the plate': so much less of what was just told was eaten."""
    if not fix.says("left_on_plate") or len(fix.amounts) != 1 or fix.names_others:
        return None
    if len({m.latest.number for m in fix.matched}) != 1 or fix.says("i_ate"):
        return None
    each, told = fix.matched[0].latest, fix.amounts[0].amount
    grams = None if told is None or told.kind not in ("mass", "bare") else as_new(told, each).grams
    if grams is None or not 0 < grams < each.grams or each.batch is not None or not fix.is_recent(each, SOON):
        return None
    return [by_grams(each, -grams)]


def _one_of_them(fix: Fix) -> list[Meaning] | None:
    """'about the beers of last night: one I drank, the other was my friend's': so many of those counted are mine."""
    if len({m.latest.number for m in fix.matched}) != 1:
        return None
    mention = fix.matched[0]
    each = mention.latest
    same_day = [r for r in mention.recorded if r.day == each.day]
    counts = [c.amount.value for c in fix.amounts if c.amount is not None and c.amount.kind in ("count", "bare")]
    pieces = counted(each)
    if fix.says("only_one_mine"):
        counts.append(1.0)
    if len(same_day) != 1 or pieces is None or not counts or fix.says("off_record"):
        return None
    parts = {count for count in counts if count != pieces}
    if not fix.is_definite(mention):
        return None
    if any(c.amount is not None and c.amount.kind not in ("count", "bare") for c in fix.amounts):
        return None
    shared = fix.names_others or fix.says("was_mine", "not_for_me", "only_one_mine")
    if len(parts) != 1 or not shared or not (fix.days or fix.is_recent(each, SOON)):
        return None
    part = next(iter(parts))
    # Of two, one is left for the writer whoever had the one that is named.
    if pieces != 2 * part or part != 1:
        return None
    return [Change(which=Which(number=each.number), share=part / pieces)]


def _last_counted(fix: Fix) -> list[Meaning] | None:
    """'I overcounted. Two ladles is right.': as many of the measure in which the last weigh-in was told."""
    last = fix.all[-1]
    if fix.mentions or len(fix.amounts) != 1 or fix.days or not fix.says(*ON_RECORD) or last.amount is None:
        return None
    told = fix.amounts[0].amount
    if (
        told is None
        or told.kind not in ("count", "measure")
        or (told.kind, told.unit) != (last.amount.kind, last.amount.unit)
    ):
        return None
    if told.value == last.amount.value or not fix.is_recent(last, SAME_SITTING):
        return None
    return [changed(last, told, fix)]


READERS = (
    running_total,
    so_much_less,
    _old_and_new,
    _shared,
    _rest_of_several,
    _left_on_plate,
    _one_of_them,
    _except,
    _of_that_day,
    _last_counted,
)
"""In order: the first that finds something has it."""
