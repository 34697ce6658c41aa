"""Week and month sheets: means over the logged days, how they were measured, and what to improve first."""

from __future__ import annotations

import calendar
import statistics
from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from bot.conversation import event_of, saying
from bot.conversation.exchange import Exchange
from bot.conversation.questions.stored import of_the_record
from bot.conversation.records import standing
from bot.conversation.settings import pausing
from bot.kinds import Span
from bot.language.asked import Sheet
from bot.reports import series
from bot.reports.series import DayFigures, Picture
from bot.store import days, facts, questions, weighins
from bot.store.weighins import StoredWeighIn
from domain import quantities
from domain.bodyweight import Trend, trend
from domain.foods import State
from domain.nutrients import Total, total
from domain.quantities import Region
from domain.targets import Target
from domain.uncertainty import give_or_take
from domain.weighins import Evidence, weighed_share

BEFORE = timedelta(days=30)
"""How old a body weight may be to count for the first mean shown."""
WORTH_FIXING = 2
MOST_DAYS = 10
"""Days up to which each has a line; longer stretches are told by week."""
_BY = {
    Evidence.REFUSE_TABLE: "weigh the core, peel or bone too",
    Evidence.LABEL_MEASURE: "weigh it instead of filling the label's measure",
    Evidence.OWN_MEASURE: "weigh it instead of filling your measure",
    Evidence.DENSITY: "weigh it instead of filling a cup or spoon",
    Evidence.COUNTED: "weigh it instead of counting",
    Evidence.ESTIMATED: "weigh it instead of guessing its energy",
    Evidence.WEIGHED: "weigh it raw, or cook it as a batch",
    Evidence.BOXED: "weigh it raw, or cook it as a batch",
}


def total_of(stored: Sequence[StoredWeighIn]) -> Total:
    """The sum of the weigh-ins that have figures."""
    return total([s.weigh_in.nutrients for s in stored if s.weigh_in.nutrients is not None])


def show(meaning: Sheet, ex: Exchange) -> None:
    """Shows the week that ends on the given day, or its calendar month, with a picture."""
    first, last = span(meaning, ex.books.today)
    stored = weighins.between(ex.books, first, last)
    sums = total_of(stored)
    ex.note(event_of.sheet(Span(meaning.span), last, sums, _waiting(ex)))
    weights = dict(facts.body_weights(ex.books, first - BEFORE, last))
    in_span = {day: kg for day, kg in weights.items() if day >= first}
    title = _title(meaning, first, last)
    pauses = pausing.pauses_of(facts.settings(ex.books))
    left_out = [day for day in series.stretch(first, last) if pauses.on(day) is not None]
    if left_out:
        ex.say(f"{len(left_out)} {'day' if len(left_out) == 1 else 'days'} of a pause left out.")
    if not stored and not in_span:
        ex.say(f"{title}: nothing is on record.")
        return
    logged = {day: eaten for day, eaten in grouped(stored).items() if day not in left_out}
    by_day = with_figures(logged)
    only_open = logged.keys() - by_day.keys()
    length = (last - first).days + 1 - len(left_out)
    ex.say(_logged(title, length, len(by_day), len(only_open)))
    if by_day:
        _energy(by_day, "day with figures" if only_open else "logged day", ex)
        _days(by_day, ex) if length <= MOST_DAYS else _weeks(by_day, ex)
    unsettled = standing.between(stored)
    if unsettled:
        ex.say(unsettled)
    _weight(trend(weights) if in_span else None, in_span, ex)
    for line in worth_fixing(by_day, length - len(by_day) - len(only_open), ex)[:WORTH_FIXING]:
        ex.say(f"Worth fixing: {line}")
    year = "" if meaning.span == "month" else f" {last.year}"
    ex.picture = _picture(f"{title}{year}", first, last, by_day, weights, ex)


def _waiting(ex: Exchange) -> int:
    return len(of_the_record(questions.waiting(ex.books)))


def span(meaning: Sheet, today: date) -> tuple[date, date]:
    """(first day, last day) of a sheet; a month that is not over ends today."""
    if meaning.span == "week":
        return meaning.first or meaning.day - timedelta(days=6), meaning.day
    day = meaning.day
    end = day.replace(day=calendar.monthrange(day.year, day.month)[1])
    return day.replace(day=1), min(end, max(today, day.replace(day=1)))


