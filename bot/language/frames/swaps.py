"""Frames for another food in place of the one on record: what was said or thought, and what it was in truth."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.fix_meanings import Change, Which
from bot.language.frames.fix_scene import SOON, Fix, Mention, is_on_record
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.told import Name
from domain import reference

MOST_NAMED = 3
"""The food on record, what it was in truth, and a word for both."""


def said_but_was(fix: Fix) -> list[Meaning] | None:
    """'I said swiss but the cheese was provolone', 'thought it was pepperoni, turned out ham': a food of its kind."""
    if fix.amounts or len(fix.mentions) < 2 or not fix.says("thought_before", "told_before", "no_such_food"):
        return None
    *before, new = fix.mentions
    old = [m for m in before if m.recorded]
    if not old or new.name.unknown or not new.name.foods or any(m.latest.number != old[0].latest.number for m in old):
        return None
    if any(m.recorded and m.latest.number == old[0].latest.number for m in (new,)):
        return None
    each = old[0].latest
    generic = [m for m in before if not m.recorded]
    if any(not _may_be(new.name, m) for m in generic) or each.batch is not None:
        return None
    denied = any(fix.behind("no_such_food", m.start) for m in old) and _is_in_truth(fix, new)
    if not denied and not (fix.behind("in_truth", new.start) and _turns(fix, old[0], new)):
        return None
    return [Change(which=Which(number=each.number), name=new.name)] if _alike(new.name, each.food) else None


def other_than_told(fix: Fix) -> list[Meaning] | None:
    """'that cheese was provolone instead of swiss', 'I put honey when I ought to have put marmalade', in any order."""
    if fix.amounts or not 2 <= len(fix.mentions) <= MOST_NAMED or fix.says("tells_of_eating", "in_addition"):
        return None
    named = [m for m in fix.mentions if not m.recorded and m.name.foods and not m.name.unknown]
    new = list({m.name.foods: m for m in named}.values())  # 'the wrapper says haddock, so it was haddock'
    old = [m for m in fix.mentions if m.recorded and m.name.kinds is None] or fix.matched
    if len(new) != 1 or not old or len({m.latest.number for m in fix.matched}) != 1:
        return None
    each, right = old[0].latest, new[0]
    if each.batch is not None or not (fix.days or fix.is_recent(each, SOON)):
        return None
    if _asked_to_swap(fix, old[-1], right):
        return [Change(which=Which(number=each.number), name=right.name)]
    denied = any(fix.behind("no_such_food", m.start) for m in old)
    meant = any(fix.behind(name, right.start) for name in ("should_have_told", "in_truth"))
    told = any(fix.behind(name, m.start) for m in old for name in ("told_before", "thought_before"))
    points = fix.is_definite(fix.mentions[0]) or fix.says("it_was_that") or fix.opened > 0
    if not (meant and (told or (denied and points))):
        return None
    return [Change(which=Which(number=each.number), name=right.name)]


def _asked_to_swap(fix: Fix, old: Mention, right: Mention) -> bool:
    """'swap cod for haddock', 'scratch the cashews and put macadamia nuts instead'."""
    if old.start > right.start:
        return False
    words, at = fix.words, right.end - fix.first
    instead = fix.behind("off_record", old.start) and pack()["instead_of_it"].end(words, at) is not None
    return instead or (fix.behind("changes_for", old.start) and fix.behind("for_another_food", right.start))


def another_it_was(fix: Fix) -> list[Meaning] | None:
    """'nah it was a pear', 'wait, that was coke zero': right behind one thing of its kind, nothing but what it was."""
    if (
        len(fix.mentions) != 1
        or not fix.says("opens_fix")
        or _has_amount(fix)
        or fix.says("in_addition", "more_besides")
    ):
        return None
    new = fix.mentions[0]
    denies = fix.opened == new.start - fix.first and fix.says("no_words", "repair")
    if new.name.unknown or not new.name.foods or not (fix.says("it_was_that") or denies) or _says_more(fix, new):
        return None
    last = [each for each in fix.all if each.message == fix.all[-1].message and each.batch is None]
    like = [each for each in last if _alike(new.name, each.food) or (denies and len(last) == 1)]
    if len(like) != 1 or not fix.is_recent(like[0], SOON) or like[0].food in new.name.foods:
        return None
    return [Change(which=Which(number=like[0].number), name=new.name)]


def another_kind(fix: Fix) -> list[Meaning] | None:
    """'that was thigh not breast', 'not white, brown': another word in the name of what was told last."""
    told = _right_and_wrong(fix.words)
    if told is None or fix.amounts or fix.days:
        return None
    right, wrong = told
    found: list[Meaning] = []
    for each in fix.all:
        if each.message != fix.all[-1].message or each.batch is not None or not fix.is_recent(each, SOON):
            continue
        for called in (each.word.split(), each.food.split()):
            if not set(wrong) < set(called):
                continue
            at = called.index(wrong[0])
            words = [w for w in called[:at] if w not in right] + right + [w for w in called[at:] if w not in wrong]
            name = fix.message.vocabulary.resolve(words, " ".join(words))
            if (name.foods or name.kinds) and not name.unknown and each.food not in name.foods:
                found.append(Change(which=Which(number=each.number), name=name))
                break
    return found if len(found) == 1 else None


def _right_and_wrong(words: Sequence[str]) -> tuple[list[str], list[str]] | None:
    """(what it was, what it was not) where nothing else is said: (['thigh'], ['breast'])."""
    denies = pack()["no_such_food"]
    at = next((n for n in range(len(words)) if denies.end(words, n) is not None), None)
    if at is None:
        return None
    behind = words[denies.end(words, at) or at :]
    right, wrong = _named(words[:at]), _named(behind)
    if not right:
        turns = pack()["but_it_was"]
        turn = next((n for n, word in enumerate(behind) if n and (not word.isalnum() or word in turns)), 0)
        right, wrong = _named(behind[turn:]), _named(behind[:turn])
    return (right, wrong) if 0 < len(right) <= MOST_NAMED and 0 < len(wrong) <= MOST_NAMED else None


def _named(words: Sequence[str]) -> list[str]:
    """The words without signs and without those that open or close a correction."""
    left, n = list[str](), 0
    while n < len(words):
        beside = ("it_was_that", "opens_fix", "beside_fix", "before_number", "but_it_was", "polite")
        end = max(pack()[each].end(words, n) or n for each in beside)
        if end == n and words[n].isalnum():
            left.append(words[n])
        n = max(end, n + 1)
    return left


def _has_amount(fix: Fix) -> bool:
    """Whether it tells an amount, and not only 'a' or what is on record last."""
    told = [c.amount for c in fix.amounts if c.amount is not None]
    return any(not (a.kind == "bare" and a.value == 1) and not is_on_record(a, fix.all[-1]) for a in told)


def _says_more(fix: Fix, new: Mention) -> bool:
    """Whether a word beside the food is none of those that open and close a correction."""
    words, at, end = fix.words, new.start - fix.first, new.end - fix.first
    for part in (words[fix.opened : at], words[end:]):
        beside, n = [w for w in part if w.isalnum() and w not in pack()["before_number"]], 0
        while n < len(beside):
            behind = max(pack()[each].end(beside, n) or n for each in ("it_was_that", "opens_fix", "beside_fix"))
            if behind == n:
                return True
            n = behind
    return False


def _is_in_truth(fix: Fix, new: Mention) -> bool:
    """Whether it is said of a food that it was what was eaten: 'it was gouda', 'gouda it was'."""
    return fix.behind("in_truth", new.start) or pack()["it_was_that"].end(fix.words, new.end - fix.first) is not None


def _turns(fix: Fix, old: Mention, new: Mention) -> bool:
    """Whether what was said stands before the old food, and a turn between it and the new one."""
    words, at = fix.words, old.start - fix.first
    said = any(pack()[name].found(words[:at]) for name in ("thought_before", "told_before"))
    return said and pack()["but_it_was"].found(words[old.end - fix.first : new.start - fix.first])


def _may_be(name: Name, generic: Mention) -> bool:
    """Whether a food is one of those that a generic word can mean: provolone, and 'the cheese'."""
    kinds = reference.load().kinds.get(generic.name.kinds or "")
    return kinds is not None and any(food in kinds.kinds for food in name.foods)


def _alike(name: Name, food: str) -> bool:
    """Whether it is of the group of the food on record, so that one can be taken for the other."""
    table = reference.load().foods
    known = table.get(food)
    return known is None or any(table[each].group == known.group for each in name.foods if each in table)
