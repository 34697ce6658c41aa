"""What the language has to know of each question that waits, so that it can read its answers."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import datetime, timedelta

from bot.conversation.batches.filling import vessel_asked
from bot.conversation.batches.finding import OfBatch
from bot.conversation.questions.stored import decode
from bot.kinds import About
from bot.language.batch_meanings import AddIngredients, CorrectIngredient
from bot.language.fact_meanings import BodyWeight, ComputeTarget
from bot.language.guided import Reweigh
from bot.language.meanings import Meaning
from bot.language.setting_meanings import AskReminderTime
from bot.language.surroundings import Waiting
from bot.language.told import Item
from bot.store.questions import AFFAIRS, StoredQuestion
from domain import reference
from domain.foods import State

AMOUNT_QUESTIONS = frozenset(
    {
        About.AMOUNT,
        About.BOX_COUNT,
        About.CHANGE,
        About.COOKED_WEIGHT,
        About.TARE,
        About.SHARE,
        About.TARE_WEIGHT,
        About.LABEL_SERVING,
        About.INGREDIENT_AMOUNT,
        About.INGREDIENT_TARE,
        About.BOX_WEIGHT,
        About.EATEN,
        About.MUCH,
        About.OVER_DRAW,
        About.YIELD,
        About.CORRECT_COOKED,
        About.REWEIGH,
    }
)
FOOD_QUESTIONS = frozenset({About.FOOD, About.BARE, About.BATCH})
DETAILS = {
    About.REMINDER_TIME: "time",
    About.TARGET_AGE: "years",
    About.TARGET_CONDITION: "condition",
    About.TARGET_RATE: "kg_per_week",
    About.TARGET_HEIGHT: "cm",
    About.TARGET_WEIGHT: "kg",
}


FRESH_FOR = timedelta(hours=24)
"""So long words that don't say what they answer may be meant for a question about the record."""


def as_waiting(question: StoredQuestion, shown: Collection[int], now: datetime) -> Waiting:
    """The question with its choices and what else answers it; `shown` are the ids of those that take bare words."""
    pending, choices = decode(question.subject)
    item = pending if isinstance(pending, Item) else None
    return Waiting(
        about=question.about,
        choices=question.choices,
        key=question.id,
        shown=question.id in shown,
        fresh=question.about in AFFAIRS or now - question.asked_at <= FRESH_FOR,
        weigh_in=item.changes if item is not None else None,
        states=_states(question.about, choices),
        vessel=vessel.name if (vessel := vessel_asked(question.about, pending)) is not None else "",
        units=tuple(c.unit if isinstance(c, BodyWeight) else None for c in choices),
        foods=_foods(pending),
        word=item.name.text.lower() if item is not None and item.name is not None else "",
        among=_among(item, choices) if question.about is About.FOOD else (),
        takes=_takes(question.about, pending),
        grams=item.amount.grams if item is not None and item.amount is not None else None,
        what=pending.what if isinstance(pending, AskReminderTime) else "",
        batches=_batches((pending, *choices)),
    )


def _batches(meanings: Sequence[Meaning | None]) -> tuple[int, ...]:
    """The numbers of the batches that are named in what is pending and in its choices."""
    refs = [ref for m in meanings if isinstance(m, OfBatch) and (ref := m.batch) is not None]
    numbers = [n for ref in refs for n in (*ref.candidates, ref.number) if n is not None]
    return tuple(dict.fromkeys(numbers))


def _states(about: About, choices: Sequence[Meaning | None]) -> tuple[State | None, ...]:
    if about not in (About.STATE, About.STATE_ROW):
        return ()
    return tuple(c.state if isinstance(c, Item) else None for c in choices)


def _foods(pending: Meaning) -> tuple[str, ...]:
    """The foods that it is about."""
    name = pending.name if isinstance(pending, (Item, Reweigh)) else None
    if isinstance(pending, AddIngredients) and len(pending.items) == 1:
        name = pending.items[0].name
    if name is None:
        return ()
    return (*name.foods, *([f"kinds:{name.kinds}"] if name.kinds is not None else []))


def _among(item: Item | None, choices: Sequence[Meaning | None]) -> tuple[str, ...]:
    """The foods that are offered, and all kinds of a generic word."""
    offered = [f for c in choices if isinstance(c, Item) and c.name is not None for f in c.name.foods]
    name = None if item is None else item.name
    kinds = reference.load().kinds[name.kinds].kinds if name is not None and name.kinds is not None else ()
    return tuple(dict.fromkeys((*offered, *kinds)))


def _takes(about: About, pending: Meaning) -> frozenset[str]:
    """The slots that an answer may fill in."""
    slots = set()
    if about in AMOUNT_QUESTIONS and not (isinstance(pending, Item) and pending.several):
        slots.add("amount")
    if isinstance(pending, CorrectIngredient) and about is About.INGREDIENT_FOOD:
        slots.add("food")
    if isinstance(pending, Item) and about in FOOD_QUESTIONS:
        slots.add("food")
        # 'which cranberry juice?' waits for a glass of it: '245 g' measures it meanwhile.
        unmeasured = pending.amount is not None and pending.amount.kind not in ("mass", "bare")
        if about is About.FOOD and pending.name is not None and unmeasured:
            slots.add("amount")
    if about in DETAILS and isinstance(pending, (AskReminderTime, ComputeTarget)):
        slots.add(DETAILS[about])
    return frozenset(slots)
