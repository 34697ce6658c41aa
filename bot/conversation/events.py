"""What was recorded, in the words of the JSON door: grams, kcal, nothing rounded here."""

from __future__ import annotations

from bot.store.weighins import StoredWeighIn
from domain.batches import Batch
from domain.nutrients import Total

Event = dict[str, object]


def weigh_in(stored: StoredWeighIn, who: str, was: int | None = None) -> Event:
    """A recorded weigh-in; with `was`, one that replaces another."""
    w = stored.weigh_in
    n = w.nutrients
    event: Event = {
        "type": "weigh_in" if was is None else "weigh_in_changed",
        "id": stored.number,
        "who": who,
        "food": w.food,
        "state": w.state.value,
        "batch": w.batch,
        "as_weighed_g": w.as_weighed_g,
        "edible_g": w.edible_g,
        "basis_g": w.basis_g,
        "basis": w.basis.value,
        "evidence": w.evidence.value,
        "kcal": n.kcal if n else None,
        "protein_g": n.protein_g if n else None,
        "fat_g": n.fat_g if n else None,
        "carbohydrate_g": n.carbohydrate_g if n else None,
        "fibre_g": n.fibre_g if n else None,
        "day": stored.day.isoformat(),
        "meal": stored.meal,
    }
    if was is not None:
        event["was"] = was
    return event


def removed(stored: StoredWeighIn) -> Event:
    """A weigh-in that no longer stands."""
    return {"type": "weigh_in_removed", "id": stored.number}


def batch_opened(batch: Batch) -> Event:
    """A batch with what went in."""
    return {
        "type": "batch_opened",
        "batch": batch.number,
        "name": batch.name,
        "raw_g": batch.raw_g,
        "ingredients": [{"food": i.food, "raw_g": i.raw_g} for i in batch.ingredients],
    }


def batch_cooked(batch: Batch) -> Event:
    """A batch's cooked weight, yield and raw factor."""
    return {
        "type": "batch_cooked",
        "batch": batch.number,
        "cooked_g": batch.cooked_g,
        "yield": batch.yield_,
        "raw_factor": batch.raw_factor,
    }


def batch_closed(number: int, left_g: float, how: str) -> Event:
    """A batch that is closed, with what was left."""
    return {"type": "batch_closed", "batch": number, "left_g": left_g, "how": how}


def sheet(span: str, day: str, total: Total, waiting: int) -> Event:
    """Totals that were shown."""
    n = total.nutrients
    return {
        "type": "sheet",
        "span": span,
        "day": day,
        "kcal": n.kcal,
        "protein_g": n.protein_g,
        "fat_g": n.fat_g,
        "carbohydrate_g": n.carbohydrate_g,
        "waiting": waiting,
    }


def listing(of: str, count: int) -> Event:
    """A list that was shown, with its length."""
    return {"type": "listing", "of": of, "count": count}
