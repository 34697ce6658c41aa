"""The frame for what weigh-ins on record truly were, clause by clause: each has its food, its verb and its number.

'The steak on Thursday was 200 g and the potatoes 230', 'the cucumber was 130 and I had 40 g of feta with it': a
definite food that is on record, of which it is said how much it was, is no new helping.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

from bot.language.chunks import Chunk, Kind
from bot.language.fix_meanings import Change
from bot.language.frames.fix_scene import (
    CUTS,
    SOON,
    Fix,
    Mention,
    changed,
    is_like,
    is_on_record,
    masses_and_counts,
)
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.stance import how_it_is_said
from bot.language.surroundings import Recorded
from bot.language.told import Amount, Item

UNREADABLE: tuple[Kind, ...] = ("hash", "energy", "macro", "price", "tare", "part")
MOST_CHUNKS = 40
ALL_DAY = timedelta(hours=20)
"""So long after it was eaten a definite food of today is the one on record."""
MOST_BETWEEN = 4
"""Words between 'that' or 'the' and the food."""
LEAST_LED = 2
"""Words of 'it was'."""
FAR = 3
"""Words between a number and its food, at most, where the number comes first ('140 it was, the apple')."""


@dataclass(frozen=True)
class Clause:
    """A clause with one food, and the amounts told of it."""

    start: int
    end: int
    mention: Mention
    amounts: tuple[Chunk, ...]


def stated(scene: Scene) -> list[Meaning] | None:
    """The changes of weigh-ins, and the weigh-ins told beside them; None where a clause may be anything else."""
    message = scene.message
    if not scene.amounts or len(message.chunks) > MOST_CHUNKS or message.of(*UNREADABLE):
        return None
    if (message.asks and not message.orders) or message.when.future or how_it_is_said(message) is not None:
        return None
    if scene.cue("condition", "like_before", "left_on_plate", "subtracts", "running_total"):
        return None
    if scene.cue("forgot") and not scene.cue("slip_of_hand"):
        return None
    past = message.when.day is not None and message.when.day < message.around.today
    unreal = message.has_any(message.words.shopping | message.words.plans)
    if unreal and not past and not scene.cue("told_before", "was_wrong", "came_to_then"):
        return None
    recorded = message.around.recorded()
    fix = Fix(scene, recorded) if recorded else None
    if fix is None or not fix.matched or len({m.latest.number for m in fix.matched}) < len(fix.matched):
        return None
    if any(fix.behind("off_record", m.start) for m in fix.mentions):
        return None
    clauses = _clauses(fix)
    return None if clauses is None else _changes(fix, clauses)


def _changes(fix: Fix, clauses: Sequence[Clause]) -> list[Meaning] | None:
    found: list[Meaning] = []
    changes: list[Change] = []
    for clause in clauses:
        each = _meant(fix, clause, bool(changes))
        if each is not None:
            told, old = each[1], each[2]
            changes.append(changed(each[0], told, fix, old))
            found.append(changes[-1])
            continue
        new = _new(fix, clause)
        if new is None:
            return None
        found.extend(new)
    return found if changes else None


def _clauses(fix: Fix) -> list[Clause] | None:
    """Its clauses with a food and an amount; None where the amounts can't be told apart by clauses."""
    places = [(m.start, m.end) for m in fix.mentions] + [(c.start, c.end) for c in fix.amounts]
    told = {n for start, end in places for n in range(start, end)}
    cuts = [n for n in range(fix.first, fix.end) if n not in told and _parts(fix, n)]
    found: list[Clause] = []
    for start, end in zip([fix.first, *(n + 1 for n in cuts)], [*cuts, fix.end], strict=True):
        foods = [m for m in fix.mentions if start <= m.start < end]
        amounts = tuple(c for c in fix.amounts if start <= c.start < end)
        if len(foods) > 1:
            return None
        if foods:
            found.append(Clause(start, end, foods[0], amounts))
        elif not found and any(not _only_counts(c) for c in amounts):
            return None
        elif found:
            last = found.pop()
            found.append(Clause(last.start, end if amounts else last.end, last.mention, (*last.amounts, *amounts)))
    return [clause for clause in found if clause.amounts]


