"""Frames for correcting the amount of a weigh-in on record."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from bot.language.chunks import Chunk
from bot.language.fix_meanings import Change, Which
from bot.language.frames.fix_scene import (
    MOST_COUNTED,
    SAME_SITTING,
    SOON,
    Fix,
    Mention,
    as_new,
    changed,
    is_energy_for,
    is_on_record,
    masses_and_counts,
)
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.recalling import means
from bot.language.stance import not_mine
from bot.language.surroundings import Recorded
from bot.language.told import Amount, is_share

AS_GRAMS = 10
"""A weight is not put right by so many times."""


def new_amounts(fix: Fix) -> list[Meaning] | None:
    """The corrected amounts of the foods named, or of the last weigh-in."""
    if fix.new or not fix.amounts or len({m.latest.number for m in fix.matched}) > len(fix.amounts):
        return None
    if not fix.matched:
        return _by_old_number(fix) or _only_had(fix) or _last_again(fix)
    if len(fix.matched) > 1 and len(fix.amounts) == len(fix.matched) and not fix.denied:
        return _each_again(fix)
    mention = fix.matched[0]
    energy = _energy_of_a_part(fix, mention)
    if energy is not None:
        return energy
    pairs = masses_and_counts(fix.amounts)
    if (
        len(pairs) == 2
        and fix.behind("becomes", pairs[1].start)
        and pairs[0].amount is not None
        and pairs[1].amount is not None
    ):
        old, new = pairs[0].amount, pairs[1].amount
        each = next((each for each in reversed(mention.recorded) if is_on_record(old, each, new)), None)
        return None if each is None else [changed(each, new, fix, old)]
    if len(pairs) == 2:
        return _one_not_other(fix, mention, pairs)
    if len(pairs) == 1 and len(fix.matched) == 1:
        return _told_again(fix, mention, pairs[0])
    return None


def _one_not_other(fix: Fix, mention: Mention, told: Sequence[Chunk]) -> list[Meaning] | None:
    """Two amounts of one food, one of which is on record: the other is the correction."""
    between = fix.words[told[0].end - fix.first : told[1].start - fix.first]
    became = any(w in pack()["came_out_at"] for w in between)
    if not became and not fix.announced and not fix.says("not_that", "told_before", "was_wrong", "opens_fix"):
        return None
    first, second = told[0].amount, told[1].amount
    if first is None or second is None:
        return None
    alike = [
        each
        for each in fix.recorded
        if means(mention.name, each.food) or (each.word and means(mention.name, each.word))
    ]
    by_day = sorted(alike or mention.recorded, key=lambda each: (each.day, each.number), reverse=True)
    for each in by_day:
        old = [a for a, b in ((first, second), (second, first)) if is_on_record(a, each, b)]
        if len(old) == 1:
            new, was = (second, first) if old[0] is first else (first, second)
            return [changed(each, new, fix, was)]
    denied = [c.amount for c in told if c in fix.denied]
    if len(denied) != 1 or denied[0] is None or (fix.says("once_again") and not fix.announced):
        return None
    new = second if denied[0] is first else first
    return [Change(which=Which(number=mention.latest.number), amount=as_new(new, mention.latest), was=denied[0])]


def _told_again(fix: Fix, mention: Mention, told: Chunk) -> list[Meaning] | None:
    """One amount of a food on record, in words that announce a correction."""
    each, message = mention.latest, fix.message
    if told in fix.denied or told.amount is None or not told.amount.value > 0 or _is_of_pieces(told.amount, each):
        return None
    refused = not_mine(message)
    surely = fix.announced or fix.says("was_wrong", "told_before")
    if refused is not None and not (refused.why in ("plan", "negation") and surely):
        return None
    if fix.scene.batches and any(not b.cooked for b in fix.scene.batches):
        return None
    between = fix.words[min(mention.end, told.end) - fix.first : max(mention.start, told.start) - fix.first]
    came_to = any(w in pack()["came_out_at"] for w in between)
    small = ("fix_links", "the_recorded")
    linked = came_to or all(not w.isalnum() or any(w in pack()[name] for name in small) for w in between)
    if fix.says("i_only_ate") and fix.behind("the_recorded", mention.start) and fix.is_recent(each, SOON):
        grams = as_new(told.amount, each).grams
        return [changed(each, told.amount, fix)] if grams is not None and grams < each.grams else None
    verb = came_to and mention.start < told.start
    dated = verb and each.day in fix.put_right
    sure = dated or (verb and fix.says("told_before", "was_wrong", "opens_fix"))
    if fix.says("in_addition") and not sure:
        return None
    if sure and (fix.days or fix.opened or fix.says("told_before") or fix.is_recent(each, SOON)):
        return [changed(each, told.amount, fix)]
    ate = fix.says("i_ate")
    if fix.announced and linked and not _only_excludes(fix, mention):
        return [changed(each, told.amount, fix)] if fix.is_recent(each, SAME_SITTING if ate else SOON) else None
    return None


def _is_of_pieces(told: Amount, each: Recorded) -> bool:
    """Whether a small number of a food on record by its weight can only count pieces: 'two of the sausages'."""
    weighed = each.amount is not None and each.amount.kind == "mass"
    return weighed and told.kind == "bare" and told.value <= MOST_COUNTED and told.value * AS_GRAMS < each.grams


def _only_excludes(fix: Fix, mention: Mention) -> bool:
    """Whether the opening 'no' belongs to the food: 'no rice' means that there was none."""
    at = mention.start - fix.first
    return at == 1 and fix.words[0] in pack()["no_words"]


def _each_again(fix: Fix) -> list[Meaning] | None:
    """'sorry, the rice was 210 and the peas 80': each food with its amount."""
    slip = fix.says("slip_of_hand") and all(fix.is_recent(m.latest, SAME_SITTING) for m in fix.matched)
    if not (slip or fix.says("told_before", "was_wrong", "opens_fix")):
        return None
    if fix.says("in_addition") or not_mine(fix.message):
        return None
    if not slip and not any(w in pack()["came_out_at"] for w in fix.words):
        return None
    pairs = list(zip(fix.matched, fix.amounts, strict=True))
    if any(c.start < m.start for m, c in pairs) or any(b.start < a[1].start for a, (b, _) in pairwise(pairs)):
        return None
    return [changed(m.latest, c.amount, fix) for m, c in pairs if c.amount is not None]


def _last_in(told: Chunk, fix: Fix) -> Recorded:
    """The last weigh-in of those told in the same measure or piece, else the last one of all."""
    unit = told.amount.unit if told.amount is not None and told.amount.kind in ("count", "measure") else ""
    alike = [each for each in fix.all if unit and each.amount is not None and each.amount.unit == unit]
    return alike[-1] if alike and fix.is_recent(alike[-1], SOON) else fix.all[-1]


def _energy_of_a_part(fix: Fix, mention: Mention) -> list[Meaning] | None:
    """'nvm on the pasta, I only ate half so like 425': the energy of the part of an estimate that was eaten."""
    told = [c.amount for c in fix.amounts if c.amount is not None]
    shares = [a for a in told if is_share(a)]
    energies = [a for a in told if is_energy_for(a, mention.latest)]
    if len(told) != 2 or len(shares) != 1 or len(energies) != 1 or not fix.is_recent(mention.latest, SOON):
        return None
    return [Change(which=Which(number=mention.latest.number), kcal=energies[0].value)]


def _by_old_number(fix: Fix) -> list[Meaning] | None:
    """'57 not 75', 'not 2, 3': the latest weigh-in of which the number that is denied is on record."""
    told = [c.amount for c in fix.amounts if c.amount is not None]
    if len(told) != 2 or len(fix.denied) != 1 or fix.mentions:
        return None
    old, new = told if fix.amounts[0] is fix.denied[0] else reversed(told)
    each = next((each for each in reversed(fix.recorded) if is_on_record(old, each, new)), None)
    if each is None or not (fix.days or fix.is_recent(each, SOON)):
        return None
    return [changed(each, new, fix, old)]


def _only_had(fix: Fix) -> list[Meaning] | None:
    """'that's the whole dish, I only had 210': of what was told alone, right before."""
    told, last = fix.amounts[0], [each for each in fix.all if each.message == fix.all[-1].message]
    if len(fix.amounts) != 1 or len(last) != 1 or told.amount is None or told.amount.kind not in ("mass", "bare"):
        return None
    grams = as_new(told.amount, last[0]).grams
    if (
        is_share(told.amount)
        or not fix.behind("i_only_ate", told.start)
        or fix.mentions
        or grams is None
        or not 0 < grams < last[0].grams
    ):
        return None
    if any(w.shown for w in fix.message.around.waiting) or not fix.is_recent(last[0], SAME_SITTING):
        return None
    return [changed(last[0], told.amount, fix)]


