"""The page about a client for a consultation: the last four weeks, without what the client withholds."""

from __future__ import annotations

import statistics
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta

from bot.conversation import saying
from bot.conversation.coaching.parts import LEFT_OUT
from bot.conversation.days import weeks
from bot.conversation.exchange import Exchange
from bot.conversation.settings import pausing
from bot.language.asked import Sheet
from bot.reports import series
from bot.reports.page import Page
from bot.reports.series import DayFigures, Picture
from bot.store import days, facts, weighins
from bot.store.books import Books
from bot.store.weighins import StoredWeighIn
from domain.weighins import weighed_share

WEEKS = 4
MOST_FOODS = 5
MOST_NOTES = 2
FOOTER = (
    "Weigh-ins and body weights as the client put them on record; means over logged days, without the days of pauses and those with open weigh-ins only.{} "
    "The page is for a conversation: it is neither a diagnosis nor dietary advice, and health concerns belong with a "
    "doctor or dietitian."
)
WHISKERS = " Whiskers show what a day's energy may be off by (give or take)."

ByDay = Mapping[date, list[StoredWeighIn]]


def page(books: Books, called: str, coach: str) -> Page:
    """The page about the four weeks up to yesterday of the client whose books these are."""
    last = books.today - timedelta(days=1)
    first = last - timedelta(days=7 * WEEKS - 1)
    stored = weighins.between(books, first, last)
    logged = weeks.grouped(stored)
    by_day = pausing.without_pauses(logged, books)
    spared = [LEFT_OUT[part] for part in LEFT_OUT if part in books.withheld and part != "comments"]
    theirs = Exchange(books)
    pauses = pausing.pauses_of(facts.settings(books))
    paused = sum(pauses.on(day) is not None for day in series.stretch(first, last))
    weighed = "body_weight" not in books.withheld and bool(facts.body_weights(books, first, last))
    return Page(
        title=called,
        subtitle=f"{saying.stretch(first, last)} {last.year}; made on {saying.stretch(books.today, books.today)} "
        f"for {coach} with {called}'s consent",
        made_at=books.at,
        facts=[
            ("Days logged", _logged(by_day, paused, last, first)),
            *_figures(by_day, first, last, books),
            *([("Not shared", saying.listed(spared))] if spared else []),
        ],
        picture=_shared(_picture(first, last, theirs), books),
        columns=["Week", "Days", *_columns(weighed, books)],
        weeks=[_row(first + timedelta(days=7 * n), by_day, weighed, books) for n in range(WEEKS)],
        notes=_notes(by_day, 7 * WEEKS - paused - len(by_day), theirs),
        footer=FOOTER.format("" if "energy" in books.withheld else WHISKERS),
    )


def _logged(by_day: ByDay, paused: int, last: date, first: date) -> str:
    length = (last - first).days + 1
    pause = f"; {paused} of a pause left out" if paused else ""
    without = len(by_day) - len(weeks.with_figures(by_day))
    only_open = f"; {without} with open weigh-ins only" if without else ""
    return f"{len(by_day)} of {length - paused}{only_open}{pause}"


def _figures(by_day: ByDay, first: date, last: date, books: Books) -> list[tuple[str, str]]:
    found: list[tuple[str, str]] = []
    stored = [s for day in by_day.values() for s in day]
    figured = weeks.with_figures(by_day)
    if figured:
        mean = weeks.total_of(stored).nutrients.times(1 / len(figured))
        least = saying.at_least(stored)
        if "energy" not in books.withheld:
            energies = [weeks.total_of(day).nutrients.kcal for day in figured.values()]
            found.append(("Energy a day", f"{least}{saying.kcal(mean.kcal)}{_aimed('kcal', figured, books)}"))
            found.append(("From day to day", f"{min(energies):,.0f} to {saying.kcal(max(energies))}"))
        if "protein" not in books.withheld:
            found.append(("Protein a day", f"{least}{mean.protein_g:.0f} g{_aimed('protein_g', figured, books)}"))
        if "energy" not in books.withheld:
            found.append(("Fat, carbohydrate, fibre a day", _others(mean.fat_g, mean.carbohydrate_g, mean.fibre_g)))
            share = weighed_share([s.weigh_in for s in stored])
            if share is not None:
                found.append(("On the scale", f"{share:.0%} of the energy"))
            if mean.alcohol_g:
                found.append(("Alcohol a week", saying.grams(7 * mean.alcohol_g)))
    if stored:
        often = Counter(s.weigh_in.food for s in stored).most_common(MOST_FOODS)
        found.append(("Most often", ", ".join(f"{food} ({count})" for food, count in often)))
    weights = facts.body_weights(books, first, last)
    if weights:
        found.append(("Body weight", _weights(weights, books)))
    return found


