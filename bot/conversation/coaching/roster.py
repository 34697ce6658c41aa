"""The roster: a line for each client with the reason to turn to them, the most pressing first."""

from __future__ import annotations

import statistics
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from msgspec import structs

from bot import events
from bot.conversation import saying
from bot.conversation.coaching import agreements
from bot.conversation.days import sheets, weeks
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Refuse
from bot.conversation.questions.stored import of_the_record
from bot.kinds import Why
from bot.language.guided import (
    ClientFood,
    ClientHistory,
    ClientReport,
    ClientSheet,
    ClientTrend,
    Comment,
    CompareWeeks,
    Guided,
    HowIs,
    Invite,
    Pause,
    PrivateNote,
    PrivateNotes,
    PutInGroup,
    Resume,
    Roster,
    WhoSees,
)
from bot.language.meanings import Sheet
from bot.store import coaching as store
from bot.store import days, facts, questions, weighins
from bot.store.books import Books
from bot.store.coaching import Coaching
from bot.store.facts import Target
from bot.store.weighins import StoredWeighIn
from domain import targets
from domain.targets import Sex
from domain.weighins import weighed_share

WEEK = timedelta(days=6)
SILENT = 2
"""Days without a record after which a client counts as silent."""
FAR = 0.15
"""Relative distance of the mean from the target above which it is worth a talk."""
PROTEIN_LEAST = 0.8
SHARE_LEAST = 0.6
DAYS_TO_JUDGE = 2
"""Finished days that a mean needs before it is compared with a target."""


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a client needs the coach. A lower rank is more pressing, and within a rank a larger `size`; `talk` suggests a topic."""

    rank: int
    size: float
    words: str
    talk: str


@dataclass(frozen=True, slots=True)
class ClientStatus:
    """One client's status on their own calendar; `by_day` and `aimed` cover the last seven days."""

    coaching: Coaching
    books: Books
    by_day: Mapping[date, list[StoredWeighIn]]
    aimed: Mapping[date, Target]
    last_day: date | None
    waiting: int

    @property
    def called(self) -> str:
        """The coach's name for the client."""
        return self.coaching.called

    @property
    def logged_today(self) -> bool:
        """Whether today has anything on record."""
        return self.books.today in self.by_day

    @property
    def silent_days(self) -> int | None:
        """Days since the last day with a record; None without any."""
        return None if self.last_day is None else max(0, (self.books.today - self.last_day).days)

    @property
    def finished(self) -> list[date]:
        """The logged days before today."""
        return [day for day in self.by_day if day < self.books.today]


@dataclass(frozen=True, slots=True)
class Mean:
    """Means over logged days, in kcal and g; those of targets cover the days that have one."""

    days: int
    kcal: float
    protein_g: float
    target_kcal: float | None
    target_protein_g: float | None
    at_least: str
    share: float | None


def status_of(which: Coaching, ex_books: Books) -> ClientStatus | None:
    """A client's status, read under their consent; None when the coaching has ended."""
    books = store.books_of_client(ex_books, which.client_id)
    if books is None:
        return None
    first, last = books.today - WEEK, books.today
    by_day = weeks.grouped(weighins.between(books, first, last))
    aimed = days.targets(books, [first + timedelta(days=n) for n in range(7)])
    waiting = of_the_record(questions.waiting(books))
    return ClientStatus(which, books, by_day, aimed, days.last_logged(books), len(waiting))


def everyone(books: Books) -> list[ClientStatus]:
    """All clients of the coach, the most pressing first."""
    found = [s for which in store.clients(books) if (s := status_of(which, books)) is not None]
    return sorted(found, key=lambda s: (reason(s).rank, -reason(s).size, s.called.casefold()))


def mean(of: ClientStatus, on: list[date]) -> Mean | None:
    """The means over these logged days; None for no days."""
    if not on:
        return None
    stored = [s for day in on for s in of.by_day[day]]
    sums = weeks.total_of(stored).nutrients
    kcal = [t.kcal for day in on if (t := of.aimed.get(day)) is not None and t.kcal is not None]
    protein = [t.protein_g for day in on if (t := of.aimed.get(day)) is not None and t.protein_g is not None]
    return Mean(
        days=len(on),
        kcal=sums.kcal / len(on),
        protein_g=sums.protein_g / len(on),
        target_kcal=statistics.fmean(kcal) if kcal else None,
        target_protein_g=statistics.fmean(protein) if protein else None,
        at_least=saying.at_least(stored),
        share=weighed_share([s.weigh_in for s in stored]),
    )


