"""Answers to waiting questions: a button, its number, its words, or the amount or food that was asked for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot import events
from bot.conversation.batches import filling
from bot.conversation.batches.finding import WaitsForWeight
from bot.conversation.dispatch import conclude, handle
from bot.conversation.exchange import Exchange
from bot.conversation.questions import choosing
from bot.conversation.questions.stored import decode, in_order
from bot.conversation.records.measuring import mass
from bot.conversation.records.naming import TYPE_LABEL
from bot.conversation.settings import targets
from bot.conversation.settings.belongings import keep_habit
from bot.kinds import About
from bot.language import meanings as m
from bot.language.guided import Reweigh
from bot.language.message import Message
from bot.store import facts, questions
from bot.store.questions import StoredQuestion

AMOUNT_QUESTIONS = frozenset(
    {
        About.AMOUNT,
        About.COOKED_WEIGHT,
        About.TARE,
        About.SHARE,
        About.TARE_WEIGHT,
        About.LABEL_SERVING,
        About.INGREDIENT_AMOUNT,
        About.INGREDIENT_TARE,
        About.BOX_WEIGHT,
        About.OVER_DRAW,
        About.YIELD,
        About.CORRECT_COOKED,
        About.REWEIGH,
    }
)


def answer(message: Message, told: Sequence[m.Meaning], waiting: Sequence[StoredQuestion], ex: Exchange) -> bool:
    """Handles a message as the answer to a waiting question. Returns whether it was one."""
    ordered = in_order(waiting)
    if ordered and choosing.never_mind(message):
        questions.dropped(ex.books, ordered[0].id)
        ex.say(f"Question dropped: {ordered[0].text}")
        return True
    typed = choosing.verbatim(ordered, message)
    if typed is not None:
        choose(*typed, ex)
        return True
    if not ordered or len(told) != 1:
        return False
    only = told[0]
    if _target(message, only, ordered[0], ex) or _reminder(message, ordered, ex) or _vessel(only, ordered, ex):
        return True
    if isinstance(only, m.Bare):
        return _number(only.amount, ordered, ex)
    if isinstance(only, m.Item) and only.amount is not None and _weighed_again(only, ordered[0]):
        return _give_amount(ordered[0], only.amount, ex)
    if (
        isinstance(only, m.CookBatch)
        and not (only.batch.number or only.batch.text)
        and _number(only.amount, ordered, ex)
    ):
        return True
    if isinstance(only, m.Change) and only.which == m.Which():
        if only.amount is None:
            return _words(message, ordered, ex)
        latest = ordered[0]
        asked = latest.about == About.REWEIGH or (latest.about in AMOUNT_QUESTIONS and not latest.choices)
        return asked and only == m.Change(which=m.Which(), amount=only.amount) and _number(only.amount, ordered, ex)
    if isinstance(only, (m.Answer, m.Unclear, m.Chatter, m.NotMine)) or (
        isinstance(only, m.Item) and only.amount is None
    ):
        return _words(message, ordered, ex) or _food(only, ordered, ex)
    if (
        isinstance(only, m.Item)
        and only.name is None
        and only.amount is not None
        and only.state is None
        and only.batch is None
    ):
        return _number(only.amount, ordered, ex)
    return False


def _target(message: Message, only: m.Meaning, question: StoredQuestion, ex: Exchange) -> bool:
    """The answer to a question about what a target is computed from."""
    pending, _ = decode(question.subject)
    if not isinstance(pending, m.ComputeTarget):
        return False
    region = ex.books.person.region
    weight = targets.weight_told(only, region) if question.about is About.TARGET_WEIGHT else None
    if weight is not None:
        questions.answered(ex.books, question.id)
        conclude(targets.compute_with(weight, pending, ex), ex)
        return True
    filled = choosing.about_target(question.about, pending, message, region)
    if filled is None:
        return False
    questions.answered(ex.books, question.id)
    handle(filled, ex)
    return True


def _reminder(message: Message, ordered: Sequence[StoredQuestion], ex: Exchange) -> bool:
    """The answer to the question for a reminder's time."""
    found = choosing.reminder_time(ordered, message)
    if found is None:
        return False
    question, meaning = found
    questions.answered(ex.books, question.id)
    handle(meaning, ex)
    return True