def _title(meaning: Sheet, first: date, last: date) -> str:
    if meaning.span == "month":
        return f"{first:%B} {first.year}"
    return saying.stretch(first, last)


def grouped(stored: Sequence[StoredWeighIn]) -> dict[date, list[StoredWeighIn]]:
    """Weigh-ins by their day."""
    by_day: dict[date, list[StoredWeighIn]] = {}
    for s in stored:
        by_day.setdefault(s.day, []).append(s)
    return by_day


def with_figures(by_day: Mapping[date, Sequence[StoredWeighIn]]) -> dict[date, list[StoredWeighIn]]:
    """The days on which not all weigh-ins are open: means divide by these, since the others have no figures yet."""
    return {day: list(eaten) for day, eaten in by_day.items() if standing.parted(eaten)[0]}


def _logged(title: str, length: int, with_figures: int, only_open: int) -> str:
    """How many days have a weigh-in, and on how many of them all are open."""
    count = with_figures + only_open
    if not count:
        return f"{title}: no food is on record."
    logged = "every day" if count == length else f"{count} of {length} days"
    which = "" if only_open == count else f"{only_open} of them "
    so = f", {which}with open weigh-ins only" if only_open else ""
    return f"{title}, {logged} logged{so}."


def _energy(by_day: Mapping[date, list[StoredWeighIn]], one: str, ex: Exchange) -> None:
    stored = [s for day in by_day.values() for s in day]
    mean = total_of(stored).nutrients.times(1 / len(by_day))
    ex.say(f"On average, a {one} has {saying.at_least(stored)}{saying.figures(mean)}.")
    energies = [total_of(day).nutrients.kcal for day in by_day.values()]
    if len(energies) > 1:
        spread = statistics.stdev(energies)
        ex.say(f"From {min(energies):,.0f} to {saying.kcal(max(energies))}, standard deviation {spread:,.0f}.")
    targets = days.targets(ex.books, sorted(by_day))
    aimed = [(day, target.kcal) for day, target in targets.items() if target.kcal is not None]
    if aimed:
        off = statistics.fmean(total_of(by_day[day]).nutrients.kcal - kcal for day, kcal in aimed)
        ex.say(f"On average {saying.kcal(abs(off))} a day {'over' if off > 0 else 'under'} the target.")
    share = weighed_share([s.weigh_in for s in stored])
    if share is not None:
        ex.say(f"Weighed: {share:.0%} of the energy.")


def _days(by_day: Mapping[date, list[StoredWeighIn]], ex: Exchange) -> None:
    for day in sorted(by_day):
        kcal = total_of(by_day[day]).nutrients.kcal
        ex.say(f"{day:%A}: {saying.at_least(by_day[day])}{saying.kcal(kcal)}{saying.give_or_take(by_day[day])}")


def _weeks(by_day: Mapping[date, list[StoredWeighIn]], ex: Exchange) -> None:
    weeks: dict[date, list[float]] = {}
    for day in sorted(by_day):
        weeks.setdefault(day - timedelta(days=day.weekday()), []).append(total_of(by_day[day]).nutrients.kcal)
    for monday, energies in weeks.items():
        days = f"{len(energies)} {'day' if len(energies) == 1 else 'days'}"
        ex.say(f"Week of {monday.day} {monday:%B}: {saying.kcal(statistics.fmean(energies))} a day over {days}")


def _weight(latest: Trend | None, in_span: Mapping[date, float], ex: Exchange) -> None:
    if latest is None:
        return
    averaged = f" (average of the last {latest.days} values)" if latest.days > 1 else ""
    line = f"Body weight: {saying.body_weight(latest.mean, ex.books.person.region)}{averaged}"
    if len(in_span) > 1:
        days = sorted(in_span)
        change = in_span[days[-1]] - in_span[days[0]]
        line += f"; {saying.body_weight(change, ex.books.person.region, sign=True)} from the first to the last"
    ex.say(f"{line}.")