def reason(of: ClientStatus) -> Reason:
    """The most pressing reason to turn to a client; the last rank means that nothing is."""
    found = [r for r in (_low(of), _silence(of), _waiting(of), *_off_target(of), *_measured(of)) if r is not None]
    praise = f"what goes well for {of.called}"
    return min(found, key=lambda r: (r.rank, -r.size)) if found else Reason(9, 0.0, "nothing pressing", praise)


def _low(of: ClientStatus) -> Reason | None:
    found = mean(of, of.finished)
    told = facts.settings(of.books).get("sex")
    floor = targets.floor_kcal(None if told is None else Sex(told))
    if found is None or found.days < DAYS_TO_JUDGE or found.at_least or found.kcal >= floor:
        return None
    talk = (
        f"{of.called} has {saying.kcal(found.kcal)} a day on record, which is very little. Is all of it written down? "
        "If so, it belongs with a doctor or dietitian"
    )
    return Reason(0, floor - found.kcal, "very little on record", talk)


def _silence(of: ClientStatus) -> Reason | None:
    silent = of.silent_days
    if silent is None:
        return Reason(1, 0.0, "nothing on record yet", f"a first weigh-in with {of.called}")
    if silent < SILENT:
        return None
    assert of.last_day is not None
    since = saying.day(of.last_day, of.books.today)
    talk = f"how it goes for {of.called}: nothing is on record since {since}"
    return Reason(1, float(silent), f"silent for {silent} days", talk)


def _waiting(of: ClientStatus) -> Reason | None:
    if not of.waiting:
        return None
    words = "1 question waits" if of.waiting == 1 else f"{of.waiting} questions wait"
    return Reason(2, float(of.waiting), words, f"{of.called}'s waiting questions: an answer each makes the days whole")


def _off_target(of: ClientStatus) -> list[Reason]:
    found = mean(of, of.finished)
    if found is None or found.days < DAYS_TO_JUDGE or found.at_least:
        return []
    reasons = []
    if found.target_kcal is None:
        reasons.append(Reason(5, 0.0, "no target is set", f"a target for {of.called}; none is set"))
    elif abs(found.kcal - found.target_kcal) > FAR * found.target_kcal:
        off = found.kcal - found.target_kcal
        words = f"{saying.kcal(abs(off))} a day {'over' if off > 0 else 'under'} the target"
        reasons.append(Reason(3, abs(off) / found.target_kcal, words, f"{of.called}'s days: {words}. Does it fit?"))
    if found.target_protein_g is not None and found.protein_g < PROTEIN_LEAST * found.target_protein_g:
        short = found.target_protein_g - found.protein_g
        talk = f"where {short:.0f} g more protein a day could come from for {of.called}"
        reasons.append(Reason(4, short / found.target_protein_g, f"protein {short:.0f} g a day short", talk))
    return reasons


def _measured(of: ClientStatus) -> list[Reason]:
    reasons = []
    stored = [s for day in of.by_day.values() for s in day]
    switched = list(weeks.switches(stored).values())
    if switched:
        reasons.append(Reason(6, float(len(switched)), switched[0], f"one basis for {of.called}: {switched[0]}"))
    share = weighed_share([s.weigh_in for s in stored])
    if share is not None and share < SHARE_LEAST:
        talk = f"the scale with {of.called}: {share:.0%} of the energy is weighed, the rest counted or by volume"
        reasons.append(Reason(7, 1 - share, f"{share:.0%} weighed", talk))
    return reasons


def show(meaning: Roster, ex: Exchange) -> Refuse | None:
    """Shows all clients, or who has logged today."""
    everybody = everyone(ex.books)
    if not everybody:
        if meaning.invites and store.coaches(ex.books):
            agreements.who_sees(WhoSees(), ex)
            return None
        if meaning.invites:
            return agreements.invite(Invite(), ex)
        ex.note(_event([]))
        ex.say(agreements.NO_CLIENTS)
        return None
    if meaning.group or meaning.of not in ("all", "logged"):
        return Refuse("Only all clients can be listed, or those who have logged today. Say: roster, or: who has logged")
    ex.note(_event(everybody))
    if meaning.of == "logged":
        _who_logged(everybody, ex)
        return None
    for each in everybody:
        ex.say(line(each))
    if meaning.invites:
        ex.say("To invite another, for example: invite Ben")
    return None


