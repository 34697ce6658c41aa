"""Portions that count differently by what is now known of their batch."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import isclose

from bot.conversation import event_of, saying
from bot.conversation.exchange import Exchange
from bot.kinds import VersionKind
from bot.store import kitchens, weighins
from bot.store.weighins import StoredWeighIn
from domain.batches import Batch
from domain.weighins import WeighIn

MOST_TOLD = 6
"""Recounted portions that the reply names."""


def recount(batch: Batch, ex: Exchange, *, noted: bool = True) -> None:
    """Recounts portions already taken by what is now known of the batch; tells other members about theirs.

    Portions of people who have left the kitchen stay as they are. Not `noted` for an undo, which is not itself undone.
    """
    if batch.cooked_g is None:
        return
    person = ex.books.person
    here = {member.id for member in kitchens.members(ex.books.conn, person.kitchen_id)}
    mine: list[StoredWeighIn] = []
    theirs: dict[int, list[StoredWeighIn]] = {}
    for old in weighins.portions(ex.books, batch.number):
        new = _counted_anew(old, batch)
        if new is None or old.person_id not in here:
            continue
        if noted:
            stored = weighins.change(ex.books, old, new, old.eaten_at, old.day, old.meal, old.said)
        else:
            stored = weighins.supersede(ex.books, VersionKind.CHANGED, old, replace(old, weigh_in=new))
        if stored.person_id != person.id:
            theirs.setdefault(stored.person_id, []).append(stored)
            continue
        mine.append(stored)
        ex.note(event_of.changed(stored, person.name, was=old.number))
        ex.changed_days.add(stored.day)
    if mine:
        ex.say(_line(mine, batch))
    for person_id, portions in theirs.items():
        ex.tell(person_id, f"{person.name} corrected {saying.batch(batch)}.\n{_line(portions, batch)}")


def _counted_anew(old: StoredWeighIn, batch: Batch) -> WeighIn | None:
    """The portion as the batch makes it now; None when it stays as it is."""
    found = batch.portion((old.person_id, old.number))
    if found is None:
        return None
    grams, share = found
    was = old.weigh_in
    whole = was.draw.whole and not isclose(grams, was.edible_g, rel_tol=1e-9)
    new = replace(was, basis_g=share.basis_g, nutrients=share.nutrients)
    if whole:
        new = replace(new, as_weighed_g=grams, edible_g=grams)
    same = (
        not whole
        and was.nutrients is not None
        and isclose(new.basis_g, was.basis_g, rel_tol=1e-9)
        and isclose(share.nutrients.kcal, was.nutrients.kcal, rel_tol=1e-9, abs_tol=1e-9)
        and isclose(share.nutrients.protein_g, was.nutrients.protein_g, rel_tol=1e-9, abs_tol=1e-9)
        and isclose(share.nutrients.fat_g, was.nutrients.fat_g, rel_tol=1e-9, abs_tol=1e-9)
        and isclose(share.nutrients.carbohydrate_g, was.nutrients.carbohydrate_g, rel_tol=1e-9, abs_tol=1e-9)
    )
    return None if same else new


def _line(portions: Sequence[StoredWeighIn], batch: Batch) -> str:
    """'#4 recounted: 304 g counts as 420 g raw, 612 kcal; #7: 200 g …'. One line, however many they are."""
    told = [_counts(each, batch) for each in portions[:MOST_TOLD]]
    more = f"; {len(portions) - MOST_TOLD} more" if len(portions) > MOST_TOLD else ""
    first, *others = [f"#{each.number}" for each in portions[:MOST_TOLD]]
    lines = [f"{first} recounted: {told[0]}", *(f"{n}: {t}" for n, t in zip(others, told[1:], strict=True))]
    return f"{'; '.join(lines)}{more}."


def _counts(stored: StoredWeighIn, batch: Batch) -> str:
    counted = stored.weigh_in
    at_least = "at least " if batch.unknown else ""
    energy = f", {at_least}{saying.kcal(counted.nutrients.kcal)}" if counted.nutrients is not None else ""
    return f"{saying.grams(counted.edible_g)} counts as {saying.grams(counted.basis_g)} raw{energy}"
