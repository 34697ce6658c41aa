"""A client's sheets while energy is withheld from the coach: weights, meals, and protein and body weight if shared."""

from __future__ import annotations

import statistics
from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from bot import events
from bot.conversation import hiding, saying
from bot.conversation.days import weeks
from bot.conversation.exchange import Exchange
from bot.conversation.settings import pausing
from bot.kinds import Topic
from bot.language.asked import Sheet
from bot.reports.series import Picture
from bot.store import days, facts, weighins
from bot.store.books import Books
from bot.store.weighins import StoredWeighIn
from domain.weighins import Evidence

MOST_LISTED = 40
MOST_NAMED = 3
"""Foods of a stretch that are named because they are eaten most often."""
SCALE = frozenset({Evidence.WEIGHED, Evidence.BOXED, Evidence.REFUSE_TABLE})
"""How an amount was come by that was put on a scale."""
NOTE = "Energy is not shared with you."

ByDay = Mapping[date, list[StoredWeighIn]]


def sheet(wanted: Sheet, theirs: Exchange) -> None:
    """Shows a day, a week, a month or any stretch of the person in whose books the exchange is."""
    theirs.note(events.Answered(about=Topic.EATEN))
    if wanted.span == "day":
        _day(wanted.day, theirs)
    else:
        _stretch(wanted, theirs)


def _day(day: date, theirs: Exchange) -> None:
    books = theirs.books
    stored = weighins.on_day(books, day)
    when = saying.first_up(saying.day(day, books.today))
    if not stored:
        theirs.say(f"{when}: nothing is on record. {NOTE}")
        return
    target = facts.target(books, day)
    aim = None if target is None else target.protein_g
    theirs.say(f"{when}: {len(stored)} on record{protein(stored, 1, aim, books)}. {NOTE}")
    for s in stored[:MOST_LISTED]:
        meal = f" [{s.meal}]" if s.meal else ""
        theirs.say(f"#{s.number} {s.weigh_in.food}, {saying.grams(s.weigh_in.edible_g)}{meal}")
    if len(stored) > MOST_LISTED:
        theirs.say(f"… and {len(stored) - MOST_LISTED} more.")


def protein(stored: Sequence[StoredWeighIn], over: int, aim: float | None, books: Books) -> str:
    """', protein 95 of 120 g', the mean over so many days; empty where it is not shared."""
    if "protein" in books.withheld:
        return ""
    if not over:
        return ""
    grams = weeks.total_of(stored).nutrients.protein_g / over
    return f", protein {saying.at_least(stored)}{grams:.0f}{'' if aim is None else f' of {aim:.0f}'} g"


def means(by_day: ByDay, books: Books) -> str:
    """'4 weigh-ins, 1,240 g, protein 95 of 120 g a day': the means over these logged days."""
    stored = [s for day in by_day.values() for s in day]
    aims = [t.protein_g for t in days.targets(books, sorted(by_day)).values() if t.protein_g is not None]
    count = f"{len(stored) / len(by_day):.1f}".removesuffix(".0")
    grams = sum(s.weigh_in.edible_g for s in stored) / len(by_day)
    figured = weeks.with_figures(by_day)
    eaten = [s for day in figured.values() for s in day]
    said = protein(eaten, len(figured), statistics.fmean(aims) if aims else None, books) if figured else ""
    return f"{count} {'weigh-in' if count == '1' else 'weigh-ins'}, {saying.grams(grams)}{said} a day"


def _stretch(wanted: Sheet, theirs: Exchange) -> None:
    books = theirs.books
    first, last = weeks.span(wanted, books.today)
    by_day = pausing.without_pauses(weeks.grouped(weighins.between(books, first, last)), books)
    title = saying.stretch(first, last)
    if by_day:
        length = (last - first).days + 1
        theirs.say(f"{title}: {len(by_day)} of {length} days logged. {NOTE}")
        theirs.say(f"On average, a logged day has {means(by_day, books).removesuffix(' a day')}.")
        _lines(by_day, length, theirs)
        stored = [s for day in by_day.values() for s in day]
        on_scale = sum(s.weigh_in.evidence in SCALE for s in stored) / len(stored)
        theirs.say(f"On the scale: {on_scale:.0%} of the weigh-ins.")
        counted = Counter(s.weigh_in.food for s in stored).most_common(MOST_NAMED)
        often = [f"{food} ({count} times)" for food, count in counted if count > 1]
        if often:
            theirs.say(f"Most often: {saying.listed(often)}.")
    else:
        theirs.say(f"{title}: no food is on record. {NOTE}")
    _body_weight(first, last, theirs)


def _lines(by_day: ByDay, length: int, theirs: Exchange) -> None:
    """A line for each day, or for each week of a longer stretch."""
    books = theirs.books
    if length <= weeks.MOST_DAYS:
        for day in sorted(by_day):
            stored = by_day[day]
            grams = saying.grams(sum(s.weigh_in.edible_g for s in stored))
            figured = len(weeks.with_figures({day: stored}))
            theirs.say(f"{day:%A}: {len(stored)} on record, {grams}{protein(stored, figured, None, books)}")
        return
    in_weeks: dict[date, dict[date, list[StoredWeighIn]]] = {}
    for day in sorted(by_day):
        in_weeks.setdefault(day - timedelta(days=day.weekday()), {})[day] = by_day[day]
    for monday, logged in in_weeks.items():
        over = f"{len(logged)} {'day' if len(logged) == 1 else 'days'}"
        theirs.say(f"Week of {monday.day} {monday:%B}: {means(logged, books)} over {over}")


def _body_weight(first: date, last: date, theirs: Exchange) -> None:
    """The body weights of the period and their picture, unless they are withheld."""
    books = theirs.books
    weights = facts.body_weights(books, first, last)
    if not weights:
        return
    region = books.person.region
    line = f"Body weight: {saying.body_weight(statistics.fmean(kg for _, kg in weights), region)} on average"
    if len(weights) > 1:
        line += f"; {saying.body_weight(weights[-1][1] - weights[0][1], region, sign=True)} from the first to the last"
    theirs.say(f"{line}.")
    theirs.picture = picture(first, last, books)


def picture(first: date, last: date, books: Books) -> Picture | None:
    """The picture of the period with what is shared (only body weights); None if there are none."""
    theirs = Exchange(books)
    weeks.show(Sheet(span="week", day=last, first=first), theirs)
    return None if theirs.picture is None else hiding.picture_without_energy(theirs.picture)