def _last_again(fix: Fix) -> list[Meaning] | None:
    """'no wait ten ounces I had the corner piece too', 'no, 2 ladles', '350 I mean': the last weigh-in."""
    told = fix.amounts[0]
    last = _last_in(told, fix)
    first = fix.closed or (fix.opened and _says_which(fix.words[fix.opened : told.start - fix.first]))
    if not first or len(fix.amounts) != 1 or told.amount is None:
        return None
    if any(w.shown for w in fix.message.around.waiting) or not fix.is_recent(last, SOON):
        return None
    behind = [c for c in fix.message.chunks if c.start >= max(told.end, fix.first + fix.closed)]
    if behind and not (behind[0].kind in ("sign", "newline") or behind[0].text.lower() in pack()["fix_reason"]):
        return None
    excused = fix.says("slip_of_hand")
    if not excused and any(
        not fix.message.words.knows(c.text.lower()) for c in behind[:2] if c.kind == "word" and behind[0].kind == "sign"
    ):
        return None
    return [changed(last, told.amount, fix)]


def _says_which(words: Sequence[str]) -> bool:
    """Whether nothing is said before the amount but that the last one is meant: 'to my latest entry:'."""
    at = 0
    while at < len(words):
        end = next((e for name in ("last_one", "entry", "to_the_last") if (e := pack()[name].end(words, at))), None)
        if end is None and words[at].isalnum():
            return False
        at = end or at + 1
    return not words or pack()["last_one"].found(words)
