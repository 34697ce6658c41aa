"""Undo: takes back what the last message recorded."""

from __future__ import annotations

from collections.abc import Sequence

from bot import batch_events, events, fact_events
from bot.conversation import event_of, saying
from bot.conversation.batches.recounting import recount
from bot.conversation.coaching import relaying
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Refuse, Then
from bot.conversation.questions.stored import weigh_in_of
from bot.conversation.records import fixes
from bot.conversation.records.standing import drop_questions
from bot.conversation.settings import preferences
from bot.conversation.settings.reminders import name_of
from bot.kinds import BatchStep, Fact, JournalKind, Why
from bot.language.fix_meanings import Undo
from bot.store import batches, facts, journal, questions, weighins
from bot.store.journal import Entry, Undone
from bot.store.weighins import StoredWeighIn

STEPS = {
    BatchStep.ADDED: "addition",
    BatchStep.CORRECTED: "correction",
    BatchStep.REMOVED: "what was left out",
    BatchStep.COOKED: "cooked weight",
    BatchStep.WEIGHED: "weight",
    BatchStep.DRAINED: "fat poured off",
    BatchStep.POURED: "liquid poured off",
    BatchStep.REFUSE: "bones or shells taken out",
    BatchStep.COUNTED: "pieces",
    BatchStep.BOXED: "boxes",
    BatchStep.REPACKED: "boxes",
    BatchStep.MOVED: "move",
    BatchStep.REDUCED: "what left it",
    BatchStep.RENAMED: "new name",
}
"""What the reply calls a step that was taken back."""
AGAIN = {BatchStep.CLOSED: " is open again", BatchStep.REOPENED: " is closed again"}
"""What a batch is when the step is taken back, where that says more than the step's name."""
LEFT = (
    "That message was about a kitchen that you have left, so nothing is taken back. A portion of your own can "
    "still be deleted, for example: delete #5"
)


def undo(meaning: Undo, ex: Exchange) -> Refuse | Then | None:
    """Takes back all that the last message recorded, or its question where it only asked.

    Where a deletion is to be put back, it takes back nothing else.
    """
    entries = journal.last(ex.books)
    if meaning.of_removal:
        if not any(entry.kind is JournalKind.WEIGH_IN_REMOVED for entry in entries):
            ex.say("Nothing was deleted just now, so there is nothing to put back.")
            return None
        return take_back(entries, ex)
    unsettled = (each for each in questions.waiting(ex.books) if weigh_in_of(each) is None)
    asked = max((each.inbound_id for each in unsettled), default=0)
    if asked > (entries[0].inbound_id if entries else 0):
        for question in questions.drop_from_message(ex.books, asked):
            ex.say(f"Question dropped: {question.text}")
        return None
    if not entries:
        ex.say("There is nothing to undo.")
        return None
    return take_back(entries, ex)


def take_back(entries: Sequence[Entry], ex: Exchange) -> Refuse | Then | None:
    """Takes back what a message changed: its entries of the journal that still stand, the newest first."""
    if any(journal.is_elsewhere(ex.books, entry) for entry in entries):
        return Refuse(LEFT, Why.LEFT_KITCHEN, says_so=True)
    hanging = _hanging(entries, ex)
    if hanging is not None:
        return Refuse(hanging, Why.PORTIONS_TAKEN)
    for question in questions.drop_from_message(ex.books, entries[0].inbound_id):
        ex.say(f"Question dropped: {question.text}")
    set_before = facts.settings(ex.books) if any(entry.kind is JournalKind.SETTING for entry in entries) else {}
    touched: set[int | None] = set()
    reopened: list[StoredWeighIn] = []
    for undone in journal.undo(ex.books, entries):
        if undone.before is not None and not weighins.has_left(ex.books, undone.before):
            touched.add(undone.before.weigh_in.batch)
        if undone.kind is JournalKind.SETTING and undone.name is not None:
            if preferences.is_aside(undone.name):
                continue
            preferences.restore(undone.name, set_before, ex)
        tell_undone(undone, ex)
        if (
            undone.now is not None
            and undone.now.weigh_in.open is not None
            and undone.now.person_id == ex.books.person.id
        ):
            reopened.append(undone.now)
        if undone.kind is JournalKind.BATCH_EVENT:
            touched.add(undone.batch)
    for number in sorted(batch for batch in touched if batch is not None):
        _open_again(number, entries[0].inbound_id, ex)
    relaying.taken_back(entries[0].inbound_id, ex)
    # What was learnt from the answer is taken back by now, so it is asked again.
    ex.forget_known()
    return Then(tuple(fixes.item_of(stored, ex) for stored in reopened)) if reopened else None


def _open_again(number: int, undone: int, ex: Exchange) -> None:
    """Recounts what is still taken from a batch, and reopens one that has food in it again.

    A batch that was closed before the `undone` message stays closed: it was closed when that message came.
    """
    batch = batches.get(ex.books, number)
    if batch is None:
        return
    recount(batch, ex, noted=False)
    if batches.closed_since(ex.books, number, undone) and not batch.closes_after(0):
        batches.reopen(ex.books, number, noted=False)
        ex.say(f"{saying.batch(batch).capitalize()} is open again: {saying.grams(batch.left_g)} left.")


