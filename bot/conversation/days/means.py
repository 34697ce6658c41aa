"""Questions about the figures of several days: means of a logged day, and on how many days a target was met."""

from __future__ import annotations

import statistics
from collections.abc import Mapping, Sequence
from datetime import date

from bot import events
from bot.conversation import saying
from bot.conversation.days.asked import WORDS, aim_of, amount_said, example_of, sum_of
from bot.conversation.days.weeks import grouped, with_figures
from bot.conversation.exchange import Exchange
from bot.conversation.settings import pausing
from bot.kinds import Topic
from bot.language.asked import DaysMet, MeanOf
from bot.store import days, weighins
from bot.store.weighins import StoredWeighIn
from domain.targets import Target

AT_LEAST = frozenset({"protein_g", "fibre_g"})
"""Nutrients whose target is a least amount; the others' is a most."""

MOST_NAMED = 3
"""Days that are named on which a target was missed."""

ByDay = Mapping[date, Sequence[StoredWeighIn]]


def mean_of(meaning: MeanOf, ex: Exchange) -> None:
    """Answers what a logged day holds on average, beside the target."""
    ex.note(events.Answered(about=Topic.NUTRIENT))
    by_day = _logged(meaning, ex)
    if not by_day:
        return
    targets = days.targets(ex.books, sorted(by_day))
    nutrients = meaning.nutrients or _aimed(targets)
    if not nutrients:
        ex.say(f"No target is set, so I can't say whether you are on track. To set one: {example_of('kcal')}")
    _say_means(nutrients or ("kcal", "protein_g"), by_day, targets, meaning, ex)


def days_met(meaning: DaysMet, ex: Exchange) -> None:
    """Answers on how many of the logged days the target was met, for each nutrient that is asked about."""
    ex.note(events.Answered(about=Topic.NUTRIENT))
    by_day = _logged(meaning, ex)
    if not by_day:
        return
    targets = days.targets(ex.books, sorted(by_day))
    nutrients = meaning.nutrients or _aimed(targets) or ("kcal",)
    for nutrient in nutrients:
        aims = {day: aim for day, target in targets.items() if (aim := aim_of(target, nutrient)) is not None}
        if not aims:
            said = f"No target for {WORDS[nutrient]} is set, so I can't count the days."
            ex.say(f"{said} To set one: {example_of(nutrient)}")
            _say_means((nutrient,), by_day, targets, meaning, ex)
            continue
        least = nutrient in AT_LEAST
        had = {day: sum_of(by_day[day], nutrient)[0] for day in aims}
        missed = [day for day, aim in aims.items() if (had[day] < aim if least else had[day] > aim)]
        of = f" ({amount_said(nutrient, *set(aims.values()))})" if len(set(aims.values())) == 1 else ""
        met = f"reached the {WORDS[nutrient]} target" if least else f"stayed within the {WORDS[nutrient]} target"
        count = f"{len(aims) - len(missed)} of {len(aims)} logged {'day' if len(aims) == 1 else 'days'}"
        but = saying.listed([saying.day(day, ex.books.today) for day in missed])
        not_on = f" Not {but}." if 0 < len(missed) <= MOST_NAMED else ""
        ex.say(f"You {met}{of} on {count}, {saying.stretch(meaning.first, meaning.last)}.{not_on}")


def _logged(meaning: MeanOf | DaysMet, ex: Exchange) -> ByDay:
    """The days of the stretch that have figures, without those of a pause; says so where there are none."""
    stored = grouped(weighins.between(ex.books, meaning.first, meaning.last))
    by_day = pausing.without_pauses(with_figures(stored), ex.books)
    if not by_day:
        ex.say(f"Nothing is on record for {saying.stretch(meaning.first, meaning.last)}.")
    return by_day


def _aimed(targets: Mapping[date, Target]) -> tuple[str, ...]:
    """The nutrients that the days have a target for."""
    return tuple(each for each in WORDS if any(aim_of(target, each) is not None for target in targets.values()))


def _say_means(
    nutrients: Sequence[str], by_day: ByDay, targets: Mapping[date, Target], of: MeanOf | DaysMet, ex: Exchange
) -> None:
    told = saying.listed([_mean(each, by_day, targets) for each in nutrients])
    length = (of.last - of.first).days + 1
    logged = f"{len(by_day)} of {saying.counted(length, 'day')} logged"
    ex.say(f"On average, a logged day has {told}. {logged}, {saying.stretch(of.first, of.last)}.")


def _mean(nutrient: str, by_day: ByDay, targets: Mapping[date, Target]) -> str:
    """'protein 85 g (target 120 g)': the mean, with the mean of the target."""
    stored = [each for eaten in by_day.values() for each in eaten]
    had, unknown = sum_of(stored, nutrient)
    aims = [aim for target in targets.values() if (aim := aim_of(target, nutrient)) is not None]
    beside = f" (target {amount_said(nutrient, statistics.fmean(aims))})" if aims else ""
    word = "" if nutrient == "kcal" else f"{WORDS[nutrient]} "
    return f"{word}{unknown}{amount_said(nutrient, had / len(by_day))}{beside}"