def not_yet(meaning: Guided) -> Refuse:
    """Says that something cannot be done yet, and what can."""
    match meaning:
        case ClientHistory() | CompareWeeks() | ClientTrend() | ClientFood() | ClientReport():
            can = f"What you can see is a day, a week or a month, for example: {meaning.client}'s week"
        case Comment() | PrivateNote() | PrivateNotes():
            can = f"What you can do is send a note, for example: tell {meaning.client}: well done"
        case Pause() | Resume():
            can = "What you can do is switch reminders off, for example: evening reminder off"
        case PutInGroup():
            can = "Your clients are one list. Say: roster"
        case _:
            can = "To see what your coach sees: who sees my data. To end it: end coaching"
    return Refuse(f"That can't be done yet, and nothing was done. {can}", Why.IMPOSSIBLE)


def _who_logged(everybody: list[ClientStatus], ex: Exchange) -> None:
    logged = sorted(s.called for s in everybody if s.logged_today)
    missing = sorted(s.called for s in everybody if not s.logged_today)
    ex.say(f"Logged today: {saying.listed(logged) or 'nobody yet'}.")
    if missing:
        ex.say(f"Not yet: {saying.listed(missing)}.")


def how_is(meaning: HowIs, ex: Exchange) -> Ask | Refuse | None:
    """Shows one client's line."""
    which = agreements.client_of(meaning, ex)
    if not isinstance(which, Coaching):
        return which
    found = status_of(which, ex.books)
    assert found is not None, "the coaching was read a moment ago, in this transaction"
    ex.note(_event([found]))
    ex.say(line(found))
    ex.say(f"More: {found.called}'s week")
    return None


def line(of: ClientStatus) -> str:
    """'Ana (silent for 3 days): not logged today; 1,720 of 2,000 kcal, protein 110 of 150 g a day over 4 days; …'."""
    why = reason(of)
    parts = ["logged today" if of.logged_today else "not logged today"]
    found = mean(of, sorted(of.by_day))
    if found is None:
        parts.append("nothing in the last seven days")
    else:
        parts.append(f"{figures(found)} a day over {found.days} {'day' if found.days == 1 else 'days'}")
        parts.extend(weighed(found))
    silent = of.silent_days
    if silent is not None and silent >= SILENT:
        parts.append(f"silent for {silent} days")
    if of.waiting:
        parts.append("1 question waits" if of.waiting == 1 else f"{of.waiting} questions wait")
    parts.extend(list(weeks.switches([s for day in of.by_day.values() for s in day]).values())[:2])
    return f"{of.called} ({why.words}): {'; '.join(part for part in parts if part != why.words)}."


def figures(of: Mean) -> str:
    """'1,720 of 2,000 kcal, protein 110 of 150 g'."""
    kcal = f"{of.kcal:,.0f} of {saying.kcal(of.target_kcal)}" if of.target_kcal is not None else saying.kcal(of.kcal)
    aim = f" of {of.target_protein_g:.0f}" if of.target_protein_g is not None else ""
    return f"{of.at_least}{kcal}, protein {of.protein_g:.0f}{aim} g"


def weighed(of: Mean) -> list[str]:
    """'82% weighed', or nothing when no energy is on record."""
    return [] if of.share is None else [f"{of.share:.0%} weighed"]


def _event(everybody: list[ClientStatus]) -> events.RosterShown:
    rows = []
    for each in everybody:
        found = mean(each, sorted(each.by_day))
        rows.append(
            events.ClientRow(
                client=each.called,
                logged_today=each.logged_today,
                days=0 if found is None else found.days,
                kcal=None if found is None else found.kcal,
                target_kcal=None if found is None else found.target_kcal,
                protein_g=None if found is None else found.protein_g,
                target_protein_g=None if found is None else found.target_protein_g,
                weighed_share=None if found is None else found.share,
                waiting=each.waiting,
                switches=len(weeks.switches([s for day in each.by_day.values() for s in day])),
                silent_days=each.silent_days,
                why=reason(each).words,
            )
        )
    return events.RosterShown(clients=tuple(rows))


def client_sheet(meaning: ClientSheet, ex: Exchange) -> Ask | Refuse | None:
    """Shows a client's sheet and its picture as the client would see them."""
    which = agreements.client_of(meaning, ex)
    if not isinstance(which, Coaching):
        return which
    books = store.books_of_client(ex.books, which.client_id)
    assert books is not None, "the coaching was read a moment ago, in this transaction"
    theirs = Exchange(books)
    day = books.today - timedelta(days=meaning.back)
    sheets.read(Sheet(span=meaning.span, day=day), theirs)
    for event in theirs.events:
        if isinstance(event, events.SheetShown):
            ex.note(events.ClientSheetShown(**structs.asdict(event), client=which.called))
    ex.say(f"{which.called}:")
    for said in theirs.lines:
        ex.say(said)
    ex.picture = theirs.picture
    return None
