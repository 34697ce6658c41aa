"""Answers to waiting questions: what is chosen or filled in completes what was pending."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot import events, fact_events
from bot.conversation import saying
from bot.conversation.batches import filling
from bot.conversation.batches.finding import WaitsForWeight
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import MAX_CHOICE, Ask, Choice, Outcome, Then
from bot.conversation.questions import remembering
from bot.conversation.questions.stored import decode, in_order, of_the_record, weigh_in_of
from bot.conversation.records import fixes, unrecorded
from bot.conversation.records.measuring import mass
from bot.conversation.records.naming import TYPE_LABEL
from bot.conversation.settings import targets
from bot.kinds import About, Topic
from bot.language.answer_meanings import Choice as Chosen
from bot.language.answer_meanings import Filled, WhichQuestion
from bot.language.asked import OpenQuestions, Skip
from bot.language.batch_meanings import CookBatch, OpenBatch
from bot.language.fact_meanings import ComputeTarget, SaveLabel, SaveTare
from bot.language.guided import Reweigh
from bot.language.meanings import Bare, Meaning
from bot.language.setting_meanings import AskReminderTime, SetReminder
from bot.language.told import Amount, BatchRef, Item
from bot.store import facts, questions
from bot.store.questions import StoredQuestion

MOST_LISTED = 12
"""Open questions that are listed one by one."""
MOST_CHOICES = 4


def chosen(meaning: Chosen, ex: Exchange) -> Outcome:
    """What the chosen answer means."""
    question = _waiting(meaning.question, ex)
    if question is None:
        ex.say("That question is settled already.")
        return None
    if not _has(question, meaning):
        ex.say(f"That question has choices 1 to {len(question.choices)}.")
        return None
    return choose(question, meaning.index, ex)


def filled(meaning: Filled, ex: Exchange) -> Outcome:
    """What was pending, with what was asked for in its place."""
    question = _waiting(meaning.question, ex)
    if question is None:
        ex.say("That question is settled already.")
        return None
    pending, _ = decode(question.subject)
    _say_which(question, ex)
    if meaning.amount is not None:
        if isinstance(pending, Item) and meaning.item is not None:
            pending = _with_details(pending, meaning.item)
        return _with_amount(question, pending, meaning.amount, ex)
    questions.answered(ex.books, question.id)
    corrected = None if meaning.item is None else filling.with_food(question.about, pending, meaning.item)
    if corrected is not None:
        return Then((corrected,))
    if meaning.item is not None and isinstance(pending, Item):
        whole = _with_food(question.about, pending, meaning.item)
        return Then((whole, *remembering.learnt(question, whole, ex)))
    if meaning.slot == "time" and isinstance(pending, AskReminderTime):
        clock = meaning.value if isinstance(meaning.value, str) else None
        return Then((SetReminder(what=pending.what, time=clock),))
    if isinstance(pending, ComputeTarget):
        if meaning.slot == "kg" and isinstance(meaning.value, float):
            return targets.compute_with(meaning.value, pending, ex)
        return Then((_with_detail(pending, meaning),))
    return Then((pending,))


def which(meaning: WhichQuestion, ex: Exchange) -> Outcome:
    """Asks which question an answer is for; with only one that it can be for, whether it is."""
    answers: tuple[Chosen | Filled, ...] = (*meaning.choices, *meaning.fills)
    found: dict[str, tuple[StoredQuestion, Chosen | Filled]] = {}
    for answer in answers:
        question = _waiting(answer.question, ex)
        if question is not None and _has(question, answer):
            label = saying.choice(_label(question, _answer_in_words(answer, question, meaning)))
            found.setdefault(label, (question, answer))
    if not found:
        ex.say("Nothing is waiting for that answer.")
        return None
    choices = [Choice(label, answer) for label, (_, answer) in found.items()]
    text = "Which one is that for?"
    if len(choices) == 1:
        ((question, only),) = found.values()
        text = f"Is “{_answer_in_words(only, question, meaning)}” for {_about(question)}?"
        choices = [Choice("yes", only)]
    if meaning.item is not None:
        choices.append(Choice(saying.choice(f"no, {meaning.text} is new"), meaning.item))
    elif meaning.amount is not None and len(choices) < MOST_CHOICES:
        own = unrecorded.as_body_weight(meaning.amount)
        if own is not None and len(choices) < MOST_CHOICES - 1:
            choices.append(own)
        choices.append(Choice("no, it is something new", Bare(amount=meaning.amount)))
    elif len(choices) < MOST_CHOICES:
        choices.append(Choice("none of them" if len(choices) > 1 else "no", None))
    return Ask(About.WHICH_QUESTION, text, meaning, tuple(choices))


def _has(question: StoredQuestion, answer: Chosen | Filled) -> bool:
    """Whether the question has the choice that the answer picks."""
    return isinstance(answer, Filled) or 0 <= answer.index < len(question.choices)


def _answer_in_words(answer: Chosen | Filled, question: StoredQuestion, meaning: WhichQuestion) -> str:
    return question.choices[answer.index] if isinstance(answer, Chosen) else meaning.text


def _label(question: StoredQuestion, words: str) -> str:
    """'#5 rice: cooked', '#1 greek yogurt: nonfat'."""
    about, name = _about(question), _name(question)
    short = words.removeprefix(name).strip() or words
    return f"{about}: {short}" if len(about) + len(short) < MAX_CHOICE else f"{short}: {about}"


def _about(question: StoredQuestion) -> str:
    """'#5 rice', 'batch 2'; the question's text where it is about neither."""
    pending, _ = decode(question.subject)
    number, name = weigh_in_of(question), _name(question)
    batch = getattr(pending, "batch", None)
    if isinstance(batch, BatchRef) and batch.number is not None and not name:
        number, name = None, f"batch {batch.number}"
    about = " ".join(part for part in (f"#{number}" if number is not None else "", name) if part)
    return about or f"“{question.text.splitlines()[0]}”"


