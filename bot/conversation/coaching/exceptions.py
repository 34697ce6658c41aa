"""Why a client needs a word from the coach: a small set of signs, each computed as of a morning.

`reasons` takes the day on which it is asked, so that the digest can tell what has come up since the last one. Days of a
pause are left out. Today is not over: it only counts against silence.
"""

from __future__ import annotations

import statistics
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import IntEnum
from itertools import pairwise

from bot.conversation import saying
from bot.conversation.coaching.status import ClientStatus, mean
from bot.conversation.days import weeks
from bot.store.weighins import StoredWeighIn
from domain.cautions import NEWS_DAYS
from domain.weighins import Evidence, weighed_share

WEEK = 7
SILENT = 3
"""Days since the last record from which a client counts as silent, unless gaps of that length are their habit."""
LONG_SILENT = 7
FAR = 0.15
"""Relative distance from the target above which energy is worth a talk."""
DAYS_OFF = 3
"""Days in a row, each far off on the same side, that are worth a talk."""
DAYS_TO_JUDGE = 5
"""Logged days of a week that a mean needs before it is compared with a target."""
PROTEIN_LEAST = 0.8
SHARE_LEAST = 0.6
SAME_DAYS = 5
SAME_KCAL = 50.0
WEEKDAYS_LEAST = 6
ALCOHOL_G = 112.0
"""Grams a week: 14 units of 8 g, the low-risk limit of the UK Chief Medical Officers' guidelines of 2016 (from memory)."""
PILE = 3
"""Waiting questions that count as a pile."""
THIN_KCAL = 500.0
"""A finished day with less is hardly all that was eaten."""
CAUTION = "a standing caution limits targets"
PRAISE_DAYS = 14
PRAISE_NEAR = 0.1
PRAISE_LEAST = 12
UNWEIGHED = frozenset(
    {Evidence.LABEL_MEASURE, Evidence.OWN_MEASURE, Evidence.DENSITY, Evidence.COUNTED, Evidence.ESTIMATED}
)


class Kind(IntEnum):
    """What a reason is about, in the order of weight."""

    FLAG = 0
    LOW = 1
    LONG_SILENT = 2
    SILENT = 3
    OVER = 4
    UNDER = 5
    CAUTION = 6
    PROTEIN = 7
    WEEKENDS = 8
    UNWEIGHED = 9
    SAME_UNWEIGHED = 10
    ALCOHOL = 11
    QUESTIONS = 12
    THIN = 13
    BASIS = 14
    NO_TARGET = 15
    PRAISE = 16


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a client needs the coach; within a kind a larger `size` is more pressing. `talk` suggests a topic."""

    kind: Kind
    size: float
    words: str
    talk: str


def reasons(of: ClientStatus, on: date, asked_by: datetime | None = None) -> list[Reason]:
    """Why the client needs a word as of the morning of that day, the most pressing first; empty: nothing is.

    Questions count that were asked by that moment; by now, where none is given.
    """
    flagged = [Reason(Kind.FLAG, 0.0, f"flagged{f': {of.flag}' if of.flag else ''}", "")] if of.flag is not None else []
    if of.paused(on):
        return flagged
    found = [
        *flagged,
        *_silence(of, on),
        *_weekends(of, on),
        *_waiting(of, asked_by or of.books.at),
        *_switched(of, on),
    ]
    found += _caution(of, on)
    if of.shares_protein:
        found += _protein(of, on)
    if of.shares_energy:
        found += [*_low(of, on), *_off(of, on), *_unweighed(of, on), *_alcohol(of, on)]
        found += [*_thin(of, on), *_no_target(of, on)]
        if not found:
            found += _praise(of, on)
    return sorted(found, key=lambda r: (r.kind, -r.size))


def _silence(of: ClientStatus, on: date) -> list[Reason]:
    last = max((day for day in of.by_day if day <= on), default=of.last_day)
    if last is None:
        if (on - of.books.day_of(of.coaching.agreed_at)).days < SILENT:
            return []
        return [Reason(Kind.SILENT, 0.0, "nothing on record yet", f"a first weigh-in with {of.called}")]
    silent = sum(not of.paused(last + timedelta(days=n)) for n in range(1, (on - last).days + 1))
    logged = of.finished(on)
    habit = max(((later - day).days for day, later in pairwise(logged)), default=0)
    if silent < SILENT or silent <= min(habit, LONG_SILENT - 1):
        return []
    since = saying.day(last, of.books.today)
    talk = f"how it goes for {of.called}: nothing is on record since {since}"
    kind = Kind.LONG_SILENT if silent >= LONG_SILENT else Kind.SILENT
    return [Reason(kind, float(silent), f"silent for {silent} days", talk)]


def _low(of: ClientStatus, on: date) -> list[Reason]:
    found = mean(of, of.finished(on, WEEK))
    if found is None or found.days < DAYS_OFF or found.at_least or found.kcal >= of.floor_kcal:
        return []
    talk = (
        f"{of.called} has {saying.kcal(found.kcal)} a day on record, which is very little. Is all of it written down? "
        "If so, it belongs with a doctor or dietitian"
    )
    return [Reason(Kind.LOW, of.floor_kcal - found.kcal, f"very little, {saying.kcal(found.kcal)} a day", talk)]


def _off(of: ClientStatus, on: date) -> list[Reason]:
    """Energy far off the target: on each of the last three logged days on the same side, or in the week's mean."""
    apart = [(day, off) for day in of.finished(on, WEEK) if (off := _distance(of, day)) is not None]
    recent = [off for day, off in apart if (on - day).days <= DAYS_OFF + 2][-DAYS_OFF:]
    if len(recent) == DAYS_OFF and (min(recent) > FAR or max(recent) < -FAR):
        return [_off_by(of, [day for day, _ in apart[-DAYS_OFF:]])]
    if len(apart) >= DAYS_TO_JUDGE and abs(statistics.fmean(off for _, off in apart)) > FAR:
        return [_off_by(of, [day for day, _ in apart])]
    return []


