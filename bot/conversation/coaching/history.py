"""A client's records as their coach sees them: sheets of any stretch, weeks compared, a food or a trend over time.

Everything is read in books that `bot.store.coaching` opens under the client's consent, and stands under the client's
name. Nothing is written; files are made when they are sent, under the consent of that moment.
"""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from datetime import date, timedelta

from msgspec import structs

from bot import events, people_events
from bot.conversation import saying
from bot.conversation.coaching import agreements, withheld
from bot.conversation.coaching.relaying import pass_on
from bot.conversation.days import body_weight, sheets, weeks
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Refuse
from bot.conversation.records.finding import matching
from bot.conversation.settings import pausing
from bot.kinds import Relayed, Topic, Why
from bot.language.asked import Sheet, Trend
from bot.language.fix_meanings import Which
from bot.language.guided import (
    ClientFood,
    ClientHistory,
    ClientReport,
    ClientSheet,
    ClientTrend,
    CompareWeeks,
    ExportFrom,
)
from bot.reports import files
from bot.store import coaching as store
from bot.store import facts, weighins
from bot.store.books import Books
from bot.store.coaching import Coaching
from bot.store.weighins import StoredWeighIn
from domain.weighins import weighed_share

LONGEST = timedelta(days=366)
FOOD_SPAN = timedelta(days=27)
SPARED = "{} does not share {} with you. To see what was eaten and weighed: {}'s day"

Named = ClientSheet | ClientHistory | CompareWeeks | ClientTrend | ClientFood | ClientReport


def _client(meaning: Named, ex: Exchange) -> tuple[Coaching, Books] | Ask | Refuse:
    which = agreements.client_of(meaning, ex)
    if not isinstance(which, Coaching):
        return which
    books = store.books_of_client(ex.books, which.client_id)
    assert books is not None, "the coaching was read a moment ago, in this transaction"
    return which, books


def sheet(meaning: ClientSheet, ex: Exchange) -> Ask | Refuse | None:
    """Shows a client's day, week or month and its picture as the client would see them."""
    found = _client(meaning, ex)
    if not isinstance(found, tuple):
        return found
    which, books = found
    day = books.today - timedelta(days=meaning.back)
    _shown(Sheet(span=meaning.span, day=day), which, books, ex)
    return None


def stretch(meaning: ClientHistory, ex: Exchange) -> Ask | Refuse | None:
    """Shows a day of a client's, or any stretch of days."""
    found = _client(meaning, ex)
    if not isinstance(found, tuple):
        return found
    which, books = found
    if meaning.last - meaning.first > LONGEST:
        return Refuse("At most a year can be shown at once.", Why.IMPOSSIBLE)
    one_day = meaning.first == meaning.last
    wanted = (
        Sheet(span="day", day=meaning.first) if one_day else Sheet(span="week", day=meaning.last, first=meaning.first)
    )
    _shown(wanted, which, books, ex)
    return None


def _shown(wanted: Sheet, which: Coaching, books: Books, ex: Exchange) -> None:
    theirs = Exchange(books)
    if "energy" in books.withheld:
        withheld.sheet(wanted, theirs)
    else:
        sheets.read(wanted, theirs)
    for event in theirs.events:
        shown = isinstance(event, events.SheetShown)
        ex.note(people_events.ClientSheetShown(**structs.asdict(event), client=which.called) if shown else event)
    _say(which.called, theirs.lines, ex)
    ex.picture = theirs.picture


def _say(called: str, lines: Sequence[str], ex: Exchange) -> None:
    ex.say(f"{called}:")
    for said in lines:
        ex.say(said)


def compare(meaning: CompareWeeks, ex: Exchange) -> Ask | Refuse | None:
    """Shows two weeks of a client side by side, the later one first, and what is different."""
    found = _client(meaning, ex)
    if not isinstance(found, tuple):
        return found
    which, books = found
    ex.note(events.Answered(about=Topic.EATEN))
    sums: list[tuple[float, float] | None] = []
    lines = []
    for back in sorted(meaning.weeks_back):
        last = books.today - timedelta(days=7 * back)
        by_day = weeks.grouped(weighins.between(books, last - timedelta(days=6), last))
        said, mean = _week(last, pausing.without_pauses(by_day, books), books)
        lines.append(said)
        sums.append(mean)
    now, before = sums
    if now is not None and before is not None:
        apart = {"energy": f"{now[0] - before[0]:+,.0f} kcal", "protein": f"{now[1] - before[1]:+,.0f} g protein"}
        shared = [said for part, said in apart.items() if part not in books.withheld]
        if shared:
            lines.append(f"Difference: {saying.listed(shared)} a day.")
    if "energy" in books.withheld:
        lines.append(withheld.NOTE)
    _say(which.called, lines, ex)
    return None


