"""Frames for another food in place of the one on record: what was said or thought, and what it was in truth."""

from __future__ import annotations

from bot.language.fix_meanings import Change, Which
from bot.language.frames.fix_scene import Fix, Mention
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.told import Name
from domain import reference


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
