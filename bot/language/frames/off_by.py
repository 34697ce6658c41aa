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
    """'take 20 g off the rice', 'the rice is 20 g too much': by how much what was just told is wrong."""
    if len({m.latest.number for m in fix.matched}) != 1 or len(fix.amounts) != 1:
        return None
    told, each = fix.amounts[0], fix.matched[0].latest
    at, words = told.end - fix.first, fix.words
    less = fix.behind("subtracts", told.start) and bool(pack()["off_of"].ends(words, at))
    sign = -1 if less or pack()["too_much"].ends(words, at) else 1 if pack()["too_little"].ends(words, at) else 0
    grams = None if told.amount is None or told.amount.kind not in ("mass", "bare") else as_new(told.amount, each).grams
    if not sign or grams is None or grams >= each.grams or each.batch is not None:
        return None
    return [by_grams(each, sign * grams)] if fix.days or fix.is_recent(each, SOON) else None


def by_grams(each: Recorded, grams: float) -> Change:
    """The change of a weigh-in by so many grams, negative for less."""
    return Change(which=Which(number=each.number), by=Amount(kind="mass", value=grams, unit="g", grams=grams))