def _others(fat_g: float, carbohydrate_g: float, fibre_g: float | None) -> str:
    fibre = "" if fibre_g is None else f", {fibre_g:.0f} g"
    return f"{fat_g:.0f} g, {carbohydrate_g:.0f} g{fibre}"


def _aimed(figure: str, by_day: ByDay, books: Books) -> str:
    aims = [aim for t in days.targets(books, sorted(by_day)).values() if (aim := getattr(t, figure)) is not None]
    if not aims:
        return ""
    mean = statistics.fmean(aims)
    return f"; target {saying.kcal(mean) if figure == 'kcal' else f'{mean:.0f} g'}"


def _weights(weights: Sequence[tuple[date, float]], books: Books) -> str:
    region = books.person.region
    values = [kg for _, kg in weights]
    said = f"{saying.body_weight(statistics.fmean(values[-7:]), region)}, mean of the last {len(values[-7:])}"
    if len(values) > 1:
        said += f"; {saying.body_weight(values[-1] - values[0], region, sign=True)} from the first to the last"
    return said


def _picture(first: date, last: date, theirs: Exchange) -> Picture:
    weeks.show(Sheet(span="week", day=last, first=first), theirs)
    return theirs.picture or Picture(title="", days=tuple(DayFigures(day=d) for d in series.stretch(first, last)))


def _shared(shown: Picture, books: Books) -> Picture:
    """The days without the figures that are withheld; body weights that are withheld are not read at all."""
    if "energy" not in books.withheld:
        return shown
    keeps_protein = "protein" not in books.withheld
    kept = tuple(
        DayFigures(
            day=d.day,
            protein_g=d.protein_g if keeps_protein else None,
            target_protein_g=d.target_protein_g if keeps_protein else None,
            weight=d.weight,
            mean_weight=d.mean_weight,
            least_weight=d.least_weight,
            most_weight=d.most_weight,
        )
        for d in shown.days
    )
    return replace(shown, days=kept)


def _columns(weighed: bool, books: Books) -> list[str]:
    sums = {"energy": "Energy a day", "protein": "Protein a day"}
    return [column for part, column in sums.items() if part not in books.withheld] + ["Body weight"] * weighed


def _row(monday: date, by_day: ByDay, weighed: bool, books: Books) -> list[str]:
    last = monday + timedelta(days=6)
    logged = {day: eaten for day, eaten in by_day.items() if monday <= day <= last}
    stored = [s for eaten in logged.values() for s in eaten]
    row = [saying.stretch(monday, last), str(len(logged))]
    over = len(weeks.with_figures(logged))
    mean = weeks.total_of(stored).nutrients.times(1 / over) if over else None
    if "energy" not in books.withheld:
        row.append("" if mean is None else f"{saying.at_least(stored)}{saying.kcal(mean.kcal)}")
    if "protein" not in books.withheld:
        row.append("" if mean is None else f"{saying.at_least(stored)}{mean.protein_g:.0f} g")
    if weighed:
        weights = [kg for _, kg in facts.body_weights(books, monday, last)]
        row.append(saying.body_weight(statistics.fmean(weights), books.person.region) if weights else "")
    return row


def _notes(by_day: ByDay, missing: int, theirs: Exchange) -> list[str]:
    """What would make the figures more accurate, as the client reads it too, without energy that is withheld."""
    if "energy" in theirs.books.withheld:
        return []
    kept = {day: list(stored) for day, stored in by_day.items()}
    return [f"•  {said}" for said in weeks.worth_fixing(kept, missing, theirs)[:MOST_NOTES]]
