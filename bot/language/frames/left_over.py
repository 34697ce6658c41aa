"""Frames for a recorded weigh-in of which part went to somebody else or was thrown away."""

from __future__ import annotations

from dataclasses import replace

from bot.language.chunks import Chunk
from bot.language.fix_meanings import Change, Which
from bot.language.frames.fix_scene import MOST_COUNTED, SOON, Fix, as_new, changed, counted, masses_and_counts
from bot.language.frames.serving import seen
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.surroundings import Recorded
from bot.language.text import singular
from bot.language.told import Amount

ROUNDED = 1.0
"""Grams that weights read off a scale may be off when they are added up."""


def left_for_me(fix: Fix) -> list[Meaning] | None:
    """'one was the missus's, so 2', 'one hot dog and one bun were my son's, so 45 g and 43 g for me'."""
    leaves, words = pack()["leaves_me"], fix.words
    if fix.new or not (others_part(fix.message) or fix.says("went_elsewhere")):
        return None
    share = _share_gone(fix)
    if share is not None:
        return [share]
    starts = [i for i in range(len(words)) if any(True for _ in leaves.ends(words, i))]
    for i in starts:
        given = masses_and_counts([c for c in fix.amounts if c.start - fix.first < i])
        kept = [c for c in fix.amounts if c.start - fix.first > i]
        if not kept or not given:
            continue
        if fix.mentions and not fix.matched:
            return None  # 'banana, half each with mum, mine was 56 g': of a food that is not on record
        on_record = [m.latest for m in fix.matched] or [fix.all[-1]]
        if len(kept) != len(on_record) or len(given) != len(kept):
            return None
        if not all(
            fix.is_recent(each, SOON) or fix.days or _adds_up(each, g.amount, k.amount)
            for each, g, k in zip(on_record, given, kept, strict=True)
        ):
            return None
        changes = [_kept(each, g.amount, k.amount, fix) for each, g, k in zip(on_record, given, kept, strict=True)]
        if any(change is None for change in changes):
            return None
        return [change for change in changes if change is not None]
    return None


def _share_gone(fix: Fix) -> Change | None:
    """'actually half the rice went in the bin', 'and 150 g of the rice was for my son': subtracts a part."""
    if len(fix.amounts) != 1 or len(fix.matched) != 1 or not fix.says("is_gone", "for_another"):
        return None
    if fix.says("i_ate", "i_only_ate") or seen(fix.message).mine:
        return None
    each, given = fix.matched[0].latest, fix.amounts[0].amount
    if (
        given is None
        or not (fix.is_recent(each, SOON) or fix.days)
        or not fix.behind("the_recorded", fix.matched[0].start)
    ):
        return None
    share = given.kind in ("bare", "count") and 0 < given.value < 1 and not given.unit
    grams = given.value * each.grams if share else as_new(given, each).grams
    if grams is None or grams >= each.grams:
        return None
    return Change(which=Which(number=each.number), by=Amount(kind="mass", value=-grams, unit="g", grams=-grams))


def others_part(message: Message) -> bool:
    """Whether part of something was somebody else's."""
    return any(w.endswith("'s") or singular(w) in message.words.people for w in message.said)


def only_mine(fix: Fix) -> list[Meaning] | None:
    """'only one of those beers last night was mine': so many of those counted on record."""
    if len(fix.matched) != 1 or len(fix.amounts) != 1 or fix.new or not fix.says("only_so_many"):
        return None
    mention, told = fix.matched[0], fix.amounts[0].amount
    each = mention.latest
    if told is None or each.pieces is None or told.kind not in ("count", "bare") or not 0 < told.value < each.pieces:
        return None
    if not fix.behind("the_recorded", mention.start) or not (fix.says("was_mine") or fix.says("i_only_ate")):
        return None
    return [Change(which=Which(number=each.number), share=told.value / each.pieces)]


def so_many_of_them(fix: Fix) -> list[Meaning] | None:
    """'my daughter had one of them', 'only 4 of the dates went into me': so many of those on record are left."""
    counts = [c for c in fix.amounts if c.amount is not None and c.amount.kind in ("count", "bare")]
    if not counts or len(counts) != len(fix.amounts) or len(counts) > 2 or fix.says("in_addition", "off_record"):
        return None
    each = _counted_thing(fix, counts[0])
    pieces = counted(each) if each is not None else None
    parts = [c for c in counts if c.amount is not None and c.amount.value != pieces]
    if each is None or pieces is None or len(parts) != 1 or not (fix.days or fix.is_recent(each, SOON)):
        return None
    part = parts[0].amount
    if part is None or not 0 < part.value < pieces or part.value % 1 or not _is_of_them(fix, parts[0]):
        return None
    mine = fix.says("was_mine", "for_the_writer", "i_only_ate") or (fix.says("just_so_many") and not fix.names_others)
    theirs = (fix.names_others or fix.says("is_gone", "left_uneaten")) and not mine
    if not (mine or theirs):
        return None
    left = part.value if mine else pieces - part.value
    if each.amount is None or each.amount.kind not in ("count", "bare"):
        return [Change(which=Which(number=each.number), share=left / pieces)]
    told = replace(each.amount, kind="count", value=left, grams=None, text=f"{left:g} {each.amount.unit}".strip())
    return [Change(which=Which(number=each.number), amount=told)]


def _counted_thing(fix: Fix, told: Chunk) -> Recorded | None:
    """The weigh-in whose pieces are told of: of the food named, of the unit named, else the only one told last."""
    if fix.new or len(fix.matched) > 1:
        return None
    if fix.matched:
        return fix.matched[0].latest if fix.matched[0].is_clear else None
    unit = told.amount.unit if told.amount is not None else ""
    if unit:
        alike = [each for each in fix.all if each.amount is not None and each.amount.unit == unit]
        return alike[-1] if alike else None
    last = [each for each in fix.all if each.message == fix.all[-1].message]
    return last[0] if len(last) == 1 else None


def _is_of_them(fix: Fix, told: Chunk) -> bool:
    """Whether a count is of those that are known: 'one of them', '2 of the eggs', 'one of those slices'."""
    within = fix.words[told.start - fix.first : told.end - fix.first + 3]
    return any(pack()["of_those_known"].ends(within, n) for n in range(len(within)))


def _adds_up(each: Recorded, given: Amount | None, kept: Amount | None) -> bool:
    """Whether what was given away and what was kept are together what is on record."""
    if given is None or kept is None:
        return False
    parts = (as_new(given, each).grams, as_new(kept, each).grams)
    return None not in parts and abs(sum(part or 0 for part in parts) - each.grams) <= ROUNDED


def _kept(each: Recorded, given: Amount | None, kept: Amount | None, fix: Fix) -> Change | None:
    """What remains of a weigh-in after something was given away; None if the numbers do not add up."""
    if given is None or kept is None:
        return None
    counted = [a.kind in ("count", "bare") and a.value <= MOST_COUNTED and a.value % 1 == 0 for a in (given, kept)]
    if all(counted):
        total, told = given.value + kept.value, each.amount
        if told is not None and told.kind in ("count", "bare"):
            return changed(each, kept, fix) if told.value == total else None
        grams = each.grams * kept.value / total
        part = Amount(kind="mass", value=grams, unit="g", grams=grams, text=f"{kept.text} of {total:g}")
        return Change(which=Which(number=each.number), amount=part)
    new = as_new(kept, each)
    if new.grams is None or new.grams >= each.grams:
        return None
    return changed(each, kept, fix)
