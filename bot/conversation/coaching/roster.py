"""The roster: who needs a word today and why, the most pressing first; the rest is a count."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import timedelta

from bot import people_events
from bot.conversation import hiding, saying
from bot.conversation.coaching import agreements, parts
from bot.conversation.coaching.exceptions import (
    CAUTION,
    Kind,
    Reason,
    reasons,
)
from bot.conversation.coaching.figures import line_of_today as standing_today
from bot.conversation.coaching.status import ClientStatus, Mean, mean, status_of
from bot.conversation.days import weeks
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Refuse
from bot.kinds import Why
from bot.language.guided import HowIs, Roster, WhoSees
from bot.store import coaching as store
from bot.store import remarks
from bot.store.books import Books
from bot.store.coaching import Coaching
from domain.weighins import weighed_share

LONGEST = 1_300
"""Characters that the lines of a roster may take, so that all of it with its ends fits one screen."""
REASONS_SHOWN = 2
FEW = 4
"""So many clients are named where more of them are only counted."""
NEW = timedelta(days=14)
LEAST_WEIGHED = 5

Row = tuple[ClientStatus, list[Reason]]

_OF: dict[str, frozenset[Kind]] = {
    "silent": frozenset({Kind.SILENT, Kind.LONG_SILENT}),
    "over": frozenset({Kind.OVER}),
    "under": frozenset({Kind.UNDER, Kind.LOW, Kind.THIN}),
    "protein": frozenset({Kind.PROTEIN}),
}
_NONE = {
    "silent": "Nobody is silent",
    "over": "Nobody is far over target",
    "under": "Nobody is far under target",
    "protein": "Nobody is short of protein",
    "new": "Nobody is new",
    "paused": "Nobody pauses",
    "unweighed": "Nobody has logged enough to tell",
}


def everyone(books: Books, more: int = 0) -> list[Row]:
    """All clients of the coach with today's reasons, the most pressing first; records of `more` days for the digest."""
    flags = {each.client_id: each.text for each in remarks.mine(books) if each.kind == "flag"}
    found = [status_of(which, books, flags.get(which.client_id), more) for which in store.clients(books)]
    rows = [(status, reasons(status, status.books.today)) for status in found if status is not None]
    return sorted(rows, key=_pressing)


def _pressing(row: Row) -> tuple[float, float, str]:
    of, why = row
    return (why[0].kind, -why[0].size, of.called.casefold()) if why else (len(Kind), 0.0, of.called.casefold())


def show(meaning: Roster, ex: Exchange) -> Refuse | None:
    """Shows who needs a word, or only those clients that were asked for."""
    everybody = everyone(ex.books)
    if not everybody:
        if meaning.invites and store.coaches(ex.books):
            parts.who_sees(WhoSees(), ex)
            return None
        ex.note(_event([]))
        ex.say(agreements.NO_CLIENTS)
        return None
    if meaning.group:
        members = {r.client_id for r in remarks.mine(ex.books) if (r.kind, r.text) == ("group", meaning.group)}
        everybody = [row for row in everybody if row[0].coaching.client_id in members]
        if not everybody:
            return Refuse(
                f"You have no group called {meaning.group}. To make one: put Ana in group {meaning.group}",
                Why.NO_SUCH_CLIENT,
            )
    if meaning.of == "all":
        ex.note(_event(everybody))
        _exceptions(everybody, ex)
        if meaning.invites:
            ex.say("To invite another, for example: invite Ben")
    elif meaning.of == "logged":
        ex.note(_event(everybody))
        _who_logged([of for of, _ in everybody], ex)
    else:
        _some(meaning.of, everybody, ex)
    return None