def _vessel(only: m.Meaning, ordered: Sequence[StoredQuestion], ex: Exchange) -> bool:
    """'the wok weighs 700 g' where the wok's weight is asked for: it is kept, and what waited for it goes on."""
    if not isinstance(only, m.SaveTare):
        return False
    for question in ordered:
        pending, _ = decode(question.subject)
        vessel = filling.vessel_asked(question.about, pending)
        if vessel is not None and only.amount is not None and vessel.name.split()[-1:] == only.name.split()[-1:]:
            return _give_amount(question, only.amount, ex)
    return False


def _weighed_again(item: m.Item, question: StoredQuestion) -> bool:
    """Whether an item is the food that the latest question asks to weigh again, and so no new weigh-in."""
    if question.about != About.REWEIGH or item.name is None or item.when != m.When():
        return False
    pending, _ = decode(question.subject)
    return isinstance(pending, Reweigh) and pending.name is not None and item.name.foods == pending.name.foods


def _number(amount: m.Amount, ordered: Sequence[StoredQuestion], ex: Exchange) -> bool:
    """A small whole number picks a choice of the latest question; any other amount answers a 'how much?'."""
    latest = ordered[0]
    whole = amount.kind == "bare" and amount.value == int(amount.value)
    if whole and latest.choices and amount.value <= MOST_CHOICES:
        if 1 <= amount.value <= len(latest.choices):
            choose(latest, int(amount.value) - 1, ex)
        else:
            ex.say(f"That question has choices 1 to {len(latest.choices)}.")
        return True
    if _still_unmeasured(latest, amount, ex):
        return True
    return any(q.about in AMOUNT_QUESTIONS and _give_amount(q, amount, ex) for q in ordered)


MOST_CHOICES = 12
"""Largest bare number that is read as the number of a choice, in range or not."""


def _still_unmeasured(question: StoredQuestion, amount: m.Amount, ex: Exchange) -> bool:
    """Takes '245 g' while 'which cranberry juice?' waits for a glass of it; the question about the kind stays."""
    pending, _ = decode(question.subject)
    if question.about != About.FOOD or not isinstance(pending, m.Item) or amount.kind not in ("mass", "bare"):
        return False
    if pending.amount is not None and pending.amount.kind in ("mass", "bare"):
        return False
    questions.answered(ex.books, question.id)
    handle(replace(pending, amount=_in_grams(amount)), ex)
    return True


def _in_grams(amount: m.Amount) -> m.Amount:
    return amount if amount.kind == "mass" or amount.doubt else mass(amount.value, f"{amount.value:g} g")


def _give_amount(question: StoredQuestion, amount: m.Amount, ex: Exchange) -> bool:
    if amount.kind not in ("mass", "bare"):
        return False
    pending, _ = decode(question.subject)
    weight = _in_grams(amount)
    if question.about == About.COOKED_WEIGHT and isinstance(pending, WaitsForWeight) and pending.batch is not None:
        # The item keeps waiting until the weight is saved, which completes it.
        handle(m.CookBatch(batch=pending.batch, amount=weight), ex)
        return True
    filled = _filled(question, pending, weight, ex)
    if filled is None:
        return False
    questions.answered(ex.books, question.id)
    handle(filled, ex)
    return True