def _name(question: StoredQuestion) -> str:
    pending, _ = decode(question.subject)
    return pending.name.text if isinstance(pending, Item) and pending.name is not None else ""


def _waiting(key: int, ex: Exchange) -> StoredQuestion | None:
    return next((q for q in questions.answerable(ex.books) if q.id == key), None)


def choose(question: StoredQuestion, index: int, ex: Exchange) -> Outcome:
    """What a choice means; what would be answered alike the next time is remembered."""
    _, meanings = decode(question.subject)
    meaning = meanings[index] if index < len(meanings) else None
    if meaning is None and question.choices[index] == TYPE_LABEL and weigh_in_of(question) is not None:
        # The label completes it, so the question stays.
        ex.say(f"{TYPE_IT} #{weigh_in_of(question)} has its figures then.")
        return None
    questions.answered(ex.books, question.id)
    if meaning is None:
        ex.say(_declined(question, index))
        return None
    if question.about is not About.WHICH_QUESTION:
        _say_which(question, ex)
    return Then((meaning, *remembering.learnt(question, meaning, ex)))


def _say_which(question: StoredQuestion, ex: Exchange) -> None:
    """Says first what an answer is for when it is not for the question that the last reply ended with."""
    if question.shown_by is None and not any(asked.id == question.id for asked in ex.asked):
        pending, _ = decode(question.subject)
        number = weigh_in_of(question)
        name = f" {pending.name.text}" if isinstance(pending, Item) and pending.name is not None else ""
        ex.say(f"For #{number}{name}:" if number is not None else f"To “{question.text.splitlines()[0]}”:")


TYPE_IT = "Type it like this: label NAME: serving 30 g, 120 kcal, protein 3, fat 2, carbs 20."


def _declined(question: StoredQuestion, index: int) -> str:
    if question.choices[index] == TYPE_LABEL:
        return f"{TYPE_IT} Then tell me the weight once more."
    if question.about == About.LABEL:
        return "Nothing is saved. Type the label once more with the right figures."
    if question.about == About.INGREDIENT_FOOD:
        return "It keeps its weight but has no figures, so portions of the batch count as “at least”."
    if question.about == About.YIELD:
        return "Nothing is saved. Weigh it again and tell me the cooked weight."
    return "All right, nothing was changed."


def _in_grams(amount: Amount) -> Amount:
    return amount if amount.kind == "mass" or amount.doubt else mass(amount.value, f"{amount.value:g} g")


def _with_amount(question: StoredQuestion, pending: Meaning, amount: Amount, ex: Exchange) -> Outcome:
    """What was pending, with the amount where it was asked for."""
    if question.about is About.CHANGE and isinstance(pending, Item):
        questions.answered(ex.books, question.id)
        return fixes.with_new_amount(pending, amount)
    weight = _in_grams(amount)
    if question.about is About.COOKED_WEIGHT and isinstance(pending, WaitsForWeight) and pending.batch is not None:
        # The item keeps waiting until the weight is saved, which completes it.
        return Then((CookBatch(batch=pending.batch, amount=weight),))
    complete = _completed(question, pending, weight, ex)
    if complete is None:
        return Then((Bare(amount=amount),))
    questions.answered(ex.books, question.id)
    return Then((complete,))