def _distance(of: ClientStatus, day: date) -> float | None:
    """(eaten - target) / target of a day; None without a target, or when what is missing could close a gap."""
    aim = of.aimed.get(day)
    if aim is None or not aim.kcal:
        return None
    off = (weeks.total_of(of.by_day[day]).nutrients.kcal - aim.kcal) / aim.kcal
    return None if off < 0 and saying.at_least(of.by_day[day]) else off


def _off_by(of: ClientStatus, on: Sequence[date]) -> Reason:
    found = mean(of, on)
    assert found is not None
    assert found.target_kcal is not None
    off = found.kcal - found.target_kcal
    words = f"{saying.kcal(abs(off))} a day {'over' if off > 0 else 'under'} target for {found.days} days"
    kind = Kind.OVER if off > 0 else Kind.UNDER
    return Reason(kind, abs(off) / found.target_kcal, words, f"{of.called}'s days: {words}. Does the target fit?")


def _caution(of: ClientStatus, on: date) -> list[Reason]:
    """A standing caution, as long as it is news; which one it is stays with the client."""
    if of.cautioned is None or not 0 <= (on - of.cautioned).days < NEWS_DAYS:
        return []
    talk = f"targets with {of.called}: a standing caution limits them, and a doctor's or dietitian's figures come first"
    return [Reason(Kind.CAUTION, 0.0, CAUTION, talk)]


def _protein(of: ClientStatus, on: date) -> list[Reason]:
    found = mean(of, of.finished(on, WEEK))
    if found is None or found.days < DAYS_TO_JUDGE or found.at_least or not found.target_protein_g:
        return []
    short = found.target_protein_g - found.protein_g
    if found.protein_g >= PROTEIN_LEAST * found.target_protein_g:
        return []
    talk = f"where {short:.0f} g more protein a day could come from for {of.called}"
    return [Reason(Kind.PROTEIN, short / found.target_protein_g, f"protein {short:.0f} g a day short", talk)]


def _weekends(of: ClientStatus, on: date) -> list[Reason]:
    """Nothing on either of the last two weekends, while the days between are logged."""
    sunday = on - timedelta(days=on.weekday() + 1)
    off = [sunday - timedelta(days=n) for n in (0, 1, 7, 8)]
    logged = of.finished(on)
    if any(day in of.by_day or of.paused(day) for day in off):
        return []
    if sum(day.weekday() < 5 for day in logged) < WEEKDAYS_LEAST:
        return []
    talk = f"weekends with {of.called}: the last two have nothing on record"
    return [Reason(Kind.WEEKENDS, 0.0, "nothing on record for the last two weekends", talk)]