def _filled(question: StoredQuestion, pending: m.Meaning, weight: m.Amount, ex: Exchange) -> m.Meaning | None:
    """The pending meaning with the amount filled in where it was asked for; None when it takes none."""
    grams = weight.grams if weight.grams is not None else weight.value
    vessel = filling.vessel_asked(question.about, pending)
    if vessel is not None:
        _keep_tare(vessel.name, grams, ex)
        return filling.with_vessel(pending, grams)
    if isinstance(pending, Reweigh):
        return replace(pending, amount=weight)
    if isinstance(pending, m.CookBatch):
        return replace(pending, amount=weight, confirmed=())
    if isinstance(pending, m.Item):
        if pending.several:
            return None
        return replace(pending, amount=weight, measure=None, two_masses=False, shared=False)
    if isinstance(pending, m.SaveTare):
        return replace(pending, amount=weight)
    if isinstance(pending, m.SaveLabel):
        return replace(pending, serving_g=grams)
    if isinstance(pending, m.OpenBatch):
        i = next(
            (
                n
                for n, item in enumerate(pending.items)
                if item.amount is None or item.amount.doubt or item.amount.kind not in ("mass", "bare")
            ),
            None,
        )
        if i is None:
            return None
        items = list(pending.items)
        items[i] = replace(items[i], amount=weight)
        return replace(pending, items=tuple(items))
    return filling.with_weight(pending, weight)


def _keep_tare(name: str, grams: float, ex: Exchange) -> None:
    facts.save_tare(ex.books, name, grams)
    ex.known.tares[name] = grams
    ex.note(events.TareSaved(name=name, grams=grams))


def _words(message: Message, ordered: Sequence[StoredQuestion], ex: Exchange) -> bool:
    """Answers the newest question with a choice of these words."""
    found = choosing.picked(ordered, message)
    if found is not None:
        choose(*found, ex)
    return found is not None


def _food(only: m.Meaning, ordered: Sequence[StoredQuestion], ex: Exchange) -> bool:
    """Takes a food as the answer to 'of what?' and 'which food?', a batch as the answer to 'which batch?'."""
    if not isinstance(only, m.Item) or only.amount is not None:
        return False
    for question in ordered:
        pending, _ = decode(question.subject)
        corrected = filling.with_food(question.about, pending, only)
        if corrected is not None:
            questions.answered(ex.books, question.id)
            handle(corrected, ex)
            return True
        if not isinstance(pending, m.Item) or question.about not in (About.FOOD, About.BARE, About.BATCH):
            continue
        if only.batch is not None and only.batch.sure:
            filled = replace(pending, batch=only.batch, name=None)
        elif only.name is not None and question.about != About.BATCH:
            amount = (
                mass(pending.amount.value)
                if question.about == About.BARE and pending.amount is not None
                else pending.amount
            )
            state = only.state if only.state is not None else pending.state
            filled = replace(
                pending,
                name=only.name,
                amount=amount,
                state=state,
                method=only.method or pending.method,
                whole=only.whole if only.whole is not None else pending.whole,
            )
        else:
            continue
        questions.answered(ex.books, question.id)
        handle(filled, ex)
        return True
    return False


def choose(question: StoredQuestion, index: int, ex: Exchange) -> None:
    """Handles a choice's meaning; the answer to 'raw or cooked?' becomes the habit."""
    questions.answered(ex.books, question.id)
    _, meanings = decode(question.subject)
    meaning = meanings[index] if index < len(meanings) else None
    if meaning is None:
        ex.say(_declined(question, index))
        return
    handle(meaning, ex)
    if (
        question.about == About.STATE
        and isinstance(meaning, m.Item)
        and meaning.state is not None
        and meaning.name is not None
        and len(meaning.name.foods) == 1
    ):
        keep_habit(meaning.name.foods[0], meaning.state, ex)


def _declined(question: StoredQuestion, index: int) -> str:
    if question.choices[index] == TYPE_LABEL:
        return (
            "Type it like this: label NAME: serving 30 g, 120 kcal, protein 3, fat 2, carbs 20. "
            "Then tell me the weight once more."
        )
    if question.about == About.LABEL:
        return "Nothing is saved. Type the label once more with the right figures."
    if question.about == About.INGREDIENT_FOOD:
        return "It stays at its weight; portions of the batch count as “at least”."
    if question.about == About.YIELD:
        return "Nothing is saved. Tell me the cooked weight when it has been on the scale again."
    return "All right, nothing was changed."
