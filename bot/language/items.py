"""Weigh-ins in a sentence: one for each food told, several foods under one mass as one, each with its time."""

from __future__ import annotations

from bisect import bisect
from collections.abc import Sequence
from dataclasses import replace

from bot.language.fragments import JOINING, Fragment, for_others, fragments_of, merged, pulled_apart
from bot.language.meanings import Item
from bot.language.message import Message
from bot.language.moments import Moment, together
from bot.language.telling import item_of, shared
from bot.language.waste import wastes_found

SOME = frozenset({"some", "a", "bit", "few", "little", "the", "splash", "drizzle", "knob", "dash", "pinch", "handful"})
"""Words that tell a food by itself after 'and': no part of the mass before it."""


def items(message: Message) -> list[Item]:
    """The weigh-ins that a sentence tells, in order; each with what is clear and what is not."""
    chunks = wastes_found(message)
    pieces = [piece for f in fragments_of(message, chunks) for piece in pulled_apart(f)]
    told = _timed(message, _built(message, merged(message, pieces)))
    return [replace(item, shared=True) for item in told] if shared(message) else told


def _built(message: Message, fragments: Sequence[Fragment]) -> list[tuple[Item, Fragment]]:
    built: list[tuple[Item, Fragment]] = []
    for i, fragment in enumerate(fragments):
        if not fragment.foods and for_others(message, fragment) and fragment.joined in JOINING:
            continue
        if not _tells(message, fragment) or (_counts_people(fragment) and len(fragments) > 1):
            continue
        shared = _one_mass(message, fragments, i, built)
        if shared is not None:
            if built and built[-1][0].several:
                built[-1] = (shared, fragment)
            else:
                built.append((shared, fragment))
            continue
        built.append((item_of(message, fragment), fragment))
    return [(item, f) for item, f in built if not _absorbed(item, built)]


def _absorbed(item: Item, built: Sequence[tuple[Item, Fragment]]) -> bool:
    """Whether a food without an amount already stands in a 'one mass for several' question."""
    if item.several or item.amount is not None or item.name is None:
        return False
    return any(item.name.text in other.several for other, _ in built)


def _tells(message: Message, fragment: Fragment) -> bool:
    if fragment.foods:
        return True
    return bool(fragment.amounts)


def _counts_people(fragment: Fragment) -> bool:
    """'we were two': a small number beside no food is no weigh-in."""
    told = [c.amount for c in fragment.amounts if c.amount is not None]
    return (
        not fragment.foods and bool(told) and all(a.kind == "bare" and a.value <= 12 and a.text.isalpha() for a in told)
    )


def _one_mass(
    message: Message, fragments: Sequence[Fragment], i: int, built: list[tuple[Item, Fragment]]
) -> Item | None:
    """'350 g rice and chicken', 'pasta and peas 310 g': one mass told for two foods."""
    here = fragments[i]
    if not here.foods or here.amounts or _some(message, here):
        return None
    if i and here.joined in JOINING and built:
        before, fragment = built[-1]
        if before.amount is not None and before.amount.kind == "mass" and before.name and not _led_by_food(fragment):
            built.pop()
            name = item_of(message, here).name
            names = (before.several or (before.name.text,)) + ((name.text,) if name else ())
            return replace(before, several=names)
    after = fragments[i + 1] if i + 1 < len(fragments) else None
    if after is None or after.joined not in JOINING or not after.foods or not _led_by_food(after):
        return None
    if not any(a.amount and a.amount.kind in ("mass", "bare") for a in after.amounts):
        return None
    first, second = item_of(message, here), item_of(message, after)
    if not first.name or not second.name:
        return None
    after.chunks = [c for c in after.chunks if c.kind not in ("food", "amount")]
    return replace(second, several=(first.name.text, second.name.text))


def _led_by_food(fragment: Fragment) -> bool:
    return next((c.kind for c in fragment.chunks if c.kind in ("amount", "food", "batch")), "") != "amount"


def _some(message: Message, fragment: Fragment) -> bool:
    first = message.tokens[fragment.chunks[0].start].text if fragment.chunks else ""
    return first in SOME


def _timed(message: Message, built: Sequence[tuple[Item, Fragment]]) -> list[Item]:
    """Each item with its own time: one time is for all; several go each to the items beside them."""
    moments = [(c.start, c.moment) for c in message.of("moment") if c.moment is not None]
    meals = {m.meal for _, m in moments if m.meal}
    if len(meals) < 2:
        when = together([m for _, m in moments], message.around)
        return [replace(item, when=when) for item, _ in built]
    common = [m for _, m in moments if not m.meal]
    with_meal = [(s, m) for s, m in moments if m.meal]
    leading = bool(built) and with_meal[0][0] <= min(
        c.start for c in built[0][1].chunks if c.kind in ("amount", "food", "batch")
    )
    timed: list[Item] = []
    for item, fragment in built:
        place = max(c.start for c in fragment.chunks if c.kind in ("amount", "food", "batch"))
        own = _own_meal(with_meal, place, leading)
        timed.append(replace(item, when=together([*common, *([own] if own else [])], message.around)))
    return timed


def _own_meal(moments: Sequence[tuple[int, Moment]], place: int, leading: bool) -> Moment | None:
    at = bisect([start for start, _ in moments], place)
    index = at - 1 if leading else at
    return moments[index][1] if 0 <= index < len(moments) else None