def _unweighed(of: ClientStatus, on: date) -> list[Reason]:
    logged = of.finished(on, WEEK)
    stored = [s for day in logged for s in of.by_day[day]]
    share = weighed_share([s.weigh_in for s in stored])
    if share is not None and share < SHARE_LEAST and len(logged) >= DAYS_TO_JUDGE:
        talk = f"the scale with {of.called}: {share:.0%} of the energy is weighed, the rest counted or by volume"
        return [Reason(Kind.UNWEIGHED, 1 - share, f"{share:.0%} weighed", talk)]
    seen = Counter(food for day in logged for food in _by_guess(of.by_day[day]))
    daily = [(food, count) for food, count in seen.most_common() if count >= SAME_DAYS]
    if not daily:
        return []
    food, count = daily[0]
    words = f"{food} unweighed on {count} of {len(logged)} days"
    return [Reason(Kind.SAME_UNWEIGHED, float(count), words, f"{of.called}'s {food}: it is never on the scale")]


def _by_guess(stored: Sequence[StoredWeighIn]) -> set[str]:
    """The foods of a day that were counted or by volume and hold enough energy to matter."""
    return {
        s.weigh_in.food
        for s in stored
        if s.weigh_in.evidence in UNWEIGHED and s.weigh_in.nutrients and s.weigh_in.nutrients.kcal >= SAME_KCAL
    }


def _alcohol(of: ClientStatus, on: date) -> list[Reason]:
    stored = [s for day in of.finished(on, WEEK) for s in of.by_day[day]]
    grams = weeks.total_of(stored).nutrients.alcohol_g or 0.0
    if grams <= ALCOHOL_G:
        return []
    talk = f"alcohol with {of.called}, if it suits: {grams:.0f} g in seven days"
    return [Reason(Kind.ALCOHOL, grams, f"alcohol {grams:.0f} g in seven days", talk)]


def _waiting(of: ClientStatus, asked_by: datetime) -> list[Reason]:
    count = sum(question.asked_at <= asked_by for question in of.waiting)
    if count < PILE:
        return []
    talk = f"{of.called}'s waiting questions: answering them completes those days"
    return [Reason(Kind.QUESTIONS, float(count), f"{count} questions wait", talk)]


def _thin(of: ClientStatus, on: date) -> list[Reason]:
    yesterday = on - timedelta(days=1)
    stored = of.by_day.get(yesterday, [])
    kcal = weeks.total_of(stored).nutrients.kcal
    if not stored or of.paused(yesterday) or saying.at_least(stored) or kcal >= THIN_KCAL:
        return []
    words = f"only {saying.kcal(kcal)} {saying.day(yesterday, of.books.today)}"
    return [Reason(Kind.THIN, THIN_KCAL - kcal, words, f"{of.called}'s {yesterday:%A}: {words}. Is that everything?")]


def _switched(of: ClientStatus, on: date) -> list[Reason]:
    found = list(weeks.switches([s for day in of.finished(on, WEEK) for s in of.by_day[day]]).values())
    if not found:
        return []
    return [Reason(Kind.BASIS, float(len(found)), found[0], f"one basis for {of.called}: {found[0]}")]


def _no_target(of: ClientStatus, on: date) -> list[Reason]:
    found = mean(of, of.finished(on, WEEK))
    if found is None or found.days < 2 or found.target_kcal is not None:
        return []
    return [Reason(Kind.NO_TARGET, 0.0, "no target is set", f"a target for {of.called}; none is set")]


def _praise(of: ClientStatus, on: date) -> list[Reason]:
    """Two weeks without a gap, most days near the target."""
    logged = of.finished(on, PRAISE_DAYS)
    if len(logged) < PRAISE_DAYS:
        return []
    near = sum((off := _distance(of, day)) is not None and abs(off) <= PRAISE_NEAR for day in logged)
    if near < PRAISE_LEAST:
        return []
    words = f"praise: {PRAISE_DAYS} days logged, {near} of them on target"
    return [Reason(Kind.PRAISE, float(near), words, f"what goes well for {of.called}: {near} of 14 days on target")]
