"""Weigh-ins that stand open: as soon as weight and word are certain the weigh-in is stored, and a question only
narrows its figures.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

import msgspec

from bot.conversation import event_of, saying
from bot.conversation.batches.portions import judge_portion
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.conversation.questions.stored import about_weigh_in, weigh_in_of
from bot.conversation.records.judging import judge, net_of_tare
from bot.conversation.records.measuring import MOST_COUNTED, weight_of
from bot.kinds import About, Confirmed
from bot.language.told import Item, Name, When
from bot.store import batches, questions, weighins
from bot.store.books import Books
from bot.store.questions import StoredQuestion
from bot.store.weighins import StoredWeighIn
from domain import reference
from domain.errors import DomainError
from domain.foods import State
from domain.weighins import Evidence, OpenFigures, WeighIn, check_weight

OF_FIGURES = frozenset({About.BATCH, About.COOKED_WEIGHT, About.FOOD, About.OVER_DRAW, About.STATE, About.STATE_ROW})
"""Questions that leave weight and word certain."""
SAME_WEIGHT = 0.02
"""Relative difference up to which the readings agree on the weight."""
DEEPEST = 2
"""How many further questions a reading may lead to before its figures are left out."""


def time_of(when: When, books: Books) -> tuple[datetime, date]:
    """(moment, day) of a weigh-in; without a clock time it gets the time of the message."""
    now = books.local
    back = books.today - when.day if when.day else timedelta()
    moment = when.moment or datetime.combine(now.date() - back, now.timetz())
    return moment, when.day or books.day_of(moment)


def ask(item: Item, asked: Ask, ex: Exchange) -> None:
    """Asks about an item. Where its weight and word are certain it stands as an open weigh-in meanwhile."""
    old = None if item.changes is None else weighins.get(ex.books, item.changes)
    if old is not None and old.weigh_in.open is not None:
        drop_questions(old.number, ex)
    if ex.group is not None or (old is not None and old.weigh_in.open is None):
        # In a group nothing of anybody's own record is shown; a fix of a settled weigh-in leaves it until it is clear.
        ex.ask(asked)
        return
    weigh_in = _open(asked, ex)
    if weigh_in is None:
        ex.ask(asked)
        return
    dated = ex.dated(item)
    stored = _put(dated, weigh_in, old, ex)
    ex.ask(_about(stored.number, asked))


def _put(item: Item, weigh_in: WeighIn, old: StoredWeighIn | None, ex: Exchange) -> StoredWeighIn:
    """Stores the open weigh-in, or what has changed of it, with its event and its line of the reply."""
    moment, day = time_of(item.when, ex.books)
    said = msgspec.json.encode(replace(item, changes=None))
    if old is None:
        stored = weighins.add(ex.books, weigh_in, moment, day, item.when.meal, said)
    elif (old.weigh_in, old.day, old.meal) == (weigh_in, day, item.when.meal):
        return old
    else:
        stored = weighins.change(ex.books, old, weigh_in, moment, day, item.when.meal, said)
        ex.changed_days.add(old.day)
    ex.note(event_of.weigh_in(stored, ex.books.person.name))
    ex.say(f"{line(stored)}{saying.place(stored, ex.books.today)}.")
    ex.changed_days.add(day)
    return stored


def _about(number: int, asked: Ask) -> Ask:
    """The question with the weigh-in that its answer completes."""
    choices = tuple(
        Choice(c.words, replace(c.meaning, changes=number)) if isinstance(c.meaning, Item) else c for c in asked.choices
    )
    assert isinstance(asked.pending, Item)
    return replace(asked, pending=replace(asked.pending, changes=number), choices=choices)


def _open(asked: Ask, ex: Exchange) -> WeighIn | None:
    """The weigh-in with the energy of its possible readings; None where weight or word are in doubt."""
    item = asked.pending
    if asked.about not in OF_FIGURES or not isinstance(item, Item):
        return None
    word = _word(item, ex)
    readings = list(_readings(item, asked, ex))
    grams = _grams(item, readings, ex)
    if word is None or grams is None:
        return None
    kcal = [r.nutrients.kcal for r in readings if r.nutrients is not None]
    figures = OpenFigures(asked.about, min(kcal, default=None), max(kcal, default=None))
    state = item.state or State.AS_SOLD
    return WeighIn(word, state, grams, grams, grams, state, Evidence.WEIGHED, None, open=figures)


def _word(item: Item, ex: Exchange) -> str | None:
    """What the person called it."""
    if item.name is not None:
        return item.name.text or item.name.kinds
    numbers = () if item.batch is None else (item.batch.number, *item.batch.candidates)
    found = next((b for n in numbers if n is not None and (b := batches.get(ex.books, n)) is not None), None)
    return None if found is None else found.name


def _readings(item: Item, asked: Ask, ex: Exchange, depth: int = 0) -> Iterator[WeighIn]:
    """What the answers would put on record. An unknown food has none: what is offered is only near it."""
    name = item.name
    if asked.about is About.FOOD and name is not None and (name.unknown or not (name.kinds or name.foods)):
        return
    meanings = [c.meaning for c in asked.choices if isinstance(c.meaning, Item)]
    if asked.about is About.FOOD and name is not None and name.kinds is not None:
        kinds = reference.load().kinds[name.kinds].kinds
        meanings = [replace(item, name=Name(text=kind, foods=(kind,))) for kind in kinds]
    for meaning in meanings:
        if Confirmed.WEIGHT_ONLY in meaning.confirmed:
            continue
        judged = judge(meaning, ex) if meaning.batch is None else judge_portion(meaning, ex)
        if isinstance(judged, Ask):
            if depth < DEEPEST:
                yield from _readings(meaning, judged, ex, depth + 1)
        elif isinstance(judged, tuple):
            yield judged[1].weigh_in
        elif not isinstance(judged, Refuse):
            yield judged.weigh_in


def _grams(item: Item, readings: Sequence[WeighIn], ex: Exchange) -> float | None:
    """The weight that is certain whatever the answer, in grams."""
    amount = item.amount
    if amount is None or amount.doubt is not None or item.shared or item.several or item.two_masses:
        return None
    if amount.kind == "mass" or (amount.kind == "bare" and amount.value > MOST_COUNTED and not item.number_first):
        net = net_of_tare(item, weight_of(amount), "", ex)
        if isinstance(net, (Ask, Refuse)):
            return None
        grams = net - (item.others_g or 0)
    else:
        weights = [r.as_weighed_g for r in readings]
        if not weights or max(weights) - min(weights) > SAME_WEIGHT * max(weights):
            return None
        grams = weights[0]
    try:
        check_weight(grams)
    except DomainError:
        return None
    return grams


def drop_questions(number: int, ex: Exchange) -> None:
    """Drops what is still asked about a weigh-in."""
    for question in about_weigh_in(questions.answerable(ex.books), number):
        questions.dropped(ex.books, question.id)


ASKED = {
    About.BATCH: "from the batch?",
    About.COOKED_WEIGHT: "how much was the batch cooked?",
    About.FOOD: "which kind?",
    About.OVER_DRAW: "really that much?",
    About.STATE: "raw or cooked?",
    About.STATE_ROW: "in which state?",
}


def line(stored: StoredWeighIn) -> str:
    """'#5 greek yogurt, 180 g: 106 to 175 kcal', without the question."""
    figures = stored.weigh_in.open
    shown = ""
    if figures is not None and figures.kcal_low is not None and figures.kcal_high is not None:
        shown = f": {saying.kcal_range(figures.kcal_low, figures.kcal_high)}"
    return f"#{stored.number} {stored.weigh_in.food}, {saying.grams(stored.weigh_in.as_weighed_g)}{shown or ': no figures yet'}"


def parted(stored: Sequence[StoredWeighIn]) -> tuple[list[StoredWeighIn], list[StoredWeighIn]]:
    """(the settled weigh-ins, the open ones)."""
    settled = [s for s in stored if s.weigh_in.open is None]
    return settled, [s for s in stored if s.weigh_in.open is not None]


def lines(unsettled: Sequence[StoredWeighIn], waiting: Sequence[StoredQuestion]) -> list[str]:
    """A line for each open weigh-in, with what is asked as long as it is asked."""
    asked = {weigh_in_of(question) for question in waiting}
    return [f"{line(s)}, {_asked(s.weigh_in)}" if s.number in asked else line(s) for s in unsettled]


def _asked(weigh_in: WeighIn) -> str:
    assert weigh_in.open is not None
    about = About(weigh_in.open.about)
    return "which food?" if about is About.FOOD and weigh_in.open.kcal_low is None else ASKED[about]


def between(stored: Sequence[StoredWeighIn]) -> str | None:
    """'Not in these sums: 3 open weigh-ins, 412 to 655 kcal.'; None when none is open."""
    _, unsettled = parted(stored)
    if not unsettled:
        return None
    known = [f for s in unsettled if (f := s.weigh_in.open) is not None and f.kcal_low is not None]
    low, high = sum(f.kcal_low or 0 for f in known), sum(f.kcal_high or 0 for f in known)
    count = "one open weigh-in" if len(unsettled) == 1 else f"{len(unsettled)} open weigh-ins"
    least = "at least " if len(known) < len(unsettled) else ""
    energy = f", {least}{saying.kcal_range(low, high)}" if known else ""
    return f"Not in these sums: {count}{energy}."