def _hanging(entries: Sequence[Entry], ex: Exchange) -> str | None:
    """Why an opening or a cooked weight can't be undone while later portions depend on it; None when it can."""
    person_id = ex.books.person.id
    own = [journal.details(ex.books, e) for e in entries if e.kind.startswith("weigh_in")]
    # Portions that this message recorded, or completed: before it they were none of the batch's.
    numbers = {d.now.number for d in own if d.now is not None and (d.before is None or d.before.weigh_in.batch is None)}
    for entry in entries:
        if entry.kind not in (JournalKind.BATCH_OPENED, JournalKind.BATCH_EVENT):
            continue
        details = journal.details(ex.books, entry)
        if entry.kind is JournalKind.BATCH_EVENT and details.event != BatchStep.COOKED:
            continue
        assert details.batch is not None
        portions = weighins.portions(ex.books, details.batch)
        taken = [f"#{p.number}" for p in portions if p.person_id == person_id and p.number not in numbers][:5]
        what = "opening" if entry.kind is JournalKind.BATCH_OPENED else "cooked weight"
        standing = f"The {what} of batch {details.batch} can't be undone while"
        if any(p.person_id != person_id for p in portions):
            return f"{standing} others have taken from it."
        if taken:
            return f"{standing} {saying.listed(taken)} depend on it. Delete those first."
    return None


FACTS = {
    Fact.BODY_WEIGHT: "Your body weight",
    Fact.DAY_KIND: "The kind of day",
    Fact.HABIT: "How you weigh {}",
    Fact.LABEL: "The label of {}",
    Fact.MEASURE: "Your measure of {}",
    Fact.REMINDER: "The {}",
    Fact.SETTING: "The setting “{}”",
    Fact.TARE: "The empty weight of the {}",
    Fact.TARGET: "Your target",
    Fact.MEMORY: "What I remember for “{}”",
}
"""What has changed when a fact is undone."""


def tell_undone(undone: Undone, ex: Exchange) -> None:
    """Says what was taken back, and adds the event."""
    now, before = undone.now, undone.before
    changed = now or before
    if changed is not None and changed.person_id != ex.books.person.id:
        _tell_its_owner(changed, ex)
    elif undone.kind is JournalKind.WEIGH_IN and before is not None:
        ex.note(event_of.removed(before))
        drop_questions(before.number, ex)
        ex.say(f"#{before.number} {before.weigh_in.food}, {saying.grams(before.weigh_in.as_weighed_g)}, taken back.")
        ex.changed_days.add(before.day)
    elif undone.kind is JournalKind.WEIGH_IN_CHANGED and now is not None:
        ex.note(event_of.changed(now, ex.books.person.name, was=now.number))
        ex.say(f"#{now.number} is {saying.grams(now.weigh_in.as_weighed_g)} {now.weigh_in.food} again.")
        ex.changed_days.add(now.day)
    elif undone.kind is JournalKind.WEIGH_IN_REMOVED and now is not None:
        ex.note(event_of.weigh_in(now, ex.books.person.name))
        ex.say(f"#{now.number} {now.weigh_in.food}, {saying.grams(now.weigh_in.as_weighed_g)}, is back.")
        ex.changed_days.add(now.day)
    elif undone.kind is JournalKind.MEMORY and any(
        isinstance(event, (events.WeighInEvent, events.WeighInOpen)) for event in ex.events
    ):
        pass  # it came with an answer, which is told
    elif undone.batch is not None:
        what = BatchStep.OPENING if undone.kind is JournalKind.BATCH_OPENED else BatchStep(undone.name or "change")
        ex.note(batch_events.BatchUndone(batch=undone.batch, what=what))
        ex.say(f"Batch {undone.batch}{AGAIN.get(what) or f': {STEPS.get(what, what)} taken back'}.")
    else:
        ex.note(fact_events.FactUndone(what=Fact(undone.kind), name=undone.name))
        name = (undone.name or "").replace("_", " ")
        of_what = FACTS[Fact(undone.kind)].format(name_of(name) if undone.kind is JournalKind.REMINDER else name)
        ex.say(f"{of_what} is back to what it was before.")


def _tell_its_owner(stored: StoredWeighIn, ex: Exchange) -> None:
    """Tells the owner of a portion that it counts again as before the batch was corrected."""
    nutrients = stored.weigh_in.nutrients
    energy = f", {saying.kcal(nutrients.kcal)}" if nutrients is not None else ""
    counted = f"{saying.grams(stored.weigh_in.edible_g)} counts as {saying.grams(stored.weigh_in.basis_g)} raw{energy}"
    ex.tell(
        stored.person_id,
        f"{ex.books.person.name} took back a correction of batch {stored.weigh_in.batch}. #{stored.number}: {counted} again.",
    )
