"""Events built from stored weigh-ins, batches and totals."""

from __future__ import annotations

from datetime import date
from typing import Any

from bot.batch_events import BatchChanged, BatchCooked, BatchOpened, IngredientPart
from bot.events import SheetShown, WeighInChanged, WeighInOpen, WeighInRecorded, WeighInRemoved
from bot.kinds import Span
from bot.store.weighins import StoredWeighIn
from domain.batches import Batch
from domain.nutrients import Total


def weigh_in(stored: StoredWeighIn, who: str) -> WeighInRecorded | WeighInOpen:
    """A new weigh-in, or an open one."""
    if stored.weigh_in.open is not None:
        return _opened(stored, who)
    return WeighInRecorded(**_fields(stored, who))


def changed(stored: StoredWeighIn, who: str, was: int) -> WeighInChanged | WeighInOpen:
    """A weigh-in that replaces number `was`, or an open one."""
    if stored.weigh_in.open is not None:
        return _opened(stored, who)
    return WeighInChanged(**_fields(stored, who), was=was)


def _fields(stored: StoredWeighIn, who: str) -> dict[str, Any]:
    w, n = stored.weigh_in, stored.weigh_in.nutrients
    return {
        "id": stored.number,
        "who": who,
        "food": w.food,
        "state": w.state,
        "batch": w.batch,
        "as_weighed_g": w.as_weighed_g,
        "edible_g": w.edible_g,
        "basis_g": w.basis_g,
        "basis": w.basis,
        "evidence": w.evidence,
        "kcal": n.kcal if n else None,
        "protein_g": n.protein_g if n else None,
        "fat_g": n.fat_g if n else None,
        "carbohydrate_g": n.carbohydrate_g if n else None,
        "fibre_g": n.fibre_g if n else None,
        "day": stored.day,
        "meal": stored.meal,
    }


def _opened(stored: StoredWeighIn, who: str) -> WeighInOpen:
    w = stored.weigh_in
    return WeighInOpen(
        id=stored.number,
        who=who,
        food=w.food,
        as_weighed_g=w.as_weighed_g,
        day=stored.day,
        meal=stored.meal,
        kcal_low=w.open.kcal_low if w.open else None,
        kcal_high=w.open.kcal_high if w.open else None,
    )


def removed(stored: StoredWeighIn) -> WeighInRemoved:
    """A weigh-in that no longer stands."""
    return WeighInRemoved(id=stored.number)


def batch_opened(batch: Batch) -> BatchOpened:
    """A batch with its ingredients."""
    parts = tuple(IngredientPart(food=i.food, raw_g=i.raw_g) for i in batch.ingredients)
    return BatchOpened(batch=batch.number, name=batch.name, raw_g=batch.raw_g, ingredients=parts)


def batch_changed(batch: Batch) -> BatchChanged:
    """A batch with its ingredients and name as they are now."""
    opened = batch_opened(batch)
    return BatchChanged(batch=opened.batch, name=opened.name, raw_g=opened.raw_g, ingredients=opened.ingredients)


def batch_cooked(batch: Batch) -> BatchCooked:
    """A batch's cooked weight, yield and raw factor."""
    return BatchCooked(batch=batch.number, cooked_g=batch.cooked_g, yield_=batch.yield_, raw_factor=batch.raw_factor)


def sheet(span: Span, day: date, total: Total, waiting: int) -> SheetShown:
    """Totals that were shown."""
    n = total.nutrients
    return SheetShown(
        span=span,
        day=day,
        kcal=n.kcal,
        protein_g=n.protein_g,
        fat_g=n.fat_g,
        carbohydrate_g=n.carbohydrate_g,
        waiting=waiting,
    )