def _exceptions(everybody: Sequence[Row], ex: Exchange) -> None:
    pressing = [row for row in everybody if row[1]]
    calm = [of for of, why in everybody if not why]
    today = sum(of.logged_today for of, _ in everybody)
    ex.say(f"{len(pressing)} of {len(everybody)} could use a word; {today} logged today.")
    _lines(pressing, _words, ex)
    for said in _covered([of for of, _ in everybody]):
        ex.say(said)
    paused = [of.called for of in calm if of.paused(of.books.today)]
    rest = [of.called for of in calm if not of.paused(of.books.today)]
    if paused:
        ex.say(f"Paused: {_named(paused)}.")
    if rest:
        ex.say(f"Nothing pressing: {_named(rest)}.")


def _covered(everybody: Sequence[ClientStatus]) -> list[str]:
    """'You cover Ana and Ben for Ines until Friday 20 March.'"""
    found: dict[tuple[str, str], list[str]] = {}
    for of in everybody:
        if of.coaching.covers is not None:
            until = saying.day(parts.last_day(of.coaching, of.books), of.books.today)
            found.setdefault((of.coaching.covers, until), []).append(of.called)
    return [f"You cover {_named(names)} for {coach} until {until}." for (coach, until), names in found.items()]


def _words(row: Row) -> str:
    return "; ".join(each.words for each in row[1][:REASONS_SHOWN])


def _lines(rows: Sequence[Row], words: Callable[[Row], str], ex: Exchange) -> None:
    """A line for each client as long as they fit; the others are counted."""
    room = LONGEST
    for shown, row in enumerate(rows):
        said = f"{row[0].called}: {words(row)}."
        if len(said) > room:
            ex.say(f"And {len(rows) - shown} more, with less pressing reasons.")
            return
        ex.say(said, hiding.blanked(said))
        room -= len(said) + 1


def _named(names: Sequence[str]) -> str:
    return saying.listed(sorted(names, key=str.casefold)) if len(names) <= FEW else str(len(names))


def _some(of: str, everybody: Sequence[Row], ex: Exchange) -> None:
    """Those that a filter keeps, each with what it is about."""
    if of == "unweighed":
        shares = [(share, row) for row in everybody if (share := _share(row[0])) is not None]
        least = sorted(shares, key=lambda each: each[0])[:LEAST_WEIGHED]
        kept = [row for _, row in least]
        said = {row[0].coaching.id: f"{share:.0%} weighed in the last seven days" for share, row in least}
    elif of == "paused":
        kept = [row for row in everybody if row[0].paused(row[0].books.today)]
        said = {row[0].coaching.id: _until(row[0]) for row in kept}
    elif of == "new":
        kept = [row for row in everybody if ex.books.at - row[0].coaching.agreed_at < NEW]
        said = {row[0].coaching.id: _since(row[0]) for row in kept}
    else:
        kept = [row for row in everybody if any(why.kind in _OF[of] for why in row[1])]
        said = {row[0].coaching.id: next(w.words for w in row[1] if w.kind in _OF[of]) for row in kept}
    ex.note(_event(kept))
    if not kept:
        ex.say(f"{_NONE[of]}, of {len(everybody)} {'client' if len(everybody) == 1 else 'clients'}.")
        if of == "silent":
            _who_logged([status for status, _ in everybody], ex)
        elif of in _OF and len(everybody) <= FEW:
            for status, _ in everybody:
                said_today = f"{status.called}: {standing_today(status.books)}"
                ex.say(said_today, hiding.blanked(said_today))
        return
    _lines(kept, lambda row: said[row[0].coaching.id], ex)


def _share(of: ClientStatus) -> float | None:
    logged = of.finished(of.books.today, 7)
    return weighed_share([s.weigh_in for day in logged for s in of.by_day[day]]) if of.shares_energy else None


def _until(of: ClientStatus) -> str:
    pause = of.pauses.on(of.books.today)
    assert pause is not None
    return f"paused until {saying.day(pause.last, of.books.today)}"


def _since(of: ClientStatus) -> str:
    return f"your client since {saying.day(of.books.day_of(of.coaching.agreed_at), of.books.today)}"