def _completed(question: StoredQuestion, pending: Meaning, weight: Amount, ex: Exchange) -> Meaning | None:
    """The pending meaning with the amount filled in where it was asked for; None when it takes none."""
    grams = weight.grams if weight.grams is not None else weight.value
    vessel = filling.vessel_asked(question.about, pending)
    if vessel is not None:
        _keep_tare(vessel.name, grams, ex)
        return filling.with_vessel(pending, grams)
    match pending:
        case Reweigh() | SaveTare():
            return replace(pending, amount=weight)
        case CookBatch():
            return replace(pending, amount=weight, confirmed=())
        case Item() if not pending.several:
            return replace(pending, amount=weight, measure=None, two_masses=False, shared=False)
        case SaveLabel():
            return replace(pending, serving_g=grams)
        case OpenBatch():
            return _with_ingredient(pending, weight)
        case _:
            return filling.with_weight(pending, weight)


def _with_ingredient(pending: OpenBatch, weight: Amount) -> OpenBatch | None:
    """The batch with the weight of its first ingredient that has none."""
    for i, item in enumerate(pending.items):
        if item.amount is None or item.amount.doubt or item.amount.kind not in ("mass", "bare"):
            items = (*pending.items[:i], replace(item, amount=weight), *pending.items[i + 1 :])
            return replace(pending, items=items)
    return None


def _keep_tare(name: str, grams: float, ex: Exchange) -> None:
    facts.save_tare(ex.books, name, grams)
    ex.known.tares[name] = grams
    ex.note(fact_events.TareSaved(name=name, grams=grams))


def _with_details(pending: Item, told: Item) -> Item:
    """'180 g cooked', '6.3 oz with core': the pending item with what was told beside its amount."""
    return replace(
        pending,
        state=told.state if told.state is not None else pending.state,
        method=told.method or pending.method,
        whole=told.whole if told.whole is not None else pending.whole,
        part=told.part or pending.part,
    )


def _with_food(about: About, pending: Item, told: Item) -> Item:
    """The pending item with the food or the batch that was asked for."""
    if told.batch is not None and told.batch.sure:
        return replace(pending, batch=told.batch, name=None)
    amount = mass(pending.amount.value) if about is About.BARE and pending.amount is not None else pending.amount
    return replace(
        pending,
        name=told.name or pending.name,
        amount=told.amount or amount,
        state=told.state if told.state is not None else pending.state,
        method=told.method or pending.method,
        whole=told.whole if told.whole is not None else pending.whole,
    )


def _with_detail(pending: ComputeTarget, told: Filled) -> ComputeTarget:
    """The target with what was asked for."""
    match told.slot, told.value:
        case "years", float(years):
            return replace(pending, years=years)
        case "cm", float(cm):
            return replace(pending, cm=cm)
        case "kg_per_week", float(rate):
            return replace(pending, kg_per_week=rate)
        case "condition", bool(holds):
            return replace(pending, condition=holds)
        case _:
            return pending


def skip(meaning: Skip, ex: Exchange) -> None:
    """Puts questions out of sight; what they are about stays, and they can still be answered."""
    waiting = questions.waiting(ex.books)
    wanted = waiting if meaning.all_of_them else [q for q in waiting if q.shown_by is not None] or in_order(waiting)[:1]
    if not wanted:
        ex.say("Nothing is open.")
        return
    for question in wanted:
        questions.skip(ex.books, question.id)
    if meaning.all_of_them:
        stays = f"Weigh-ins keep their weights, and you can still answer{_for_example(wanted)}."
        ex.say(f"{saying.first_up(saying.counted(len(wanted), 'question'))} dropped. {stays}")
    elif weigh_in_of(wanted[0]) is not None:
        ex.say(f"Kept as a weight only: {_about(wanted[0])}")
    else:
        ex.say(f"Question dropped: {wanted[0].text}")


def _for_example(waiting: Sequence[StoredQuestion]) -> str:
    """', for example: #7 cooked': an answer to one of the questions by its number; empty where none has one."""
    numbered = ((weigh_in_of(question), question.choices) for question in waiting)
    return next((f", for example: #{number} {choices[0]}" for number, choices in numbered if number and choices), "")


def open_questions(_: OpenQuestions, ex: Exchange) -> None:
    """Lists what is open, the newest first."""
    waiting = in_order(of_the_record(questions.waiting(ex.books)))
    ex.note(events.Answered(about=Topic.OPEN))
    if not waiting:
        ex.say("Nothing is open.")
        return
    ex.say(f"{saying.first_up(saying.counted(len(waiting), 'question'))} open:")
    for question in waiting[:MOST_LISTED]:
        number = weigh_in_of(question)
        ex.say(f"{f'#{number}: ' if number is not None else ''}{question.text}")
    if len(waiting) > MOST_LISTED:
        ex.say(f"… and {len(waiting) - MOST_LISTED} more.")
    example = _for_example(waiting)
    ex.say(f"Answer any by its number{example}. Or say: skip all" if example else "To leave them all: skip all")