def _week(last: date, by_day: dict[date, list[StoredWeighIn]], books: Books) -> tuple[str, tuple[float, float] | None]:
    first = last - timedelta(days=6)
    title = saying.stretch(first, last)
    weights = [kg for _, kg in facts.body_weights(books, first, last)]
    body = f", body weight {saying.body_weight(statistics.fmean(weights), books.person.region)}" if weights else ""
    if not by_day:
        return f"{title}: nothing is on record{body}.", None
    logged = f"{len(by_day)} {'day' if len(by_day) == 1 else 'days'} logged"
    figured = weeks.with_figures(by_day)
    if not figured:
        return f"{title}: {logged}, with open weigh-ins only{body}.", None
    without = len(by_day) - len(figured)
    logged += f" ({without} of them with open weigh-ins only)" if without else ""
    stored = [s for day in figured.values() for s in day]
    mean = weeks.total_of(stored).nutrients.times(1 / len(figured))
    if "energy" in books.withheld:
        return f"{title}: {logged}, {withheld.means(by_day, books)}{body}.", (mean.kcal, mean.protein_g)
    share = weighed_share([s.weigh_in for s in stored])
    weighed = "" if share is None else f", {share:.0%} weighed"
    figures = f"{saying.at_least(stored)}{saying.figures(mean)} a day"
    return f"{title}: {logged}, {figures}{weighed}{body}.", (mean.kcal, mean.protein_g)


def trend(meaning: ClientTrend, ex: Exchange) -> Ask | Refuse | None:
    """Shows a client's body weight or energy balance over time, in the words that the client gets."""
    found = _client(meaning, ex)
    if not isinstance(found, tuple):
        return found
    which, books = found
    needs = {"body_weight"} if meaning.of == "body_weight" else {"body_weight", "energy"}
    if spared := sorted(needs & books.withheld):
        what = saying.listed([each.replace("_", " ") for each in spared])
        return Refuse(SPARED.format(which.called, what, which.called), Why.NOT_YOURS)
    theirs = Exchange(books)
    body_weight.show(Trend(of=meaning.of), theirs)
    for event in theirs.events:
        ex.note(event)
    _say(f"{which.called}, as {which.called} reads it", theirs.lines, ex)
    return None


def food(meaning: ClientFood, ex: Exchange) -> Ask | Refuse | None:
    """Shows how often and how much of a food a client had in the last four weeks."""
    found = _client(meaning, ex)
    if not isinstance(found, tuple):
        return found
    which, books = found
    ex.note(events.Answered(about=Topic.EATEN))
    lately = weighins.between(books, books.today - FOOD_SPAN, books.today)
    stored = matching(lately, Which(name=meaning.name))
    if not stored:
        ex.say(f"{which.called}: no {meaning.name.text} on record in the last four weeks.")
        return None
    days = {s.day for s in stored}
    grams = sum(s.weigh_in.edible_g for s in stored)
    energy = ""
    if "energy" not in books.withheld:
        energy = f", {saying.at_least(stored)}{saying.kcal(weeks.total_of(stored).nutrients.kcal)} in all"
    often = f"{len(stored)} {'time' if len(stored) == 1 else 'times'} on {len(days)} of 28 days"
    ex.say(f"{which.called}: {meaning.name.text} {often}, {saying.grams(grams)}{energy}.")
    ex.say(f"{saying.grams(grams / len(stored))} each time; the last {_last(stored, books)}.")
    return None


def _last(stored: Sequence[StoredWeighIn], books: Books) -> str:
    """'today, 150 g'."""
    latest = max(stored, key=lambda s: (s.day, s.number))
    meal = f" for {latest.meal}" if latest.meal else ""
    return f"{saying.day(latest.day, books.today)}{meal}, {saying.grams(latest.weigh_in.edible_g)}"


def report(meaning: ClientReport, ex: Exchange) -> Ask | Refuse | None:
    """Sends a page about a client for a consultation, or tables of what the client shares; either is made when sent."""
    found = _client(meaning, ex)
    if not isinstance(found, tuple):
        return found
    which, books = found
    if meaning.form == "file" and "export" in books.withheld:
        pass_on(Relayed.EXPORT, which, ExportFrom(coach=ex.books.person.id), ex)
        if ex.requests:
            ex.say(f"A file needs {which.called}'s consent. I have asked {which.called} and will tell you the answer.")
        return None
    suffix = "pdf" if meaning.form == "page" else "zip"
    name = f"{_plain_name(which.called)}-{books.today.isoformat()}.{suffix}"
    ex.document = files.encode(files.Export(name=name, at=ex.books.at, client_id=which.client_id, form=meaning.form))
    ex.note(events.Exported(who=which.called, file=name, weigh_ins=weighins.count(books)))
    if meaning.form == "page":
        ex.say(f"{which.called}: a page about the last four weeks, to print.")
        return None
    ex.say(f"{which.called}: what {which.called} has on record and shares with you, as tables.")
    ex.tell(
        which.client_id,
        f"{which.by}, has taken a file of your records. To end that: {which.coach} may not export my data",
    )
    return None


def _plain_name(called: str) -> str:
    """The name as a file can have it."""
    kept = "".join(letter if letter.isalnum() else "-" for letter in called).strip("-")
    return kept or "client"