def _who_logged(everybody: Sequence[ClientStatus], ex: Exchange) -> None:
    logged = sorted(s.called for s in everybody if s.logged_today)
    missing = sorted(s.called for s in everybody if not s.logged_today)
    ex.say(f"Logged today: {saying.listed(logged) or 'nobody yet'}.")
    if missing:
        ex.say(f"Not yet: {saying.listed(missing)}.")


def how_is(meaning: HowIs, ex: Exchange) -> Ask | Refuse | None:
    """Shows how one client stands, with all reasons for a word."""
    which = agreements.client_of(meaning, ex)
    if not isinstance(which, Coaching):
        return which
    flags = [r.text for r in remarks.mine(ex.books) if r.kind == "flag" and r.client_id == which.client_id]
    found = status_of(which, ex.books, flags[-1] if flags else None)
    assert found is not None, "the coaching was read a moment ago, in this transaction"
    why = reasons(found, found.books.today)
    ex.note(_event([(found, why)]))
    ex.say(line(found, why), hiding.blanked(line(found, why)))
    ex.say(f"More: {found.called}'s week")
    return None


def line(of: ClientStatus, why: Sequence[Reason]) -> str:
    """'Ana (silent for 3 days): not logged today; 1,720 of 2,000 kcal, protein 110 of 150 g a day over 4 days; …'."""
    said = ["logged today" if of.logged_today else "not logged today"]
    found = mean(of, of.finished(of.books.today, 7))
    if not of.shares_energy:
        said.append("energy is not shared with you")
        if found is not None and of.shares_protein:
            said.append(f"{_protein(found)} a day over {found.days} {'day' if found.days == 1 else 'days'}")
    elif found is None:
        logged = of.finished(of.books.today, 7)
        said.append("open weigh-ins only in the seven days before" if logged else "nothing in the seven days before")
    else:
        said.append(f"{figures(found)} a day over {found.days} {'day' if found.days == 1 else 'days'}")
        said.extend([] if found.share is None else [f"{found.share:.0%} weighed"])
    if of.waiting:
        said.append("1 question waits" if len(of.waiting) == 1 else f"{len(of.waiting)} questions wait")
    said.extend(each.words for each in why[1:])
    if of.cautioned is not None and not any(each.kind is Kind.CAUTION for each in why):
        said.append(CAUTION)
    return f"{of.called} ({_top(of, why)}): {'; '.join(said)}."


def _top(of: ClientStatus, why: Sequence[Reason]) -> str:
    if of.paused(of.books.today):
        return _until(of)
    return why[0].words if why else "nothing pressing"


def figures(of: Mean) -> str:
    """'1,720 of 2,000 kcal, protein 110 of 150 g'."""
    kcal = f"{of.kcal:,.0f} of {saying.kcal(of.target_kcal)}" if of.target_kcal is not None else saying.kcal(of.kcal)
    return f"{of.at_least}{kcal}, {_protein(of)}"


def _protein(of: Mean) -> str:
    aim = f" of {of.target_protein_g:.0f}" if of.target_protein_g is not None else ""
    return f"protein {of.protein_g:.0f}{aim} g"


def _event(everybody: Sequence[Row]) -> people_events.RosterShown:
    rows = []
    for each, why in everybody:
        found = mean(each, each.finished(each.books.today, 7)) if each.shares_protein else None
        energy = found if each.shares_energy else None
        stored = [s for day in each.finished(each.books.today, 7) for s in each.by_day[day]]
        rows.append(
            people_events.ClientRow(
                client=each.called,
                logged_today=each.logged_today,
                days=0 if found is None else found.days,
                kcal=None if energy is None else energy.kcal,
                target_kcal=None if energy is None else energy.target_kcal,
                protein_g=None if found is None else found.protein_g,
                target_protein_g=None if found is None else found.target_protein_g,
                weighed_share=None if energy is None else energy.share,
                waiting=len(each.waiting),
                switches=len(weeks.switches(stored)),
                silent_days=each.silent_days,
                why=_top(each, why),
            )
        )
    return people_events.RosterShown(clients=tuple(rows))
