"""Frames for how far what is on record is off: so much too much, or by a running total of the scale."""

from __future__ import annotations

from bot.language.fix_meanings import Change, Which
from bot.language.frames.fix_scene import SOON, Fix, as_new
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.surroundings import Recorded
from bot.language.told import Amount

TOTAL_OFF = 0.2
"""A corrected reading of the scale is at most so far from the one on record."""


def running_total(fix: Fix) -> list[Meaning] | None:
    """'the quinoa total was 445' behind running totals: what the scale showed with it, and what came after it."""
    if not fix.says("running_total") or len(fix.amounts) != 1 or len(fix.matched) != 1:
        return None
    told = fix.amounts[0].amount
    each = next((e for e in reversed(fix.matched[0].recorded) if fix.is_recent(e, SOON)), None)
    grams = None if told is None or each is None else as_new(told, each).grams
    if each is None or grams is None:
        return None
    together = [e for e in fix.all if e.message == each.message]
    at = together.index(each)
    before = sum(e.grams for e in together[:at])
    delta = grams - before - each.grams
    if not at or grams <= before or abs(delta) > TOTAL_OFF * (before + each.grams) or delta == 0:
        return None
    changes: list[Meaning] = [by_grams(each, delta)]
    if at + 1 < len(together):
        if together[at + 1].grams <= delta:
            return None
        changes.append(by_grams(together[at + 1], -delta))
    return changes


def so_much_less(fix: Fix) -> list[Meaning] | None:
    """'take 20 g off the rice', 'the rice is 20 g too much', 'add 15 to it': how far what was just told is off."""
    if len(fix.amounts) != 1:
        return None
    if len({m.latest.number for m in fix.matched}) != 1:
        return _off_the_last(fix)
    told, each = fix.amounts[0], fix.matched[0].latest
    at, words = told.end - fix.first, fix.words
    less = fix.behind("subtracts", told.start) and bool(pack()["off_of"].ends(words, at))
    more = fix.behind("puts_more", told.start) and bool(pack()["onto_it"].ends(words, at))
    more = more and fix.is_definite(fix.matched[0]) and not any(not b.cooked for b in fix.message.around.batches)
    sign = -1 if less or pack()["too_much"].ends(words, at) else 0
    sign = sign or (1 if more or pack()["too_little"].ends(words, at) else 0)
    grams = None if told.amount is None or told.amount.kind not in ("mass", "bare") else as_new(told.amount, each).grams
    if not sign or grams is None or grams >= each.grams or each.batch is not None:
        return None
    return [by_grams(each, sign * grams)] if fix.days or fix.is_recent(each, SOON) else None


def _off_the_last(fix: Fix) -> list[Meaning] | None:
    """'the tin they were in weighed 22 so knock that off': of what was told right before."""
    last, told = fix.all[-1], fix.amounts[0].amount
    off = any(fix.words[end : end + 2] and _then_off(fix, end) for end in _ends(fix, "subtracts"))
    if fix.mentions or not off or told is None or told.kind not in ("mass", "bare") or last.batch is not None:
        return None
    grams = as_new(told, last).grams
    if grams is None or not 0 < grams < last.grams or not fix.is_recent(last, SOON):
        return None
    return [by_grams(last, -grams)]


def _ends(fix: Fix, concept: str) -> list[int]:
    return [end for i in range(len(fix.words)) for end in pack()[concept].ends(fix.words, i)]


def _then_off(fix: Fix, at: int) -> bool:
    """Whether words go on with 'that off' at a place."""
    pointed = fix.words[at] in pack()["all_that_was_told"]
    return pointed and bool(pack()["off_of"].ends(fix.words, at + 1))


def by_grams(each: Recorded, grams: float) -> Change:
    """The change of a weigh-in by so many grams, negative for less."""
    return Change(which=Which(number=each.number), by=Amount(kind="mass", value=grams, unit="g", grams=grams))
