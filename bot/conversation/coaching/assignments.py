"""What a coach assigns to a client: a target, a label, a measure.

The coach's turn only sends it. A turn of the client's own carries it out, after checking that the coaching still
stands.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, fields, replace
from datetime import date

from bot import events, fact_events
from bot.conversation import saying
from bot.conversation.coaching import relaying
from bot.conversation.coaching.agreements import client_of
from bot.conversation.coaching.relaying import coached_by, pass_on, receivers
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.conversation.records import undoing
from bot.conversation.settings import aiming, belongings, limits, targets
from bot.kinds import About, CautionKind, Confirmed, Fact, Relayed, Why
from bot.language.fact_meanings import SetTarget
from bot.language.guided import LabelFrom, MeasureFrom, Object, Share, TargetFor, TargetFrom
from bot.store import coaching, facts, journal
from bot.store.coaching import Coaching
from bot.store.journal import Entry
from domain.labels import Label
from domain.targets import Target

LOW = (
    "{kcal} a day is below what is usual without medical care, and belongs with {client}'s doctor or dietitian. "
    "Set it for {client} anyway?"
)


def target_for(meaning: TargetFor, ex: Exchange) -> Ask | Refuse | None:
    """Sends a client a target; one below the client's floor needs the coach's confirmation."""
    which = client_of(meaning, ex)
    if not isinstance(which, Coaching):
        return which
    told = aiming.figures_of(meaning)
    if told == Target():
        return Refuse(
            f"Say it with its figures, for example: target for {which.called} 2100 kcal protein 160", Why.FIGURES
        )
    refused = targets.impossible(meaning, ex)
    books = coaching.books_of_client(ex.books, which.client_id)
    if refused is not None or books is None:
        return refused
    if limits.low(meaning.kcal, books) is not None and Confirmed.LOW not in meaning.confirmed:
        ex.note(events.Cautioned(kind=CautionKind.LOW_TARGET))
        yes = replace(meaning, client=which.called, confirmed=(*meaning.confirmed, Confirmed.LOW))
        text = LOW.format(kcal=saying.kcal(meaning.kcal or 0), client=which.called)
        return Ask(About.CLIENT_TARGET, text, meaning, (Choice("yes, set it", yes), Choice("no", None)))
    coach = ex.books.person.id
    sent = TargetFrom(coach=coach, day=meaning.day, until=meaning.until, days=meaning.days, **asdict(told))
    pass_on(Relayed.TARGET, which, sent, ex)
    on = f" on {aiming.days_said(meaning.days)}" if meaning.days else ""
    begins = "" if meaning.day is None else f" from {saying.day(meaning.day, ex.books.today)} on"
    until = "" if meaning.until is None else f" until {saying.day(meaning.until, ex.books.today)}"
    line = f"{aiming.target_line(told)}{on}{begins}{until}"
    told_of = f"goes to {which.called}, who is told it is yours and can object."
    ex.say(f"The target {line} {told_of}", hidden=f"The target {told_of}")
    return None


def target_from(meaning: TargetFrom, ex: Exchange) -> Ask | None:
    """Sets the client's target and tells them who set it and how to object; with a standing caution asks them first.

    The coach's turn says nothing of a standing caution, which is the client's own.
    """
    which = coached_by(meaning.coach, ex, answering=bool(meaning.confirmed))
    if which is None:
        return None
    told = SetTarget(day=meaning.day, until=meaning.until, days=meaning.days, **asdict(aiming.figures_of(meaning)))
    if limits.standing(ex.books) and Confirmed.LOW not in meaning.confirmed:
        wants = f"{which.by}, wants to set your target"
        ex.say(f"{wants}: {aiming.target_line(aiming.figures_of(meaning))}.", hidden=f"{wants}; {aiming.HIDDEN}.")
        return targets.keep_all_the_same(limits.STANDING, meaning, replace(meaning, confirmed=(Confirmed.LOW,)), ex)
    ex.say(f"{which.by}, has set your target.")
    aiming.save(told, ex)
    low = limits.low(meaning.kcal, ex.books)
    if low is not None:
        ex.note(events.Cautioned(kind=CautionKind.LOW_TARGET))
        ex.say(low)
    if not meaning.confirmed:
        ex.say(f"If you don't want it, say: object. Then the previous target applies again, and {which.coach} is told.")
    return None


def object_to_target(_: Object, ex: Exchange) -> Refuse | None:
    """Takes back the current target if a coach set it, however long ago."""
    entry = _set_by_a_coach(date.max, ex) or _set_by_a_coach(ex.books.today, ex)
    if entry is None:
        return Refuse("Your target was not set by a coach. To change it, for example: target 2100 kcal", Why.NOT_YOURS)
    for undone in journal.undo(ex.books, [entry]):
        undoing.tell_undone(undone, ex)
    before = facts.target(ex.books, ex.books.today)
    if before is None:
        ex.say("You have no target now.")
    else:
        ex.say(
            f"Your target: {aiming.target_line(before)}.", hidden=f"The previous one applies again; {aiming.HIDDEN}."
        )
    relaying.taken_back(entry.inbound_id, ex)
    return None


def _set_by_a_coach(day: date, ex: Exchange) -> Entry | None:
    """The journal entry of the target that applies on that day, if a coach set it."""
    row = facts.target_row(ex.books, day)
    if row is None or not isinstance(relaying.relayed_by(ex.books, row[1]), TargetFrom):
        return None
    return journal.of_fact(ex.books, Fact.TARGET, row[0])


def share(meaning: Share, ex: Exchange) -> Ask | Refuse | None:
    """Sends one of the coach's labels or measures to one client or to all."""
    to = receivers(meaning, ex)
    if not isinstance(to, list):
        return to
    what = _label(meaning.food, ex) if meaning.what == "label" else _measure(meaning, ex)
    if isinstance(what, Refuse):
        return what
    for which in to:
        pass_on(Relayed(meaning.what), which, what, ex)
    if ex.requests:
        ex.say(f"The {meaning.what} for {what.food} goes to {saying.listed([which.called for which in to])}.")
    return None