def worth_fixing(by_day: Mapping[date, list[StoredWeighIn]], missing: int, ex: Exchange) -> list[str]:
    """What would improve the figures, the most useful first; `missing` days have nothing on record."""
    found = []
    stored = [s for day in by_day.values() for s in day]
    waiting = _waiting(ex)
    if by_day and missing > 1:
        few = "; a mean over few days says little" if len(by_day) <= 2 * missing else ""
        found.append(f"{missing} days have nothing on record{few}.")
    if waiting:
        found.append(f"{waiting} {'question waits' if waiting == 1 else 'questions wait'} for an answer.")
    bare = Counter(s.weigh_in.food for s in stored if s.weigh_in.nutrients is None and s.weigh_in.open is None)
    if bare:
        found.append(f"{bare.most_common(1)[0][0]} has a weight but no figures; its label would give them.")
    found.extend(f"{said}; keep to one basis." for said in switches(stored).values())
    loosest = _loosest(by_day)
    if loosest is not None:
        found.append(loosest)
    return found


def switches(stored: Sequence[StoredWeighIn]) -> dict[str, str]:
    """By food that was weighed both raw and cooked: 'white rice was weighed raw once and cooked 3 times'."""
    states: dict[str, Counter[State]] = {}
    for s in stored:
        if s.weigh_in.batch is None and s.weigh_in.open is None and s.weigh_in.state is not State.AS_SOLD:
            states.setdefault(s.weigh_in.food, Counter())[s.weigh_in.state] += 1
    return {
        food: f"{food} was weighed raw {_often(count[State.RAW])} and cooked {_often(count[State.COOKED])}"
        for food, count in states.items()
        if len(count) > 1
    }


def _often(times: int) -> str:
    return {1: "once", 2: "twice"}.get(times, f"{times} times")


def _loosest(by_day: Mapping[date, list[StoredWeighIn]]) -> str | None:
    """The food that contributes most to the uncertainty of the energy."""
    spreads: Counter[tuple[str, Evidence]] = Counter()
    for day in by_day.values():
        kinds = {(s.weigh_in.food, s.weigh_in.evidence) for s in day}
        for food, evidence in kinds:
            same = [s.weigh_in for s in day if (s.weigh_in.food, s.weigh_in.evidence) == (food, evidence)]
            spreads[food, evidence] += int(give_or_take(same).amounts_kcal)
    if not spreads:
        return None
    (food, evidence), kcal = spreads.most_common(1)[0]
    a_day = kcal / len(by_day)
    if a_day < 15:
        return None
    return f"{food} makes a day uncertain by about {saying.round_up(a_day):.0f} kcal; {_BY[evidence]}."


def _picture(
    title: str,
    first: date,
    last: date,
    by_day: Mapping[date, list[StoredWeighIn]],
    weights: Mapping[date, float],
    ex: Exchange,
) -> Picture:
    in_pounds = ex.books.person.region is Region.US
    factor = 1000 / quantities.grams(1, "lb") if in_pounds else 1.0
    trends = series.running_trends(weights)
    stretch = series.stretch(first, last)
    targets = days.targets(ex.books, stretch)
    shown = tuple(
        _figures(day, by_day.get(day, []), targets.get(day, Target()), weights.get(day), trends.get(day), factor)
        for day in stretch
    )
    return Picture(title=title, days=shown, weight_unit="lb" if in_pounds else "kg")


def _figures(
    day: date,
    stored: Sequence[StoredWeighIn],
    target: Target,
    kg: float | None,
    trend: Trend | None,
    factor: float,
) -> DayFigures:
    sums = total_of(stored).nutrients
    return DayFigures(
        day=day,
        kcal=sums.kcal if stored else None,
        give_or_take=give_or_take(s.weigh_in for s in stored).kcal,
        at_least=bool(saying.at_least(stored)),
        target_kcal=target.kcal,
        protein_g=sums.protein_g if stored else None,
        target_protein_g=target.protein_g,
        weight=None if kg is None else kg * factor,
        mean_weight=None if trend is None else trend.mean * factor,
        least_weight=None if trend is None else trend.least * factor,
        most_weight=None if trend is None else trend.most * factor,
    )