def _only_counts(chunk: Chunk) -> bool:
    """'the two weights', 'swap those two': a number in words may be none of food."""
    return chunk.amount is not None and chunk.amount.kind in ("bare", "count") and chunk.text.isalpha()


def _parts(fix: Fix, n: int) -> bool:
    """Whether a clause ends at a token."""
    return fix.message.tokens[n].text in CUTS or fix.words[n - fix.first] in pack()["other_clause"]


def _meant(fix: Fix, clause: Clause, goes_on: bool) -> tuple[Recorded, Amount, Amount | None] | None:
    """(the weigh-in that a clause puts right, the right amount, the one on record where it is told too)."""
    mention = clause.mention
    words = fix.words[clause.start - fix.first : clause.end - fix.first]
    if not mention.recorded or fix.says("not_for_me", "for_another"):
        return None
    dated = bool(fix.days) and all(day < fix.message.around.today for day in fix.days)
    definite = _is_definite(fix, clause)
    if any(pack()[name].found(words) for name in ("tells_of_eating", "i_ate")) and not (dated and definite):
        return None
    each = _one_of(fix, mention, words)
    amounts = _of_one(fix, clause, each) if each is not None else None
    if each is None or amounts is None or _may_be_in_a_pot(fix, each) or _is_of_now(fix, each):
        return None
    new, old = amounts
    set_to = fix.behind("to_a_number", new.start) and fix.says("asks_to_change")
    announced = (
        fix.announced
        or set_to
        or old is not None
        or fix.says("told_before", "speaks_of_the_record")
        or _is_wrong(fix, clause)
    )
    said, first = set_to or _says_it_was(fix, clause, new), mention.start < new.start
    if _adds(words, said):
        return None
    sure = (definite or announced) and (said or (announced and _linked(fix, clause, new)))
    sure = sure or (_resumes(fix, new) and each.number == fix.recorded[-1].number and fix.is_recent(each, SOON))
    if not (sure or (goes_on and (definite or said)) or (dated and definite and (first or announced))):
        return None
    if new.amount is None or is_on_record(new.amount, each, old):
        return None
    if not (fix.days or fix.is_recent(each, ALL_DAY if definite else SOON)):
        return None
    return (each, new.amount, old) if announced or is_like(new.amount, each) else None


def _is_of_now(fix: Fix, each: Recorded) -> bool:
    """Whether the meal or the hour that is named is another than that of what is on record: 'tonight' after lunch."""
    when, now = fix.message.when, fix.message.around.now
    if fix.days - {fix.message.around.today} or (when.meal is None and when.moment is None) or each.at is None:
        return False
    return each.meal != when.meal if each.meal is not None and when.meal is not None else now - each.at > SOON


def _resumes(fix: Fix, told: Chunk) -> bool:
    """'it was three eggs', 'that was 170 g yoghurt really': whether the number is said of what was told last."""
    before = fix.words[: told.start - fix.first]
    if len(before) < LEAST_LED:
        return False
    beside = pack()["fix_links"].words | pack()["opens_fix"].words
    said_of_it = before[-2] in pack()["it_or_them"] and before[-1] in pack()["was_then"]
    return said_of_it and all(w in beside or not w.isalnum() for w in before[:-2])


def _adds(words: Sequence[str], said: bool) -> bool:
    """Whether more was eaten; 'weighed again' beside a verb that says how much it was is no more."""
    kept = [w for w in words if not (said and w in pack()["once_again"])]
    return any(pack()[name].found(kept) for name in ("in_addition", "more_besides"))


def _one_of(fix: Fix, mention: Mention, words: Sequence[str]) -> Recorded | None:
    """The weigh-in of a food that is meant: of the meal or at the place that is named, else the latest."""
    meal = fix.message.when.meal
    same_day = [each for each in mention.recorded if each.day == mention.latest.day and meal in (None, each.meal)]
    same_day = same_day or [e for e in mention.recorded if e.day == mention.latest.day and e.meal is None]
    if not same_day or not mention.is_clear:
        return None
    for place, concept in enumerate(("first_one", "second_one", "third_one")):
        if pack()[concept].found(words) and len(same_day) > 1:
            return same_day[place] if place < len(same_day) else None
    return same_day[-1]