def _label(food: str, ex: Exchange) -> LabelFrom | Refuse:
    name = _named(food, ex.known.labels)
    if name is None:
        own = saying.listed(sorted(ex.known.labels)) or "none"
        return Refuse(f"You have no label called {food} to share. Yours: {own}.", Why.NOT_YOURS)
    label = ex.known.labels[name]
    figures = {f.name: getattr(label, f.name) for f in fields(Label)}
    return LabelFrom(coach=ex.books.person.id, **figures)


def _measure(meaning: Share, ex: Exchange) -> MeasureFrom | Refuse:
    own = {f"{unit} of {food}": (food, unit) for food, unit in ex.known.measures}
    name = _named(f"{meaning.measure} {meaning.food}".strip(), own)
    if name is None:
        return Refuse(
            f"You have no such measure to share. Yours: {saying.listed(sorted(own)) or 'none'}.",
            Why.NOT_YOURS,
        )
    food, unit = own[name]
    return MeasureFrom(coach=ex.books.person.id, food=food, measure=unit, grams=ex.known.measures[food, unit])


def _named(said: str, among: Mapping[str, object]) -> str | None:
    """The only name that matches in full, or else in part; None when there is not exactly one."""
    words = [w for w in said.lower().split() if w not in ("of", "the", "my")]
    whole = [name for name in among if name.lower() == said.lower()]
    part = [name for name in among if words and all(w in name.lower().split() for w in words)]
    found = whole or part
    return found[0] if len(found) == 1 else None


def label_from(meaning: LabelFrom, ex: Exchange) -> Ask | None:
    """Saves a coach's label for the client; asks before it replaces one of their own."""
    which = coached_by(meaning.coach, ex, meaning.settled)
    if which is None:
        return None
    label = Label(**{f.name: getattr(meaning, f.name) for f in fields(Label)})
    own = ex.known.labels.get(label.food)
    if own == label:
        ex.say(f"{which.coach} shares the label for {label.food} with you; you have the same one.")
    elif own is not None and not meaning.settled:
        text = (
            f"{which.coach} shares a label for {label.food}: 100 g contain {saying.figures(label.per_100g())}. "
            f"Yours says {saying.figures(own.per_100g())}. Which one should count?"
        )
        return Ask(About.SHARED, text, meaning, _either(which, replace(meaning, settled=True)))
    else:
        ex.say(f"{which.coach} shares a label with you.")
        belongings.keep_label(label, ex)
    return None


def measure_from(meaning: MeasureFrom, ex: Exchange) -> Ask | None:
    """Saves a coach's measure for the client; asks before it replaces one of their own."""
    which = coached_by(meaning.coach, ex, meaning.settled)
    if which is None:
        return None
    named = f"{meaning.measure} of {meaning.food}"
    own = ex.known.measures.get((meaning.food, meaning.measure))
    if own == meaning.grams:
        ex.say(f"{which.coach} shares the {named} with you; yours is the same.")
    elif own is not None and not meaning.settled:
        text = (
            f"{which.coach} shares the {named}: {saying.grams(meaning.grams)}. Yours is {saying.grams(own)}. "
            "Which one should count?"
        )
        return Ask(About.SHARED, text, meaning, _either(which, replace(meaning, settled=True)))
    else:
        facts.save_measure(ex.books, meaning.food, meaning.measure, meaning.grams)
        ex.note(fact_events.MeasureSaved(food=meaning.food, measure=meaning.measure, grams=meaning.grams))
        ex.say(f"{which.coach} shares a measure with you: one {named} is {saying.grams(meaning.grams)} from now on.")
    return None


def _either(which: Coaching, settled: LabelFrom | MeasureFrom) -> tuple[Choice, ...]:
    return (Choice(saying.choice(f"use {which.coach}'s"), settled), Choice("keep mine", None))
