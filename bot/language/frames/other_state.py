"""The frame for a state on record that is denied: it was weighed in the other one, where there are two."""

from __future__ import annotations

from bot.language.choices import denied_states
from bot.language.fix_meanings import Change, Which
from bot.language.frames.fix_scene import SOON, Fix
from bot.language.meanings import Meaning
from domain import reference
from domain.foods import State


def other_state(fix: Fix) -> list[Meaning] | None:
    """'that wasn't cooked', 'not raw', 'the rice wasn't cooked': the other state of the weigh-in on record."""
    message = fix.message
    states = [c for c in message.of("state") if c.state is not None]
    denied = denied_states(message)
    if len(states) != 1 or len(denied) != 1 or fix.amounts or fix.new or len(fix.matched) > 1:
        return None
    if any(waiting.shown for waiting in message.around.waiting) and not fix.matched:
        return None  # it answers
    each = fix.matched[0].latest if fix.matched else fix.all[-1]
    if each.batch is not None or not (fix.is_recent(each, SOON) or fix.days):
        return None
    if each.state != next(iter(denied)).value:
        return None
    others = _states_of(each.food) - denied
    return [Change(which=Which(number=each.number), state=others.pop())] if len(others) == 1 else None


def _states_of(food: str) -> set[State]:
    """The states in which the table has a food."""
    known = reference.load().foods.get(food)
    return set() if known is None else {row.state for row in known.rows}