def _of_one(fix: Fix, clause: Clause, each: Recorded) -> tuple[Chunk, Amount | None] | None:
    """(the right amount of a clause, the one on record where both are told); None where it is not clear which is."""
    told = [c for c in masses_and_counts(clause.amounts) if c.amount is not None]
    if len(told) == 1:
        return None if told[0] in fix.denied else (told[0], None)
    if len(told) != 2:
        return None
    first, second = told
    if len({each.amount.kind in ("mass", "bare") for each in told if each.amount is not None}) > 1:
        return None  # '2 scoops of whey, 64 g' tells of one helping in two ways
    old = [
        a
        for a, b in ((first, second), (second, first))
        if a.amount is not None and is_on_record(a.amount, each, b.amount)
    ]
    if len(old) != 1:
        return None
    return (second if old[0] is first else first), old[0].amount


def _says_it_was(fix: Fix, clause: Clause, told: Chunk) -> bool:
    """Whether a verb between food and number, or right behind the number, says how much of it there was."""
    came, mention = pack()["came_out_at"], clause.mention
    if mention.start < told.start:
        between = fix.words[mention.end - fix.first : told.start - fix.first]
        if fix.behind("ended_up_at", told.start):
            return True
        owned = fix.message.tokens[mention.end - 1].text.endswith("'s") and mention.end == told.start
        at = min((n for n, w in enumerate(between) if w in came), default=None)
        return owned or (at is not None and not (at and between[at - 1] in pack()["i_or_we"]))
    between = fix.words[told.end - fix.first : mention.start - fix.first]
    return len(between) <= FAR and bool(between) and between[0] in came and fix.is_definite(mention)


def _is_definite(fix: Fix, clause: Clause) -> bool:
    """Whether a food is one that is known, also with words between: 'that second lot of strawberries'."""
    start, at = clause.start - fix.first, clause.mention.start - fix.first
    before = fix.words[max(start, at - MOST_BETWEEN) : at]
    told = any(c.end <= clause.mention.start for c in clause.amounts)
    return fix.is_definite(clause.mention) or (not told and any(w in pack()["the_recorded"] for w in before))


def _is_wrong(fix: Fix, clause: Clause) -> bool:
    """Whether words that correct stand right behind the food, or end the clause: 'the beetroot's wrong, 160'."""
    words, opens = fix.words[: clause.end - fix.first], pack()["opens_fix"]
    at, came = clause.mention.end - fix.first, pack()["came_out_at"]
    at += sum(1 for w in words[at : at + 1] if w in came)
    last = clause.amounts[-1].end - fix.first
    return bool(opens.ends(words, at)) or any(end == len(words) for end in opens.ends(words, last))


def _linked(fix: Fix, clause: Clause, told: Chunk) -> bool:
    """Whether nothing but small words stands between a food and its number."""
    mention = clause.mention
    start, end = min(mention.end, told.end), max(mention.start, told.start)
    between = fix.words[start - fix.first : end - fix.first]
    return all(w in pack()["fix_links"] or w in pack()["opens_fix"] or not w.isalnum() for w in between)


def _may_be_in_a_pot(fix: Fix, each: Recorded) -> bool:
    """Whether the number may be of what is in a pot that is being filled."""
    filling = [b for b in fix.message.around.batches if not b.cooked]
    return any(
        not b.ingredients or b.filling or each.food in b.ingredients or each.word in b.ingredients for b in filling
    )


def _new(fix: Fix, clause: Clause) -> list[Item] | None:
    """The weigh-ins of a clause that tells of eating something else, besides; None where it tells of no eating."""
    words = fix.words[clause.start - fix.first : clause.end - fix.first]
    if not any(pack()[name].found(words) for name in ("tells_of_eating", "i_ate", "in_addition", "more_besides")):
        return None
    part = fix.message.between(clause.start, clause.end)
    told = items(part) if part is not None else []
    whole = told and all(item.name is not None and not item.name.unknown and item.amount is not None for item in told)
    return told if whole else None
